"""What a painter calls a colour where it stands: in the sky a light, in foliage a green, elsewhere by itself."""

import numpy as np
from numpy.typing import NDArray

from critique.measures.families import Family, assign_families
from critique.measures.land_distance import SURE_TO_SAY, Land
from critique.measures.measure import Measures
from critique.perception.cielab import lch_of
from critique.perception.seen_families import likeliest_is, seen_families
from critique.picture.areas import area_of, same_frame
from critique.picture.kept import kept
from critique.picture.picture import Picture, lab_at
from critique.words.painters import as_leaf, foliage_word, light_word, painters_word

GLANCE = 160  # px along the long edge: at a glance nothing smaller is seen
MOSTLY = 0.5  # of a colour: it then lies in one thing
A_PART = 0.25  # of the foliage: a second colour in it that is worth a word
SURE_SKY = 0.6  # sureness from which a sky is one
SOME_SKY = 0.05  # of the picture: a sky large enough to count
GREENS = frozenset({"green", "green-grey", "yellow-green", "blue-green"})
_AS_COLOUR = {"golden": "gold", "pale": "light grey"}  # a light's word, and the colour's where it stands alone
COOL_AT_ALL = 8.0  # b*: land warmer than that is not called cool, whatever the near is; our choice
FROM_RED = 66.0  # degrees of hue: foliage redder than this is autumn's, and brown to anyone


def word_of(lch: tuple[float, float, float], *, in_sky: float = 0.0, in_foliage: float = 0.0) -> str:
    """The word for a colour of which these shares lie in the sky and in what reads as green."""
    if in_sky >= MOSTLY:
        return light_word(*lch)
    if in_foliage >= MOSTLY and lch[2] >= FROM_RED:
        return foliage_word(*lch)
    return painters_word(*lch)


@kept
def families_seen(picture: Picture, families: tuple[Family, ...]) -> NDArray[np.intp]:
    """Which of its main colours each place of a picture is counted to, at a glance (height, width)."""
    return assign_families(lab_at(picture, GLANCE), families)


def family_words(picture: Picture, measures: Measures) -> list[str]:
    """The word for each of the picture's main colours, in their order."""
    labels = families_seen(picture, measures.families)
    foliage, sky = measures.reads_as_green.where(labels.shape), sky_in(measures, labels.shape)
    words = []
    for index, family in enumerate(measures.families):
        own = labels == index
        shares = [float(part[own].mean()) if own.any() else 0.0 for part in (sky, foliage)]
        word = word_of(family.lch, in_sky=shares[0], in_foliage=shares[1])
        words.append(_AS_COLOUR.get(word, word))
    return words


def black_within(picture: Picture, measures: Measures) -> list[float]:
    """The share of the picture, 0–1, that is near-black in each of its main colours, whatever the whole of that is called."""
    labels, black = families_seen(picture, measures.families), likeliest_is("black", lab_at(picture, GLANCE))
    return [float((black & (labels == index)).mean()) for index in range(len(measures.families))]


def foliage_words(picture: Picture, measures: Measures) -> list[str]:
    """What its grass and foliage are painted in, the most of it first: one word or two; none where it has none."""
    labels = families_seen(picture, measures.families)
    leaves = measures.reads_as_green.where(labels.shape)
    if not leaves.any():
        return []
    labels = labels[leaves]
    shares: dict[str, float] = {}
    for index, family in enumerate(measures.families):
        word = word_of(family.lch, in_foliage=1.0)
        shares[word] = shares.get(word, 0.0) + float((labels == index).mean())
    first, *rest = sorted(shares, key=lambda word: -shares[word])
    return [first, *(word for word in rest[:1] if shares[word] >= A_PART and not _same_but_dark(first, word))]


def _same_but_dark(one: str, other: str) -> bool:
    return one.removeprefix("dark ") == other.removeprefix("dark ")


def named_green(measures: Measures) -> bool:
    """Whether one of the two largest main colours is seen as a green, be it a grey that leans there."""
    largest = sorted(measures.families, key=lambda family: -family.share)[:2]
    return any(seen_as(family.lch) in GREENS for family in largest)


def seen_as(lch: tuple[float, float, float], in_foliage: float = 0.0) -> str:
    """The family of colour that it is most likely seen as."""
    leaf = in_foliage >= MOSTLY and lch[2] >= FROM_RED
    return next(iter(as_leaf(*lch) if leaf else seen_families(*lch)))


def cool_at_all(land: Land | None) -> bool:
    """Whether land is cool to the eye, and not only less warm than other land."""
    return land is not None and land.warmth <= COOL_AT_ALL


def distance_to_say(measures: Measures) -> bool:
    """Whether there is distance to be spoken of: far land that is sure, under a sky that is.

    What lies behind in a close view is none, and blossom may be taken for sky there.
    """
    land, parts = measures.land_distance, measures.parts
    sure = parts.land_sureness >= SURE_TO_SAY and parts.sky_sureness >= SURE_SKY
    return land.to_say and sure and parts.sky_share >= SOME_SKY


def sky_in(measures: Measures, shape: tuple[int, ...]) -> NDArray[np.bool_]:
    """Where its sky is, in that shape; nowhere where the sky is no more than a guess."""
    return same_frame(measures.parts.mask("sky"), shape) & (measures.parts.sky_sureness >= SURE_SKY)


def word_of_lab(lab: NDArray[np.floating], *, in_sky: float = 0.0, in_foliage: float = 0.0) -> str:
    """What a painter calls a colour in CIELAB (3,), of which these shares lie in the sky and in what reads as green."""
    word = word_of(lch_of(lab), in_sky=in_sky, in_foliage=in_foliage)
    return _AS_COLOUR.get(word, word)


def placed(mask: NDArray[np.bool_]) -> str:
    """A place to follow a noun, with a space before it; empty where the thing lies about everywhere."""
    words = area_of(mask, claimed=True)
    return f" {' '.join(reversed(words.split(', ')))}" if words else ""  # a comma would part it from what follows
