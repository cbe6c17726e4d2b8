"""Sheets to paint from: greyscale, value plans, a squint, and a grid that carries the drawing over to the canvas."""

import io
from dataclasses import dataclass, field
from itertools import pairwise
from math import ceil
from typing import TYPE_CHECKING, Any, Literal

import numpy as np
from numpy.typing import NDArray

from critique.errors import CritiqueError, WrongUsage
from critique.measures.squint import squint
from critique.measures.values import apply_plan, value_plan
from critique.perception.cielab import lab_to_srgb8, srgb8_to_lab
from critique.perception.srgb import Codes
from critique.photograph.proportions import Size
from critique.picture.picture import Picture

if TYPE_CHECKING:
    from PIL import Image

GridKind = Literal["squares", "thirds", "diagonals"]
Segment = tuple[tuple[float, float], tuple[float, float]]

HALF_CLOSED = 0.006  # of the long edge: radius of the blur of the squint that is drawn; our choice, by eye
PLANS = (2, 3, 5)  # values a plan is painted with
PAPERS = {"A4": (21.0, 29.7), "Letter": (21.59, 27.94)}  # cm [ISO 216; ANSI Y14.1]
MARGIN = 1.0  # cm of the paper left white: printers do not reach its edge
OVERLAP = 1.0  # cm by which neighbouring sheets show the same, to be glued on each other
MOST_SHEETS = 60  # of one reference: more is a wall, and a projector's work
SAME = 0.01  # by which proportions may differ before something is cut off
MOST_SQUARES = 40
RIM = 0.035  # of the long edge: white around the grid, for its letters and numbers
LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
PALED = 0.35  # what is cut off is drawn this strong; our choice, by eye


@dataclass(frozen=True, slots=True)
class Fit:
    """A reference on a canvas: ``width`` and ``height`` of the painted area in cm, the canvas without its margins.

    ``lost`` is the share of the reference that does not fit its proportion and is cut off, half on either side, of its
    width where ``across``, else of its height.
    """

    width: float
    height: float
    lost: float
    across: bool


@dataclass(frozen=True, slots=True, eq=False)
class StudySheets:
    """Codes (height, width, 3) of each sheet by its name, the grid, and how the reference fits the canvas.

    ``values`` are those of each plan, L*/10, darkest first; ``square`` is the side of a square of the grid in cm, where
    the canvas is known and the grid has squares; ``whole`` is the picture with what is cut off paled.
    """

    sheets: dict[str, Codes] = field(repr=False)
    grid: tuple[Segment, ...]
    fit: Fit | None
    values: dict[str, tuple[float, ...]]
    square: float | None
    whole: Codes | None = field(repr=False)


def study_sheets(
    picture: Picture, *, kind: GridKind = "squares", squares: int = 6, size: Size | None = None, margin: float = 0.0
) -> StudySheets:
    """Make the sheets of a picture.

    Parameters
    ----------
    kind, squares : the grid, and how many squares it has along the long edge.
    size, margin : the canvas in cm and how much of it stays unpainted all around; the reference is then cut to its
        proportion.
    """
    if not 2 <= squares <= MOST_SQUARES:
        raise WrongUsage(f"a grid of {squares} squares is of no use: from 2 to {MOST_SQUARES}")
    fit = None if size is None else fit_on(picture.drawn.shape[1] / picture.drawn.shape[0], size, margin)
    drawn = picture.drawn if fit is None else _cut(picture.drawn, fit)
    lightness = np.ascontiguousarray(srgb8_to_lab(drawn)[..., 0])
    squinted = squint(lightness)
    sheets = {"reference": drawn, "greyscale": _grey(lightness), "squint": _grey(_half_closed(squinted))}
    values = {}
    for levels in PLANS:
        plan = value_plan(squinted, levels)
        means = np.array(plan.means, dtype=np.float32) * 10
        sheets[f"values_{levels}"] = _grey(means[apply_plan(squinted, plan)])
        values[f"values_{levels}"] = tuple(float(mean) for mean in plan.means)
    width, height = drawn.shape[1], drawn.shape[0]
    side = max(fit.width, fit.height) / squares if fit is not None and kind == "squares" else None
    whole = _paled(picture.drawn, fit) if fit is not None and fit.lost else None
    return StudySheets(sheets, grid_lines(kind, width / height, squares), fit, values, side, whole)


def _half_closed(squinted: NDArray[np.float32]) -> NDArray[np.float32]:
    """What half-closed eyes see of it: the plans keep the masses' edges, the eye loses rails, twigs and windows too."""
    from scipy.ndimage import gaussian_filter

    return np.asarray(gaussian_filter(squinted, HALF_CLOSED * max(squinted.shape), mode="nearest"), dtype=np.float32)


def fit_on(proportion: float, size: Size, margin: float) -> Fit:
    """A reference of that proportion (width for height) on a canvas, which is turned as the reference is."""
    wide, high = sorted((size.first, size.second), reverse=proportion >= 1)
    wide, high = wide - 2 * margin, high - 2 * margin
    if not (min(wide, high) > 0 and margin >= 0):  # nor by nan, which is neither more nor less
        raise WrongUsage(f"a margin of {margin:g} cm leaves nothing of the canvas to paint")
    ratio = (wide / high) / proportion
    lost = 1 - min(ratio, 1 / ratio)
    return Fit(wide, high, 0.0 if lost < SAME else lost, ratio < 1)


def grid_lines(kind: GridKind, proportion: float, squares: int) -> tuple[Segment, ...]:
    """Lines in fractions of the width and the height; squares are true squares, counted from the upper left."""
    if kind == "thirds":
        across: list[float] = [1 / 3, 2 / 3]
        down = across
    elif kind == "diagonals":
        return (((0, 0), (1, 1)), ((0, 1), (1, 0)), ((0.5, 0), (0.5, 1)), ((0, 0.5), (1, 0.5)))
    else:
        side = max(proportion, 1) / squares  # in heights
        across = [number * side / proportion for number in range(1, ceil(proportion / side - 1e-9))]
        down = [number * side for number in range(1, ceil(1 / side - 1e-9))]
    return (*(((x, 0.0), (x, 1.0)) for x in across), *(((0.0, y), (1.0, y)) for y in down))


def png_of(codes: Codes, grid: tuple[Segment, ...] = ()) -> bytes:
    """A sheet as PNG, with the grid drawn on it."""
    written = io.BytesIO()
    with_grid(codes, grid).save(written, "PNG")
    return written.getvalue()


def with_grid(codes: Codes, grid: tuple[Segment, ...]) -> "Image.Image":
    """A sheet with the grid drawn on it, where there is one; letters along the top and numbers down the side."""
    from PIL import Image, ImageDraw

    image = Image.fromarray(codes)
    pen = ImageDraw.Draw(image)
    thick = max(1, round(max(image.size) / 800))
    for (x1, y1), (x2, y2) in grid:
        ends = [(x1 * image.width, y1 * image.height), (x2 * image.width, y2 * image.height)]
        pen.line(ends, fill=(255, 255, 255), width=thick + 2)
        pen.line(ends, fill=(0, 0, 0), width=thick)
    return _lettered(image, grid) if grid else image


def _lettered(image: "Image.Image", grid: tuple[Segment, ...]) -> "Image.Image":
    """An image on white, with a letter over each column of its grid and a number beside each row."""
    from PIL import Image, ImageDraw

    columns, rows = cells(grid)
    rim = max(12, round(RIM * max(image.size)))
    framed = Image.new("RGB", (image.width + 2 * rim, image.height + 2 * rim), (255, 255, 255))
    framed.paste(image, (rim, rim))
    pen = ImageDraw.Draw(framed)
    for number, (start, end) in enumerate(columns):
        at = (rim + (start + end) / 2 * image.width, rim / 2)
        pen.text(at, letter(number), fill=(0, 0, 0), anchor="mm", font_size=rim * 0.7)
    for number, (start, end) in enumerate(rows):
        at = (rim / 2, rim + (start + end) / 2 * image.height)
        pen.text(at, str(number + 1), fill=(0, 0, 0), anchor="mm", font_size=rim * 0.7)
    return framed


def cells(grid: tuple[Segment, ...]) -> tuple[list[tuple[float, float]], list[tuple[float, float]]]:
    """Where the columns and the rows of a grid begin and end, in fractions of the width and the height."""
    across = sorted({0.0, 1.0, *(start[0] for start, end in grid if start[0] == end[0])})
    down = sorted({0.0, 1.0, *(start[1] for start, end in grid if start[1] == end[1])})
    return list(pairwise(across)), list(pairwise(down))


def letter(column: int) -> str:
    """Of a column, counted from 0: A to Z, then AA and on."""
    return (LETTERS[column // 26 - 1] if column >= 26 else "") + LETTERS[column % 26]


def true_size_pdf(made: StudySheets, paper: str = "A4") -> bytes:
    """The reference with its grid at the canvas's own size, over as many sheets as it takes, to be glued together.

    Raises
    ------
    CritiqueError
        When no canvas size is known, or it would take a wall of paper.
    """
    if made.fit is None:
        raise WrongUsage("a true-size sheet needs the canvas's size, such as 40x30cm")
    from matplotlib.backends.backend_pdf import PdfPages
    from matplotlib.figure import Figure

    fit = made.fit
    wide, high = min((PAPERS[paper], PAPERS[paper][::-1]), key=lambda page: _sheets(fit, page)[0])
    number, columns, rows = _sheets(fit, (wide, high))
    if number > MOST_SHEETS:
        raise CritiqueError(
            f"{fit.width:.0f} × {fit.height:.0f} cm would take {number} sheets of {paper}: use a projector"
        )
    reference = made.sheets["reference"]
    written = io.BytesIO()
    with PdfPages(written, metadata={"CreationDate": None}) as pages:
        for row in range(rows):
            for column in range(columns):
                left, top = column * (wide - 2 * MARGIN - OVERLAP), row * (high - 2 * MARGIN - OVERLAP)
                figure = Figure(figsize=(wide / 2.54, high / 2.54))
                inner = [MARGIN / wide, MARGIN / high, 1 - 2 * MARGIN / wide, 1 - 2 * MARGIN / high]
                axes = figure.add_axes((inner[0], inner[1], inner[2], inner[3]))
                axes.imshow(reference, extent=(0, fit.width, fit.height, 0), interpolation="lanczos")
                for (x1, y1), (x2, y2) in made.grid:
                    xs, ys = [x1 * fit.width, x2 * fit.width], [y1 * fit.height, y2 * fit.height]
                    axes.plot(xs, ys, color="white", linewidth=1.5)
                    axes.plot(xs, ys, color="black", linewidth=0.6)
                _name_cells(axes, made.grid, fit)
                axes.set(xlim=(left, left + wide - 2 * MARGIN), ylim=(top + high - 2 * MARGIN, top), aspect="auto")
                axes.axis("off")
                told = f"row {row + 1} of {rows}, column {column + 1} of {columns}; print at 100 %"
                figure.text(0.5, MARGIN / high / 3, told, ha="center", fontsize=7)
                pages.savefig(figure)
    return written.getvalue()


def _name_cells(axes: Any, grid: tuple[Segment, ...], fit: Fit) -> None:
    """A1, B1 and so on in the upper left corner of each cell, so that a sheet tells where it belongs."""
    from matplotlib.patheffects import withStroke

    columns, rows = cells(grid)
    for column, (left, _) in enumerate(columns):
        for row, (top, _) in enumerate(rows):
            axes.text(
                left * fit.width + 0.15, top * fit.height + 0.15, f"{letter(column)}{row + 1}", fontsize=7, va="top",
                clip_on=True, path_effects=[withStroke(linewidth=2, foreground="white")],
            )  # fmt: skip


def _paled(codes: Codes, fit: Fit) -> Codes:
    """The whole picture, with what the canvas's shape cuts off paled."""
    pale = np.asarray(255 - (255 - codes.astype(np.float32)) * PALED, dtype=np.uint8)
    kept = _cut(codes, fit)
    top, left = ((codes.shape[axis] - kept.shape[axis]) // 2 for axis in (0, 1))
    pale[top : top + kept.shape[0], left : left + kept.shape[1]] = kept
    return pale


def _sheets(fit: Fit, page: tuple[float, float]) -> tuple[int, int, int]:
    """How many sheets, columns and rows of that paper."""
    columns, rows = (
        max(1, ceil((length - OVERLAP) / (side - 2 * MARGIN - OVERLAP) - 1e-9))
        for length, side in zip((fit.width, fit.height), page, strict=True)
    )
    return columns * rows, columns, rows


def _cut(codes: Codes, fit: Fit) -> Codes:
    """The middle of a reference, in the canvas's proportion."""
    height, width, _ = codes.shape
    if fit.across:
        spare = round(width * fit.lost / 2)
        return codes[:, spare : width - spare]
    spare = round(height * fit.lost / 2)
    return codes[spare : height - spare]


def _grey(lightness: NDArray[np.float32]) -> Codes:
    lab = np.zeros((*lightness.shape, 3), dtype=np.float32)
    lab[..., 0] = lightness
    return lab_to_srgb8(lab)
