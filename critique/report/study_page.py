"""The page of the sheets to paint from: each of them small, with what it is for, and the file to print."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from critique.perception.cielab import lab_to_srgb8
from critique.perception.srgb import hex_of
from critique.picture.picture import Picture
from critique.report.page import title_of
from critique.report.plates.plate import Plate, image_of
from critique.report.templating import rendered
from critique.report.view_words import crops_told
from critique.tasks.study_sheet import Fit, StudySheets, grid_lines, with_grid
from critique.words.figures import percent
from critique.words.lists import listed

PAGE, RECORD = "study.html", "study.json"
LONG_EDGE = 900  # px of a sheet on the page; its file has all that there are
THIRDS = (1 / 3, 2 / 3)
FOR = {
    "grid": ("The grid", "Draw the same lines on the canvas, and carry the drawing over square by square."),
    "greyscale": (
        "In greys",
        "The picture without its colours: hold your mixtures to these values.",
    ),
    "squint": ("Squinted at", "What is left of it with half-closed eyes: the big shapes, which come first."),
    "values_2": ("In two values", "The light and the dark shapes alone: if they hold, the picture does."),
    "values_3": ("In three values", "Dark, middle and light: the plan of a block-in."),
    "values_5": ("In five values", "As many steps as a first painting needs."),
    "reference": ("The picture", "As it was read, for the easel."),
}


@dataclass(frozen=True, slots=True)
class Sheet:
    """One sheet as the page shows it: its file, what it is, what it is for, and the sheet itself, small."""

    file: str
    title: str
    text: str
    plate: Plate
    scale: tuple[tuple[str, str], ...]  # values with their greys, darkest first


def study_html(picture: Picture, made: StudySheets, files: Mapping[str, bytes], *, inches: bool = False) -> str:
    """The page as one HTML document; ``files`` are those that lie beside it, by name.

    ``inches`` is whether the canvas was told in inches.
    """
    whole = made.whole
    cut = None
    if whole is not None:
        image = image_of(whole)
        image.thumbnail((LONG_EDGE, LONG_EDGE))
        cut = Plate("cut_off", image, "The whole picture; what the canvas's shape cuts off is pale.", "")
    return rendered(
        "study.html.j2",
        style="study.css",
        title=title_of(picture),
        picture=picture,
        sheets=tuple(_sheet(made, name, inches) for name in FOR),
        cut=cut,
        cut_told=cut_told(made, picture.drawn.shape[1] / picture.drawn.shape[0], inches),
        cautions=(),
        others=tuple(name for name in files if not name.endswith(".png")),
        crops=crops_told((picture,)),
    )


def cut_told(made: StudySheets, proportion: float, inches: bool = False) -> str:
    """What the canvas's shape cuts off and how none of it need be; empty where it cuts nothing off."""
    fit = made.fit
    if fit is None or not fit.lost:
        return ""
    side = "width" if fit.across else "height"
    ends = "left and right" if fit.across else "above and below"
    inside = (fit.width, fit.width / proportion) if fit.across else (fit.height * proportion, fit.height)
    spare = (fit.height - inside[1]) / 2 if fit.across else (fit.width - inside[0]) / 2
    edges = "above and below" if fit.across else "left and right"
    unit, per = ("in", 2.54) if inches else ("cm", 1.0)
    return (
        f"The canvas has another shape than the picture: {percent(fit.lost)} of the picture's {side} is cut off, "
        f"half of it {ends}. To keep all of it, paint {inside[0] / per:.3g} × {inside[1] / per:.3g} "
        f"{unit} and leave {round(spare / per, 1):g} {unit} bare {edges}."
    )


def _sheet(made: StudySheets, name: str, inches: bool) -> Sheet:
    image = with_grid(made.sheets["reference"], made.grid) if name == "grid" else image_of(made.sheets[name])
    image.thumbnail((LONG_EDGE, LONG_EDGE))
    title, text = FOR[name]
    if name == "grid" and made.square is not None:
        text = f"{text} {_square(made.square, inches)}"
    if name == "grid" and made.square is None and made.fit is not None and made.grid == grid_lines("thirds", 1, 2):
        text = f"{text} {_thirds(made.fit, inches)}"
    if name == "reference" and made.fit is not None and made.fit.lost:
        text = "For the easel, cut to the canvas's shape."
    return Sheet(f"{name}.png", title, text, Plate(name, image, f"{title}.", text), _scale(made.values.get(name), name))


def _thirds(fit: Fit, inches: bool) -> str:
    """Where the lines lie on the canvas, from the edge of what is painted."""
    unit, per = ("in", 2.54) if inches else ("cm", 1.0)
    across, down = (listed([f"{part * side / per:.3g}" for part in THIRDS]) for side in (fit.width, fit.height))
    return f"On your canvas they lie {across} {unit} from the left and {down} {unit} from the top."


def _square(side: float, inches: bool) -> str:
    told = f"{side / 2.54:.3g} in" if inches else f"{side:.3g} cm"
    return f"On your canvas a square is {told} wide and high, counted from the upper left."


def _scale(values: tuple[float, ...] | None, name: str) -> tuple[tuple[str, str], ...]:
    """The values of a plan, or for a sheet of all greys those of the painter's scale, each with its grey."""
    steps = values if values is not None else tuple(range(1, 10)) if name in ("greyscale", "squint") else ()
    lab = np.array([(10 * step, 0, 0) for step in steps], dtype=np.float32).reshape(-1, 3)
    greys = [hex_of(code) for code in lab_to_srgb8(lab)]
    return tuple(
        (f"{step:.1f}" if values is not None else f"{step:.0f}", grey) for step, grey in zip(steps, greys, strict=True)
    )
