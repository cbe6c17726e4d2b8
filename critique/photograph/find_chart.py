"""Where a chart of 24 patches is in a photograph: in all of it, or in parts, where a small one is large enough."""

from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from critique.errors import CritiqueError
from critique.perception.srgb import Float
from critique.photograph.balance import ALIKE, PATCHES, chart_likeness

Array = NDArray[np.float64]

# Parts of the photograph's sides that are looked at, and the px across to which they are brought. What finds a chart
# needs patches some 1/80 of that across; so one 1/4 of the photograph wide is found in the whole, one 1/25 in a third.
LOOKS = ((1.0, 1440), (1 / 2, 960), (1 / 3, 720))
SHAPE = 2 / 3  # height for width at which it looks


def find_chart(light: Float) -> Array | None:
    """The light (24, 3) of the patches of a chart that is found in a photograph; None when none is.

    Raises
    ------
    CritiqueError
        When what finds it isn't installed.
    """
    try:
        from colour_checker_detection import detect_colour_checkers_segmentation as detect
    except ImportError:
        raise CritiqueError(
            "what finds a chart, colour-checker-detection, isn't installed: give the chart's corners",
            mend="chart_finder",
        ) from None
    for part, across in LOOKS:
        best, likeness = None, ALIKE
        for tile in _tiles(light, part):
            seen = np.asarray(tile, dtype=np.float64)
            for found in detect(seen, working_width=across, working_height=round(across * SHAPE)):
                patches = np.asarray(found, dtype=np.float64).reshape(PATCHES[0] * PATCHES[1], 3)
                if (alike := chart_likeness(patches)) > likeness:
                    best, likeness = patches, alike
        if best is not None:
            return best
    return None


def _tiles(light: Float, part: float) -> Iterator[Float]:
    """Tiles of that part of either side, each overlapping the next by half."""
    tall, wide = (max(1, round(side * part)) for side in light.shape[:2])
    number = round(2 / part) - 1
    for top in np.linspace(0, light.shape[0] - tall, number).astype(int):
        for left in np.linspace(0, light.shape[1] - wide, number).astype(int):
            yield light[top : top + tall, left : left + wide]
