"""Four corners of a canvas as they are given: whether they can be one, and how they are remembered."""

import json
import os
from collections.abc import Sequence
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from critique.errors import CritiqueError, OutputError, WrongUsage
from critique.publish import replace_file
from critique.text_file import TextFault, json_of, read_text

Corner = tuple[float, float]
Corners = tuple[Corner, Corner, Corner, Corner]

ALL: Corners = ((0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0))
OUTSIDE = 0.1  # of the photograph's side that a corner may lie outside: a canvas cut off by more isn't all there
LEAST_AREA = 0.01  # of the photograph: fewer px than that are no picture
FLATTEST = 8.0  # degrees: sides that meet flatter than that make no canvas
TO_FILL_IN = "X,Y X,Y X,Y X,Y"
FILE = "corners.json"  # beside the results


def parse_corners(text: str) -> Corners:
    """Corners written as ``x,y x,y x,y x,y``, clockwise from the painting's upper left, as fractions."""
    parts = text.replace(";", " ").split()
    try:
        points = [tuple(float(number) for number in part.split(",")) for part in parts]
    except ValueError:
        points = []
    if len(points) != 4 or any(len(point) != 2 for point in points):
        raise WrongUsage(
            f"corners “{text}” can't be read: give four, such as 0.1,0.2 0.9,0.2 0.9,0.8 0.1,0.8, clockwise from the "
            "painting's upper left, as fractions of the photograph"
        )
    try:
        return checked_corners([(point[0], point[1]) for point in points])
    except CritiqueError as error:
        raise WrongUsage(error.what) from None


def written_corners(corners: Corners | None) -> str:
    """Corners as ``--corners`` takes them, to be pasted; places for the painter's own where there are none."""
    return '"' + (TO_FILL_IN if corners is None else " ".join(f"{x:.3f},{y:.3f}" for x, y in corners)) + '"'


def checked_corners(
    corners: Sequence[Sequence[float]], name: str = "", *, of: str = "", least_area: float = LEAST_AREA
) -> Corners:
    """The corners, if they can be those of a canvas; raises ``CritiqueError``, one line, if not.

    ``of`` says whose they are where it isn't a canvas: of something flat that may take less of the photograph.
    """
    about = f"{name}: " if name else ""
    what, first = ("a canvas", "the painting's upper left") if not of else (of, "its upper left")
    about += f"{of}: " if of else ""
    try:
        points = np.asarray(corners, dtype=float)
    except (TypeError, ValueError):  # of a file that was changed by hand
        points = np.zeros(0)
    if points.shape != (4, 2) or not np.isfinite(points).all():
        raise CritiqueError(f"{about}{what} has four corners, each of two numbers")
    for x, y in points:
        if not (-OUTSIDE <= x <= 1 + OUTSIDE and -OUTSIDE <= y <= 1 + OUTSIDE):
            raise CritiqueError(
                f"{about}the corner {x:g},{y:g} lies outside the photograph: give fractions from 0 to 1, the upper "
                "left is 0,0"
            )
    turns = _turns(points)
    if np.abs(turns).min() < np.sin(np.radians(FLATTEST)):
        raise CritiqueError(f"{about}three of the corners lie nearly on one line: {what} doesn't look like that")
    if (turns < 0).sum() not in (0, 4):
        raise CritiqueError(f"{about}the corners cross: give them in order, clockwise from {first}")
    if (turns < 0).all():
        mirrored = of or "the painting"
        raise CritiqueError(f"{about}the corners run anticlockwise and would mirror {mirrored}: give them clockwise")
    if _area(points) < least_area:
        raise CritiqueError(f"{about}the corners enclose less than {least_area:.2g} of the photograph")
    return as_corners(points)


def as_corners(points: NDArray[np.floating]) -> Corners:
    """An array (4, 2) as plain numbers."""
    first, second, third, fourth = ((float(x), float(y)) for x, y in points)
    return first, second, third, fourth


def filled(points: NDArray[np.floating], shape: tuple[int, ...]) -> NDArray[np.bool_]:
    """Which px of a picture lie between four corners (4, 2) in px, clockwise."""
    x, y = np.arange(shape[1]), np.arange(shape[0])[:, None]
    ahead = np.roll(points, -1, axis=0) - points
    sides = [(y - py) * ax >= (x - px) * ay for (px, py), (ax, ay) in zip(points, ahead, strict=True)]
    return np.asarray(np.logical_and.reduce(sides))


def remember_corners(folder: Path, name: str, corners: Corners) -> None:
    """Keep the corners that were given for a photograph, so that the next run takes them too."""
    kept = _read(folder)
    kept[name] = [list(corner) for corner in corners]
    try:
        folder.mkdir(parents=True, exist_ok=True)
        _write(folder, kept)
    except OSError as error:
        raise OutputError(f"{folder / FILE}: the corners can't be kept ({error.strerror})") from error


def remembered_corners(folder: Path, name: str) -> Corners | None:
    """Corners given for a photograph of that name on an earlier run; None when there were none."""
    kept = _read(folder).get(name)
    return None if kept is None else checked_corners(kept, name)


def forget_corners(folder: Path, name: str) -> None:
    """Let the program look for itself again."""
    kept = _read(folder)
    if kept.pop(name, None) is not None:
        try:
            _write(folder, kept)
        except OSError as error:
            raise OutputError(f"{folder / FILE}: the corners can't be forgotten ({error.strerror})") from error


def _read(folder: Path) -> dict[str, list[list[float]]]:
    if not os.path.lexists(folder / FILE):
        return {}
    try:
        kept = json_of(read_text(folder / FILE))
    except TextFault:
        raise CritiqueError(f"{folder / FILE}: can't be read; delete it, and give the corners again") from None
    return kept if isinstance(kept, dict) else {}


def _write(folder: Path, kept: dict[str, list[list[float]]]) -> None:
    replace_file(folder / FILE, (json.dumps(kept, indent=1, sort_keys=True) + "\n").encode("ascii"))


def _turns(points: NDArray[np.float64]) -> NDArray[np.float64]:
    """Sine of the turn at each corner; positive where the way around is clockwise on a screen."""
    ahead = np.roll(points, -1, axis=0) - points
    behind = points - np.roll(points, 1, axis=0)
    cross = behind[:, 0] * ahead[:, 1] - behind[:, 1] * ahead[:, 0]
    return np.asarray(cross / np.maximum(np.hypot(*ahead.T) * np.hypot(*behind.T), 1e-12))


def _area(points: NDArray[np.float64]) -> float:
    after = np.roll(points, -1, axis=0)
    return float((points[:, 0] * after[:, 1] - after[:, 0] * points[:, 1]).sum() / 2)
