"""Is what lies at the horizon warmer and stronger in colour than the ground at one's feet?"""

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from critique.alike import by_value
from critique.measures.division import Division, lines_of
from critique.measures.far_mountain import warm_mountain
from critique.measures.far_ridge import Ridge, warm_ridge
from critique.measures.figure import OWN, Figure, rounded
from critique.measures.level_lines import LevelLine
from critique.measures.near_ground import near_ground
from critique.measures.parts import SKY, Parts
from critique.measures.ridge_on_edge import ridge_on_edge
from critique.measures.salience import Float, blur
from critique.perception.channels import colours_in
from critique.perception.ranks import median_of, quantiles_of
from critique.picture.picture import Picture, lab_at

Fault = Literal["watch", "rework"]

WARM_HUE = 60.0  # degrees of CIELAB hue: orange, the far end of warm; blue lies opposite
LONG_EDGE = 400  # px
MELTED = 2.0  # px: leaves and strokes melt into the colour of their hill
BAND = (0.015, 0.065)  # of the height: how far from its border the land at the horizon is looked at
AIR = 0.04  # of the height beyond that, up: what it is seen against
RUN = 0.12  # of the width: a stretch that holds a hill, not a roof or a lit trunk
# Of the width that must be as warm, in pieces so wide, but for so many C*: hills are wide; a headland with the light on
# it, a fire and a tree in autumn are things.
HILLS, SHORT, ALMOST = 0.18, 0.04, 4.0
SURE_OVER = 0.625  # sureness of the sky that land stands under: a sea and a pale mountain may be taken for one
HORIZON_NEAR = (-0.12, 0.06)  # of the height: the sky ends so near to the horizon in columns where no crown stands
OPEN = 0.1  # of the picture that must be sky: in a wood a lit glade is no horizon
SURE_SKY = 0.6  # sureness of a sky whose end is the horizon
CROOKED, BELOW_SKY = 0.4, 0.12  # straightness; of the height: a crooked line so far below the sky runs through land
NO_HORIZON = 0.2  # of the height: a line so far below a sure sky is a shore or a bank, however straight
# L*: land lighter than that is lit, or lies in haze; what has the shape of hills may be so light. Of 304 untouched
# pictures none is named by that, at 66 two (a sunset over roofs, and cliffs).
LIGHT, LIT_HILLS = 56.0, 63.0
# C* of warmth, and C* beyond what stands over it and beyond the near ground, from which land at the horizon comes
# forward; a lit hill under a blue sky has more of it than one along a line. Two of 76 landscapes reach all three.
ALONG_LINE, UNDER_SKY = (26.0, 12.5, 4.0), (25.0, 25.0, 10.0)
# C* beyond those limits. Of five pictures where it was said, two readers signed the two beyond 8 and none of the three
# below 3.3: a wall, a bank, dry grass.
WATCH, REWORK = 4.0, 10.0
# Hills that a level edge parts from the nearer land are far to anybody: agreement and part of the width of that edge,
# how far below their middle it lies (of the height), and C* beyond the limits there. None of 166 untouched pictures is
# named by it, and three more of ten that had warm hills painted in.
FOOT, FOOT_LENGTH, BELOW_THEM, WATCH_OVER_FOOT = 0.7, 0.65, (0.01, 0.1), 2.0
# Far land lies along a long low horizon. Near such a stretch a nearly level edge runs across: agreement, part of the
# width, of the height. Roofs and a cliff that were taken for far land had none.
ALONG, ALONG_LENGTH, ALONG_NEAR = 0.6, 0.6, 0.1
# Where no edge runs there, far hills are told by their shape. C* less than theirs, and over the near ground, down to
# which it is the same land; the part of it that is looked at; how far below their stretch it ends (of the height): of
# 276 untouched pictures one is as warm, a cliff that comes down to the foot of the picture, 0.63 below; hills painted
# warm end 0.05 to 0.2 below. Rise over run of their outline, smoothed over so much of the width: theirs 0.04 to 0.24,
# of gables 0.8. C* beyond the limits there: as much as readers signed.
SAME_LAND, OVER_NEAR, MOST_OF_IT, ENDS_BELOW = 15.0, 8.0, 0.95, 0.3
STEEPEST, OUTLINE, WATCH_BY_SHAPE = 0.45, 0.02, 8.0
LOWEST_END = 0.75  # of the height: what stands under a sky that ends lower is at one's feet
SUNSET = 32.0  # C* toward orange of the middle of the sky: then all land at the horizon may glow, and is no fault
# L*: a warm place so dark is a glade or a slope near by, where readers saw no distance, unless it comes forward by so
# many C* beyond the limits; of 112 untouched pictures the most forward dark one has 2.0.
DARK_LAND, DARK_FORWARD = 40.0, 4.0
# L* over the ground in front from which a warm stretch is a lit accent, where readers saw the subject, unless it comes
# forward by so many C*: lit birches have 34 and 3.7; of 100 hills painted warm by code none so light comes so little.
LIT_OVER, LIT_FORWARD = 30.0, 6.0
NONE = -100.0  # where there is nothing to look at


@by_value
@dataclass(frozen=True, slots=True, eq=False)
class FarWarmth:
    """The warmest stretch of land at the horizon. Warmths are C* toward orange, above 0 warm and below 0 cool.

    ``forward`` is how far it exceeds the limits from which land at the horizon comes forward, below 0 where it keeps
    within them; ``far`` is its warmth, ``beyond`` that of what stands over it (sky, or farther hills), ``near`` that
    of the ground in front; ``lightness`` and ``near_lightness`` are L* of the first and the last, ``x``, ``y`` its
    middle, 0–1 from the left and the top. ``found`` is false where the picture has no horizon to look at, ``ridge`` is
    true where it runs along half of it or more. ``level`` says whether a nearly level edge runs across near it,
    ``foot`` whether one parts it from the land below, and ``shaped`` whether, without either, it has the shape of far
    hills; none is looked for where nothing comes forward. ``mountain`` (height, width) is where whole hills lie that
    were found by how they stand under the sky, or None.
    """

    found: bool
    ridge: bool
    forward: float
    far: float
    beyond: float
    near: float
    lightness: float
    near_lightness: float
    x: float
    y: float
    level: bool = False
    foot: bool = False
    shaped: bool = False
    mountain: NDArray[np.bool_] | None = field(default=None, metadata={"record": False}, repr=False)


def measure_far_warmth(picture: Picture, parts: Parts, division: Division) -> FarWarmth:
    """Measure the warmest stretch at the horizon: above the dividing line, or right under the sky."""
    lab = blur(lab_at(picture, LONG_EDGE), MELTED)
    height, width = lab.shape[:2]
    across = (np.arange(width) + 0.5) / width
    labels = parts.labels
    small = np.minimum((np.arange(height) + 0.5) / height * labels.shape[0], labels.shape[0] - 1).astype(np.intp)
    aside = np.minimum(across * labels.shape[1], labels.shape[1] - 1).astype(np.intp)
    part = labels[small[:, None], aside[None]]
    found = []
    if parts.sky_share >= OPEN and len(division.path) and _may_be_horizon(division, parts):
        found.append(_warmest(lab, part, _stretched(division.path, width), np.arange(width), -1))
        found.append(_along_horizon(lab, part, median_of(division.path)))
    if parts.horizon is not None:
        found.append(_along_horizon(lab, part, parts.horizon))
        ends = parts.sky_ends[aside]
        seen = (ends > 0) & (ends > parts.horizon + HORIZON_NEAR[0]) & (ends < parts.horizon + HORIZON_NEAR[1])
        found.append(_warmest(lab, part, ends, np.flatnonzero(seen), 1))
    unsure = parts.sky_sureness < SURE_OVER
    sunset = parts.sky_share >= OPEN and median_of(warmth_of(lab)[part == SKY]) >= SUNSET
    warmest = max(
        (_unless(warmth, unsure=unsure, sunset=sunset) for warmth in found if warmth is not None),
        key=lambda warmth: warmth.forward,
        default=FarWarmth(
            found=False,
            ridge=False,
            forward=NONE,
            far=0.0,
            beyond=0.0,
            near=0.0,
            lightness=0.0,
            near_lightness=0.0,
            x=0.5,
            y=0.5,
        ),
    )
    lines = lines_of(picture)
    warmest = _held_to_edges(warmest, lines) if warmest.forward > WATCH_OVER_FOOT else warmest
    if not warmest.level:
        warmest = _by_shape(warmth_of(lab), warmest)
    if comes_forward(warmest) is not None or sunset or parts.sky_share < OPEN:
        return warmest
    levels = [median_of(division.path)] if len(division.path) and _may_be_horizon(division, parts) else []
    levels += [parts.horizon] if parts.horizon is not None else []
    if parts.sky_sureness < SURE_SKY:
        return _mountain(lab, part, levels) or warmest
    ends = parts.sky_ends[aside]
    anywhere = _warmest(lab, part, ends, np.flatnonzero((ends > 0) & (ends < LOWEST_END)), 1, lightest=LIT_HILLS)
    if anywhere is not None and (hills := _by_shape(warmth_of(lab), anywhere)).shaped:
        return hills  # a sea was taken for sky, and the horizon with it; or hills are lit
    return _on_an_edge(lab, part, levels, lines) or _mountain(lab, part, levels) or warmest


def _mountain(lab: Float, part: NDArray[np.uint8], levels: list[float]) -> FarWarmth | None:
    """Whole hills that come forward by how they stand under the sky."""
    hills = warm_mountain(lab, warmth_of(lab), part, level=max(levels, default=0.0))
    if hills is None:
        return None
    rows, columns = np.nonzero(hills.mask)
    return FarWarmth(
        found=True,
        ridge=False,
        forward=hills.forward,
        far=hills.far,
        beyond=hills.beyond,
        near=hills.near,
        lightness=hills.lightness,
        near_lightness=hills.near_lightness,
        x=float((np.median(columns) + 0.5) / part.shape[1]),
        y=float((np.median(rows) + 0.5) / part.shape[0]),
        mountain=hills.mask,
    )


def _on_an_edge(
    lab: Float, part: NDArray[np.uint8], levels: list[float], lines: tuple[LevelLine, ...]
) -> FarWarmth | None:
    """Hills that stand on a level edge and come forward over it; they count from where such hills do."""
    found = _before_ground(
        lab,
        part,
        max(levels, default=0.0),
        lambda warmth, near: ridge_on_edge(lab, warmth, part, levels=levels, near=near, lines=lines),
    )
    if found is None:
        return None
    return replace(found, forward=WATCH_OVER_FOOT + found.forward, level=True, foot=True)


def _held_to_edges(warmth: FarWarmth, lines: tuple[LevelLine, ...]) -> FarWarmth:
    """The same, with what level edges tell of it."""
    level = foot = False
    for line in lines:
        below = line.y - warmth.y
        level |= line.agreement >= ALONG and line.length >= ALONG_LENGTH and abs(below) <= ALONG_NEAR
        plain = line.agreement >= FOOT and line.length >= FOOT_LENGTH
        foot |= plain and BELOW_THEM[0] <= below <= BELOW_THEM[1]
    return replace(warmth, level=level, foot=foot)


def _by_shape(field: Float, warmest: FarWarmth) -> FarWarmth:
    """The same, with what its shape on a map of warmths (height, width) tells, where it comes forward by so much."""
    return replace(warmest, shaped=warmest.forward > WATCH_BY_SHAPE and _is_shaped(field, warmest))


def _is_shaped(field: Float, warmest: FarWarmth) -> bool:
    """Whether the land of a warm stretch, on a map of warmths (height, width), is low and ends a little below."""
    from scipy.ndimage import gaussian_filter1d, label

    height, width = field.shape
    lands, _ = label(field > max(warmest.far - SAME_LAND, warmest.near + OVER_NEAR))
    top, bottom = (round((warmest.y + side * BAND[1] / 2) * height) for side in (-1, 1))
    left, right = (round((warmest.x + side * RUN / 2) * width) for side in (-1, 1))
    there = np.bincount(lands[max(top, 0) : bottom + 1, max(left, 0) : right + 1].ravel(), minlength=2)
    if not there[1:].any():
        return False
    land = lands == int(there[1:].argmax()) + 1
    rows = np.nonzero(land)[0].astype(np.float32)
    outline = land[:, land.any(axis=0)].argmax(axis=0).astype(np.float32)
    if len(outline) < RUN * width:
        return False
    rise = np.abs(np.gradient(gaussian_filter1d(outline, OUTLINE * width)))
    ends = quantiles_of(rows, (MOST_OF_IT,))[0] / height <= warmest.y + ENDS_BELOW
    return ends and median_of(rise) <= STEEPEST


def _unless(warmth: FarWarmth, *, unsure: bool, sunset: bool) -> FarWarmth:
    """Nothing comes forward where it isn't sure what the sky is; under a sunset only what is far beyond its limits."""
    quiet = unsure or (sunset and warmth.forward < REWORK)
    return replace(warmth, forward=min(warmth.forward, WATCH_OVER_FOOT)) if quiet else warmth


def _may_be_horizon(division: Division, parts: Parts) -> bool:
    """Whether the dividing line may be where the land ends: not where the sky surely ends far above it."""
    if parts.horizon is None or parts.sky_sureness < SURE_SKY:
        return True
    limit = BELOW_SKY if division.straightness < CROOKED else NO_HORIZON
    return abs(median_of(division.path) - parts.horizon) <= limit


def _stretched(path: Float, width: int) -> Float:
    """A path (columns,) at ``width`` columns."""
    old = (np.arange(len(path)) + 0.5) / len(path)
    return np.interp((np.arange(width) + 0.5) / width, old, path).astype(np.float32)


def _warmest(
    lab: Float,
    part: NDArray[np.uint8],
    path: Float,
    columns: NDArray[np.intp],
    way: int,
    *,
    lightest: float = LIGHT,
) -> FarWarmth | None:
    """The warmest stretch beside a path (0–1 a column), up (``way`` −1) or down (1) from it, in these columns.

    What is lighter than L* ``lightest`` doesn't come forward.
    """
    height, width = part.shape
    run = max(3, round(RUN * width))
    level = median_of(path[columns]) if len(columns) >= run else 1.0
    ground = near_ground(part, level)
    if level >= 1 or ground is None:
        return None
    warmth = warmth_of(lab)
    first, last = (BAND[0], BAND[1]) if way > 0 else (-BAND[1], -BAND[0])
    at = path[columns] * height
    far, light = (_band(field, at, columns, (first, last)) for field in (warmth, lab[..., 0]))
    over_it = (first - 2 * AIR, first - AIR) if way < 0 else (-2 * AIR + BAND[0], -BAND[0])
    over = _band(warmth, at, columns, over_it)
    means = np.convolve(far, np.full(run, 1 / run), "valid")
    start = int(means.argmax())
    stretch = slice(start, start + run)
    warm, near = float(means[start]), median_of(warmth[ground])
    beyond = float(over[stretch].mean(dtype=np.float64))
    lightness = float(light[stretch].mean(dtype=np.float64))
    limits = UNDER_SKY if way > 0 else ALONG_LINE
    margins = (warm - limits[0], warm - beyond - limits[1], warm - near - limits[2])
    comes = min(margins) if lightness <= lightest else min(*margins, WATCH_OVER_FOOT)
    if _as_warm((far, over, light), near, limits, lightest) < HILLS * width:
        comes = min(comes, WATCH_OVER_FOOT)
    return FarWarmth(
        found=True,
        ridge=False,
        forward=comes,
        far=warm,
        beyond=beyond,
        near=near,
        lightness=lightness,
        near_lightness=median_of(colours_in(lab, ground)[:, 0]),
        x=float((columns[stretch].mean() + 0.5) / width),
        y=float(at[stretch].mean() / height + (first + last) / 2),
    )


def _as_warm(
    bands: tuple[Float, Float, Float], near: float, limits: tuple[float, float, float], lightest: float
) -> int:
    """How many columns are about as warm as comes forward; ``bands`` are warmths there and over it, and L* there."""
    short = max(3, round(SHORT * len(bands[0])))
    far, over, light = (np.convolve(band, np.full(short, 1 / short), "same") for band in bands)
    margins = np.minimum(
        np.minimum(far - limits[0], far - over - limits[1]), np.minimum(far - near - limits[2], lightest - light)
    )
    return int((margins > -ALMOST).sum())


def _along_horizon(lab: Float, part: NDArray[np.uint8], level: float) -> FarWarmth | None:
    """A ridge along the horizon at ``level``; it comes forward where more than half of the width does."""
    return _before_ground(
        lab, part, level, lambda warmth, near: warm_ridge(warmth, lab[..., 0], part, horizon=level, near=near)
    )


def _before_ground(
    lab: Float, part: NDArray[np.uint8], level: float, ridge_of: Callable[[Float, float], Ridge | None]
) -> FarWarmth | None:
    """The ridge that ``ridge_of`` finds by the warmth of the picture and of the ground in front, below ``level``."""
    ground = near_ground(part, level)
    if ground is None:
        return None
    warmth = warmth_of(lab)
    near = median_of(warmth[ground])
    ridge = ridge_of(warmth, near)
    if ridge is None:
        return None
    return FarWarmth(
        found=True,
        ridge=True,
        forward=ridge.forward,
        far=ridge.far,
        beyond=ridge.beyond,
        near=near,
        lightness=ridge.lightness,
        near_lightness=median_of(colours_in(lab, ground)[:, 0]),
        x=ridge.x,
        y=ridge.y,
    )


def warmth_of(lab: Float) -> Float:
    """C* toward orange of colours (…, 3)."""
    turn = np.radians(WARM_HUE)
    return np.asarray(lab[..., 1] * np.float32(np.cos(turn)) + lab[..., 2] * np.float32(np.sin(turn)))


def _band(field: Float, at: Float, columns: NDArray[np.intp], reach: tuple[float, float]) -> Float:
    """Means of a map (height, width) between two distances below a path (px), a column (columns,)."""
    height = len(field)
    rows = np.arange(round(reach[0] * height), max(round(reach[1] * height), round(reach[0] * height) + 1))
    down = np.clip(np.floor(at[None] + rows[:, None]), 0, height - 1).astype(np.intp)
    return np.asarray(field[down, columns[None]].mean(0), dtype=np.float32)


def _is_glade_or_accent(warmth: FarWarmth) -> bool:
    """Whether a warm stretch is a dark slope near by, or trees that the light has picked out: no distance to anyone."""
    if warmth.ridge:
        return False
    lit = warmth.lightness - warmth.near_lightness > LIT_OVER and warmth.forward < LIT_FORWARD
    return lit or (warmth.lightness < DARK_LAND and warmth.forward < DARK_FORWARD)


def comes_forward(warmth: FarWarmth) -> Fault | None:
    """Land at the horizon in the warm, strong colour of the ground at one's feet."""
    if warmth.mountain is not None:
        return "watch"
    if _is_glade_or_accent(warmth):
        return None
    if not warmth.level:
        return "watch" if warmth.shaped and warmth.forward > WATCH_BY_SHAPE else None
    if warmth.forward <= (WATCH_OVER_FOOT if warmth.foot else WATCH):
        return None
    return "rework" if warmth.forward >= REWORK else "watch"


FIGURES = (
    Figure(
        name="far_warmth.far",
        label="Warmest land at the horizon",
        meaning="C* toward orange; below 0 it is cool",
        definition="Warmth of the warmest eighth of the width above the dividing line, or right under the sky.",
        source=OWN,
        unit="C*",
        show=rounded(0),
    ),
)
