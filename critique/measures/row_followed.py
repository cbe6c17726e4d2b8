"""How many things stand in a row that was found, and where does each stand?"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from critique.measures.smoothing import Float, planes_of
from critique.picture.picture import Picture, lab_at

# px: the spacing at the size at which a row is followed, and that of things which turn out to stand closer; of the long
# edge, the largest size.
SPACED, CLOSER, LARGEST = 28, 20, 640
# How far a row may fall or rise, of the way along it; and what the steepest must be likelier by than a level one: the
# storeys of a spire are like those of the next one too.
SLOPES, STEEP = np.linspace(-0.12, 0.12, 25), 0.04
ABOUT = 0.45  # of the spacing, up and down: what of a thing is held against the next
REACHES = 1.7  # of the spacing, up and down: so far the things are looked at when it is told how tall they are
FEWEST_PX = 3  # px: no two things stand closer
FEWEST = 3  # things, below which there is nothing to follow
# A row goes on at a part of the spacing that was found where things there are alike by so much of what they are at the
# whole, from the valley up: every second picket is lighter, or they were counted by threes.
PART_OF_SPACING = 0.5
NEAR_SPACING = 0.2  # of the spacing: how far from it the row's own may lie
DRIFTS = 0.15  # of the spacing: how far the next one may stand from its place, along the row
HIGHER = 0.05  # of the spacing: by which the next one may stand higher or lower than the last
# Correlation with what all have in common from which one is counted; one in a row may be hidden, two end it.
COUNTED, HIDDEN = 0.4, 1
CUT = 0.25  # of the spacing: one whose middle lies so far beyond the side of the picture is no more in it
SHOWS = 0.2  # of the most: where things differ so much from what lies behind them they are
WIDEST = 0.86  # of the spacing: of crowns that touch each still has a box of its own


Place = tuple[float, int]  # px from the left, and below the course of the row


@dataclass(frozen=True, slots=True, eq=False)
class FollowedRow:
    """``things`` is their number, ``spacing`` in parts of the width, ``mask`` (height, width) a box about each."""

    things: int
    spacing: float
    mask: NDArray[np.bool_]


@dataclass(frozen=True, slots=True, eq=False)
class _Band:
    """What lies along a row: its colours (3, rows, width), 0 beyond the picture, rows measured from its ``course``."""

    planes: Float
    inside: NDArray[np.bool_]
    course: NDArray[np.float64]  # (width,), px from the top

    @property
    def middle(self) -> int:
        return int(self.planes.shape[1] // 2)

    def within(self) -> Float:
        """The colours, where a row lies beyond the picture those of the nearest within it."""
        rows = np.arange(len(self.inside))[:, None]
        first = self.inside.argmax(axis=0)
        nearest = np.clip(rows, first, first + self.inside.sum(axis=0) - 1)
        return np.take_along_axis(self.planes, nearest[None], axis=1)

    def core(self, spacing: float) -> slice:
        reach = int(ABOUT * spacing)
        return slice(self.middle - reach, self.middle + reach + 1)


def follow_row(picture: Picture, *, spacing: float, x: float, y: float) -> FollowedRow | None:
    """Follow a row from its six likest things on; None where there are too few to follow.

    Parameters
    ----------
    spacing : of the picture's width.
    x, y : the middle of the six, 0–1 from the left and the top.
    """
    long_edge = min(LARGEST, round(SPACED / spacing * max(picture.width, picture.height) / picture.width))
    lab = lab_at(picture, long_edge)
    width = lab.shape[1]
    slope, spaced = _course(lab, spacing * width, x, y)
    if spaced < (1 - NEAR_SPACING) * spacing * width:
        lab = lab_at(picture, min(LARGEST, round(long_edge * CLOSER / spaced)))
    larger = lab.shape[1] / width
    whole, own = spacing * lab.shape[1], spaced * larger
    band = _band(lab, x, y, slope, round(REACHES * whole))
    planes = band.within()
    stands_out = (band.planes - _behind(band.planes, own)) * band.inside
    core = band.core(whole)
    first = [(place, 0) for place in _about_the_six(stands_out[:, core], own, x, whole)]
    places: list[Place] = []
    for _ in range(2):  # once to learn what all have in common, and once more with that in the middle
        places = _walk(stands_out[:, core], own, max(1, round(HIGHER * whole)), first)
        if len(places) < FEWEST:
            return None
        off = _off_the_middle(planes, core, places, own)
        first = [(place + off, lower) for place, lower in places]
    return FollowedRow(len(places), own / lab.shape[1], _boxes(stands_out, places, own, core, band, lab.shape[:2]))


def _course(lab: Float, spacing: float, x: float, y: float) -> tuple[float, float]:
    """The slope of a row, px down a px along, and its own spacing, px."""
    from scipy.ndimage import uniform_filter1d

    width = lab.shape[1]
    start, stop = max(0, int(x * width - 3 * spacing)), min(width, int(x * width + 3 * spacing))
    lags = np.arange(FEWEST_PX, int((1 + NEAR_SPACING) * spacing) + 2)
    lags = lags[lags < stop - start]
    likest, slope, best = -np.inf, 0.0, np.zeros(len(lags))
    for falls in SLOPES.tolist():
        band = _band(lab, x, y, falls, round(ABOUT * spacing) + 1)
        trend = uniform_filter1d(band.planes, round(1.2 * spacing), axis=2, mode="nearest")
        core = ((band.planes - trend) * band.inside)[:, band.core(spacing)]
        like = np.array([_like(core[..., start : stop - lag], core[..., start + lag : stop]) for lag in lags.tolist()])
        most = float(like[lags >= (1 - NEAR_SPACING) * spacing].max(initial=-1.0)) - STEEP * abs(falls) / SLOPES[-1]
        if most > likest:
            likest, slope, best = most, falls, like
    return slope, _own_spacing(lags, best, spacing)


def _own_spacing(lags: NDArray[np.intp], like: NDArray[np.float64], spacing: float) -> float:
    """The least spacing, px, at which things are nearly as alike as at the one that was found."""
    peaks: list[tuple[float, float]] = []
    for i in range(1, len(like) - 1):
        if like[i - 1] <= like[i] > like[i + 1]:
            valley = max(1, int(lags[i] / 2))
            rises = like[i] - max(like[max(0, i - valley) : i + 1].min(), like[i : i + valley + 1].min())
            bend = like[i - 1] - 2 * like[i] + like[i + 1]
            peaks.append((float(lags[i] + (like[i - 1] - like[i + 1]) / (2 * bend)), float(rises)))
    near = [peak for peak in peaks if abs(peak[0] / spacing - 1) <= NEAR_SPACING]
    if not near:
        return spacing
    best = max(near, key=lambda peak: peak[1])
    return min(lag for lag, rises in peaks if rises >= PART_OF_SPACING * best[1])


def _band(lab: Float, x: float, y: float, slope: float, reach: int) -> _Band:
    """What lies within ``reach`` px of a line through a place (0–1)."""
    from scipy.ndimage import map_coordinates

    height, width = lab.shape[:2]
    course = y * height - 0.5 + slope * (np.arange(width) - (x * width - 0.5))
    rows = course + np.arange(-reach, reach + 1)[:, None]
    at = (rows, np.broadcast_to(np.arange(width), rows.shape))
    planes = [map_coordinates(plane, at, order=1, mode="nearest") for plane in planes_of(lab)]
    return _Band(np.asarray(planes, dtype=np.float32), (rows >= 0) & (rows <= height - 1), course)


def _behind(planes: Float, spacing: float) -> Float:
    """What lies behind the things: the middle, in each plane, of what lies within a spacing to both sides."""
    from scipy.ndimage import median_filter

    return np.asarray(median_filter(planes, size=(1, 1, round(2 * spacing) | 1), mode="nearest"))


def _like(one: Float, other: Float) -> float:
    """The correlation of two pieces that are deviations already."""
    return float((one * other).sum() / np.sqrt((one * one).sum() * (other * other).sum() + 1e-6))


def _about_the_six(core: Float, spacing: float, x: float, whole: float) -> list[float]:
    """Where the things about a place stand, px, by where they stand out most."""
    width = core.shape[2]
    columns = np.arange(width)
    near = np.abs(columns - x * width) <= 3 * whole
    turns = np.square(core).sum(axis=(0, 1)) * near * np.exp(2j * np.pi * columns / spacing)
    phase = float(np.angle(turns.sum())) / (2 * np.pi) * spacing
    middle = phase + spacing * round((x * width - phase) / spacing)
    places = (middle + k * spacing for k in range(-3, 4))
    return [place for place in places if spacing / 2 <= place <= width - spacing / 2]


def _windows(planes: Float, places: list[Place], spacing: float) -> Float:
    """A spacing of a band (3, rows, width) about each of some places (places, 3, rows, spacing), 0 beyond it."""
    wide, rows = round(spacing), planes.shape[1]
    reach = max(abs(lower) for _, lower in places)
    padded = np.pad(planes, ((0, 0), (reach, reach), (2 * wide, 2 * wide)))
    starts = [(round(x - spacing / 2) + 2 * wide, reach + lower) for x, lower in places]
    return np.stack([padded[:, down : down + rows, start : start + wide] for start, down in starts])


def _walk(core: Float, spacing: float, lift: int, first: list[Place]) -> list[Place]:
    """Where things stand, from left to right, that are like what the first have in common."""
    width = core.shape[2]
    first = [place for place in first if _is_in(place[0], spacing, width)]
    if not first:
        return []
    common = _windows(core, first, spacing).mean(axis=0)
    for _ in range(2):
        found = [_nearest_like(core, common, place, spacing, lift) for place in first]
        common = _windows(core, [place for _, place in found], spacing).mean(axis=0)
    start = max(found)[1]
    places = [start]
    for step in (spacing, -spacing):
        (x, lower), hidden = start, 0
        while hidden <= HIDDEN and _is_in(x + step, spacing, width):
            like, there = _nearest_like(core, common, (x + step, lower), spacing, lift)
            hidden = 0 if like >= COUNTED else hidden + 1
            if not hidden:
                places.append(there)
            x, lower = (x + step, lower) if hidden else there
    return sorted(places)


def _is_in(x: float, spacing: float, width: int) -> bool:
    return -CUT * spacing <= x <= width - 1 + CUT * spacing


def _nearest_like(core: Float, common: Float, place: Place, spacing: float, lift: int) -> tuple[float, Place]:
    """How like the likest window near a place is to what all have in common, and where that is."""
    reach = max(1, round(DRIFTS * spacing))
    x, lower = place
    places = [(x + off, lower + down) for off in range(-reach, reach + 1) for down in (0, lift, -lift)]
    likes = [_like(window, common) for window in _windows(core, places, spacing)]
    best = max(range(len(places)), key=lambda k: likes[k])
    return likes[best], places[best]


def _off_the_middle(planes: Float, core: slice, places: list[Place], spacing: float) -> float:
    """How far from the middle of a spacing about each place the things lie, px.

    A thing is where all are the same and are neither as it is above the row nor as below it; a gap shows what lies
    behind, and something else each time.
    """
    windows = _windows(planes, places, spacing)
    common = windows.mean(axis=0)
    ends = (common[:, : core.start], common[:, core.stop :])
    away = [np.square(common[:, core] - np.median(end, axis=(1, 2))[:, None, None]).sum(axis=0) for end in ends]
    own = np.minimum(*away).sum(axis=0) - windows.var(axis=0)[:, core].sum(axis=(0, 1))
    turns = own * np.exp(2j * np.pi * ((np.arange(len(own)) + 0.5) / len(own) - 0.5))
    return float(np.angle(turns.sum())) / (2 * np.pi) * len(own)


def _boxes(
    stands_out: Float, places: list[Place], spacing: float, core: slice, band: _Band, shape: tuple[int, int]
) -> NDArray[np.bool_]:
    """A box about each of the things, as tall and wide as what they have in common shows."""
    common = np.square(np.median(_windows(stands_out, places, spacing), axis=0)).sum(axis=0)
    down = np.convolve(common.sum(axis=1), np.full(3, 1 / 3), "same")
    shows = down >= SHOWS * down[core].max()
    top = foot = int(down[core].argmax()) + core.start
    while top > 0 and shows[top - 1]:
        top -= 1
    while foot < len(down) - 1 and shows[foot + 1]:
        foot += 1
    across = common[top : foot + 1].sum(axis=0)
    columns = np.flatnonzero(across >= SHOWS * across.max())
    over = max(0, round((len(across) - WIDEST * spacing) / 2))
    first, last = max(int(columns[0]), over), min(int(columns[-1]), len(across) - 1 - over)
    mask = np.zeros(shape, dtype=np.bool_)
    for place, lower in places:
        course = lower + float(band.course[int(np.clip(round(place), 0, shape[1] - 1))])
        rows = [int(np.clip(round(course + row - band.middle), 0, shape[0])) for row in (top, foot + 1)]
        left = round(place - spacing / 2)
        sides = [int(np.clip(left + column, 0, shape[1])) for column in (first, last + 1)]
        mask[rows[0] : rows[1], sides[0] : sides[1]] = True
    return mask
