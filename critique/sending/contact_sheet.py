"""The sheet that goes with the pictures: each small, with its number and what the list says of it, and no verdict."""

import io
from collections.abc import Sequence
from dataclasses import dataclass, field
from math import ceil
from typing import TYPE_CHECKING, Any

from critique.perception.srgb import Codes
from critique.report.plates.lettering import faces_for
from critique.sending.call import Paper
from critique.words.printed import shown_line

if TYPE_CHECKING:
    from matplotlib.figure import Figure

PAPERS = {"A4": (595.3, 841.9), "Letter": (612.0, 792.0)}  # points, upright [ISO 216; ANSI Y14.1]
MARGIN = 48.0  # points: printers do not reach the paper's edge, and a file's holes need 40
COLUMNS, ROWS = 3, 4  # pictures on a page; small ones still tell which is which
FEWER = ((2, 1, 2), (4, 2, 2), (6, 2, 3))  # up to so many pictures: in so many columns and rows, larger
GAP = 18.0  # points between two columns
HEAD = 34.0  # points at the top of a page for its title
LINE, SIZE = 11.0, 8.5  # points from line to line, and of the letters
TITLE_LINES, OTHER_LINES = 2, 1  # a longer text ends in …
THUMBNAIL = 760  # px along the long edge: 330 points at 165 dots an inch, which print well and send fast
INK, FAINT = "0.1", "0.4"


@dataclass(frozen=True, slots=True, eq=False)
class Shown:
    """One picture on the sheet: its number, what is said of it, its title first, and its sRGB codes."""

    number: int
    title: str
    lines: tuple[str, ...]
    codes: Codes = field(repr=False)


def contact_sheet(pictures: Sequence[Shown], *, heading: str, paper: Paper = "A4") -> bytes:
    """A PDF, twelve pictures a page and fewer larger ones, its text as text; the same bytes on every run."""
    from matplotlib.backends.backend_pdf import PdfPages
    from matplotlib.figure import Figure

    width, height = PAPERS[paper]
    columns, rows = next(((across, down) for most, across, down in FEWER if len(pictures) <= most), (COLUMNS, ROWS))
    on_page = columns * rows
    number = max(1, ceil(len(pictures) / on_page))
    written = io.BytesIO()
    notes = {"Title": shown_line(heading) or "Pictures", "Creator": "critique", "Producer": None, "CreationDate": None}
    with PdfPages(written, metadata=notes) as pages:
        for page in range(number):
            figure = Figure(figsize=(width / 72, height / 72))
            sheet = _Page(figure, width, height, columns, rows)
            sheet.write(MARGIN, height - MARGIN - 8, heading, size=12, wide=width - 2 * MARGIN - 60)
            if number > 1:
                sheet.write(width - MARGIN, height - MARGIN - 8, f"{page + 1} of {number}", right=True, ink=FAINT)
            here = pictures[page * on_page : (page + 1) * on_page]
            for first in range(0, len(here), columns):
                sheet.lay(here[first : first + columns])
            pages.savefig(figure)
    return written.getvalue()


class _Page:
    """A figure measured in points from its lower left."""

    def __init__(self, figure: "Figure", width: float, height: float, columns: int, rows: int) -> None:
        self._figure, self._width, self._height = figure, width, height
        self._columns, self._rows = columns, rows
        self._top = height - MARGIN - HEAD

    def lay(self, row: Sequence[Shown]) -> None:
        """A row of pictures below the last one, each with its lines below it; no higher than its highest needs."""
        wide = (self._width - 2 * MARGIN - (self._columns - 1) * GAP) / self._columns
        text_height = (TITLE_LINES + 3 * OTHER_LINES) * LINE + 8
        most = (self._height - 2 * MARGIN - HEAD) / self._rows - text_height - 8
        tall = max(min(most, wide * shown.codes.shape[0] / shown.codes.shape[1]) for shown in row)
        for column, shown in enumerate(row):
            self._lay(shown, MARGIN + column * (wide + GAP), wide, tall)
        self._top -= tall + text_height + 8

    def _lay(self, shown: Shown, left: float, wide: float, tall: float) -> None:
        scale = min(wide / shown.codes.shape[1], tall / shown.codes.shape[0])
        across, down = shown.codes.shape[1] * scale, shown.codes.shape[0] * scale
        # Pictures of a row stand on one line, so that their titles do too.
        foot = self._top - tall
        box = (left / self._width, foot / self._height, across / self._width, down / self._height)
        axes = self._figure.add_axes(box)
        axes.imshow(shown.codes, interpolation="none", aspect="auto")
        axes.set_axis_off()
        y = foot - LINE - 1
        for line in wrapped(f"{shown.number}  {shown.title}", wide, TITLE_LINES, SIZE, bold=True):
            self.write(left, y, line, bold=True)
            y -= LINE
        for text in shown.lines:
            for line in wrapped(text, wide, OTHER_LINES, SIZE):
                self.write(left, y, line)
                y -= LINE

    def write(
        self, x: float, y: float, text: str, *, size: float = SIZE, bold: bool = False, right: bool = False,
        ink: str = INK, wide: float | None = None,
    ) -> None:  # fmt: skip
        """One line of text; cut to ``wide`` points where that is given."""
        line = wrapped(text, wide, 1, size)[0] if wide is not None else text
        self._figure.text(
            x / self._width,
            y / self._height,
            line,
            fontsize=size,
            fontweight="bold" if bold else "normal",
            family=[*_FACES, *faces_for(line)],
            ha="right" if right else "left",
            va="baseline",
            color=ink,
            parse_math=False,  # a price in dollars is no formula
        )


_FACES = ("DejaVu Sans",)  # comes with matplotlib, and is read well when small


def wrapped(text: str, wide: float, most: int, size: float, *, bold: bool = False) -> list[str]:
    """Text in at most ``most`` lines of ``wide`` points; what doesn't fit is left off behind …"""
    width = _measure(size, bold)
    lines: list[str] = []
    words = shown_line(text).split(" ")
    while words and len(lines) < most:
        fits = 1
        while fits < len(words) and width(" ".join(words[: fits + 1])) <= wide:
            fits += 1
        line, words = " ".join(words[:fits]), words[fits:]
        full = len(lines) == most - 1 and words
        if full or width(line) > wide:
            line, rest = _cut(line, wide, width, ellipsis=bool(full) or len(lines) == most - 1)
            words = [rest, *words] if rest and not full and len(lines) < most - 1 else words
        lines.append(line)
    return lines or [""]


def _cut(line: str, wide: float, width: Any, *, ellipsis: bool) -> tuple[str, str]:
    """As much of a line as fits, and the rest of it."""
    low, high = 1, len(line)
    while low < high:
        middle = (low + high + 1) // 2
        if width(line[:middle] + ("…" if ellipsis else "")) <= wide:
            low = middle
        else:
            high = middle - 1
    return line[:low].rstrip() + ("…" if ellipsis else ""), line[low:]


def _measure(size: float, bold: bool) -> Any:
    from matplotlib.font_manager import FontProperties
    from matplotlib.textpath import TextToPath

    def width(text: str) -> float:
        face = FontProperties(family=[*_FACES, *faces_for(text)], size=size, weight="bold" if bold else "normal")
        return float(TextToPath().get_text_width_height_descent(text, face, ismath=False)[0])

    return width
