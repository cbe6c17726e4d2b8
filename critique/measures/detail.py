"""Where the fine detail of a picture lies: equal flecks everywhere, or a foreground busier than the rest."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from critique.measures.figure import OWN, PART, PULL, Figure, rounded
from critique.measures.finely_seen import fine_planes
from critique.measures.smoothing import Float, gaussian, gaussian_planes, means_at, planes_of
from critique.perception.ranks import quantiles_of
from critique.picture.kept import kept
from critique.picture.picture import Picture, lab_at

VIEW = 640  # px along the long edge
MARK = 0.006  # of the long edge, spread of a Gaussian: finer than this is touch, coarser is shape
FINE = 0.003  # of the long edge, the same: parts the finer half of touch from the broader
GATHERED = 0.012  # of the long edge, the same: marks that a larger shape gathers add to it at this spread
PLACE = 0.06  # of the long edge: detail within such a window counts as one place
ZONE = 0.04  # of the long edge: spread of a focal zone
NEAR = 0.78  # of the height: below it lies the foreground; the lowest quarter, less its border with the middle
BEYOND = 0.68  # of the height: above it the subject; the lowest third set apart
INSIDE = 0.08  # of the width and height: the border, where no subject is looked for
FAINT, SEEN = 3.0, 5.5  # L*: marks at the bottom that count for nothing, and in full: ripples under fog hold no eye
LIGHTS, DIM = 90, (30.0, 40.0)  # percentile of its L*, and L*: a foreground so dim throughout holds no eye
FLAT = 0.22  # L* per px: a place with less slope has no direction
SILENT = 0.13  # L*: less detail than this is no touch at all
QUIETER_COLUMNS = 15  # percentile of the columns at the bottom: a busy foreground is busy from side to side
# How much it counts that the marks run otherwise in one place than in another, and that they are finer there. Set with
# the limit in `advice/fault_limits.py`, between pictures that readers noted and others, gone over with one mark.
DIRECTIONS_COUNT, SIZES_COUNT = 1.0, 0.5
# Powers by which fine detail's part of the coarser, and the rest's calm, count beside the focal zone. Of 112 untouched
# pictures one then exceeds what 57 of 64 plain faults reach; by the focal zone and the rest alone it is 38 of 64.
FINE_COUNTS, REST_COUNTS = 3.0, 0.3


@dataclass(frozen=True, slots=True)
class Detail:
    """Fine detail: root mean squares of what a small blur takes away, less the very finest.

    ``quietest`` is the detail of the quietest tenth of places, in L*, a* and b* together, and ``evenness`` that of L*
    alone against the busiest tenth (0–1).
    ``directions`` is how far the marks of one place run otherwise than those of another: 0 where all run alike or every
    which way, 1 where half run along and half across. ``sizes`` is how far they are finer in one place than in another:
    the spread of the logarithm, to base 2, of their broader part over their finer. ``same_marks`` is how far all places
    have the same marks: their evenness in L*, a* and b* together, less what ``directions`` and ``sizes`` take from it
    (at most 1; below 0 where they differ much). ``breadth`` is the logarithm, to base 2, of what is just broader than
    touch over the broader half of touch, in the middle one of all places: patches have more of them than strokes.
    ``foreground`` is the detail at the bottom against the focal zone, by the quieter columns of it, and
    ``foreground_to_rest`` against all that lies above. ``foreground_marks`` is both in one, counted the more the less
    its marks gather into larger shapes: what a busy foreground is told by.
    """

    quietest: float
    evenness: float
    directions: float
    sizes: float
    same_marks: float
    breadth: float
    foreground: float
    foreground_to_rest: float
    foreground_marks: float
    zone_x: float  # where the detail above the foreground is greatest, 0–1
    zone_y: float


@kept
def measure_detail(picture: Picture) -> Detail:
    """Measure where the touch is fine and strong, and where a picture rests."""
    lab = lab_at(picture, VIEW)
    long_edge = max(lab.shape[:2])
    spread = max(MARK * long_edge, 0.5)
    planes = planes_of(lab)
    broad = gaussian_planes(planes, spread, truncate=3)
    touch = fine_planes(picture) - broad
    np.square(touch, out=touch)
    light = touch[0]
    gathered = gaussian(planes[0], max(GATHERED * long_edge, 0.5), truncate=3)
    coarse = np.square(fine_planes(picture)[0] - gathered)
    _, even = _spread_of(light, long_edge)
    quietest, even_together = _spread_of(touch.sum(axis=0), long_edge)
    foreground, to_rest, x, y = _foreground(light, long_edge)
    low = _low(light, long_edge)
    fine_share = low / max(_low(coarse, long_edge), SILENT)
    heard = min(max((low - FAINT) / (SEEN - FAINT), 0.0), 1.0) * _lit(lab[..., 0])
    marks = heard * foreground * fine_share**FINE_COUNTS * max(to_rest, 0.0) ** REST_COUNTS
    turns = _directions(fine_planes(picture)[0], long_edge)
    sizes, breadth = _sizes(picture, planes[0], broad[0], gathered)
    same = even_together - DIRECTIONS_COUNT * turns - SIZES_COUNT * sizes
    return Detail(quietest, even, turns, sizes, same, breadth, foreground, to_rest, marks, x, y)


def _directions(light: Float, long_edge: int) -> float:
    """How far the marks' direction differs from place to place, by the structure tensor of each place.

    [Bigün, Granlund, Optimal orientation detection of linear symmetry, ICCV 1987; from memory]
    """
    if min(light.shape) < 3:
        return 0.0
    size = max(3, round(PLACE * long_edge))
    start, step = min(size // 4, min(light.shape) // 2), max(1, size // 2)
    down, across = (np.asarray(slope, dtype=np.float32) for slope in np.gradient(light))

    def places(products: Float) -> Float:
        return means_at(products, size, start, step)

    along, slant = places(across * across - down * down), places(2 * across * down)
    whole = places(across * across + down * down) + FLAT**2
    return float(np.sqrt((along / whole).var(dtype=np.float64) + (slant / whole).var(dtype=np.float64)))


def _sizes(picture: Picture, light: Float, broad: Float, gathered: Float) -> tuple[float, float]:
    """How far the marks of one place are finer than those of another, and how broad they are in the middle one."""
    long_edge = max(light.shape)
    size = max(3, round(PLACE * long_edge))
    between = gaussian(light, max(FINE * long_edge, 0.3), truncate=3)

    def places(band: Float) -> Float:
        return np.maximum(means_at(np.square(band), size, 0, max(1, size // 2)), SILENT**2)

    marks = places(between - broad)
    sizes = np.log2(marks / places(fine_planes(picture)[0] - between)).std(dtype=np.float64)
    return float(sizes), float(np.median(np.log2(places(broad - gathered) / marks)))


def _spread_of(energy: NDArray[np.float32], long_edge: int) -> tuple[float, float]:
    """Detail of the quietest tenth of places, and that against the busiest tenth."""
    size = max(3, round(PLACE * long_edge))
    places = np.sqrt(np.maximum(means_at(energy, size, 0, max(1, size // 2)), 0))
    low, high = np.percentile(places, (10, 90))
    return float(low), float(low / high) if high > SILENT else 0.0


def _foreground(energy: NDArray[np.float32], long_edge: int) -> tuple[float, float, float, float]:
    height, width = energy.shape
    near, beyond = round(NEAR * height), max(1, round(BEYOND * height))
    top, side = round(INSIDE * height), round(INSIDE * width)
    half = np.sqrt(np.maximum(gaussian(energy[::2, ::2], ZONE * long_edge / 2, truncate=2), 0))
    inside = half[top // 2 : max(beyond // 2, top // 2 + 1), side // 2 : max((width - side) // 2, side // 2 + 1)]
    row, column = divmod(int(inside.argmax()), inside.shape[1])
    zone = float(inside.max())
    below = energy[min(near, height - 1) :]
    rest = float(np.sqrt(energy[:beyond].mean(dtype=np.float64)))
    detail = float(np.sqrt(below.mean(dtype=np.float64)))
    return (
        _low(energy, long_edge) / max(zone, SILENT),
        detail / max(rest, SILENT),
        min((2 * (column + side // 2) + 1) / width, 1.0),
        min((2 * (row + top // 2) + 1) / height, 1.0),
    )


def _lit(lightness: NDArray[np.float32]) -> float:
    """How far the foreground is light enough for its marks to be seen across a room, 0–1."""
    below = lightness[min(round(NEAR * len(lightness)), len(lightness) - 1) :]
    return float(np.clip((np.percentile(below, LIGHTS) - DIM[0]) / (DIM[1] - DIM[0]), 0.0, 1.0))


def _low(energy: NDArray[np.float32], long_edge: int) -> float:
    """Detail at the bottom, by the quieter of its columns."""
    from scipy.ndimage import gaussian_filter1d

    height = len(energy)
    below = energy[min(round(NEAR * height), height - 1) :]
    columns = gaussian_filter1d(np.sqrt(below.mean(axis=0)), ZONE * long_edge, mode="nearest")
    return quantiles_of(columns, (QUIETER_COLUMNS / 100,))[0]


FIGURES = (
    Figure(
        name="detail.evenness",
        label="Touch even by",
        meaning="1 is as busy everywhere as at its busiest",
        definition="Fine detail, less the very finest, of the quietest tenth of places over that of the busiest.",
        source=OWN,
        unit="share",
        show=rounded(2),
        norm=True,
        worth=PART,
        jumps=False,
    ),
    Figure(
        name="detail.foreground",
        label="Foreground as busy as",
        meaning="1 is as busy as the busiest place above",
        definition="Fine detail, less the very finest, in the lowest quarter over that of the busiest place above.",
        source=OWN,
        show=rounded(2),
        norm=True,
        worth=PULL,
        jumps=True,
    ),
    Figure(
        name="detail.foreground_marks",
        label="Small marks in the foreground",
        meaning="1 is all small marks, as busy as the busiest place above",
        definition="The same, counted the more the less its detail belongs to larger shapes, and the calmer all above.",
        source=OWN,
        show=rounded(2),
        norm=True,
        worth=PULL,
        jumps=True,
    ),
)
