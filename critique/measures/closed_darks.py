"""How much of a picture is dark with nothing to be seen in it."""

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from critique.alike import by_value
from critique.measures.black_mass import measure_black_mass
from critique.measures.figure import AREA, OWN, Figure
from critique.measures.rising import rising
from critique.measures.smoothing import without_finest
from critique.perception.channels import length_of
from critique.perception.ranks import median_of, quantiles_of
from critique.picture.areas import same_frame
from critique.picture.kept import kept
from critique.picture.one_piece import largest_piece
from critique.picture.picture import Picture
from critique.words.figures import percent

DARK = 16.0  # L*: darker than umber as it dries
WINDOW = 0.014  # of the long edge: what one glance takes in, 9 px
STILL = 0.7  # L*, the finest left out: less variation than this within the window is none to the eye
FINER = 0.0016  # of the long edge, spread of a Gaussian: what finer marks add to the variation, each saving changes
# L* either way over which a place comes to be dark, and to be still: none is by a hair.
DARK_FADES, STILL_FADES = 1.0, 0.2
# A black: as dark as black lies on a lit canvas, with little light and no colour in it. A brown or blue dark is deep,
# and no black.
BLACK, BLACK_STILL, BLACK_STILL_FADES = 20.0, 1.2, 0.3  # L*
GREY, GREY_FADES = 8.0, 1.0  # C*ab: from here on the dark of a photograph or a varnish is seen as a colour
# A heavy dark: a tree mass, a bank, a road that isn't black but has no form at all. On 139 pictures that two readers
# each had judged, neither a darker limit nor its colour, its size in one piece or the light beside it told better than
# its stillness.
HEAVY, HEAVY_FADES = 24.0, 2.0  # L*
FORMLESS, FORMLESS_FADES = 0.6, 0.15  # L*
LITTLE_SEEN, LITTLE_FADES = 1.5, 0.4  # L*: up to here what lies around the stillest of it looks as empty
# A hole: one closed dark with nearly all that is closed in it, and lighter things close about it. From where on, and
# up to where, each counts.
ALONE, LIGHTER_ABOUT = (0.6, 0.9), (0.25, 0.45)  # of all that is closed; of what lies about it
ABOUT, LIGHTER = (0.006, 0.024), 12.0  # of the long edge, from where to where that lies; L* by which it is lighter
# Of one near-black mass, its quiet part; and L*, the variation below which that lies, from where on it is seen into all
# over, and up to where. Masses that readers would open have 1.3 at most; a screen of leaves that they saw through 3.1.
QUIET_PART, SEEN_INTO = 0.25, (1.4, 1.7)
MIDDLE_KEY = 50.0  # L*: in a picture whose middle value is darker its darks are of its key, and weigh less


@by_value
@dataclass(frozen=True, slots=True, eq=False)
class ClosedDarks:
    """Share of the picture in closed darks, of the largest connected one with its middle (0–1), and of all darks.

    ``black`` is the share that is near black with little in it, closed or not; ``little`` the share that is dark, of
    whatever colour, with little in it; ``heavy`` the share that is dark without form, weighed by the picture's key.
    ``formless`` is how much of that little has no form at all, 0–1. ``hole`` is the share of a closed dark that is
    alone amid lighter things, 0 where it isn't. ``one_black`` is the share of the largest near-black mass without
    colour, whatever small lights are in it, 0 where the picture is a dark one or things are seen in there.
    ``mask`` and ``black_mask`` (height, width) are where they are; ``depth`` is how deep what holds little is, else 0;
    ``one_black_mask`` is where the one mass is, at the size that values are seen at.
    """

    share: float
    largest: float
    x: float
    y: float
    dark_share: float
    black: float
    little: float
    heavy: float
    formless: float
    hole: float
    one_black: float
    mask: NDArray[np.bool_] = field(metadata={"record": False}, repr=False)
    black_mask: NDArray[np.bool_] = field(metadata={"record": False}, repr=False)
    one_black_mask: NDArray[np.bool_] = field(metadata={"record": False}, repr=False)
    depth: NDArray[np.float32] = field(metadata={"record": False}, repr=False)

    @property
    def one_black_covers(self) -> float:
        """The share of the picture that the one near-black mass is shown and told to cover, whatever it weighs."""
        return float(self.one_black_mask.mean())


@kept
def measure_closed_darks(picture: Picture) -> ClosedDarks:
    """Measure darks without variation."""
    from scipy.ndimage import uniform_filter

    light = without_finest(picture.lab[..., 0], FINER)
    size = max(3, round(WINDOW * max(light.shape)) | 1)
    nowhere = np.zeros(light.shape, dtype=bool)
    if float(light.min()) >= HEAVY + HEAVY_FADES:
        empty = nowhere.astype(np.float32)
        return ClosedDarks(0.0, 0.0, 0.5, 0.5, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, nowhere, nowhere, nowhere, empty)
    mean = uniform_filter(light, size, mode="nearest")
    variation = np.sqrt(np.maximum(uniform_filter(light * light, size, mode="nearest") - mean * mean, 0))
    dark = _below(mean, DARK, DARK_FADES)
    closed = dark * _below(variation, STILL, STILL_FADES)
    black = _below(mean, BLACK, DARK_FADES) * _below(variation, BLACK_STILL, BLACK_STILL_FADES)
    if black.any():  # in most pictures nothing is so dark, and its colour need not be asked
        black *= _below(_chroma(picture, size), GREY, GREY_FADES)
    heavy = _below(mean, HEAVY, HEAVY_FADES)
    little = heavy * _below(variation, LITTLE_SEEN, LITTLE_FADES)
    heavy *= _below(variation, FORMLESS, FORMLESS_FADES)
    largest, y, x, piece = _largest(closed)
    share = float(closed.mean(dtype=np.float64))
    one_black = measure_black_mass(picture)
    alone = float(rising(np.array(largest / share if share else 0.0), ALONE))
    return ClosedDarks(
        share=share,
        largest=largest,
        x=x,
        y=y,
        dark_share=float(dark.mean(dtype=np.float64)),
        black=float(black.mean(dtype=np.float64)),
        little=float(little.mean(dtype=np.float64)),
        heavy=float(heavy.mean(dtype=np.float64)) * (median_of(light) / MIDDLE_KEY) ** 0.5,
        formless=float(heavy.sum(dtype=np.float64) / max(little.sum(dtype=np.float64), 1)),
        hole=largest * alone * _lighter_about(mean, piece) if alone else 0.0,
        one_black=one_black.weighed * _shut(variation, one_black.mask),
        mask=closed >= 0.5,
        black_mask=black >= 0.5,
        one_black_mask=one_black.mask,
        depth=np.where(little >= 0.5, 1 - mean / np.float32(HEAVY + HEAVY_FADES), np.float32(0)),
    )


def _largest(counted: NDArray[np.float32]) -> tuple[float, float, float, NDArray[np.bool_]]:
    """Share of the largest connected piece, the middle of it, down and across (0–1), and where it lies."""
    piece = largest_piece(counted >= 0.5, counted)
    if not piece.any():
        return 0.0, 0.5, 0.5, piece
    y, x = np.nonzero(piece)
    height, width = counted.shape
    share = float(counted.sum(where=piece, dtype=np.float64)) / counted.size
    return share, float((y.mean() + 0.5) / height), float((x.mean() + 0.5) / width), piece


def _shut(variation: NDArray[np.float32], piece: NDArray[np.bool_]) -> float:
    """How little is drawn in a mass, given at another size: 1 where nothing is seen in there, 0 where things are."""
    within = same_frame(piece, variation.shape)
    if not within.any():
        return 0.0
    return 1 - float(rising(np.array(quantiles_of(variation[within], (QUIET_PART,))[0]), SEEN_INTO))


def _lighter_about(mean: NDArray[np.float32], piece: NDArray[np.bool_]) -> float:
    """How far what lies close about a piece is lighter than it, 0–1."""
    from scipy.ndimage import maximum_filter

    near, far = (maximum_filter(piece, 2 * max(1, round(reach * max(piece.shape))) + 1) for reach in ABOUT)
    about = mean[far & ~near]
    return float(rising(np.mean(about > mean[piece].mean() + LIGHTER), LIGHTER_ABOUT)) if about.size else 0.0


def _chroma(picture: Picture, size: int) -> NDArray[np.float32]:
    """C*ab (height, width) of what a window of so many px holds on average."""
    from scipy.ndimage import uniform_filter

    a, b = (uniform_filter(np.ascontiguousarray(picture.lab[..., k]), size, mode="nearest") for k in (1, 2))
    return length_of(a, b)


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
