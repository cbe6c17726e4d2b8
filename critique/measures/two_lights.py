"""Do two lights of the same sort, two suns or two lit clouds, stand one beside the other in a picture?"""

from dataclasses import dataclass, field, replace

import numpy as np
from numpy.typing import NDArray

from critique.alike import by_value
from critique.measures.figure import LIGHTNESS, OWN, Figure, rounded
from critique.measures.salience import Float, blur
from critique.perception.ranks import middle_colour, quantiles_of
from critique.picture.picture import Picture, lab_at

LONG_EDGE = 200  # px
MELTED = 0.016  # of the long edge, spread of a Gaussian: sparkles and strokes melt, a lamp near by doesn't
STEP, DEEPEST = 1.0, 25.0  # L*: how finely, and how far, the picture is looked at below its lightest place
LEAST, MOST = 0.0008, 0.09  # of the picture: smaller is a spark, larger a sky; a setting sun has 0.001 to 0.005
AS_LIGHT = 8.0  # L* by which the lightest places of both may differ
# Of the larger one, that the smaller has, each taken down to half of what it stands out by: one sun before a cloud and
# one before a wood are as large, though what lies above one height of L* isn't.
AS_LARGE = 0.25
# Of the oval that is spread as far and as unevenly, there: the weaker of two suns or pools of light put in by code has
# 0.983 and more, the weaker of two clouds or other lights of 140 untouched pictures no more than 0.965. Of its box it
# fills up to 0.85 then, and 0.88 and more where it is a lit wall.
AS_OVAL, SQUARE = 0.975, 0.87  # half a disc, cut off by an edge, has 0.945
NOTHING_ELSE = 0.25  # of the smaller one, that all else as light may have
FILLED, LONGEST = 0.5, 3.2  # of its box; the box's length to its width: a lamp is round, a streak of sky is not
APART = 0.25  # of the long edge, and farther to the side than up or down: a sun and its glitter are one light
BESIDE = (0.03, 0.08)  # of the long edge, from its border: what a light stands out from
ALMOST_ALL = 85  # percentile of the L* there
# L* by which both stand out, where the lightest place is as light as lights are painted, and where it is a duller one;
# between them, in L*, by its part. Of 93 untouched pictures six reach the first, none of them as light.
OUT, OUT_IF_DULL = 4.0, 13.0
LIGHT, DULL = 93.5, 91.0


# Among many lights two are none to choose from, and where one has another colour, a yellow moon beside a pale star, it
# wins: what the strongest of all others may have of the weaker's step from what lies on all sides of it, and ΔE*ab of
# the two (two put in by code differ by at most 19; a moon and a star have 43).
OTHERS, ONE_SORT = 0.75, 30.0
# Of the long edge: how far off on all sides a light is held against what lies there, and what is its own, of the two at
# least as far as the larger is long; and its heart.
ASIDE, ITS_OWN, ITS_COLOUR = 0.06, 0.08, 0.03


@by_value
@dataclass(frozen=True, slots=True, eq=False)
class TwoLights:
    """The two lights and by how many L* the weaker stands out; 0 where there aren't two, alike and alone.

    Places are 0–1 from the left and the top; ``lightest`` is the L* of the lightest place of the picture. ``mask``
    (height, width) is where the two are.
    """

    stands_out: float
    lightest: float
    x1: float
    y1: float
    x2: float
    y2: float
    mask: NDArray[np.bool_] = field(metadata={"record": False}, repr=False)


def measure_two_lights(picture: Picture) -> TwoLights:
    """Look for two lights: at some height of L* two even patches are all that is lighter."""
    lab = lab_at(picture, LONG_EDGE)
    light = lab[..., 0]
    melted = blur(light, MELTED * max(light.shape))
    lightest, longest = float(melted.max()), 0.0
    found = TwoLights(0.0, lightest, 0.5, 0.5, 0.5, 0.5, np.zeros(light.shape, dtype=np.bool_))
    for below in np.arange(STEP, DEEPEST + STEP, STEP):
        above = melted > lightest - below
        if float(above.mean()) > (2 + NOTHING_ELSE) * MOST:
            break  # nor can what lies lower be all in two such patches
        pair = _pair(above)
        if pair is None or min(float(melted[mask].max()) for mask in pair) < lightest - AS_LIGHT:
            continue
        outs = [_stands_out(light, mask) for mask in pair]
        halves = [_half(melted, mask, out) for mask, out in zip(pair, outs, strict=True)]
        sizes, out = [float(half.mean()) for half in halves], min(outs)
        alike = min(sizes) >= AS_LARGE * max(sizes) and all(map(_is_oval, halves))
        if out > found.stands_out and alike:
            (x1, y1), (x2, y2) = (_middle(mask) for mask in pair)
            found = TwoLights(out, lightest, x1, y1, x2, y2, halves[0] | halves[1])
            longest = max(_longest(half) for half in halves)
    return found if found.stands_out == 0 or _leave_no_other(lab, found, longest) else replace(found, stands_out=0.0)


def _leave_no_other(lab: Float, lights: TwoLights, longest: float = 0.0) -> bool:
    """Whether two lights are of one colour, and no other small light of the picture comes near them.

    ``longest`` is how long the larger is, of the long edge: held against what lies nearer, it would stand in itself.
    """
    light = lab[..., 0]
    height, width = light.shape
    melted, own = blur(light, MELTED * max(height, width)), max(ITS_OWN, longest)
    y, x = np.mgrid[:height, :width] + 0.5
    away = [
        np.hypot(x - across * width, y - down * height) / max(height, width)
        for across, down in ((lights.x1, lights.y1), (lights.x2, lights.y2))
    ]
    steps = _from_all_sides(melted, max(ASIDE, longest))
    weaker = min(float(steps[off <= own].max()) for off in away)
    others = float(_from_all_sides(melted, ASIDE)[np.minimum(*away) > own].max(initial=0.0))
    one, other = (middle_colour(lab[off <= ITS_COLOUR]) for off in away)
    return others <= OTHERS * weaker and float(np.linalg.norm(one - other)) <= ONE_SORT


def _from_all_sides(melted: Float, aside: float) -> Float:
    """How much lighter each place is than the lightest so far off about it: an edge goes on, a light doesn't."""
    away = max(1, round(aside * max(melted.shape)))
    padded = np.pad(melted, away, constant_values=-np.inf)  # past an edge lies nothing
    height, width = melted.shape
    sides = [(0, 1), (1, 0), (0, 2), (2, 0), (1, 2), (2, 1), (0, 0), (2, 2)]
    about = [padded[down * away : down * away + height, right * away : right * away + width] for down, right in sides]
    return np.asarray(melted - np.max(about, axis=0), dtype=np.float32)


def _pair(above: NDArray[np.bool_]) -> tuple[NDArray[np.bool_], NDArray[np.bool_]] | None:
    """The two patches that all of a mask lies in, where they are round and well apart."""
    from scipy.ndimage import label

    pieces, number = label(above)
    if number < 2:
        return None
    shares = np.bincount(pieces.ravel(), minlength=number + 1)[1:] / pieces.size
    order = np.argsort(-shares, kind="stable")
    larger, smaller = float(shares[order[0]]), float(shares[order[1]])
    if larger > MOST or smaller < LEAST:
        return None
    if float(shares[order[2:]].sum()) > NOTHING_ELSE * smaller:
        return None
    one, other = (pieces == piece + 1 for piece in order[:2])
    return (one, other) if _is_round(one) and _is_round(other) and _beside(one, other) else None


def _half(melted: Float, mask: NDArray[np.bool_], out: float) -> NDArray[np.bool_]:
    """A light down to half of the L* that it stands out by."""
    return np.asarray(mask & (melted > float(melted[mask].max()) - max(out, 2 * STEP) / 2))


def _is_oval(mask: NDArray[np.bool_]) -> bool:
    """Whether a patch is a disc or an oval, however it lies, with no bay in it and no corners."""
    places = np.stack(np.nonzero(mask)).astype(np.float64)
    pixels = places.shape[1]
    spread = np.cov(places, bias=True) + np.eye(2) / 12  # a pixel has an extent of its own
    filled = pixels / (4 * np.pi * np.sqrt(np.linalg.det(spread)))  # of the oval with that spread
    return bool(filled >= AS_OVAL and pixels <= SQUARE * float(np.prod(np.ptp(places, axis=1) + 1)))


def _is_round(mask: NDArray[np.bool_]) -> bool:
    """Whether a patch is no streak and fills its box well enough to be a light."""
    y, x = np.nonzero(mask)
    high, wide = int(np.ptp(y)) + 1, int(np.ptp(x)) + 1
    return len(y) >= FILLED * high * wide and max(high, wide) <= LONGEST * min(high, wide)


def _beside(one: NDArray[np.bool_], other: NDArray[np.bool_]) -> bool:
    """Whether two patches lie apart, and side by side."""
    height, width = one.shape
    (x1, y1), (x2, y2) = _middle(one), _middle(other)
    across, down = abs(x1 - x2) * width, abs(y1 - y2) * height
    return bool(np.hypot(across, down) >= APART * max(height, width)) and across >= down


def _longest(mask: NDArray[np.bool_]) -> float:
    """How long a patch is, in parts of the long edge."""
    y, x = np.nonzero(mask)
    return float((max(np.ptp(y), np.ptp(x)) + 1) / max(mask.shape))


def _middle(mask: NDArray[np.bool_]) -> tuple[float, float]:
    y, x = np.nonzero(mask)
    return float((x.mean() + 0.5) / mask.shape[1]), float((y.mean() + 0.5) / mask.shape[0])


def _stands_out(light: Float, mask: NDArray[np.bool_]) -> float:
    """L* by which a patch is lighter than almost all that lies about it."""
    from scipy.ndimage import binary_dilation

    near, far = (binary_dilation(mask, iterations=max(1, round(reach * max(mask.shape)))) for reach in BESIDE)
    about = light[far & ~near]
    if not len(about):
        return 0.0
    return float(light[mask].mean(dtype=np.float64)) - quantiles_of(about, (ALMOST_ALL / 100,))[0]


def lights_compete(lights: TwoLights) -> bool:
    """Whether both are lights to the eye."""
    dull = min(max((LIGHT - lights.lightest) / (LIGHT - DULL), 0.0), 1.0)
    return lights.stands_out >= OUT + dull * (OUT_IF_DULL - OUT)


FIGURES = (
    Figure(
        name="two_lights.stands_out",
        label="Two lights stand out by",
        meaning="0 where there aren't two, alike and alone",
        definition="L* by which the weaker of two lights of one sort is lighter than almost all about it.",
        source=OWN,
        unit="L*",
        show=rounded(0),
        worth=LIGHTNESS,
        jumps=True,
    ),
)
