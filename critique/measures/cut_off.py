"""Is something even, or of one colour from afar, and unlike all beside it, cut off by an edge of the picture?"""

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from critique.measures.salience import Float, blur
from critique.perception.channels import colours_in, over_channels
from critique.perception.ranks import middle_colour, quantiles_of
from critique.photograph.scale import area_average

# What stands across an edge is compared with what a blur leaves around it, and a large thing at an edge fills its own
# surround: the larger it is, the less it seems to differ. So it is also looked for by its border.
EVEN = 3.0  # ΔE*ab from a pixel to the next, at 400 px: more, and another photograph joins or parts strokes of a master
AT_EDGE = 3  # px: so near to an edge it is cut by it
LEAST, MOST = 0.0008, 0.08  # of the picture: smaller is a brush mark, larger is sky or ground
BESIDE = (3, 5)  # px beyond its border: what it is unlike, past the softness of the edge itself
ALMOST_ALL = 15  # percentile of how far what lies beside it differs: a cloud, a bank or a crown melts somewhere
FEWEST = 6  # px beside it, to be compared
APART = 30.0  # ΔE*ab from which on it pulls
# What is painted with a bristle is not even from pixel to pixel, so it is looked for under a blur too, and counts from
# less. Land and sky are even as well, where paint lies flat, but their colour goes on elsewhere: so only what has a
# colour of its own counts. Of 193 untouched pictures one has such a shape under a blur, a lit bank cut off at the foot;
# of the sharply even ones, four of 96 photographs that were passed through a paint filter.
MELTED, APART_MELTED = 1.0, 23.0  # px; ΔE*ab
# ΔE*ab from its own; of the picture, away from it, that may come so near: of what is sharply even, and under a blur.
ITS_COLOUR, ELSEWHERE, ELSEWHERE_MELTED = 15.0, 0.13, 0.006
MELTED_LEAST, MELTED_MOST = 0.0015, 0.045  # of the picture
# A wall, a post, a boat's end has a border without a bay, and a gap between leaves, or a drift of cloud, hasn't: one
# that is sharply even, as large, and as solid (its part of what a string laid round it takes in) counts from less; and
# where much else has its colour it counts too, but is to watch at most. Of 292 untouched pictures, 104 of them once
# more under a paint filter, none has such a shape that is 17 apart; without the least size two have one of 20.
SOLID, SOLID_LEAST, APART_SOLID = 0.92, 0.004, 20.0  # of what the string takes in; of the picture; ΔE*ab
ANSWERED_MOST = 1.4  # times what pulls
# One as solid as a post, a wall or a disc is seen as such, though the ground or a wood beside a part of it is nearly as
# dark: so far apart from most of what lies beside it, and so far from almost all. Of 304 untouched pictures, each once
# more with its small detail taken out, none has such a shape that is 6 apart from almost all.
QUITE_SOLID, APART_MOSTLY, APART_AT_LEAST = 0.95, 20.0, 10.0  # of what the string takes in; ΔE*ab
MOSTLY = 50  # percentile of how far what lies beside it differs
REACHES_IN = 0.2  # of the width or height: where its middle lies from the edge; a band that goes farther in is ground
# So does a ragged one that stands as hard as black on a sky, though the land below is dark too: of 204 untouched
# pictures the hardest border of any such shape has 32 of ΔE*ab.
APART_WHATEVER = 40.0  # L*
SKY_LIGHT = 50.0  # L*: what is lighter, and answered elsewhere, may be sky in a gap
# Bars of a fence are too small one by one. So many alike, so near each other at one edge, each with a border as hard,
# count as one: of 196 untouched pictures one has a single such speck.
ROW, ROW_LEAST, ROW_REACH, ROW_ALIKE = 3, 0.00025, 0.15, 8.0  # how many; of the picture; of the width, height; ΔE*ab
ACROSS = ({"left", "right"}, {"top", "bottom"})  # what goes from side to side is ground, sky or sea
ROUND_IT = 12  # px beyond its border that are its own: shadows and softness
# A larger thing, a bush in bloom or a lit bank, is of many touches, and of one colour only from afar: it is looked for
# on a small copy, from places along the rim on. What has its colour nowhere else in the picture and is as large as a
# house near by counts, up to a mass of the picture. Of 76 landscapes none has such a thing that is 25 apart, and one
# that is 40 apart where three times as much elsewhere may have its colour: the dark corner of a foreground.
AFAR, AFAR_MELTED = 100, 0.8  # px along the long edge of the copy; px of it, under which its touches melt
NEAR_RIM, EVERY = 2, 3  # px of it from an edge, where things are looked for; px from one place to the next
OF_IT = 20.0  # ΔE*ab from its own colour that is its own too
LARGE_LEAST, LARGE_ELSEWHERE = 0.005, 0.002  # of the picture: the thing; what may have its colour away from it
ALONE = 0.0005  # of the picture: where more of it has its colour, another photograph may answer it: to watch at most
SPREADS = 0.25  # of the picture: a colour that so much of it has is none of a thing
BESIDE_AFAR, ROUND_AFAR = (2, 4), 3  # px of the copy: what it is unlike; what is its own


@dataclass(frozen=True, slots=True)
class CutOff:
    """The shape of one colour at an edge that is most unlike what lies beside it; its middle is 0–1.

    ``apart`` is by how many ΔE*ab from almost all or most of it, ``strength`` that over what pulls; ``share`` is its
    part of the picture, 0–1.
    """

    x: float
    y: float
    apart: float
    strength: float
    share: float
    sides: tuple[str, ...]  # of the picture that it touches


def cut_off(lab: Float) -> CutOff | None:
    """Find it in a picture of about 400 px, ``lab`` (height, width, 3) CIELAB; None where there is none."""
    found = [shape for shape in (_sharply(lab), _melted(blur(lab, MELTED)), _from_afar(lab)) if shape is not None]
    return max(found, key=lambda shape: shape.strength, default=None)


def _sharply(lab: Float) -> CutOff | None:
    """The shape that is most unlike what lies beside it, of those that are even, solid or in a colour of their own."""
    shapes, small = [], []
    for shape, mask in _shapes(lab, ROW_LEAST, MOST):
        if shape.share < LEAST:
            small += [(shape, middle_colour(colours_in(lab, mask)))] if _is_hard(lab, mask, shape) else []
            continue
        asked = shape.share >= SOLID_LEAST and shape.apart >= APART_AT_LEAST and _reaches_in(shape) <= REACHES_IN
        solidity = _solidity(mask) if asked else 0.0
        solid = shape.apart >= APART_SOLID and solidity >= SOLID
        if not solid and solidity >= QUITE_SOLID and (mostly := _apart(lab, mask, MOSTLY)) >= APART_MOSTLY:
            shape, solid = replace(shape, apart=mostly, strength=mostly / APART), True
        rare = _is_rare(lab, mask, shape, ELSEWHERE, APART_SOLID if solid else APART_MELTED)
        if rare:
            shapes.append(replace(shape, strength=shape.apart / APART_SOLID) if solid else shape)
        elif solid or _is_hard(lab, mask, shape):
            shapes.append(replace(shape, strength=min(shape.strength, ANSWERED_MOST)))
    shapes += _row(small)
    return max(shapes, key=lambda shape: shape.strength, default=None)


def _reaches_in(shape: CutOff) -> float:
    """How far the middle of a shape lies from the nearest of the edges that it touches."""
    off = {"left": shape.x, "right": 1 - shape.x, "top": shape.y, "bottom": 1 - shape.y}
    return min(off[side] for side in shape.sides)


def _is_hard(lab: Float, mask: NDArray[np.bool_], shape: CutOff) -> bool:
    """Whether a shape stands on all beside it as black does on a sky; a light one may be a gap that shows the sky.

    By its value: where a colour is answered elsewhere, it belongs to the picture.
    """
    if shape.apart < APART_WHATEVER:
        return False
    light = lab * np.array((1, 0, 0), dtype=np.float32)
    inside = float(light[..., 0][mask].mean(dtype=np.float64))
    gap = inside > SKY_LIGHT and not _is_rare(lab, mask, shape, ELSEWHERE, APART_WHATEVER)
    return not gap and _apart(light, mask) >= APART_WHATEVER


def _row(small: list[tuple[CutOff, Float]]) -> list[CutOff]:
    """Small shapes, each with its colour, that stand alike and near each other at one edge, taken for one."""
    for first, colour in small:
        alike = [
            shape
            for shape, other in small
            if shape.sides == first.sides
            and float(np.linalg.norm(other - colour)) <= ROW_ALIKE
            and max(abs(shape.x - first.x), abs(shape.y - first.y)) <= ROW_REACH
        ]
        share = sum(shape.share for shape in alike)
        if len(alike) >= ROW and share >= LEAST:
            x, y = (float(np.mean([getattr(shape, name) for shape in alike])) for name in ("x", "y"))
            apart = min(shape.apart for shape in alike)
            return [CutOff(x, y, apart, min(apart / APART, ANSWERED_MOST), share, first.sides)]
    return []


def _solidity(mask: NDArray[np.bool_]) -> float:
    """How much a shape fills of what a string laid round it takes in, 0–1."""
    from scipy.spatial import ConvexHull

    y, x = np.nonzero(mask)
    corners = np.concatenate([np.stack([y + down, x + across], -1) for down in (0, 1) for across in (0, 1)])
    return float(mask.sum() / ConvexHull(corners).volume)  # of a flat hull SciPy calls its area so


def _melted(lab: Float) -> CutOff | None:
    """The same in a blurred picture, of those in a colour that the picture has nowhere else."""
    rare = [
        shape
        for shape, mask in _shapes(lab, MELTED_LEAST, MELTED_MOST)
        if _is_rare(lab, mask, shape, ELSEWHERE_MELTED, APART_MELTED)
    ]
    best = max(rare, key=lambda shape: shape.apart, default=None)
    return None if best is None else replace(best, strength=best.apart / APART_MELTED)


def _from_afar(lab: Float) -> CutOff | None:
    """The larger thing in a colour of its own, of many touches, that is most unlike what lies beside it."""
    copy = blur(area_average(lab, AFAR), AFAR_MELTED)
    if min(copy.shape[:2]) <= 2 * NEAR_RIM:
        return None
    asked = np.zeros(copy.shape[:2], dtype=np.bool_)
    asked[NEAR_RIM:-NEAR_RIM:EVERY, [NEAR_RIM, -NEAR_RIM - 1]] = True
    asked[[NEAR_RIM, -NEAR_RIM - 1], NEAR_RIM:-NEAR_RIM:EVERY] = True
    best = None
    for row, column in np.argwhere(asked):
        mask = _piece_at(copy, (int(row), int(column))) if asked[row, column] else None
        if mask is None:
            continue
        asked &= ~mask
        shape = _large(copy, mask)
        if shape is not None and (best is None or shape.apart > best.apart):
            best = shape
    return best


def _piece_at(copy: Float, place: tuple[int, int]) -> NDArray[np.bool_] | None:
    """What hangs together with a place in its colour, and then in the colour of that; None where much has it."""
    from scipy.ndimage import label

    colour, mask = copy[place], None
    for _ in range(2):
        own = _off(copy, colour) < OF_IT
        if own.mean() > SPREADS or not own[place]:
            return None
        pieces, _ = label(own)
        mask = np.asarray(pieces == pieces[place])
        colour = middle_colour(colours_in(copy, mask))
    return mask


def _large(copy: Float, mask: NDArray[np.bool_]) -> CutOff | None:
    """A thing in a small picture, if it is one, and hardly anything away from it may have its colour."""
    from scipy.ndimage import binary_dilation

    share, sides = float(mask.mean()), _touched(mask)
    if not LARGE_LEAST <= share <= MOST or len(sides) not in (1, 2) or set(sides) in ACROSS:
        return None
    own = binary_dilation(mask, iterations=ROUND_AFAR)
    off = _off(copy, middle_colour(colours_in(copy, mask)))
    apart = _apart(copy, mask, beside=BESIDE_AFAR)
    elsewhere = float(((off < OF_IT) & ~own).mean())
    if apart < APART or elsewhere > LARGE_ELSEWHERE:
        return None
    most = np.inf if elsewhere <= ALONE else ANSWERED_MOST
    (y, x), (height, width) = np.nonzero(mask), mask.shape
    middle = (float(x.mean() + 0.5) / width, float(y.mean() + 0.5) / height)
    return CutOff(*middle, apart, min(apart / APART, most), share, sides)


def _touched(mask: NDArray[np.bool_]) -> tuple[str, ...]:
    """The sides of a small picture that a thing reaches."""
    near = {
        "left": mask[:, :NEAR_RIM],
        "right": mask[:, -NEAR_RIM:],
        "top": mask[:NEAR_RIM],
        "bottom": mask[-NEAR_RIM:],
    }
    return tuple(side for side, rim in near.items() if rim.any())


def _off(lab: Float, colour: Float) -> Float:
    """How far all of a picture (height, width, 3) is from a colour, in ΔE*ab."""
    return np.asarray(np.sqrt(over_channels(np.square(lab - colour))))


def _is_rare(lab: Float, mask: NDArray[np.bool_], shape: CutOff, most: float, apart: float) -> bool:
    """Whether hardly anything away from a shape that is so far ``apart`` from all beside it has its colour."""
    from scipy.ndimage import binary_dilation

    if shape.apart < apart:
        return False
    off = np.sqrt(over_channels(np.square(lab[::2, ::2] - middle_colour(colours_in(lab, mask)))))
    own = binary_dilation(mask[::2, ::2], iterations=ROUND_IT // 2)
    return float(((off < ITS_COLOUR) & ~own).mean()) <= most


def _shapes(lab: Float, least: float, most: float) -> Iterator[tuple[CutOff, NDArray[np.bool_]]]:
    """The even shapes of a size that one or two edges that meet cut off, each with its mask (height, width)."""
    from scipy.ndimage import find_objects, label

    height, width = lab.shape[:2]
    pieces, number = label(_steps(lab) < EVEN)
    share = np.bincount(pieces.ravel(), minlength=number + 1) / pieces.size
    deep = AT_EDGE
    borders = {"left": pieces[:, :deep], "right": pieces[:, -deep:], "top": pieces[:deep], "bottom": pieces[-deep:]}
    touching = {side: set(np.unique(border).tolist()) - {0} for side, border in borders.items()}
    asked = [piece for piece in sorted(set().union(*touching.values())) if least <= share[piece] <= most]
    place = np.zeros(number + 1, dtype=np.intp)  # of each among those: the boxes of all the specks are not asked for
    place[asked] = np.arange(1, len(asked) + 1)
    for piece, box in zip(asked, find_objects(place[pieces], len(asked)), strict=True):
        sides = tuple(side for side in borders if piece in touching[side])
        if len(sides) > 2 or set(sides) in ACROSS:
            continue
        (top, left), near = _about(box)
        mask = pieces[near] == piece
        apart = _apart(lab[near], mask)
        y, x = np.nonzero(mask)
        middle = ((x.mean() + left + 0.5) / width, (y.mean() + top + 0.5) / height)
        whole = np.zeros((height, width), dtype=np.bool_)
        whole[near] = mask
        yield CutOff(float(middle[0]), float(middle[1]), apart, apart / APART, float(share[piece]), sides), whole


def _steps(lab: Float) -> Float:
    """The larger step of colour from each pixel to any of its four neighbours, in ΔE*ab."""
    down, across = (np.sqrt(over_channels(np.square(np.diff(lab, axis=axis)))) for axis in (0, 1))
    steps = np.zeros(lab.shape[:2], dtype=np.float32)
    for at, step in ((np.s_[:-1], down), (np.s_[1:], down), (np.s_[:, :-1], across), (np.s_[:, 1:], across)):
        steps[at] = np.maximum(steps[at], step)
    return steps


def _about(box: tuple[slice, slice]) -> tuple[tuple[int, int], tuple[slice, slice]]:
    """A box widened by what is looked at beside it, with its first row and column."""
    off = BESIDE[1] + 2
    top, left = max(0, box[0].start - off), max(0, box[1].start - off)
    return (top, left), np.s_[top : box[0].stop + off, left : box[1].stop + off]


def _apart(
    lab: Float, mask: NDArray[np.bool_], percentile: int = ALMOST_ALL, *, beside: tuple[int, int] = BESIDE
) -> float:
    """How far almost all that lies beside a shape differs from it, or so much of it as a percentile leaves."""
    from scipy.ndimage import binary_dilation

    within = binary_dilation(mask, iterations=beside[0])
    beyond = binary_dilation(within, iterations=beside[1] - beside[0])
    around = lab[beyond & ~within]
    if len(around) < FEWEST:
        return 0.0
    apart = np.sqrt(over_channels(np.square(around - middle_colour(colours_in(lab, mask)))))
    return quantiles_of(apart, (percentile / 100,))[0]
