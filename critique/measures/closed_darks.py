"""How much of a picture is dark with nothing to be seen in it."""

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from critique.alike import by_value
from critique.measures.figure import AREA, OWN, Figure
from critique.measures.smoothing import without_finest
from critique.picture.kept import kept
from critique.picture.picture import Picture
from critique.words.figures import percent

DARK = 16.0  # L*: darker than umber as it dries
WINDOW = 0.014  # of the long edge: what one glance takes in, 9 px
STILL = 0.7  # L*, the finest left out: less variation than this within the window is none to the eye
FINER = 0.0016  # of the long edge, spread of a Gaussian: what finer marks add to the variation, each saving changes
# L* either way over which a place comes to be dark, and to be still: none is by a hair.
DARK_FADES, STILL_FADES = 1.0, 0.2


@by_value
@dataclass(frozen=True, slots=True, eq=False)
class ClosedDarks:
    """Share of the picture in closed darks, of the largest connected one with its middle (0–1), and of all darks.

    ``mask`` (height, width) is where the closed ones are.
    """

    share: float
    largest: float
    x: float
    y: float
    dark_share: float
    mask: NDArray[np.bool_] = field(metadata={"record": False}, repr=False)

    @property
    def in_one_place(self) -> bool:
        """Whether most of them is one piece, so that its middle tells where they lie."""
        return self.largest >= self.share / 2


@kept
def measure_closed_darks(picture: Picture) -> ClosedDarks:
    """Measure darks without variation."""
    from scipy.ndimage import label, uniform_filter

    light = without_finest(picture.lab[..., 0], FINER)
    size = max(3, round(WINDOW * max(light.shape)) | 1)
    if float(light.min()) >= DARK + DARK_FADES:
        return ClosedDarks(0.0, 0.0, 0.5, 0.5, 0.0, np.zeros(light.shape, dtype=bool))
    mean = uniform_filter(light, size, mode="nearest")
    variance = np.maximum(uniform_filter(light * light, size, mode="nearest") - mean * mean, 0)
    dark = _below(mean, DARK, DARK_FADES)
    closed = dark * _below(np.sqrt(variance), STILL, STILL_FADES)
    pieces, number = label(closed >= 0.5)
    share, dark_share = float(closed.mean(dtype=np.float64)), float(dark.mean(dtype=np.float64))
    if number == 0:
        return ClosedDarks(share, 0.0, 0.5, 0.5, dark_share, np.zeros(light.shape, dtype=bool))
    held = np.bincount(pieces.ravel(), weights=closed.ravel())
    held[0] = 0
    y, x = np.nonzero(pieces == held.argmax())
    height, width = light.shape
    return ClosedDarks(
        share=share,
        largest=float(held.max() / light.size),
        x=float((x.mean() + 0.5) / width),
        y=float((y.mean() + 0.5) / height),
        dark_share=dark_share,
        mask=closed >= 0.5,
    )


def _below(values: NDArray[np.float32], limit: float, fades: float) -> NDArray[np.float32]:
    """From 1 where values lie well below a limit to 0 where they lie above it, a half at it."""
    return np.asarray(np.clip(np.float32(0.5) + (np.float32(limit) - values) / np.float32(2 * fades), 0, 1))


FIGURES = (
    Figure(
        name="closed_darks.share",
        label="Closed darks",
        meaning="darks in which nothing can be seen",
        definition=f"Area darker than L* {DARK:.0f} that varies by less than L* {STILL}, its finest detail left out; "
        "at either limit a place counts half.",
        source=OWN,
        unit="share",
        show=percent,
        norm=True,
        worth=AREA,
        jumps=False,
    ),
)
