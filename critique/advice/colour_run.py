"""Which colours carry a picture, how warm stands to cool in it, and what answers the greater part."""

from collections.abc import Sequence
from itertools import product

import numpy as np
from numpy.typing import NDArray

from critique.advice.colour_words import MOSTLY, placed, seen_as, sky_in, word_of, word_of_lab
from critique.advice.finding import Finding
from critique.advice.judging import Case
from critique.advice.kind import Kind
from critique.measures.families import Family, assign_families
from critique.measures.hue_peaks import HuePeaks, Temperature
from critique.measures.land_greens import MAP_LONG_EDGE
from critique.measures.reads_as_green import ReadsAsGreen
from critique.perception.channels import chroma_of, colours_in
from critique.perception.hue import hue_of, is_warm, turn
from critique.perception.ranks import median_of, middle_colour, quantiles_of
from critique.picture.kept import kept
from critique.picture.picture import Picture, lab_at
from critique.words.aloud import sentence
from critique.words.lists import listed
from critique.words.painters import HUELESS, painters_word

# Families of colour that painters call complements: red and green, orange or an earth and blue, yellow and violet.
# Common practice, no source.
_EARTHS_AND_ORANGE = ("orange", "brown", "ochre", "red-brown")
COMPLEMENTS = frozenset(
    frozenset(pair)
    for ones, others in (
        (("red", "red-brown", "pink"), ("green", "blue-green")),
        (_EARTHS_AND_ORANGE, ("blue", "blue-grey")),
        (("yellow", "gold"), ("violet",)),
    )
    for pair in product(ones, others)
)
ColourIn = tuple[tuple[float, float, float], float]  # L*, C* and hue in degrees; how much of it lies in foliage, 0–1

LEAF_HUES = (105.0, 150.0)  # degrees: greens of grass and leaves, called warm by some and cool by others
VIOLETS = (290.0, 340.0)  # degrees: of these and of leaf greens readers denied that no one hue leads, all three
LEAFY = 0.4  # of all chroma: with so much of it in such greens, "cool" is denied by painters who see a warm green
ABOUT_AS_MUCH = 1.15  # times: areas of warm and cool that the eye holds for equal
LITTLE = 0.4  # of the picture that has any colour, below which the colour is only what there is of it
BLACK = 15.0  # L*: so deep in the dark nobody sees a hue
WARMEST, WARM_REACH = 45.0, 55.0  # degrees: orange-red, and how far to either side a hue is warm; common practice
ABOUT, COLOURED = 30.0, 6.0  # degrees to either side of a hue that are told as one colour; C* from which it is seen
WARM_SEEN, WARM_LEAST = 15.0, 0.02  # C* of a warm colour that is seen as one; of the picture
SKY_LIGHT = 55.0  # L* from which a sky is a light, and no dark strip above the land
STRONGEST = 80  # percentile of what is warm, by chroma, from which on it is named: browns lie about everywhere
SKY_WARM = 4.0  # b* and half of a*: a creamy sky was denied to be a cooler light, and a rock taken for one; those signed have 3.6
SKY_COOLER = 1.0  # b* by which a sky is bluer than what lies under it, or else it has no cooler light
OF_HUE = 10.0  # C* from which a place counts as being of a hue
# Words that say how light or strong a colour is, or that it is hardly one: these make no two colours alike.
NO_HUES = frozenset(("dark", "deep", "dull", "light", "pale", "warm", "cool", "grey", "greyish", "black", "white"))
ANSWERS, DARK_GREY = 0.06, 30.0  # of the picture: what answers the rest of the colour; L* below which a grey is a dark


def run_of_colours(case: Case, kind: Kind) -> Finding | None:
    """Which colours carry the picture, how warm stands to cool, and what answers the greater part."""
    found = case.measures.hue_peaks
    if found.temperature == "grey" or not found.peaks:
        return None
    lab = lab_at(case.picture, MAP_LONG_EDGE)
    colours, facing = _peaks_seen(case.picture, found, case.measures.reads_as_green)
    words = [word_of(lch, in_foliage=leaves) for lch, leaves in colours]
    seen = [word for word, colour in zip(words, colours, strict=True) if seen_as(*colour) not in HUELESS]
    whose = "its colour" if float((_chroma(lab) >= COLOURED).mean()) >= LITTLE else "what colour it has"
    told = list(dict.fromkeys(seen or words))[:3]
    warmth = "" if "cool" in found.temperature and _leafy(lab) else _temperature(found.temperature, lab)
    # What gathers about one hue is warm, or it is cool.
    by_one = len(told) == 1 and warmth == _TEMPERATURES["in balance"]
    if by_one and not _neither_warm_nor_cool(found):
        run = "no one hue leads it: warm and cool are in balance"
    else:
        run = f"{whose} gathers about {listed(told)}" + (f", {warmth}" if warmth and not by_one else "")
    if facing:
        run += f"; {listed([words[index] for index in facing])} answer each other as complements"
    elif found.temperature in ("warm", "more warm", "cool", "more cool") and warmth != _TEMPERATURES["in balance"]:
        answer, said = _answer(case, warm="warm" in found.temperature)
        run += answer if not any(_alike(said, word) for word in words) else ""
    variety = case.measures.variety
    return kind.finding(
        level="holds",
        text=sentence(run),
        figure=variety.effective_hues,
        figure_text=f"as varied as {variety.effective_hues:.0f} equal hues, {variety.names:.0f} named colours",
        norm=f"{case.standing('variety.effective_hues')}; such models know hues, not what is painted",
        percentile=case.percentile("variety.effective_hues"),
    )


def _neither_warm_nor_cool(found: HuePeaks) -> bool:
    """Whether all of its colour is about one green or violet, which lies half to either side."""
    return len(found.peaks) == 1 and any(low <= found.peaks[0].hue <= high for low, high in (LEAF_HUES, VIOLETS))


def complements(case: Case) -> tuple[tuple[str, float], ...]:
    """Two colours that answer each other as complements, each by its word and hue in degrees; none where no two do."""
    found = case.measures.hue_peaks
    if found.temperature == "grey" or found.facing is None:
        return ()
    colours, facing = _peaks_seen(case.picture, found, case.measures.reads_as_green)
    told = ((*colours[index], found.peaks[index].hue) for index in facing)
    return tuple((word_of(lch, in_foliage=leaves), hue) for lch, leaves, hue in told)


@kept
def _peaks_seen(picture: Picture, found: HuePeaks, reads: ReadsAsGreen) -> tuple[tuple[ColourIn, ...], tuple[int, ...]]:
    """The colour about each of the peaks, and which two of these answer each other as complements, if any do."""
    lab = lab_at(picture, MAP_LONG_EDGE)
    colours = colours_about(lab, [peak.hue for peak in found.peaks], reads.where(lab.shape))
    return tuple(colours), _complements(found, lab, colours)


def _complements(found: HuePeaks, lab: NDArray[np.float32], colours: Sequence[ColourIn]) -> tuple[int, ...]:
    """Which two of the peaks face each other as colours that a painter calls complements, both seen at once."""
    facing = found.facing if found.facing is not None and found.temperature != "warm" else ()
    if not facing or frozenset(seen_as(*colours[index]) for index in facing) not in COMPLEMENTS:
        return ()
    return facing if all(_area_about(lab, found.peaks[index].hue) >= ANSWERS for index in facing) else ()


def colours_about(lab: NDArray[np.float32], hues: Sequence[float], foliage: NDArray[np.bool_]) -> list[ColourIn]:
    """The middle colour (L*, C*, hue) about each hue, as it is in the picture, and how much of it lies in foliage."""
    chroma = chroma_of(lab)
    coloured = (chroma >= COLOURED) & (lab[..., 0] >= BLACK)
    leaves = foliage[coloured]
    lightness, a, b = np.ascontiguousarray(colours_in(lab, coloured).T)
    chroma, own_hues = chroma[coloured], np.degrees(np.arctan2(b, a))
    colours = []
    for hue in hues:
        near = np.abs(turn(own_hues, hue)) <= ABOUT
        if not near.any():  # all of it lies in the deepest dark
            colours.append(((0.0, 0.0, float(hue)), 0.0))
            continue
        weight = chroma[near]  # the stronger a colour, the more it is seen: a dark mass has less of it than a glow
        middle = (
            float(np.average(lightness[near], weights=weight)),
            float(np.average(weight, weights=weight)),
            float(hue),
        )
        colours.append((middle, float(np.average(leaves[near], weights=weight))))
    return colours


def _chroma(lab: NDArray[np.float32]) -> NDArray[np.float32]:
    return np.asarray(chroma_of(lab))


def _leafy(lab: NDArray[np.float32]) -> bool:
    """Whether much of all colour is the green of grass and leaves."""
    chroma, hue = _chroma(lab), hue_of(lab[..., 1], lab[..., 2])
    leaves = (hue >= LEAF_HUES[0]) & (hue <= LEAF_HUES[1])
    return float(chroma[leaves].sum()) >= LEAFY * float(chroma.sum())


def _alike(one: str, other: str) -> bool:
    """Whether two words name one colour, dark or light: nothing answers itself."""
    last = one.split()[-1:]
    return bool(set(last) & set(other.replace("-", " ").split()) or _hues_in(one) & _hues_in(other))


def _hues_in(word: str) -> set[str]:
    """The colours that a word is made of: blue and grey-blue are one blue, cream and creamy yellow one cream."""
    return {part.removesuffix("y") for part in word.replace("-", " ").split() if part not in NO_HUES}


def _answer(case: Case, *, warm: bool) -> tuple[str, str]:
    """What is coolest in a warm picture, or warm in a cool one, with where it lies, and its word; empty without any."""
    if not warm:
        return _warm_answer(case)
    families = case.measures.families
    told = [index for index, family in enumerate(families) if family.share >= ANSWERS and _is_cool(family)]
    if not told:
        return "", ""
    index = min(told, key=lambda one: _warmth(families[one]))
    lab = lab_at(case.picture, MAP_LONG_EDGE)
    own = assign_families(lab, families) == index
    sky = sky_in(case.measures, lab.shape)
    if float(sky[own].mean()) >= MOSTLY and not sky.all():
        cooler = median_of(colours_in(lab, ~sky)[:, 2]) - median_of(colours_in(lab, sky)[:, 2]) >= SKY_COOLER
        lightness, a, b = (median_of(plane) for plane in colours_in(lab, sky).T)
        cooler = cooler and lightness >= SKY_LIGHT and b + a / 2 < SKY_WARM
        return ("; the cooler light of the sky answers it" if cooler else ""), ""
    beside = ", cool beside the rest," if families[index].lch[1] < COLOURED else ""
    word = painters_word(*families[index].lch)
    if beside and "brown" in word:
        return "", ""  # a brown answers nothing warm by being cool
    return f"; the {word}{placed(own)}{beside} answers it", word


def _warm_answer(case: Case) -> tuple[str, str]:
    """The warm colour of a cool picture, where it has any to speak of, and its word; else empty."""
    lab = lab_at(case.picture, MAP_LONG_EDGE)
    chroma, away = _chroma(lab), np.abs(turn(hue_of(lab[..., 1], lab[..., 2]), WARMEST))
    warm = (away <= WARM_REACH) & (chroma >= WARM_SEEN)
    if warm.mean() < WARM_LEAST:
        return "", ""
    strongest = warm & (chroma >= quantiles_of(chroma[warm], (STRONGEST / 100,))[0])
    word = word_of_lab(middle_colour(colours_in(lab, strongest)))
    return f"; the {word}{placed(strongest)} answers it", word


def _area_about(lab: NDArray[np.float32], hue: float) -> float:
    """The part of the picture that has a hue, or one near it: a strip far off answers nothing."""
    chroma = chroma_of(lab)
    return float(((np.abs(turn(hue_of(lab[..., 1], lab[..., 2]), hue)) <= ABOUT) & (chroma >= OF_HUE)).mean())


def _temperature(word: Temperature, lab: NDArray[np.float32]) -> str:
    """How warm stands to cool by strength of colour, and by area where that says the contrary."""
    if word not in ("more warm", "more cool"):
        return _TEMPERATURES[word]
    seen = chroma_of(lab) >= COLOURED
    warm = is_warm(hue_of(lab[..., 1], lab[..., 2]))
    warm_area, cool_area = float((warm & seen).mean()), float((~warm & seen).mean())
    if max(warm_area, cool_area) <= ABOUT_AS_MUCH * min(warm_area, cool_area):
        return _TEMPERATURES["in balance"]
    if word == "more warm" and cool_area > warm_area:
        return "cool over more of it, and warm the stronger"
    if word == "more cool" and warm_area > cool_area:
        return "warm over more of it, and cool the stronger"
    return _TEMPERATURES[word]


def _is_cool(family: Family) -> bool:
    """Whether a family is cool, or grey and not dark, beside a warm picture."""
    lightness, chroma, _ = family.lch
    return lightness >= DARK_GREY if chroma < COLOURED else _warmth(family) < 0


def _warmth(family: Family) -> float:
    """How warm a family is: b* and half of a*; red is warm, and less so than orange."""
    return family.lab[2] + family.lab[1] / 2


_TEMPERATURES = {
    "warm": "most of it warm",
    "more warm": "more of it warm than cool",
    "in balance": "warm and cool in balance",
    "more cool": "more of it cool than warm",
    "cool": "most of it cool",
}
