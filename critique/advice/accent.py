"""The one small colour that a picture's main colours leave out and the eye doesn't: a roof, a sun, black horses in a field."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from critique.advice.colour_words import word_of_lab
from critique.advice.main_colours import kin
from critique.advice.patches import in_patches
from critique.measures.measure import Measures
from critique.perception.channels import chroma_of, over_channels
from critique.perception.seen_families import family_names, likeliest_families
from critique.picture.one_piece import largest_piece
from critique.picture.picture import Picture
from critique.picture.pieces import most_of_it_lies

LARGE = 0.05  # of the picture: a main colour that others are seen against
LIGHTNESS = 0.6  # of a step of L*, beside one of a* or b*: a hue stands out where a shade doesn't
# Least share of the picture, and distance from every large colour, of an accent; its chroma where it isn't black, the share
# that a black needs, and how much of it lies in one piece. Of 30 pictures a reader missed such a colour in ten; this names
# it in seven, and names a colour in four of the others.
LEAST, APART, COLOURED, BLACK, ONE_PIECE = 0.005, 18.0, 22.0, 0.01, 0.5
MOST = 0.03  # of the picture: more is no accent
FAR_APART = 25.0  # the same distance, from which a stronger colour of a kind already told is another


@dataclass(frozen=True, slots=True)
class Accent:
    """A small colour: what it is called, its share of the picture (0–1) and where it lies, in words."""

    word: str
    share: float
    place: str


def accent(picture: Picture, measures: Measures, told: list[str]) -> Accent | None:
    """The accent that counts most beside the main colours, which are called as ``told``; none where nothing is so apart."""
    seen = in_patches(picture)
    away = _from_large(seen, measures)
    apart_enough = away >= APART
    families = np.full(away.shape, -1, dtype=np.intp)  # of most places nobody asks
    families[apart_enough] = likeliest_families(seen[apart_enough])
    best, most = None, 0.0
    for index, name in enumerate(family_names()):
        mask = families == index
        share = float(mask.mean())
        if (
            not (BLACK if name == "black" else LEAST) <= share <= MOST
            or largest_piece(mask).sum() < ONE_PIECE * mask.sum()
        ):
            continue
        colour, apart = seen[mask].mean(axis=0), float(away[mask].mean())
        word = word_of_lab(colour)
        new = word not in told and (apart >= FAR_APART or not any(kin(word) & kin(one) for one in told))
        if new and (name == "black" or float(chroma_of(colour)) >= COLOURED) and share * apart**2 > most:
            best, most = Accent(word, share, most_of_it_lies(mask)), share * apart**2
    return best


def _from_large(lab: NDArray[np.float32], measures: Measures) -> NDArray[np.float32]:
    """How far colours (..., 3) lie from the nearest of the picture's large ones."""
    centres = [family.lab for family in measures.families if family.share >= LARGE]
    scale = np.array((LIGHTNESS, 1.0, 1.0), dtype=np.float32)
    apart = [over_channels(np.square((lab - np.asarray(centre, dtype=np.float32)) * scale)) for centre in centres]
    return np.sqrt(np.min(apart, axis=0)) if apart else np.zeros(lab.shape[:2], dtype=np.float32)
