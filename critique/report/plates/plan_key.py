"""The numbered key of an aim and its value plan, each with the grid by which it is brought onto the canvas."""

from typing import Any

import numpy as np
from numpy.typing import NDArray

from critique.measures.values import apply_plan
from critique.perception.srgb import Codes
from critique.picture.picture import Picture
from critique.report.plates.look import drawing_area, drawn_over, grey, sheet
from critique.report.plates.photograph import in_colour, plate_size
from critique.report.plates.plate import Plate
from critique.tasks.plan import Plan

LONG_EDGE = 1400  # px: at 89 mm wide some 400 to an inch
RIM = 64  # px round the picture for the letters of the grid
NUMBER, LETTER = 62, 44  # px: at 89 mm wide 11 pt and 8 pt
APART = 60.0  # px between the middles of two of them, so that neither covers the other
OUTLINE = 3  # px
PALE = 0.30  # of the aim's colour that is left under the outlines
SMOOTHED = 4.0  # px of the small copy's labels by which outlines are rounded, as a pencil would draw them
LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"

Labels = NDArray[np.intp]


def key_plate(plan: Plan) -> Plate:
    """The aim's passages as outlines with their numbers, over a pale aim, with the grid."""
    picture = plan.aim.picture
    labels = smooth_labels(plan.passages.places.labels, plate_size(picture, LONG_EDGE))
    pale = _pale(in_colour(picture, LONG_EDGE))
    pale[_outlines(labels)] = 40
    figure, axes = _ruled(plan, pale.shape[1], pale.shape[0], 150)
    size = (pale.shape[1], pale.shape[0])
    taken: list[tuple[float, float]] = []
    for name, at in (
        *((str(passage.number), passage.at) for passage in plan.passages.passages),
        *((accent.letter, accent.at) for accent in plan.passages.accents),
    ):
        x, y = free_place((at[0] * size[0], at[1] * size[1]), taken, size)
        taken.append((x, y))
        _number(axes, x, y, name)
    image = drawn_over(figure, _framed(pale))
    names = "; ".join(f"{one.number} {one.name}" for one in plan.passages.passages)
    return Plate("key", image, f"The aim's passages, numbered: {names}.", "")


def free_place(
    wanted: tuple[float, float], taken: list[tuple[float, float]], size: tuple[int, int]
) -> tuple[float, float]:
    """Where a number is written, in px: where it is wanted, or the nearest place beside it that no other one covers."""
    width, height = size
    for reach in (0.0, 0.5, 0.75, 1.0, 1.25, 1.5):
        for turn in np.arange(8) * np.pi / 4:
            x, y = wanted[0] + reach * APART * np.cos(turn), wanted[1] + reach * APART * np.sin(turn)
            inside = reach == 0 or (0 <= x <= width and 0 <= y <= height)
            if inside and all(np.hypot(x - other[0], y - other[1]) >= APART for other in taken):
                return float(x), float(y)
    return wanted


def values_plate(plan: Plan) -> Plate:
    """The aim in three flat values, with the same grid."""
    from PIL import Image

    picture, values = plan.aim.picture, plan.measures.values
    masses = values.plan(3)
    squinted = Image.fromarray(np.array(values.squinted, dtype=np.float32))
    smooth = np.asarray(squinted.resize(plate_size(picture, LONG_EDGE), Image.Resampling.BICUBIC))
    codes = np.array([int(grey(mean * 10)) for mean in masses.means], dtype=np.uint8)[apply_plan(smooth, masses)]
    shown = np.repeat(codes[..., None], 3, axis=2)
    figure, _ = _ruled(plan, shown.shape[1], shown.shape[0], 128)
    told = ", ".join(f"{mean:.0f}" for mean in masses.means)
    return Plate(
        "value_plan", drawn_over(figure, _framed(shown)), f"The aim in three values: {told} of ten.", "",
        photographic=False,
    )  # fmt: skip


def smooth_labels(labels: Labels, size: tuple[int, int]) -> Labels:
    """Labels enlarged to (width, height) px with rounded outlines: at each place the label that lies there most."""
    from PIL import Image
    from scipy.ndimage import gaussian_filter

    best = np.full(size[::-1], -1.0, np.float32)
    found = np.zeros(size[::-1], np.intp)
    scale = size[0] / labels.shape[1]
    for label in range(int(labels.max()) + 1):
        soft = gaussian_filter((labels == label).astype(np.float32), SMOOTHED / max(scale, 1))
        weight = np.asarray(Image.fromarray(soft).resize(size, Image.Resampling.BICUBIC))
        more = weight > best
        best[more], found[more] = weight[more], label
    return found


def grid_of(plan: Plan) -> tuple[int, int, float]:
    """Squares across and down, the last ones perhaps cut off, and their side on the canvas in cm."""
    width, height = plan.canvas.width, plan.canvas.height
    unit = plan.canvas.unit_cm
    whole = unit * max(0.5, round(max(width, height) / 8 / unit * 2) / 2)
    return int(np.ceil(width / whole - 1e-6)), int(np.ceil(height / whole - 1e-6)), whole


def _pale(codes: Codes) -> Codes:
    return np.asarray(255 - (255 - codes.astype(np.float32)) * PALE, dtype=np.uint8)


def _outlines(labels: Labels) -> NDArray[np.bool_]:
    from scipy.ndimage import binary_dilation

    edge = np.zeros(labels.shape, bool)
    edge[:, 1:] |= labels[:, 1:] != labels[:, :-1]
    edge[1:] |= labels[1:] != labels[:-1]
    return np.asarray(binary_dilation(edge, iterations=OUTLINE // 2))


def _framed(codes: Codes) -> Codes:
    """On white, with room for the letters."""
    height, width, _ = codes.shape
    framed = np.full((height + 2 * RIM, width + 2 * RIM, 3), 255, np.uint8)
    framed[RIM:-RIM, RIM:-RIM] = codes
    return framed


def _ruled(plan: Plan, width: int, height: int, line: int) -> tuple[Any, Any]:
    """A sheet in the picture's px with the grid's lines, letters along the top and numbers down the side."""
    figure = sheet(width + 2 * RIM, height + 2 * RIM)
    axes = drawing_area(figure, 0, 0, 1, 1)
    axes.set_xlim(-RIM, width + RIM)
    axes.set_ylim(height + RIM, -RIM)
    across, down, side = grid_of(plan)
    left, top, wide, high = _on_canvas(plan, width, height)
    step_x, step_y = side / plan.canvas.width * wide, side / plan.canvas.height * high
    colour = f"#{line:02x}{line:02x}{line:02x}"
    for column in range(across + 1):
        x = min(column * step_x, wide)
        axes.plot([left + x] * 2, [top, top + high], color=colour, linewidth=2)
        if column < across and column * step_x + step_x * 0.4 < wide:
            middle = (x + min(x + step_x, wide)) / 2
            axes.text(left + middle, -RIM / 2, LETTERS[column % 26], fontsize=LETTER, ha="center", va="center")
    for row in range(down + 1):
        y = min(row * step_y, high)
        axes.plot([left, left + wide], [top + y] * 2, color=colour, linewidth=2)
        if row < down and row * step_y + step_y * 0.4 < high:
            middle = (y + min(y + step_y, high)) / 2
            axes.text(-RIM / 2, top + middle, str(row + 1), fontsize=LETTER, ha="center", va="center")
    return figure, axes


def _on_canvas(plan: Plan, width: float, height: float) -> tuple[float, float, float, float]:
    """Left, top, width and height of what the canvas's shape leaves of a picture of that size, cut evenly."""
    across, down = plan.canvas.shows(plan.aim.picture.width, plan.aim.picture.height)
    return width * (1 - across) / 2, height * (1 - down) / 2, width * across, height * down


def _number(axes: Any, x: float, y: float, text: str) -> None:
    from matplotlib.patheffects import withStroke

    axes.text(
        x, y, text, fontsize=NUMBER, ha="center", va="center_baseline",
        path_effects=[withStroke(linewidth=10, foreground="white")],
    )  # fmt: skip


def aim_plate(picture: Picture, name: str, alt: str, long_edge: int) -> Plate:
    """A picture as a plate."""
    from PIL import Image

    return Plate(name, Image.fromarray(in_colour(picture, long_edge)), alt, "")
