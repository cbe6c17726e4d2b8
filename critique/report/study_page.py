"""The page of the sheets to paint from: each of them small, with what it is for, and the file to print."""

from collections.abc import Mapping
from dataclasses import dataclass

from critique.picture.picture import Picture
from critique.report.page import title_of
from critique.report.plates.plate import Plate, image_of
from critique.report.templating import rendered
from critique.report.view_words import crops_told
from critique.tasks.study_sheet import StudySheets, with_grid

PAGE, RECORD = "study.html", "study.json"
LONG_EDGE = 900  # px of a sheet on the page; its file has all that there are
FOR = {
    "grid": ("The grid", "Draw the same lines on the canvas, and carry the drawing over square by square."),
    "greyscale": ("In greys", "The picture without its colours: hold your mixtures to these values."),
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


def study_html(picture: Picture, made: StudySheets, files: Mapping[str, bytes]) -> str:
    """The page as one HTML document; ``files`` are those that lie beside it, by name."""
    return rendered(
        "study.html.j2",
        style="study.css",
        title=title_of(picture),
        picture=picture,
        sheets=tuple(_sheet(made, name) for name in FOR),
        cautions=(),
        others=tuple(name for name in files if not name.endswith(".png")),
        crops=crops_told((picture,)),
    )


def _sheet(made: StudySheets, name: str) -> Sheet:
    image = with_grid(made.sheets["reference"], made.grid) if name == "grid" else image_of(made.sheets[name])
    image.thumbnail((LONG_EDGE, LONG_EDGE))
    title, text = FOR[name]
    return Sheet(f"{name}.png", title, text, Plate(name, image, f"{title}.", text))
