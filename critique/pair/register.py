"""Whether two pictures follow the same drawing, and how the one lies on the other."""

from dataclasses import dataclass, field, replace
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from critique.picture.picture import Picture, lab_at

Float64 = NDArray[np.float64]

WORKING_LONG_EDGE = 480  # px: strokes melt, and what is left is the drawing
LEAST_CONTRAST = 0.008  # of a spot against its surroundings: half of what photographs want, for quiet paintings
RATIO = 0.8  # of the second-best match that the best must stay below [Lowe, IJCV 60(2), 2004]
LEAST_MATCHES = 12  # a homography takes four; chance lines up a few more
REACH = 4.0  # px of the working size within which a match keeps to the homography: a brush is not a tracing
FINE_REACH = 2.0  # px: the second fit, from the matches that keep to the first
TRIALS = 1500  # of four matches: enough to meet four good ones where a fifth of the matches is good
MOVED = 0.06  # of the matches that keep to a second view: then a part of the drawing, such as the sky, was moved
SHIFTED = 0.05  # of a side by which a view moves the picture: less is another photograph of one composition
# With these, of 145 pictures whose line was moved by 14 % of the height and more, 123 are told by a part that moved,
# where 96 were; of 50 with a line moved by 8 %, 35, and were 28; of 516 crops, and repaints in one frame, none more.
LEAST_OFF = 6  # matches in a strip, more than keep there, that are off a view that shifts the picture
UPRIGHT = 0.04  # of the long edge, aside: half of what is stretched lies within it, of chance matches a third
KEEPING = 0.22  # of the matches that must keep to it; unrelated pictures stay below
PLAINER = 0.95  # of the matches that keep to a homography: a shift, turn and scale that keeps so many is truer than it
BENDING = 24  # matches that must keep to a view that bends before it is believed: a dozen can be bent onto much
SPREAD = 0.12  # of the picture's long edge over which the matches that keep must scatter, each way
SMALLEST, LARGEST = 0.4, 2.5  # scale between the two: beyond it this is a detail, not the same picture
MOST_SHEAR = 0.6  # how far a square may become a slanted or narrow quadrangle: photographed askew, not folded
SEED = 1


@dataclass(frozen=True, slots=True)
class MovedPart:
    """A part of the drawing that lies elsewhere in the second picture than the rest of it.

    ``matches`` keep to a view of its own. ``x``, ``y`` is its middle in the first, 0–1 from the upper left; ``right``
    and ``down`` are how far it moved within the picture, in parts of the width and height.
    """

    matches: int
    x: float
    y: float
    right: float
    down: float


@dataclass(frozen=True, slots=True)
class Registration:
    """How a second picture lies on a first.

    ``matches`` were found, and ``keeping`` of them keep to one homography; ``moved`` is a part that keeps to another,
    and then the whole is not found. When ``found``, ``matrix`` (3, 3) takes
    places of the first, as (x, y) in units of its long edge from its upper left corner, to places of the second, in
    units of the second's long edge.
    """

    found: bool
    matches: int
    keeping: int
    reason: str  # why not, in words; empty when found
    matrix: Float64 = field(repr=False)
    moved: MovedPart | None = None

    def place(self, points: ArrayLike) -> Float64:
        """Where points (n, 2) of the first lie in the second, both in units of their long edges."""
        return _carried(self.matrix, points)

    def back(self, points: ArrayLike) -> Float64:
        """Where points (n, 2) of the second lie in the first, likewise."""
        return _carried(np.asarray(np.linalg.inv(self.matrix), dtype=np.float64), points)


def _carried(matrix: Float64, points: ArrayLike) -> Float64:
    x = np.asarray(points, dtype=np.float64)
    carried = np.concatenate([x, np.ones((len(x), 1))], axis=1) @ matrix.T
    return np.asarray(carried[:, :2] / carried[:, 2:])


def register(first: Picture, second: Picture) -> Registration:
    """Find the homography from one picture to another by the corners and blobs that both have.

    Scale-invariant features are matched both ways and held to one homography by random sampling.
    [Lowe, IJCV 60(2), 2004; Fischler and Bolles, CACM 24(6), 1981]
    """
    from skimage import feature

    match_descriptors: Any = feature.match_descriptors
    spots = [_spots(picture) for picture in (first, second)]
    if min(len(places) for places, _ in spots) < LEAST_MATCHES:
        return _refused(0, 0, "one of them has too little drawing to go by")
    pairs = match_descriptors(spots[0][1], spots[1][1], cross_check=True, max_ratio=RATIO)
    here, there = spots[0][0][pairs[:, 0]], spots[1][0][pairs[:, 1]]
    if len(pairs) < LEAST_MATCHES:
        return _refused(len(pairs), 0, "too few places in one are found in the other")
    model, keeps = _homography(here, there, REACH / WORKING_LONG_EDGE)
    if model is not None and keeps.sum() >= LEAST_MATCHES:
        finer, keeps_finer = _homography(here[keeps], there[keeps], FINE_REACH / WORKING_LONG_EDGE)
        if finer is not None and keeps_finer.sum() >= LEAST_MATCHES:
            model = finer
    keeping = int(keeps.sum())
    if model is None or keeping < max(LEAST_MATCHES, KEEPING * len(pairs)):
        return _refused(len(pairs), keeping, "the places that match don't keep to one drawing")
    if np.ptp(here[keeps], axis=0).min() < SPREAD or np.ptp(there[keeps], axis=0).min() < SPREAD:
        return _refused(len(pairs), keeping, "the places that match lie too close together")
    others = _keeping_to_another(here[~keeps], there[~keeps], max(LEAST_MATCHES, round(MOVED * len(pairs))))
    drawn = [(here[keeps], there[keeps])]  # the parts of the drawing, each with a view of its own
    if others is not None:
        return _in_parts(len(pairs), [*drawn, (here[~keeps][others], there[~keeps][others])], first, second)
    matrix = _plainer(here[keeps], there[keeps], np.asarray(model / model[2, 2]))
    if keeping < BENDING and np.abs(matrix[2, :2]).max() > 0:
        return _refused(len(pairs), keeping, "too few places match to tell how one lies on the other")
    if not _like_a_photograph(matrix, first):
        return _refused(len(pairs), keeping, "one would have to be folded to lie on the other")
    strip = _stretched_otherwise(here, there, keeps, matrix, first, second)
    if strip is not None:
        return _in_parts(len(pairs), [*drawn, (here[strip], there[strip])], first, second)
    return Registration(True, len(pairs), keeping, "", matrix)


def _refused(matches: int, keeping: int, reason: str) -> Registration:
    return Registration(False, matches, keeping, reason, np.eye(3))


def _spots(picture: Picture) -> tuple[Float64, NDArray[Any]]:
    """Places (n, 2) as (x, y) in units of the long edge, and their descriptors (n, 128)."""
    from skimage import feature

    lightness = np.asarray(lab_at(picture, WORKING_LONG_EDGE)[..., 0], dtype=np.float32) / 100
    make_finder: Any = feature.SIFT
    finder = make_finder(upsampling=1, c_dog=LEAST_CONTRAST)
    try:
        finder.detect_and_extract(lightness)
    except RuntimeError:  # the library's way to say that there are none
        return np.zeros((0, 2)), np.zeros((0, 128))
    places = (np.asarray(finder.positions, dtype=np.float64)[:, ::-1] + 0.5) / max(lightness.shape)
    return places, np.asarray(finder.descriptors)


def _homography(here: Float64, there: Float64, reach: float) -> tuple[Float64 | None, NDArray[np.bool_]]:
    """The homography that most matches keep to within ``reach``, and which those are."""
    import warnings

    from skimage import measure
    from skimage.transform import ProjectiveTransform

    ransac: Any = measure.ransac

    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        model, keeps = ransac(
            (here, there), ProjectiveTransform, min_samples=4, residual_threshold=reach, max_trials=TRIALS, rng=SEED
        )
    if model is None or keeps is None or not np.isfinite(np.asarray(model.params)).all():
        return None, np.zeros(len(here), dtype=bool)
    return np.asarray(model.params, dtype=np.float64), np.asarray(keeps, dtype=bool)


def _keeping_to_another(here: Float64, there: Float64, least: int) -> NDArray[np.bool_] | None:
    """Which of the matches that don't keep to the first view keep to one other; None when fewer than ``least``."""
    if len(here) < least:
        return None
    _, keeps = _homography(here, there, FINE_REACH / WORKING_LONG_EDGE)
    return keeps if keeps.sum() >= least else None


def _in_parts(matches: int, parts: list[tuple[Float64, Float64]], first: Picture, second: Picture) -> Registration:
    """That no one view takes the first to the second, and which of the ``parts`` moved: the first keep to that view."""
    moved = [_moved_part(*part, first, second) for part in parts]
    return replace(
        _refused(matches, len(parts[0][0]), "part of the drawing was moved"),
        moved=max(moved, key=lambda part: np.hypot(part.right, part.down)),
    )


def _stretched_otherwise(
    here: Float64, there: Float64, keeps: NDArray[np.bool_], matrix: Float64, first: Picture, second: Picture
) -> NDArray[np.bool_] | None:
    """Which matches lie in a strip along top or bottom that a view, which shifts the picture, does not take along.

    A line raised under the same clouds stretches the land below it. Too few places are found again in what was
    stretched to make a view of their own, but they lie straight above or below where the clouds' view would put them,
    and chance matches, in a passage painted anew, do not.
    """
    size = np.array([second.width, second.height]) / max(second.width, second.height)
    if _shift(matrix, first, size) < SHIFTED:
        return None
    placed = _carried(matrix, here)
    shown = np.flatnonzero(((placed >= 0) & (placed <= size)).all(axis=1))
    strips = []
    for way in (1, -1):
        order = shown[np.argsort(way * here[shown, 1], kind="stable")]
        kept, off = np.cumsum(keeps[order]), np.cumsum(~keeps[order])
        mostly_off = np.flatnonzero((off >= LEAST_OFF) & (kept < off))
        if len(mostly_off):
            strip = order[: mostly_off[np.argmax(off[mostly_off])] + 1]
            strips.append(strip[~keeps[strip]])
    upright = [strip for strip in strips if np.median(np.abs(there[strip, 0] - placed[strip, 0])) <= UPRIGHT]
    if not upright:
        return None
    found = np.zeros(len(here), dtype=bool)
    found[max(upright, key=len)] = True
    return found


def _shift(matrix: Float64, first: Picture, size: Float64) -> float:
    """How far a view moves a corner of the picture, in parts of the width or the height; ``size`` is the second's."""
    own = np.array([first.width, first.height]) / max(first.width, first.height)
    corners = np.array([[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0]])
    return float(np.abs(_carried(matrix, corners * own) / size - corners).max())


def _moved_part(here: Float64, there: Float64, first: Picture, second: Picture) -> MovedPart:
    """How a part moved, from its places in the first (n, 2) to those in the second, in units of their long edges."""
    sizes = [
        np.array([picture.width, picture.height]) / max(picture.width, picture.height) for picture in (first, second)
    ]
    x, y = (float(part) for part in here.mean(axis=0) / sizes[0])
    right, down = (float(part) for part in np.median(there / sizes[1] - here / sizes[0], axis=0))
    return MovedPart(len(here), x, y, right, down)


def _plainer(here: Float64, there: Float64, matrix: Float64) -> Float64:
    """The shift, turn and scale that the matches keep to as well as to a homography; else the homography.

    Few matches leave a homography free to bend where there are none.
    """
    reach = REACH / WORKING_LONG_EDGE
    bent = np.hypot(*(_carried(matrix, here) - there).T) <= reach
    # As complex numbers, a shift, turn and scale is one line: to = factor · from + shift.
    known = np.stack([here[bent] @ (1, 1j), np.ones(int(bent.sum()))], axis=1)
    factor, shift = np.linalg.lstsq(known, there[bent] @ (1, 1j), rcond=None)[0]
    straight = np.array(
        [[factor.real, -factor.imag, shift.real], [factor.imag, factor.real, shift.imag], [0, 0, 1]], dtype=np.float64
    )
    keep = np.hypot(*(_carried(straight, here) - there).T) <= FINE_REACH / WORKING_LONG_EDGE
    return straight if keep.sum() >= PLAINER * bent.sum() else matrix


def _like_a_photograph(matrix: Float64, first: Picture) -> bool:
    """Whether the corners land as another photograph could have them: same way round, not folded, not stretched."""
    long_edge = max(first.width, first.height)
    width, height = first.width / long_edge, first.height / long_edge
    corners = np.array([[0, 0], [width, 0], [width, height], [0, height]])
    carried = np.concatenate([corners, np.ones((4, 1))], axis=1) @ matrix.T
    if (carried[:, 2] <= 0.1).any():
        return False
    placed = carried[:, :2] / carried[:, 2:]
    edges = np.roll(placed, -1, axis=0) - placed
    lengths = np.hypot(*edges.T) / np.array([width, height, width, height])
    if lengths.min() < SMALLEST or lengths.max() > LARGEST or lengths.max() / lengths.min() > LARGEST:
        return False
    unit = edges / np.hypot(*edges.T)[:, None]
    following = np.roll(unit, -1, axis=0)
    turns = unit[:, 0] * following[:, 1] - unit[:, 1] * following[:, 0]  # sine of each corner's angle
    return bool((turns > 1 - MOST_SHEAR).all())
