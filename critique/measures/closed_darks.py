"""How much of a picture is dark with nothing to be seen in it."""

from dataclasses import dataclass

import numpy as np

from critique.measures.figure import AREA, OWN, Figure
from critique.measures.finely_seen import finely_seen
from critique.picture.kept import kept
from critique.picture.picture import Picture
from critique.words.figures import percent

DARK = 16.0  # L*: darker than umber as it dries
WINDOW = 0.014  # of the long edge: what one glance takes in, 9 px
STILL = 0.85  # L*, the finest left out: less variation than this within the window is none to the eye


@dataclass(frozen=True, slots=True)
class ClosedDarks:
    """Share of the picture in closed darks, of the largest connected one with its middle (0–1), and of all darks."""

    share: float
    largest: float
    x: float
    y: float
    dark_share: float


@kept
def measure_closed_darks(picture: Picture) -> ClosedDarks:
    """Measure darks without variation."""
    from scipy.ndimage import label, uniform_filter

    light = finely_seen(picture)
    size = max(3, round(WINDOW * max(light.shape)) | 1)
    if float(light.min()) >= DARK:
        return ClosedDarks(0.0, 0.0, 0.5, 0.5, 0.0)
    mean = uniform_filter(light, size, mode="nearest")
    variance = uniform_filter(light * light, size, mode="nearest") - mean * mean
    dark = mean < DARK
    pieces, number = label(dark & (variance < STILL**2))
    if number == 0:
        return ClosedDarks(0.0, 0.0, 0.5, 0.5, float(dark.mean()))
    count = np.bincount(pieces.ravel())
    count[0] = 0
    y, x = np.nonzero(pieces == count.argmax())
    height, width = light.shape
    return ClosedDarks(
        share=float(count.sum() / light.size),
        largest=float(count.max() / light.size),
        x=float((x.mean() + 0.5) / width),
        y=float((y.mean() + 0.5) / height),
        dark_share=float(dark.mean()),
    )


FIGURES = (
    Figure(
        name="closed_darks.share",
        label="Closed darks",
        meaning="darks in which nothing can be seen",
        definition=f"Area darker than L* {DARK:.0f} that varies by less than L* {STILL}, its finest detail left out.",
        source=OWN,
        unit="share",
        show=percent,
        norm=True,
        worth=AREA,
        jumps=False,
    ),
)
