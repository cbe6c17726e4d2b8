"""Whether a second picture without the first one's drawing is still that picture, another one, or it turned round."""

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from critique.pair.register import Registration, register
from critique.perception.srgb import Float
from critique.picture.picture import Picture, lab_at

LONG_EDGE = 160  # px: masses, no drawing
CELLS = 24  # each way: what is left of a picture with half-closed eyes
# How the masses of two pictures go together over the whole (1 alike, 0 not at all), plus the same at each height by
# itself, where the sky over land that all landscapes have no longer counts. Of 325 pairs of unrelated landscapes
# 92 in a hundred stay below 0.75; a bold repaint, with its line moved and most of its green gone, reaches 0.95, and the
# same pictures with the line moved by 15 % of the height, as flat block-ins of three values or both 1.1 and more.
# Between the two it is asked.
ANOTHER, DOUBTFUL = 0.75, 1.1

Float64 = NDArray[np.float64]


def masses_in_common(first: Picture, second: Picture, registration: Registration) -> float:
    """How far the masses of the first are found in the second, on the scale of ``ANOTHER``.

    2, all of them, where its drawing is found, if only in part.
    """
    if registration.found or registration.moved is not None:
        return 2.0
    here, there = (_cells(lab_at(picture, LONG_EDGE)) for picture in (first, second))
    rows = [cells - cells.mean(axis=1, keepdims=True) for cells in (here, there)]
    return _together(here, there) + _together(*rows)


def is_another(first: Picture, second: Picture, registration: Registration) -> bool:
    """Whether neither the drawing of the first, not even in part, nor its masses are found in the second."""
    return masses_in_common(first, second, registration) < ANOTHER


def is_turned_round(first: Picture, second: Picture, registration: Registration) -> bool:
    """Whether the second is the first, left for right."""
    if registration.found or registration.moved is not None:
        return False
    round_ = replace(second, lab=np.ascontiguousarray(second.lab[:, ::-1]))
    return register(first, round_).found


def _cells(lab: Float) -> Float64:
    """A picture's masses (CELLS, CELLS, 3): means of CIELAB."""
    height, width = lab.shape[:2]
    rows, columns = (np.linspace(0, length, CELLS + 1).astype(int) for length in (height, width))
    sums = np.add.reduceat(np.add.reduceat(lab.astype(np.float64), rows[:-1], axis=0), columns[:-1], axis=1)
    high, wide = (np.maximum(np.diff(edges), 1) for edges in (rows, columns))  # a picture may be narrower than that
    return np.asarray(sums / (high[:, None, None] * wide[None, :, None]))


def _together(here: Float64, there: Float64) -> float:
    """Correlation of all three coordinates about their means."""
    a, b = here - here.mean(axis=(0, 1)), there - there.mean(axis=(0, 1))
    return float((a * b).sum()) / max(float(np.sqrt((a**2).sum() * (b**2).sum())), 1e-6)
