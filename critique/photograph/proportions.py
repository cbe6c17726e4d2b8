"""How wide a canvas is for its height, from its corners in perspective or from the size that is given."""

import re
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from critique.errors import CritiqueError, WrongUsage
from critique.photograph.corners import Corners

USUAL_FOCAL = 1.1  # of the photograph's long edge: a telephone's main camera, and near the middle of what cameras have
LEAST_FOCAL, MOST_FOCAL = 0.5, 5.0  # of the long edge: what perspective says outside it is its noise
NOTED_AGREES = 1.5  # times that the focal length which the corners tell may differ from the camera's own, and be noise
LEAST_VANISHING = 0.03  # of a whole turn of perspective: with less the focal length can't be told from the corners
# Times by which the proportion that the perspective tells may miss the canvas's own: one in a hundred of 4000 drawn
# cameras turned up to 15° misses by more, their corners off by 0.5 % of the long edge.
ESTIMATE_OFF = 1.05
UNLIKE = 1.3  # times that a size may differ in proportion from what the corners show
LEAST_SIZE, MOST_SIZE = 1.0, 1000.0  # cm along a side: a miniature, a mural
WIDEST = 10.0  # times as long as high
CENTIMETRES = {"cm": 1.0, "mm": 0.1, "m": 100.0, "in": 2.54, '"': 2.54, "inch": 2.54, "inches": 2.54}


@dataclass(frozen=True, slots=True)
class Size:
    """A canvas's two sides in cm, in the order in which they were given."""

    first: float
    second: float


def parse_size(text: str) -> Size:
    """A size such as ``16x12in`` or ``40x30cm``; raises ``WrongUsage`` for one that no canvas has."""
    # A comma between digits is a decimal sign, as most of Europe writes it.
    plain = re.sub(r"(?<=\d),(?=\d)", ".", text)
    found = re.fullmatch(r'\s*([\d.]+)\s*[x×X*]\s*([\d.]+)\s*(cm|mm|m|in|inch|inches|")?\s*', plain)
    try:
        sides = [float(number) for number in found.groups()[:2]] if found else []
    except ValueError:
        sides = []
    if not found or not sides:
        raise WrongUsage(f"size “{text}” can't be read: give both sides and their unit, such as 16x12in or 40x30cm")
    if found.group(3) is None:
        raise WrongUsage(f"size “{text}” lacks its unit: such as {text.strip()}in or {text.strip()}cm")
    size = Size(*(side * CENTIMETRES[found.group(3)] for side in sides))
    if not (LEAST_SIZE <= min(size.first, size.second) and max(size.first, size.second) <= MOST_SIZE):
        raise WrongUsage(f"size “{text}” is no canvas's: sides are from {LEAST_SIZE:g} cm to {MOST_SIZE / 100:g} m")
    if max(size.first, size.second) > WIDEST * min(size.first, size.second):
        raise WrongUsage(f"size “{text}” is more than {WIDEST:g} times as long as high: is a digit missing?")
    return size


def proportion(
    corners: Corners,
    width: int,
    height: int,
    size: Size | None = None,
    name: str = "",
    *,
    focal: float | None = None,
) -> float:
    """Width for height of the canvas in a photograph of ``width`` × ``height`` px.

    ``focal`` is the focal length that the camera noted, in long edges of the photograph.

    A size is taken either way round, whichever is nearer to what the corners show: some countries name the height
    first, others the width.
    """
    seen = proportion_seen(corners, width, height, focal=focal)
    if size is None:
        return seen
    ratio = size.first / size.second
    nearest = min((ratio, 1 / ratio), key=lambda one: abs(np.log(one / seen)))
    if abs(np.log(nearest / seen)) > np.log(UNLIKE):
        about = f"{name}: " if name else ""
        raise CritiqueError(
            f"{about}the size says {nearest:.2f} wide for 1 high, the corners show {seen:.2f}: one of them is wrong"
        )
    return float(nearest)


def stretched_by(taken: float, seen: float) -> float | None:
    """How many times the proportion that was taken is that which the corners show, or the other way round; None where
    the perspective can't tell the two apart."""
    times = max(taken / seen, seen / taken)
    return times if times > ESTIMATE_OFF else None


def proportion_seen(corners: Corners, width: int, height: int, *, focal: float | None = None) -> float:
    """Width for height as the perspective of the corners tells it, with what the camera noted of its focal length.

    Notes
    -----
    A rectangle's four corners give the camera's focal length, when its principal point is the middle of the photograph,
    and with it the rectangle's proportion. Where two facing sides are seen nearly parallel, the focal length is the
    camera's own, or a usual one. [Zhang and He, "Whiteboard scanning and image enhancement", Digital Signal Processing
    17(2), 2007, section 3; equations from memory, held to drawn cameras in the tests]
    """
    points = (np.asarray(corners) - 0.5) * [width, height] / max(width, height)
    # In the paper's order: upper left, upper right, lower left, lower right.
    m1, m2, m4, m3 = (np.append(point, 1.0) for point in points)
    k2 = np.dot(np.cross(m1, m4), m3) / np.dot(np.cross(m2, m4), m3)
    k3 = np.dot(np.cross(m1, m4), m2) / np.dot(np.cross(m3, m4), m2)
    n2, n3 = k2 * m2 - m1, k3 * m3 - m1
    own = _focal(n2, n3, focal)
    scale = np.array([1 / own, 1 / own, 1])
    return float(np.linalg.norm(n2 * scale) / np.linalg.norm(n3 * scale))


def _focal(n2: NDArray[np.float64], n3: NDArray[np.float64], noted: float | None) -> float:
    """In long edges of the photograph. What the camera noted is right, but of a photograph that was cropped since."""
    usual = USUAL_FOCAL if noted is None else noted
    if abs(n2[2]) < LEAST_VANISHING or abs(n3[2]) < LEAST_VANISHING:
        return usual
    square = -(n2[0] * n3[0] + n2[1] * n3[1]) / (n2[2] * n3[2])
    if not LEAST_FOCAL**2 < square < MOST_FOCAL**2:
        return usual
    told = float(np.sqrt(square))
    return noted if noted is not None and max(told / noted, noted / told) < NOTED_AGREES else told
