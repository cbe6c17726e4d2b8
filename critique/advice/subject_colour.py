"""The colour of what the eye goes to, where the main colours leave it out: a gold pavilion, a brown cow, a lit castle."""

import numpy as np
from numpy.typing import NDArray

from critique.advice.accent import LIGHTNESS, Accent
from critique.advice.colour_words import word_of_lab
from critique.advice.main_colours import YELLOWS
from critique.advice.patches import in_patches
from critique.measures.eye_judging import rivals_fault
from critique.measures.measure import Measures
from critique.perception.channels import chroma_of, over_channels
from critique.perception.ranks import quantiles_of
from critique.perception.seen_families import family_names, likeliest_families
from critique.picture.picture import Picture
from critique.picture.places import offsets, spot

Mask = NDArray[np.bool_]

# Of the long edge, spread of a Gaussian: so near to the place that holds the eye it is looked for; of that window, what a
# colour must fill there, and a piece of it to be counted.
ABOUT, FILLS, A_PIECE = 0.05, 0.08, 0.03
LEAST, MOST = 0.003, 0.1  # of the picture
ITS_OWN = 0.5  # of all of that colour in the picture: it is the thing's, and not found everywhere
AT_HAND, MOST_OF_IT = 0.25, 0.6  # of the long edge; of the thing, so near to the place: else it is ground, or a wood
# px from where to where a ring about it is looked at, how far the most of it must be, L* counting less, and which part of
# it may be nearer: what the thing stands on may have its colour. C* at least, of what isn't black or white.
RING, APART, MAY_BE_NEAR, COLOURED = (3, 14), 17.0, 0.35, 12.0
HUELESS = frozenset({"white", "black"})


def subject_colour(picture: Picture, measures: Measures, told: list[str]) -> Accent | None:
    """The colour at the place that leads that is its own, of another name than those ``told``; none where none is.

    Where no place surely leads, or two compete, there is none.
    """
    eye = measures.eyepath
    if not eye.claimed or rivals_fault(eye) is not None:
        return None
    seen = in_patches(picture)
    away = np.hypot(*offsets(seen.shape, eye.focus.x, eye.focus.y)) / max(seen.shape[:2])
    window = np.exp(-np.square(away / ABOUT) / 2)
    window /= window.sum(dtype=np.float64)
    families = likeliest_families(seen)
    best, most = None, 0.0
    for index in np.unique(families[window > window.max() / 10]):
        mask = families == index
        own = _about_the_place(mask, window)
        share = float(own.mean())
        if not LEAST <= share <= MOST or float(own.sum()) < ITS_OWN * float(mask.sum()):
            continue
        if float((away[own] <= AT_HAND).mean()) < MOST_OF_IT:
            continue
        colour, apart = seen[own].mean(axis=0), _apart(seen, own)
        word = word_of_lab(colour)
        counts = float(window[own].sum()) * apart * share**0.5
        clear = family_names()[index] in HUELESS or float(chroma_of(colour)) >= COLOURED
        if clear and apart >= APART and counts > most and not any(_noun(word) == _noun(one) for one in told):
            best, most = Accent(word, share, str(spot(eye.focus.x, eye.focus.y))), counts
    return best


def _about_the_place(mask: Mask, window: NDArray[np.floating]) -> Mask:
    """The pieces of a colour (height, width) that lie where a window has its weight; nowhere where they are few."""
    from scipy.ndimage import binary_closing, label

    if float(window[mask].sum()) < FILLS:
        return np.zeros_like(mask)
    joined = binary_closing(np.pad(mask, 2), np.ones((3, 3), dtype=np.bool_))[2:-2, 2:-2]
    pieces, _ = label(joined)
    near = np.bincount(pieces.ravel(), weights=window.ravel())
    near[0] = 0
    return np.asarray(np.isin(pieces, np.flatnonzero(near >= A_PIECE)) & mask)


def _apart(seen: NDArray[np.float32], own: Mask) -> float:
    """How far the colour of a thing lies from most of what lies about it."""
    from scipy.ndimage import binary_dilation

    ring = binary_dilation(own, iterations=RING[1]) & ~binary_dilation(own, iterations=RING[0])
    if not ring.any():
        return 0.0
    scale = np.array((LIGHTNESS, 1.0, 1.0), dtype=np.float32)
    away = np.sqrt(over_channels(np.square((seen[ring] - seen[own].mean(axis=0)) * scale)))
    return float(quantiles_of(away, (MAY_BE_NEAR,))[0])


def _noun(word: str) -> str:
    """The colour itself in a word for one, the yellows as one: "brown" of "dark red-brown"."""
    noun = word.replace("-", " ").split()[-1]
    return "yellow" if noun in YELLOWS else noun
