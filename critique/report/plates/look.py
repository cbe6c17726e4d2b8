"""How every plate looks: its surround, its ink, its lettering and its size."""

from functools import lru_cache
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import ArrayLike

from critique.perception.cielab import lab_to_srgb8
from critique.perception.srgb import Codes, hex_of
from critique.report.plates.lettering import faces_for

if TYPE_CHECKING:
    from PIL import Image

# Colour is judged against a neutral, matt surround of 10 to 60 % luminance. [ISO 3664:2009, practical appraisal;
# from memory of the standard] L* 80 is 57 %: as light as that allows, so that dark text on it reads well.
SURROUND_LIGHTNESS = 80.0
INK_LIGHTNESS = 10.0
FAINT_LIGHTNESS = 62.0  # of lines that should be seen last
SCREEN_DOTS = 2  # px of a plate for one px of the page: sharp on fine screens and in print

PHOTOGRAPH_LONG_EDGE = 1000  # px: half the page, sharp on fine screens and in print; one copy for all plates
GREYS = 64  # that are kept


def grey(lightness: ArrayLike) -> Codes:
    """The neutral grey of L* (any shape) as sRGB codes of the same shape."""
    L = np.asarray(lightness, dtype=np.float32)
    return lab_to_srgb8(np.stack([L, np.zeros_like(L), np.zeros_like(L)], axis=-1))[..., 1]


@lru_cache(maxsize=GREYS)
def grey_hex(lightness: float) -> str:
    """The neutral grey of one L* as '#rrggbb'."""
    return hex_of(np.repeat(grey(lightness), 3))


SURROUND = grey_hex(SURROUND_LIGHTNESS)
INK = grey_hex(INK_LIGHTNESS)
FAINT = grey_hex(FAINT_LIGHTNESS)


def sheet(width: int, height: int) -> Any:
    """An empty matplotlib Figure of px (not points: one unit of line width or type is one px), on the surround.

    Its canvas is Agg's own; pyplot, with its global state and its cost at start-up, stays out.
    """
    from matplotlib.backends.backend_agg import FigureCanvasAgg
    from matplotlib.figure import Figure

    figure = Figure(figsize=(width / 72, height / 72), dpi=72, facecolor=SURROUND)
    FigureCanvasAgg(figure)
    return figure


def drawn(figure: Any) -> "Image.Image":
    """What has been drawn on a sheet."""
    return _layer(figure).convert("RGB")


def drawn_over(figure: Any, photograph: Codes) -> "Image.Image":
    """What has been drawn on a sheet, laid over a photograph (height, width, 3).

    Matplotlib would resample the photograph; Pillow lays it down as it is.
    """
    from PIL import Image

    figure.patch.set_alpha(0)
    marks = _layer(figure)
    ground = Image.new("RGB", marks.size, SURROUND)
    ground.paste(Image.fromarray(photograph), (0, 0))
    ground.paste(marks, (0, 0), marks)
    return ground


def _layer(figure: Any) -> "Image.Image":
    from PIL import Image

    _dress(figure)
    figure.canvas.draw()
    return Image.fromarray(np.array(figure.canvas.buffer_rgba()))


def _dress(figure: Any) -> None:
    """Letters and lines in the look of the plates, set on each: matplotlib's own settings are one for the process.

    Only what a plate has drawn is dressed: to look for more would make matplotlib invent ticks that nobody sees.
    """
    for text in [*figure.texts, *(text for axes in figure.axes for text in axes.texts)]:
        text.set_fontfamily(faces_for(text.get_text()))
        text.set_parse_math(False)
        if text.get_color() == "black":  # as matplotlib makes them, where a plate asked for nothing else
            text.set_color(INK)
    for line in (line for axes in figure.axes for line in axes.lines):
        line.set_solid_capstyle("butt")


def drawing_area(figure: Any, left: float, bottom: float, width: float, height: float) -> Any:
    """Axes without frame or ticks that fill a part (0–1) of the sheet."""
    axes = figure.add_axes((left, bottom, width, height))
    axes.set_axis_off()
    return axes
