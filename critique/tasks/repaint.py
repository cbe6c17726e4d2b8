"""What the whole picture would look like painted with a limited palette."""

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from critique.measures.greens import Greens, measure_greens
from critique.paints.box import PaintBox
from critique.paints.reachable import reachable_map
from critique.perception.difference import delta_e_2000
from critique.picture.picture import Picture, lab_at, picture_from_lab, without_kept

JUDGED_LONG_EDGE = 320  # px at which the study is held to the picture
ROWS = 32  # of a picture compared at a time


@dataclass(frozen=True, slots=True)
class RepaintStudy:
    """A picture as a palette could carry it, how far that is from the picture, and its greens before and after."""

    paints: tuple[str, ...]  # beside white
    white: str
    mean_error: float  # ΔE00 between the picture and the study, over the area
    value_error: float  # mean difference of value, on the 0–10 scale
    before: Greens
    after: Greens
    picture: Picture = field(metadata={"record": False})


def repaint_study(
    picture: Picture, box: PaintBox, before: Greens | None = None, model: Picture | None = None
) -> RepaintStudy:
    """Paint a picture with the paints of a box and white: each colour with the nearest mixture, values first.

    Parameters
    ----------
    picture : Picture
        Its ``lab`` is (height, width, 3); the study has the same size, so that every stroke stays.
    box : the palette; three to six paints are usual, but any box will do.
    before : the picture's greens where they have been measured already.
    model : what is painted from in place of the picture, such as the picture with its greens calmed. The study is still
        held to the picture.
    """
    wanted = picture.lab if model is None else model.lab
    painted = picture_from_lab(reachable_map(wanted, box).applied(wanted), picture)
    was, now = lab_at(picture, JUDGED_LONG_EDGE), lab_at(painted, JUDGED_LONG_EDGE)
    return RepaintStudy(
        tuple(paint.name for paint in box.paints),
        box.white.name,
        _difference(was, now),
        _value_error(was, now),
        before or measure_greens(picture),
        measure_greens(painted),
        without_kept(painted),
    )


def _difference(was: NDArray[np.float32], now: NDArray[np.float32]) -> float:
    """The mean difference of colour, ΔE00; some rows at a time, since the formula takes a dozen arrays."""
    starts = range(0, len(was), ROWS)
    total = sum(float(delta_e_2000(was[row : row + ROWS], now[row : row + ROWS]).sum()) for row in starts)
    return total / was[..., 0].size


def _value_error(was: NDArray[np.float32], now: NDArray[np.float32]) -> float:
    return float(np.abs(now[..., 0] - was[..., 0]).mean(dtype=np.float64)) / 10
