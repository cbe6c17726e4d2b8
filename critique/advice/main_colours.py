"""The two or three colours that a picture is said to be made of: the most of it, and the strong one that one sees first."""

from critique.advice.colour_words import family_words
from critique.measures.measure import Measures
from critique.picture.picture import Picture

TOLD = 2  # colours told for how much of the picture they cover
# A third is told for its strength: C* at its middle, and its part of all the picture's chroma. Readers missed the orange of
# a dune, the yellow of a field and the gold of a sunrise, each of less area than two quieter colours.
STRONG, HEARD = 25.0, 0.15
MOST = 0.65  # of a colour, in one tone
TONES = ("dark ", "light ", "pale ", "dull ", "deep ")
NOT_TWO_COLOURS = ("reddish brown", "red-brown")  # to a reader: told once
GREYS = frozenset({"grey", "warm grey"})  # a dark and a light one are two things to the eye


def main_colours(picture: Picture, measures: Measures) -> list[tuple[str, float]]:
    """What a picture's main colours are called, each with its share of the area, 0–1.

    Tones of one hue are one colour: a sky that pales downward is blue, and not pale blue beside blue.
    """
    shares: dict[str, float] = {}
    weights: dict[str, float] = {}
    names: dict[str, dict[str, float]] = {}
    for family, word in zip(measures.families, family_words(picture, measures), strict=True):
        told = word.replace(*NOT_TWO_COLOURS)
        hue = _without_tone(told)
        shares[hue] = shares.get(hue, 0.0) + family.share
        weights[hue] = weights.get(hue, 0.0) + family.share * family.lch[1]
        tones = names.setdefault(hue, {})
        tones[told] = tones.get(told, 0.0) + family.share
    largest = sorted(shares, key=lambda hue: -shares[hue])
    first, others = largest[:TOLD], largest[TOLD:]
    total = sum(weights.values())
    strong = [hue for hue in others if weights[hue] >= max(STRONG * shares[hue], HEARD * total)]
    first += sorted(strong, key=lambda hue: -weights[hue])[:1]
    return [(_told(hue, names[hue]), shares[hue]) for hue in first]


def _told(hue: str, tones: dict[str, float]) -> str:
    """A colour with the tone that most of it has, "dark olive"; where none has most of it, its bare name."""
    most = max(tones, key=lambda name: tones[name])
    return most if tones[most] >= MOST * sum(tones.values()) else hue


def _without_tone(word: str) -> str:
    """A word without how dark or light the colour is: "blue" for "pale blue"; a grey keeps it."""
    bare = next((word.removeprefix(tone) for tone in TONES if word.startswith(tone)), word)
    return word if bare in GREYS else bare
