"""Lines, areas and letters laid on a plate by Pillow alone: a plate of a few marks need not load matplotlib."""

from collections.abc import Sequence
from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import ArrayLike, NDArray

from critique.report.plates.look import INK

if TYPE_CHECKING:
    from PIL import Image, ImageFont

Points = NDArray[np.float64]
Place = Sequence[float] | Points
Dashes = tuple[float, float]  # drawn and left out, in widths of the line

FINER = 4  # times finer than the plate a mark is drawn before it is brought down: that smooths its edges
STRAIGHT = 1e-3  # px a px that a line may turn at a point and be straight there
FACE = "STIXGeneral.ttf"  # comes with matplotlib, whose folder is found without loading it
SIZES = 16  # of type that are kept


def stroke(
    image: "Image.Image", points: ArrayLike, width: float, colour: str = INK, *, dashes: Dashes | None = None,
    opacity: float = 1.0,
) -> None:  # fmt: skip
    """A line through points (n, 2) in px from the upper left corner of an image, drawn on it."""
    course = np.asarray(points, dtype=np.float64)
    if len(course) == 2 and (course[0] == course[1]).any():
        _straight(image, course, width, colour, dashes, opacity)
        return
    pieces = [course] if dashes is None else _dashed(course, dashes[0] * width, dashes[1] * width)
    mask = _Mask(image, course, width)
    for piece in pieces:
        mask.line(_turning(piece), width)
    mask.laid(colour, opacity)


def _straight(
    image: "Image.Image", ends: Points, width: float, colour: str, dashes: Dashes | None, opacity: float
) -> None:
    """A level or upright line: how much of each px it covers is known without drawing it finer."""
    from PIL import Image

    across = int(ends[0, 0] == ends[1, 0])  # the axis along it
    first, last = sorted(float(end) for end in ends[:, across])
    starts = np.arange(first, max(last, first + 1e-9), np.sum(dashes) * width) if dashes else np.array([first])
    stops = np.minimum(starts + dashes[0] * width, last) if dashes else np.array([last])
    middle = float(ends[0, 1 - across])
    along, low = _covered(starts, stops, image.size[across])
    beside, near = _covered(np.array([middle - width / 2]), np.array([middle + width / 2]), image.size[1 - across])
    if not along.size or not beside.size:
        return
    covered = np.rint(255 * opacity * np.outer(beside, along)).astype(np.uint8)
    corner = (near, low) if across else (low, near)
    mask = Image.fromarray(np.ascontiguousarray(covered.T) if across else covered)
    image.paste(colour, (*corner, corner[0] + mask.width, corner[1] + mask.height), mask)


def _covered(starts: Points, stops: Points, length: int) -> tuple[Points, int]:
    """How much of each px of an axis lies between starts and stops, and the first px of those that are told."""
    low, high = max(0, int(np.floor(starts[0]))), min(length, int(np.ceil(stops[-1])))
    edges = np.arange(low, max(high, low) + 1, dtype=np.float64)
    lengths = np.clip(edges[:, None] - starts, 0, stops - starts).sum(axis=1)
    return np.diff(lengths), low


def area(image: "Image.Image", corners: ArrayLike, colour: str, *, edge: float = 0.0) -> None:
    """A filled polygon with corners (n, 2) in px; ``edge`` is the width of a line of ink around it."""
    outline = np.asarray(corners, dtype=np.float64)
    mask = _Mask(image, outline, 0)
    mask.polygon(outline)
    mask.laid(colour)
    if edge:
        stroke(image, np.concatenate([outline, outline[:2]]), edge)


def disc(
    image: "Image.Image", place: Place, radius: float, colour: str | None, *, edge: float = 0.0, ink: str = INK
) -> None:
    """A disc around a place in px; without a ``colour`` only the line around it, ``edge`` px wide."""
    middle = np.array([place], dtype=np.float64)
    if colour is not None:
        mask = _Mask(image, middle, 2 * radius)
        mask.ellipse(middle, radius)
        mask.laid(colour)
    if edge:
        ring = _Mask(image, middle, 2 * radius + edge)
        ring.ellipse(middle, radius, edge)
        ring.laid(ink)


def letters(
    image: "Image.Image", place: Place, text: str, size: float, *, anchor: str = "mm", colour: str = INK, rim: int = 0
) -> None:
    """Plain letters at a place in px; ``anchor`` says which point of them lies there, as Pillow has it.

    On a picture a light ``rim`` of so many px round them keeps them readable.
    """
    from PIL import ImageDraw

    ImageDraw.Draw(image).text(
        (place[0], place[1]), text, fill=colour, font=_face(round(size)), anchor=anchor, stroke_width=rim,
        stroke_fill="white" if rim else None,
    )  # fmt: skip


@lru_cache(maxsize=SIZES)
def _face(size: int) -> "ImageFont.FreeTypeFont | ImageFont.ImageFont":
    from importlib.util import find_spec

    from PIL import ImageFont

    found = find_spec("matplotlib")
    if found is not None and found.origin is not None:
        file = Path(found.origin).parent / "mpl-data" / "fonts" / "ttf" / FACE
        if file.exists():
            return ImageFont.truetype(str(file), size, layout_engine=ImageFont.Layout.BASIC)
    return ImageFont.load_default(size)


class _Mask:
    """How much of each px marks cover, within the part of an image that they can reach."""

    def __init__(self, image: "Image.Image", points: Points, width: float) -> None:
        from PIL import Image, ImageDraw

        room = width / 2 + 2
        left, top = (max(0, int(low)) for low in np.floor(points.min(axis=0) - room))
        right, bottom = (
            min(side, int(high)) for side, high in zip(image.size, np.ceil(points.max(axis=0) + room), strict=True)
        )
        self.image, self.corner = image, (left, top)
        size = max(right - left, 0), max(bottom - top, 0)
        self.fine = Image.new("L", (size[0] * FINER, size[1] * FINER))
        self.draw = ImageDraw.Draw(self.fine)

    def line(self, points: Points, width: float) -> None:
        self.draw.line(self._there(points), fill=255, width=max(1, round(width * FINER)), joint="curve")

    def polygon(self, corners: Points) -> None:
        self.draw.polygon(self._there(corners), fill=255)

    def ellipse(self, middle: Points, radius: float, edge: float = 0.0) -> None:
        reach = radius + edge / 2
        corners = np.concatenate([middle - reach, middle + reach])
        box = self._there(corners)
        if edge:
            self.draw.ellipse(box, outline=255, width=max(1, round(edge * FINER)))
        else:
            self.draw.ellipse(box, fill=255)

    def laid(self, colour: str, opacity: float = 1.0) -> None:
        """Lay the colour on the image where the marks cover it."""
        if 0 in self.fine.size:
            return
        mask = self.fine.reduce(FINER)
        if opacity < 1:
            mask = mask.point([round(level * opacity) for level in range(256)])
        self.image.paste(colour, (*self.corner, self.corner[0] + mask.width, self.corner[1] + mask.height), mask)

    def _there(self, points: Points) -> Sequence[tuple[float, float]]:
        return [(x, y) for x, y in ((points - self.corner) * FINER - 0.5).tolist()]


def _turning(points: Points) -> Points:
    """Of a line its ends and the points where it turns: each costs a joint."""
    if len(points) < 3:
        return points
    before, after = np.diff(points[:-1], axis=0), np.diff(points[1:], axis=0)
    turn = before[:, 0] * after[:, 1] - before[:, 1] * after[:, 0]
    ahead = (before * after).sum(axis=1)
    turns = (np.abs(turn) > STRAIGHT * np.abs(ahead)) | (ahead <= 0)
    return np.asarray(points[np.concatenate([[True], turns, [True]])])


def _dashed(points: Points, drawn: float, left_out: float) -> list[Points]:
    """The pieces of a line that are drawn."""
    along = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(points, axis=0).T))])
    pieces = []
    for start in np.arange(0.0, along[-1], drawn + left_out):
        end = min(start + drawn, along[-1])
        inside = along[(along > start) & (along < end)]
        at = np.concatenate([[start], inside, [end]])
        pieces.append(np.stack([np.interp(at, along, points[:, axis]) for axis in (0, 1)], axis=1))
    return pieces
