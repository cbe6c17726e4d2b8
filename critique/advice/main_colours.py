"""The two or three colours that a picture is said to be made of: the most of it, and the strong one that one sees first."""

import numpy as np
from numpy.typing import NDArray

from critique.advice.colour_words import black_within, family_words
from critique.measures.measure import Measures
from critique.perception.cielab import lch_to_lab
from critique.perception.hue import turn_of_one
from critique.picture.picture import Picture
from critique.words.painters import is_a_black, is_a_grey

TOLD = 2  # colours told for how much of the picture they cover
# Two more are told for their strength: C* at its middle, and its part of all the picture's chroma. Readers missed the orange of
# a dune, the yellow of a field, the gold of a sunrise and the brown of heather, each of less area than two quieter colours.
STRONG, HEARD = 25.0, 0.1
MOST = 0.65  # of a colour, in one tone
# Readers missed the pale rocks of a brook, a third of it in two greys, and the blue of a river: what covers so much is told
# too; the greys together where none of them is told by itself.
A_THIRD_COLOUR = 0.15
A_GREY = 10.0  # C* of its middle: with more a grey-blue mountain is a colour
# What stands out from so quiet a picture is no strong colour by itself: cream sails before a blue-grey sea. Times the C* of the
# whole; C* at least. One colour more is told where it is strong: an orange sky of which the eye sees little else.
STANDS_OUT, COLOURED, MOST_TOLD = 1.8, 15.0, 5
# Of the picture: a black is seen before its area is. Readers missed black horses, firs and a black strip of land, of 0.07 on.
A_BLACK = 0.065
BLACK = "near-black"
# A colour that nothing told is like: of the picture, and its distance from all that is told, a step of L* counting for so
# much beside one of a* or b*. Red cows in a grey-green field, a deer, a sandstone cliff are no strong colours, and the subject.
COVERS, APART, LIGHTNESS = 0.05, 17.0, 0.6
A_GREYS_WORDS = frozenset({"grey", "greys", "greyish", "warm", "bluish", "greenish"})
YELLOWS = frozenset({"ochre", "gold", "golden", "cream", "creamy", "buff", "yellow", "yellowish"})
HUES_APART = 35.0  # degrees: a brown near violet and a brown near orange are no one colour
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
    browns: list[float] = []  # degrees of hue
    middles: dict[str, NDArray[np.float64]] = {}  # CIELAB, times its share
    for word, share, (lightness, chroma, angle) in _with_blacks(picture, measures):
        told = word.replace(*NOT_TWO_COLOURS)
        if "red-brown" in told:
            browns.append(angle)
            told = told if abs(turn_of_one(browns[-1], browns[0])) <= HUES_APART else word
        hue = _without_tone(told)
        shares[hue] = shares.get(hue, 0.0) + share
        weights[hue] = weights.get(hue, 0.0) + share * chroma
        middles[hue] = middles.get(hue, np.zeros(3)) + share * lch_to_lab(np.array([lightness, chroma, angle]))
        tones = names.setdefault(hue, {})
        tones[told] = tones.get(told, 0.0) + share
    largest = sorted(shares, key=lambda hue: -shares[hue])
    first, others = largest[:TOLD], largest[TOLD:]
    total = sum(weights.values())
    strong = [hue for hue in others if weights[hue] >= max(STRONG * shares[hue], HEARD * total)]
    first += sorted(strong, key=lambda hue: -weights[hue])[:TOLD]
    if len(first) < 2 * TOLD:
        first += [hue for hue in others[:1] if shares[hue] >= A_THIRD_COLOUR and hue not in first]
    first += _others_seen(first, shares, weights)
    first += [hue for hue in others if is_a_black(hue) and shares[hue] >= A_BLACK and hue not in first]
    if len(first) < 2 * TOLD:
        first += _unlike(first, shares, middles)
    colours = [(_told(hue, names[hue]), shares[hue]) for hue in first]
    greys = [hue for hue in shares if is_a_grey(hue) and weights[hue] < A_GREY * shares[hue]]
    together = sum(shares[hue] for hue in greys)
    if len(greys) > 1 and together >= A_THIRD_COLOUR and not any(is_a_grey(name) for name, _ in colours[:TOLD]):
        colours = [(name, share) for name, share in colours if not is_a_grey(name)] + [("greys", together)]
    return colours[:TOLD] + sorted(colours[TOLD:], key=lambda colour: -colour[1])


def _with_blacks(picture: Picture, measures: Measures) -> list[tuple[str, float, tuple[float, float, float]]]:
    """Word, share and LCh of each main colour, what is black in one of another name taken out and told by itself.

    Blacks that are too little to be told alone go by the name of the largest.
    """
    words = family_words(picture, measures)
    families = list(zip(words, measures.families, black_within(picture, measures), strict=True))
    hidden = sum(black for word, _, black in families if not is_a_black(word))
    shares = {BLACK: hidden}
    for word, family, _ in families:
        if is_a_black(word):
            shares[word] = shares.get(word, 0.0) + family.share
    if sum(shares.values()) < A_BLACK:
        return [(word, family.share, family.lch) for word, family, _ in families]
    largest = max(shares, key=lambda word: shares[word])
    called = {word: word if share >= A_BLACK else largest for word, share in shares.items()}
    blacks = [(called[word], family.share, family.lch) for word, family, _ in families if is_a_black(word)]
    others = [
        (word, max(family.share - black, 0.0), family.lch) for word, family, black in families if not is_a_black(word)
    ]
    return [*others, *blacks, (called[BLACK], hidden, (0.0, 0.0, 0.0))]


def _others_seen(told: list[str], shares: dict[str, float], weights: dict[str, float]) -> list[str]:
    """Colours that are seen beside those ``told``, of another name than theirs: most of the area or of the chroma first."""
    total = sum(weights.values())
    strong = max(min(STRONG, STANDS_OUT * total), COLOURED)
    others = sorted(
        set(shares) - set(told), key=lambda hue: -max(shares[hue], weights[hue] / total if total > 0 else 0.0)
    )
    seen: list[str] = []
    for hue in others:
        loud = weights[hue] >= HEARD * total and weights[hue] >= strong * shares[hue]
        room = MOST_TOLD if weights[hue] >= STRONG * shares[hue] else 2 * TOLD
        new = not any(kin(hue) & kin(one) for one in (*told, *seen))
        if new and len(told) + len(seen) < room and (loud or shares[hue] >= A_THIRD_COLOUR):
            seen.append(hue)
    return seen


def _unlike(told: list[str], shares: dict[str, float], middles: dict[str, NDArray[np.float64]]) -> list[str]:
    """The colour that is farthest from all ``told``, for as much as it covers; none where none is far.

    ``middles`` are CIELAB of the colours times their ``shares`` of the picture.
    """
    scale = np.array((LIGHTNESS, 1.0, 1.0))
    at = {hue: scale * middle / shares[hue] for hue, middle in middles.items() if shares[hue] > 0}
    apart = {
        hue: min(float(np.linalg.norm(at[hue] - at[one])) for one in told if one in at)
        for hue in at
        if hue not in told and shares[hue] >= COVERS
    }
    far = [hue for hue, away in apart.items() if away >= APART]
    return sorted(far, key=lambda hue: -shares[hue] * apart[hue] ** 2)[:1]


def kin(word: str) -> set[str]:
    """What a colour's name has in common with others: an ochre, a gold and a cream are yellows."""
    words = set(word.replace("-", " ").split()) - {tone.strip() for tone in TONES}
    return {"yellow" if one in YELLOWS else one for one in words - A_GREYS_WORDS or {"grey"}}


def _told(hue: str, tones: dict[str, float]) -> str:
    """A colour with the tone that most of it has, "dark olive"; where none has most of it, its bare name."""
    most = max(tones, key=lambda name: tones[name])
    return most if tones[most] >= MOST * sum(tones.values()) else hue


def _without_tone(word: str) -> str:
    """A word without how dark or light the colour is: "blue" for "pale blue"; a grey keeps it."""
    bare = next((word.removeprefix(tone) for tone in TONES if word.startswith(tone)), word)
    return word if bare in GREYS else bare
