"""What near the edges and corners of a picture leads the eye out of it?"""

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from critique.measures.cut_off import CutOff
from critique.measures.salience import blur, highest_near, rarity_of
from critique.measures.side_bars import SideBars
from critique.measures.side_strip import SideStrip
from critique.measures.smoothing import gaussian_planes, planes_of
from critique.perception.ranks import quantiles_of

Float = NDArray[np.float32]

KINDS = ("value", "chroma", "edges")  # of pull; red is a kind of chroma
CORNER = 0.2  # of the width and height that a corner takes; common practice, no source
BORDER = 0.1  # of the width and height that the frame of values takes
DARKER_CORNER = 0.5  # values below the interior that make a corner dark: half a step of the painter's scale
PULL_BORDER = 0.08  # of the width and height: what lies this close to an edge pulls over it
INTERIOR = 0.12  # of the width and height: what lies farther in than this is what the border is held against
PULL = 0.7  # of the strongest contrast inside, from which an edge is marked; three in four landscapes stay below
LIGHT_PULL = 3.0  # values by which a corner outshines the picture before it holds the eye as much as the focal place;
# with 2.0 a lit corner of sky outdid every other pull in four of 76 landscapes
LIGHTEST = 98  # percentile of the L* inside that a corner must reach, to outshine it
SPOTS = (0.008, 0.016, 0.03)  # of the long edge: spreads of what may pull, a figure to a house
SURROUND = 4.0  # times the spot: what it is compared with
STRIP, BESIDE_STRIP = 0.03, (0.08, 0.16)  # of the width or height: a light strip along an edge, and what is beside it
STRIP_PULL = 20.0  # L* by which it outshines what lies beside it before it holds the eye as much as the focal place
STRIP_LIGHT, NEARLY_LIGHT = 90, 5.0  # percentile of the picture's L* that it reaches, within so much: one of the lights
SURELY_LIGHT = 2.0  # L* beyond that, from which on it is surely one: what comes near counts by its part
GATHERING = 0.012  # of the long edge: contrast within it acts as one
BESIDE_REACH = 0.06  # of the long edge: how near the peak of a pull its kind is looked for
CHROMA_COUNTS = 0.9  # of its strength: where colour alone outdoes the inside, landscapes do so a little more often
# Contrast of a colour that the picture hardly has anywhere else draws more than the same of its own. Of 76 landscapes
# none has 1.5 times as much of both at an edge as anywhere inside; one has 1.4, and two readings note a pull there,
# but it comes and goes with the light of the photograph.
RARE_PULL, RARE_COUNTS = 1.5, 1.2 / 1.5  # times the strongest inside, and of its strength beside plain contrast
RARE_CONTRAST = 0.6  # of the strongest plain contrast inside that it needs at least
RARE_MOST = 1.7  # what it counts for at most: never more than to watch
# Times the strongest contrast inside that an even shape cut off by an edge counts for, where it is as far from all
# beside it as pulls; and the least ΔE*ab that is then, for one that counts for 1.
CUT_OFF_COUNTS, CUT_OFF = 1.2, 16.6
# Ground runs out at the foot of a picture, in whatever stones and tufts it has: what is cut off there counts from so
# much on. Two readers denied one that had 1.08; of faults put there by code the least has 1.4.
CUT_AT_FOOT = 1.25
# A small one is to watch, and no more: of four photographs where it was called to rework, readers denied it in three.
# Parts of the picture, between which it comes to count in full.
SMALL_CUT, LARGE_CUT = 0.012, 0.03
# Thin bars along a side pull where they outdo all upright lines inside, and are this strong in L*: of 296 untouched
# pictures the most has 2.0 times as much. They are to watch, and no more: a trunk may frame a picture.
BARS, BARS_CONTRAST, BARS_COUNT = 2.3, 12.0, 1.25
# ΔE*ab from which a strip of one colour along a whole side is cut off there: of 171 untouched pictures one has 17 at
# the left or right, a second 2, the others no such strip; of 188 one has more at the top or the foot, a frame that the
# scan was left with, the next 17. It is to watch, and no more.
STRIP_APART, STRIP_COUNTS = 20.0, 1.25
# A spot pulls by its value where it is one of the picture's lights or darks; where lighter ones glitter inside, they
# hold the eye. The part of the inside that it is lighter than, less that it is darker than: from none to full.
LIGHT_OR_DARK = (0.88, 0.96)
OUTDONE = 0.75  # of its strength that a spot keeps which is outdone so
FAINT = 0.35  # tens of ΔE*ab: contrast inside below this is none, and nothing outshines nothing


@dataclass(frozen=True, slots=True)
class Pull:
    """Contrast near an edge or corner. ``place`` is such as 'left edge' or 'top right corner', ``x``, ``y`` its peak.

    ``sides`` are the sides of the picture that it lies at ('top', 'bottom', 'left', 'right'): two for a corner.
    ``strength`` is its contrast beside the strongest inside (1 is as strong); ``kind`` is what makes it: 'value',
    'chroma', 'edges', 'light' (a corner lighter than the picture, or a light strip along a side), 'cut off' (an even
    shape with a hard border, unlike all XX
    """

    place: str
    x: float
    y: float
    strength: float
    kind: str
    sides: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class FrameValues:
    """Mean values of the interior, of the border, and of the corners: top left, top right, bottom left and right."""

    interior: float
    border: float
    corners: tuple[float, float, float, float]


@dataclass(frozen=True, slots=True)
class Contrast:
    """How far spots of several sizes differ from what surrounds them, in tens of ΔE*ab: (height, width).

    ``whole`` is of value and colour, ``chroma`` of a* and b* alone. They are scaled by nothing in the picture, so that
    what stands in the border can't hide itself. ``rare`` is the whole times how seldom its colour is in the picture.
    """

    whole: Float
    chroma: Float
    rare: Float


def plain_contrast(lab: Float, rarity: Float | None = None) -> Contrast:
    """The contrasts of a picture of a few hundred pixels; ``lab`` is (height, width, 3) CIELAB.

    ``rarity`` is its `rarity_of`, where it has been measured already.
    """
    long_edge = max(lab.shape[:2])
    planes = planes_of(lab)
    spots, around = (
        [gaussian_planes(planes, times * spot * long_edge, truncate=3) for spot in SPOTS] for times in (1.0, SURROUND)
    )
    squares = [np.square(spot - beside) for spot, beside in zip(spots, around, strict=True)]
    sums = [(red + yellow, light + red + yellow) for light, red, yellow in squares]
    chroma, whole = (
        blur(
            np.asarray(np.mean([np.sqrt(parts[k]) for parts in sums], axis=0) / 10, dtype=np.float32),
            GATHERING * long_edge,
        )
        for k in (0, 1)
    )
    rarity = rarity if rarity is not None else rarity_of(lab)
    return Contrast(whole, chroma, whole * blur(rarity, GATHERING * long_edge))


def border_pulls(
    lab: Float,
    contrast: Contrast,
    interior: float,
    cut: CutOff | None = None,
    bars: SideBars | None = None,
    strip: SideStrip | None = None,
) -> list[Pull]:
    """The pull of every edge and corner, strongest first: by contrast, colour, rarity, a cut, bars or a strip."""
    down, across = _inset(lab.shape)
    inside = lab[down : lab.shape[0] - down, across : lab.shape[1] - across, 0]
    lights = quantiles_of(lab[..., 0], (STRIP_LIGHT / 100,))[0] - NEARLY_LIGHT
    lightest = quantiles_of(inside, (LIGHTEST / 100,))[0] / 10
    counts = _light_or_dark(lab)
    by_whole, by_chroma, by_rare = (
        _pulls(lab, kind, interior, lights, lightest, counts)
        for kind in (contrast.whole, contrast.chroma, contrast.rare)
    )
    found = []
    for whole, chroma, rare in zip(by_whole, by_chroma, by_rare, strict=True):
        strength = CHROMA_COUNTS * chroma.strength
        coloured = replace(chroma, strength=strength, kind="chroma")
        pull = coloured if chroma.kind != "light" and strength > whole.strength else whole
        counted = min(RARE_COUNTS * rare.strength, RARE_MOST)
        in_contrast = rare.kind != "light" and whole.strength >= RARE_CONTRAST
        if in_contrast and rare.strength >= RARE_PULL and counted > pull.strength:
            pull = replace(rare, strength=counted)
        found.append(pull)
    if cut is not None and cut.strength >= (CUT_AT_FOOT if _sides_of(cut) == {"bottom"} else 1.0):
        sides = _sides_of(cut)
        found = [_by_cut(pull, cut) if set(pull.sides) == sides else pull for pull in found]
    if bars is not None and bars.strength >= BARS and bars.contrast >= BARS_CONTRAST:
        found = [_by_bars(pull, bars) if pull.sides == (bars.side,) else pull for pull in found]
    if strip is not None and strip.apart >= STRIP_APART:
        found = [_by_strip(pull, strip) if pull.sides == (strip.side,) else pull for pull in found]
    return sorted(found, key=lambda pull: -pull.strength)


def _by_strip(pull: Pull, strip: SideStrip) -> Pull:
    """The pull of a strip along a whole side, where nothing else there pulls as much."""
    if pull.strength >= STRIP_COUNTS:
        return pull
    return replace(pull, x=strip.x, y=strip.y, strength=STRIP_COUNTS, kind="strip")


def _by_bars(pull: Pull, bars: SideBars) -> Pull:
    """The pull of thin bars along a side, where nothing larger there pulls as much."""
    if pull.strength >= BARS_COUNT:
        return pull
    return replace(pull, x=bars.x, y=bars.y, strength=BARS_COUNT, kind="bars")


def _sides_of(cut: CutOff) -> set[str]:
    """The side, or both sides of the corner, that a shape lies at."""
    corner = {"left": cut.x < CORNER, "right": cut.x > 1 - CORNER, "top": cut.y < CORNER, "bottom": cut.y > 1 - CORNER}
    near = {side for side, is_near in corner.items() if is_near}
    return near if len(near) == 2 else {cut.sides[0]}


def _by_cut(pull: Pull, cut: CutOff) -> Pull:
    """The pull of a shape cut off, where contrast doesn't tell it already."""
    surely = min(max((cut.share - SMALL_CUT) / (LARGE_CUT - SMALL_CUT), 0.0), 1.0)
    strength = CUT_OFF_COUNTS * cut.strength
    strength = min(strength, RARE_MOST + surely * max(strength - RARE_MOST, 0.0))
    if pull.strength >= min(strength, CUT_OFF_COUNTS):
        return pull
    return replace(pull, x=cut.x, y=cut.y, strength=strength, kind="cut off")


def _inset(shape: tuple[int, ...]) -> tuple[int, int]:
    """Rows and columns that are left out on every side of the inside."""
    return round(INTERIOR * shape[0]), round(INTERIOR * shape[1])


def _light_or_dark(lab: Float) -> Float:
    """What of its strength a spot of value keeps at each place (height, width): all where it is a light or a dark."""
    spots = blur(lab[..., 0], SPOTS[1] * max(lab.shape[:2]))
    down, across = _inset(lab.shape)
    inside = np.sort(spots[down : len(spots) - down, across : spots.shape[1] - across], axis=None)
    apart = np.abs(2 * np.searchsorted(inside, spots) / len(inside) - 1)
    some, full = LIGHT_OR_DARK
    return np.asarray(OUTDONE + (1 - OUTDONE) * np.clip((apart - some) / (full - some), 0, 1), dtype=np.float32)


def _pulls(lab: Float, contrast: Float, interior: float, lights: float, lightest: float, counts: Float) -> list[Pull]:
    """By one kind of contrast; ``lights`` is the least L* of the picture's lights, ``lightest`` the inside's value, and
    ``counts`` what a spot keeps of its strength where its value makes it."""
    height, width = contrast.shape
    high, wide = max(1, round(PULL_BORDER * height)), max(1, round(PULL_BORDER * width))
    down, across = max(1, round(CORNER * height)), max(1, round(CORNER * width))
    strips = {
        ("top",): np.s_[:high, across : width - across],
        ("bottom",): np.s_[height - high :, across : width - across],
        ("left",): np.s_[down : height - down, :wide],
        ("right",): np.s_[down : height - down, width - wide :],
        ("top", "left"): np.s_[:down, :across],
        ("top", "right"): np.s_[:down, width - across :],
        ("bottom", "left"): np.s_[height - down :, :across],
        ("bottom", "right"): np.s_[height - down :, width - across :],
    }
    in_down, in_across = _inset(contrast.shape)
    inside = contrast[in_down : height - in_down, in_across : width - in_across]
    strongest = max(float(inside.max()), FAINT)
    in_border = np.ones(contrast.shape, dtype=bool)
    in_border[high : height - high, wide : width - wide] = False
    # A skyline has contrast along its whole course: where it meets an edge, only what exceeds that pulls.
    beside = {"left": np.median(contrast, axis=1, keepdims=True), "top": np.median(contrast, axis=0, keepdims=True)}
    beside |= {"right": beside["left"], "bottom": beside["top"]}
    value = lab[..., 0] / np.float32(10)
    crest = contrast >= highest_near(contrast, GATHERING)
    found = []
    for sides, where in strips.items():
        rows, columns = where
        usual = np.maximum.reduce([np.broadcast_to(beside[side], contrast.shape) for side in sides])
        region = (np.clip(contrast - usual, 0, None) * in_border * crest)[where]
        row, column = np.unravel_index(int(region.argmax()), region.shape)
        strength = float(region.max()) / strongest
        at = (int(row) + (rows.start or 0), int(column) + (columns.start or 0))
        kind = _kind(lab, at)
        if kind == "value":
            strength *= float(counts[at])
        if len(sides) == 2:  # a corner
            shine = float(value[where].mean()) - max(interior, float(value[rows].mean()))
            shine = shine if float(value[where].mean()) >= lightest else 0.0  # what is lighter inside outdoes it
            if shine / LIGHT_PULL > strength:
                strength, kind = shine / LIGHT_PULL, "light"
        elif (shine := _strip_shine(lab[..., 0], sides[0], lights)) / STRIP_PULL > strength:
            strength, kind = shine / STRIP_PULL, "light"
        place = f"{' '.join(sides)} {'corner' if len(sides) == 2 else 'edge'}"
        found.append(Pull(place, (at[1] + 0.5) / width, (at[0] + 0.5) / height, strength, kind, sides))
    return found


def _strip_shine(lightness: Float, side: str, lights: float) -> float:
    """L* by which a strip along a whole side outshines what lies beside it; 0 where it is none of the lights."""
    turned = {"left": lightness, "right": lightness[:, ::-1], "top": lightness.T, "bottom": lightness[::-1].T}[side]
    wide = turned.shape[1]
    strip = float(turned[:, : max(2, round(STRIP * wide))].mean(dtype=np.float64))
    first, last = (round(way * wide) for way in BESIDE_STRIP)
    beside = turned[:, first : max(last, first + 1)]
    surely = min(max((strip - lights) / SURELY_LIGHT, 0.0), 1.0)
    return surely * (strip - float(beside.mean(dtype=np.float64)))


def frame_values(lightness: Float) -> FrameValues:
    """Mean value of the interior, of the border, and of the corners; ``lightness`` is L* (height, width)."""
    value = lightness / np.float32(10)
    height, width = value.shape
    high, wide = max(1, round(BORDER * height)), max(1, round(BORDER * width))
    inside = value[high : height - high, wide : width - wide]
    interior = float(inside.mean(dtype=np.float64))
    outside = value.size - inside.size
    border = (float(value.sum(dtype=np.float64)) - interior * inside.size) / outside
    down, across = max(1, round(CORNER * height)), max(1, round(CORNER * width))
    top_left, top_right = value[:down, :across], value[:down, width - across :]
    bottom_left, bottom_right = value[height - down :, :across], value[height - down :, width - across :]
    means = [float(part.mean(dtype=np.float64)) for part in (top_left, top_right, bottom_left, bottom_right)]
    return FrameValues(interior, border, (means[0], means[1], means[2], means[3]))


def _kind(lab: Float, at: tuple[int, int]) -> str:
    """What makes the contrast at a place: its value, its chroma, or many edges of both signs."""
    long_edge = max(lab.shape[:2])
    reach = max(2, round(BESIDE_REACH * long_edge))
    row, column = at
    near = lab[max(0, row - reach) : row + reach + 1, max(0, column - reach) : column + reach + 1]
    spot = max(1, round(SPOTS[1] * long_edge))
    middle = lab[max(0, row - spot) : row + spot + 1, max(0, column - spot) : column + spot + 1]
    step = middle.mean((0, 1), dtype=np.float64) - near.mean((0, 1), dtype=np.float64)
    value, chroma = abs(float(step[0])), float(np.hypot(step[1], step[2]))
    if max(value, chroma) < 0.5 * float(near[..., 0].std()):
        return "edges"
    return "value" if value >= chroma else "chroma"
