"""Whether anything answers the green, where there is much of it."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from critique.advice.colour_words import word_of_lab
from critique.advice.finding import Finding
from critique.advice.green_area import AREA_WATCH
from critique.advice.green_share import little_green_left, of_a_yellow_field, share_of_hues
from critique.advice.green_strength import BEYOND_WATCH, CHROMA_WATCH
from critique.advice.greens_in_other_light import green_area_in_other_light
from critique.advice.judging import Case
from critique.advice.kind import Kind
from critique.measures.families import assign_families
from critique.measures.greens import Greens
from critique.measures.land_greens import MAP_LONG_EDGE, land_greens_map, sure_sky
from critique.measures.measure import Measures
from critique.measures.smoothing import FINEST_COLOUR, without_finest
from critique.perception.channels import chroma_of, colours_in
from critique.perception.cielab import lch_of
from critique.perception.hue import RELIEF, YELLOW_GREEN, HueBand, hue_of
from critique.perception.ranks import middle_colour
from critique.picture.picture import lab_at
from critique.picture.places import place_of
from critique.words.aloud import sentence
from critique.words.figures import percent
from critique.words.lists import listed
from critique.words.painters import heard_in

READS_GREEN = 0.09  # of the picture that reads as green, or else there is none to relieve
MUCH_GREEN = 0.2  # of the picture: from here on the green wants an answer
# Median C* of much green, below which it is quiet enough to stand alone: of two hills and woods in greens of 18 and 21
# readers said that greys, crags and a path answer them already.
WANTS_RELIEF = 26.0
FIELD = 0.35  # of the picture: less green than that has neighbours enough, however strong
RELIEF_WATCH = 0.015  # of the chroma; heavy or strong greens with less than this have nothing to rest on; our choice
# Plainly red or violet: a brown answers green, but nobody sees it; nor is a blue, which begins the band, a red.
OWN_RED = HueBand("own red", 300.0, 52.0, 20.0)
A_LITTLE_RELIEF = 0.08  # of the chroma: less is a touch
A_TOUCH = 0.03  # of the chroma: of four told less readers found three hardly seen; both that were told a little more they signed
EARTHS, EARTH_SEEN, EARTHS_ANSWER = (0.0, 80.0), 10.0, 0.015  # degrees of hue, to brown ochre; C*; of the picture
WELL_RELIEVED = 0.1  # of the picture in reds and browns: so much is a second colour, and worth a word of praise
WARM_PASSAGE = 0.05  # of the picture: so much heather, bracken or earth is more than a little to anyone
REPEATED = 0.08  # of a side, spread of the reds from their middle: more than one thing
ACCENT_RED, ACCENT_AREA = HueBand("red accent", 300.0, 50.0, 26.0), 0.002  # of the picture, from which readers saw them
OWN_AREA = 0.0005  # of the picture from which it is its own to repeat
MOST_RELIEF = 0.5  # of the red and violet chroma: a family with less of it isn't "most of it"
NEUTRAL = 8.0  # C*: a family below it is a grey
# Beside much green the eye sees a grey rock as violet and a dull path as gold. So whatever in the land isn't green (a*),
# neither near black nor a light, rests it: of six pictures marked by readers, three they called bare have up to 0.7 % of
# it, and three with a path or crags 1.1 % and more.
NOT_GREEN, DARKEST, LIGHTEST, RESTED = -2.0, 25.0, 88.0, 0.01  # a*; L*; of the picture
BLUES_HEARD = frozenset({"blue", "blue-grey"})
BLUES = (175.0, 285.0)  # degrees: a touch of blue lies too near to green to rest the eye from it
# Degrees, C*, and of the picture: hills so blue over so much of it are its second colour; to a reader of one told as bare
# (0.23) they rested the eye.
BLUE_HILLS, BLUE_SEEN, SECOND_COLOUR = (200.0, 330.0), 12.0, 0.2
# Beside a loud green the eye sees a path as tan, and it may be no brown by its colour: it lies off the middle green, to yellow,
# and is weaker. C* and degrees; of the picture: of four bare pictures one with a path has 1.2 % of it, the others up to 0.1 %.
OFF_THE_GREEN, TO_YELLOW, A_PASSAGE = 20.0, 8.0, 0.01
WARM_NOTE, NOTE_SEEN = HueBand("warm note", 300.0, 70.0, 15.0), 0.001  # a roof, a coat; of the picture
GOLD, GOLD_SEEN, GOLD_RESTS = 88.0, 20.0, 0.005  # degrees of hue; C*; of the picture: a path in its gold is seen sooner
FAR_YELLOWER = 30.0  # degrees from the mean green: beside cool greens a path of hue 96 was ochre to its reader
YELLOW = 112.0  # degrees of hue, where it is no green to anyone: sunflowers rested the eye of a reader


def relief(case: Case, kind: Kind) -> Finding | None:
    """Whether anything answers the green, where there is much of it."""
    greens = case.measures.greens
    if greens.area_share < MUCH_GREEN or of_a_yellow_field(case):
        return None
    bare = kind.by_limits(greens.relief_share) != "holds" and not _red_accents(case)
    if bare and (not _heavy(greens) or _earths(case) >= EARTHS_ANSWER or _rested(case)):
        return None  # pinks, earths and greys may answer it well enough: what needs no answer needs no word
    strong = greens.median_chroma > CHROMA_WATCH or greens.beyond_leaf_share > BEYOND_WATCH
    if bare and not strong and green_area_in_other_light(case.picture, case.measures.parts) <= AREA_WATCH:
        return None  # so much green is perhaps the photograph's: nothing has to answer that
    by_earths = ""  # what the sentence stands on where that isn't the figure: the two would seem at odds
    if bare:
        text = _little_answers(case)
    else:
        if case.measures.reads_as_green.share < READS_GREEN:
            return None  # an evening sky has the colour and wants no relief
        answer = _warmest(case)
        if answer is not None and answer.heard & BLUES_HEARD:
            return None  # a blue just beyond violet's border is no red to anyone, nor a violet-blue storm a violet
        if greens.relief_share < A_LITTLE_RELIEF and (earths := _earths(case)) >= WARM_PASSAGE:
            by_earths = f"; reds and browns, however yellow, over {percent(earths)} of the picture"
            text = f"reds and browns over {percent(earths)} of the picture relieve the green"
        elif greens.relief_share < A_TOUCH and not _red_accents(case):
            return None  # a touch that is hardly seen wants no word
        else:
            text = _relieved_by(answer, greens.relief_share)
    return kind.finding(
        level="watch" if bare else "holds",
        text=sentence(text),
        figure=greens.relief_share,
        figure_text=f"{percent(greens.relief_share)} of the chroma from violet-blue to red{by_earths}",
        norm=f"{case.standing('greens.relief_share')}; judged where green covers a fifth or more",
        percentile=case.percentile("greens.relief_share"),
        stands_on="greens.relief_share",
    )


def _relieved_by(answer: "_Warmest | None", share: float) -> str:
    """What reds relieve the green, ``share`` of all chroma, and where most of them lies."""
    where = f", most of it {answer.words}" if answer is not None and answer.most else ""
    if share < A_LITTLE_RELIEF:
        return f"a little red or violet, {percent(share)} of the colour, is there to relieve the green{where}"
    kinds = "reds and oranges" if answer is not None and "orange" in answer.heard else "reds and violets"
    return f"{kinds} hold {percent(share)} of the colour and relieve the green{where}"


def _little_answers(case: Case) -> str:
    """What there is to grow, or to add, where the green has nothing to rest on."""
    if own := _own_relief(case):
        return (
            f"little red or violet answers the green; {own} is most of what there is. Let it grow a little, or repeat it "
            "once where the eye settles"
        )
    if little := _little_rest(case):
        return (
            f"little rests the eye from the green: {listed(little)}. A touch of red earth or violet in the shadows would "
            "do more"
        )
    return (
        "little answers the green: no brown, red or violet is large enough to rest the eye from it. A touch of red earth "
        "or violet in the shadows would do"
    )


def is_well_relieved(case: Case) -> bool:
    """Whether much green has reds and browns beside it, enough for anybody to see."""
    much = min(case.measures.greens.area_share, case.measures.reads_as_green.share) >= MUCH_GREEN
    return much and not of_a_yellow_field(case) and _earths(case) >= WELL_RELIEVED


def relief_gone(measures: Measures) -> str:
    """Why nothing need answer the green any longer."""
    greens = measures.greens
    if greens.relief_share >= RELIEF_WATCH:
        return ""
    if greens.area_share < MUCH_GREEN:
        return little_green_left(greens)
    return "" if _heavy(greens) else "its greens are quiet enough to stand alone"


def _heavy(greens: Greens) -> bool:
    """Whether greens are so much or so strong that they want an answer."""
    return (
        (greens.area_share > AREA_WATCH and greens.median_chroma >= WANTS_RELIEF)
        or greens.median_chroma > CHROMA_WATCH
        or (greens.beyond_leaf_share > BEYOND_WATCH and greens.area_share > FIELD)
    )


def _earths(case: Case) -> float:
    """How much of the picture is earth, autumn or rust: colours that answer green, though they aren't red."""
    return share_of_hues(case.picture, EARTHS, EARTH_SEEN)


def _rested(case: Case) -> bool:
    """Whether some of the land isn't green: brown, golden, violet or grey, however quiet, or much of it blue."""
    lab = without_finest(lab_at(case.picture, MAP_LONG_EDGE), FINEST_COLOUR)
    land = ~sure_sky(case.measures.parts, lab.shape)
    hue, chroma = hue_of(lab[..., 1], lab[..., 2]), chroma_of(lab)
    blue = (hue >= BLUES[0]) & (hue <= BLUES[1])
    middle = (lab[..., 0] >= DARKEST) & (lab[..., 0] <= LIGHTEST)
    quiet = land & middle & ~blue & (lab[..., 1] >= NOT_GREEN)
    gold = (hue <= max(GOLD, case.measures.greens.mean_hue - FAR_YELLOWER)) | (
        (hue <= YELLOW) & ~YELLOW_GREEN.contains(lab)
    )
    golden = land & gold & (chroma >= GOLD_SEEN)
    hills = land & (hue >= BLUE_HILLS[0]) & (hue <= BLUE_HILLS[1]) & (chroma >= BLUE_SEEN)
    rests = ((quiet, RESTED), (golden, GOLD_RESTS), (hills, SECOND_COLOUR))
    return any(float(found.mean()) >= least for found, least in rests)


def _little_rest(case: Case) -> list[str]:
    """What small things rest the eye from much green, each in words."""
    lab = without_finest(lab_at(case.picture, MAP_LONG_EDGE), FINEST_COLOUR)
    warm = WARM_NOTE.contains(lab) & (lab[..., 0] >= DARKEST)
    rest = ["a duller, yellower passage"] if _passage(case, lab) >= A_PASSAGE else []
    if float(warm.mean()) >= NOTE_SEEN:
        rest.append(f"a small warm note {place_of(warm)}")
    return rest


def _passage(case: Case, lab: NDArray[np.float32]) -> float:
    """How much of the picture (height, width, 3) is land that stands clearly off the middle green: yellower and duller."""
    a, b = middle_colour(lab[land_greens_map(case.picture, case.measures.parts)][:, 1:])
    land = ~sure_sky(case.measures.parts, lab.shape) & (lab[..., 0] >= DARKEST) & (lab[..., 0] <= LIGHTEST)
    off = np.hypot(lab[..., 1] - a, lab[..., 2] - b) > OFF_THE_GREEN
    yellower = hue_of(lab[..., 1], lab[..., 2]) < hue_of(a, b) - TO_YELLOW
    return float((land & off & yellower & (chroma_of(lab) < np.hypot(a, b))).mean())


def _red_accents(case: Case) -> bool:
    """Whether small clear reds in more than one place answer it, as ribbons and coats do, however little they cover."""
    red = ACCENT_RED.contains(lab_at(case.picture, MAP_LONG_EDGE))
    if float(red.mean()) < ACCENT_AREA:
        return False
    rows, columns = np.nonzero(red)
    spread = max(float(np.std(rows)) / red.shape[0], float(np.std(columns)) / red.shape[1])
    return bool(spread >= REPEATED)


def _own_relief(case: Case) -> str:
    """The red or violet that the picture has, however little, and where; empty when it has none to speak of."""
    lab = lab_at(case.picture, MAP_LONG_EDGE)
    own = OWN_RED.contains(lab)
    if own.mean() < OWN_AREA:
        return ""
    return f"the {word_of_lab(middle_colour(colours_in(lab, own)))} {place_of(own)}"


@dataclass(frozen=True, slots=True)
class _Warmest:
    """The family that leans most to red: what it is and where, which colours its name tells, whether it is most relief."""

    words: str
    heard: frozenset[str]
    most: bool


def _warmest(case: Case) -> _Warmest | None:
    """The family that leans most to red; None where none does."""
    families = case.measures.families
    red = [
        index for index, family in enumerate(families) if family.lch[1] >= NEUTRAL and not 60 <= family.lch[2] <= 281
    ]
    if not red:
        return None
    index = max(red, key=lambda number: families[number].lch[1] * families[number].share)
    lab = lab_at(case.picture, MAP_LONG_EDGE)
    own = assign_families(lab, families) == index
    relieving = RELIEF.contains(lab) * chroma_of(lab)
    most = float(relieving[own].sum(dtype=np.float64)) >= MOST_RELIEF * float(relieving.sum(dtype=np.float64))
    # Named by what of it relieves, the strongest most: the eye goes by magenta spikes, not by the brown between them.
    seen = own & (relieving > 0)
    named = np.average(lab[seen], axis=0, weights=relieving[seen] ** 2) if seen.any() else np.array(families[index].lab)
    heard = frozenset(heard_in(*lch_of(named)))
    return _Warmest(f"{word_of_lab(named)} {place_of(own)}", heard, most)
