"""What two photographs of one painting both show, when one of them is cropped a little otherwise."""

from dataclasses import dataclass, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from critique.pair.register import Registration
from critique.picture.picture import Picture

Pixels = NDArray[Any]
Box = tuple[float, float, float, float]  # left, top, right, bottom, in units of the picture's long edge

LEAST_CUT = 0.004  # of the long edge: less is within what laying one on the other misses by
MOST_CUT = 0.12  # of either picture's area: a photograph that shows less is another composition
ALIKE = 0.03  # by which the sides may differ in scale: pictures that are stretched are not cropped
STRAIGHT = 0.02  # radians that the one may be turned on the other; more shows, and a crop doesn't undo it
KEEPING = 0.8  # of the matches: where fewer keep to one view, part of the drawing was moved


@dataclass(frozen=True, slots=True)
class Frame:
    """The upright part of each picture that both show, as (left, top, right, bottom), 0–1 of its width and height.

    ``cut_first`` and ``cut_second`` are how much of each picture's area lies outside.
    """

    first: Box
    second: Box
    cut_first: float
    cut_second: float

    def of_first(self, picture: Picture) -> Picture:
        """That part of the first picture."""
        return _cut(picture, self.first)

    def of_second(self, picture: Picture) -> Picture:
        """That part of the second picture."""
        return _cut(picture, self.second)


def common_frame(
    first: Picture, second: Picture, registration: Registration, *, most: float = MOST_CUT
) -> Frame | None:
    """What two pictures of one drawing both show; None when that is all of both, or too little to be one picture.

    ``most`` is how much of either may lie outside: 1 for a crop of any size.
    """
    if not registration.found or registration.keeping < KEEPING * registration.matches:
        return None
    sizes = [
        np.array([picture.width, picture.height]) / max(picture.width, picture.height) for picture in (first, second)
    ]
    corners = np.array([[0, 0], [1, 0], [1, 1], [0, 1]])
    if not _upright(registration.place(corners * sizes[0]) - registration.place([[0, 0]]), sizes[0]):
        return None
    here = _within(registration.back(corners * sizes[1]), sizes[0])
    there = _within(registration.place(_corners(here)), sizes[1])
    cuts = [1 - np.prod(box[2:] - box[:2]) / np.prod(size) for box, size in ((here, sizes[0]), (there, sizes[1]))]
    widest = max(
        float(np.abs(box - np.append([0, 0], size)).max()) for box, size in ((here, sizes[0]), (there, sizes[1]))
    )
    if widest < LEAST_CUT or max(cuts) > most or min(*(here[2:] - here[:2]), *(there[2:] - there[:2])) <= 0:
        return None
    return Frame(_parts(here, sizes[0]), _parts(there, sizes[1]), float(cuts[0]), float(cuts[1]))


def _upright(placed: NDArray[np.float64], size: NDArray[np.float64]) -> bool:
    """Whether the corners of the first land as those of a picture that was moved and scaled, but not bent."""
    edges = np.roll(placed, -1, axis=0) - placed
    scales = np.hypot(*edges.T) / np.array([size[0], size[1], size[0], size[1]])
    turned = np.arctan2(edges[:, 1], edges[:, 0]) - np.array([0, 0.5, 1, -0.5]) * np.pi
    off = np.abs((turned + np.pi) % (2 * np.pi) - np.pi)
    return bool(scales.max() <= (1 + ALIKE) * scales.min() and off.max() <= STRAIGHT)


def _within(corners: NDArray[np.float64], size: NDArray[np.float64]) -> NDArray[np.float64]:
    """The largest upright box inside four corners (clockwise from the upper left) and inside a picture."""
    left, top = corners[[0, 3], 0].max(), corners[[0, 1], 1].max()
    right, bottom = corners[[1, 2], 0].min(), corners[[2, 3], 1].min()
    return np.array([max(left, 0), max(top, 0), min(right, size[0]), min(bottom, size[1])])


def _corners(box: NDArray[np.float64]) -> NDArray[np.float64]:
    left, top, right, bottom = box
    return np.array([[left, top], [right, top], [right, bottom], [left, bottom]])


def _parts(box: NDArray[np.float64], size: NDArray[np.float64]) -> Box:
    left, top, right, bottom = (float(part) for part in box / np.concatenate([size, size]))
    return left, top, right, bottom


def _cut(picture: Picture, box: Box) -> Picture:
    def inside(pixels: Pixels) -> Pixels:
        height, width = pixels.shape[:2]
        rows = slice(round(box[1] * height), round(box[3] * height))
        return pixels[rows, round(box[0] * width) : round(box[2] * width)]

    return replace(picture, lab=inside(picture.lab), srgb=inside(picture.srgb), drawn=inside(picture.drawn))
