"""What anybody sees in a picture in which nothing stands out: its light, its two colours, their kinship."""

from collections.abc import Callable, Collection, Sequence
from itertools import combinations

import numpy as np

from critique.advice.colour_run import complements
from critique.advice.colour_words import family_words
from critique.advice.green_answered import is_well_relieved
from critique.advice.judging import Case
from critique.advice.main_colours import main_colours
from critique.advice.praise import OF_COLOUR, OF_GREEN
from critique.advice.seen import FILLED, Mask, Seen, lying
from critique.measures.families import assign_families
from critique.measures.middle_thing import SPOKEN_OF, in_the_very_middle
from critique.perception.hue import turn_of_one
from critique.perception.ranks import median_of
from critique.picture.areas import filled, same_frame
from critique.picture.one_piece import largest_piece
from critique.words.lists import listed
from critique.words.painters import is_a_grey

SKY, OVER, ALL_BELOW = 0.15, 1.5, 0.9  # of the picture; values below the sky's middle, and of the rest that lies so low
A_LIGHT = 7.0  # value: a sky of a middle value is nobody's light; snow below it was, to both readers of one of 6.7
STRONG, LARGE, FAR_APART = 15.0, 0.08, 75.0  # C*; of the picture; degrees of hue between a warm colour and a cool one
WARM, REACH = 50.0, 50.0  # degrees, from red to yellow: an olive beside a blue is no warm colour to anyone
GREEN = (105.0, 180.0)  # degrees: no praise where the greens are criticised
KIN, KIN_SPAN = 0.85, 70.0  # of the coloured picture that lies within so many degrees of hue
COLOURED = 12.0  # C* from which a colour has a hue that the eye sees
# Of the picture, each in a squint; of it in one piece, for one word to say where; values between the two.
A_TONE, ONE_PLACE, WELL_APART = 0.08, 0.6, 4.0
ABOUT = 0.06  # of the long edge: what lies around a thing, past its soft border
BIG, IN_ONE = 0.25, 0.2  # of the picture: the colour that is seen first, and how much of it lies in one piece


def plain_praise(case: Case, open_kinds: Collection[str]) -> str:
    """One modest, true thing to begin with, to follow "What works: "; empty where not even that is sure."""
    seen, against = Seen.of(case), frozenset(open_kinds)
    asked = (find(seen, against) for find, spoken_against in _PLAIN if not spoken_against & against)
    return next((text for text in asked if text), "")


def what_is_there(case: Case, shapes: Sequence[str] = (), *, too_loud: str = "") -> str:
    """What a picture has to build on where nothing of it is sure to work: its big ``shapes`` or its largest, or its colours.

    The colour that is called ``too_loud`` is none of these.
    """
    if shapes:
        form = "big shapes form" if len(shapes) > 1 else "one big shape forms"
        return f"What there is to build on: squint, and {form}, {listed(shapes[:2])}."
    shape = _largest(Seen.of(case))
    if shape:
        return f"What there is to build on: {shape}."
    colours = [name for name, _ in main_colours(case.picture, case.measures)]
    return f"What there is to build on: its {listed([name for name in colours if name != too_loud] or colours)}."


def _one_thing(seen: Seen, against: frozenset[str]) -> str:
    """One thing in the middle that stands out alone."""
    from scipy.ndimage import binary_dilation

    thing = seen.case.measures.middle_thing
    if thing.manner == "coloured" or not in_the_very_middle(thing, stands_out=SPOKEN_OF):
        return ""
    shape = same_frame(thing.mask, seen.value.shape)
    near = binary_dilation(shape, iterations=2)
    around = binary_dilation(near, iterations=max(1, round(ABOUT * seen.long_edge))) & ~near
    if not shape.any() or not around.any():
        return ""
    return f"the {thing.manner} thing in the middle stands clear of the {seen.colour(around)} around it"


def _darks_and_lights(seen: Seen, against: frozenset[str]) -> str:
    """Darks and lights that a squint shows far apart; without their colours where one of these is called too loud."""
    dark, light = seen.darks_and_lights()
    if min(float(dark.mean()), float(light.mean())) < A_TONE:
        return ""
    if median_of(seen.value[light]) - median_of(seen.value[dark]) < WELL_APART:
        return ""
    plain = "loudest_colour" in against
    darks = f"the {'dark' if plain else seen.a_dark(dark)} {lying(dark)}" if _has_a_place(dark) else ""
    lights = f"the {'light' if plain else seen.a_light(light)} {lying(light)}" if _has_a_place(light) else ""
    if darks and lights:
        return f"its darks and its lights lie well apart, {darks} and {lights}" if lying(dark) != lying(light) else ""
    if not darks and not lights:
        return ""
    return f"its darks stand well apart from {lights}" if lights else f"its lights stand well apart from {darks}"


def _has_a_place(tone: Mask) -> bool:
    """Whether one word says where a tone lies: it fills an area, or is one piece."""
    return filled(tone) >= FILLED or bool(largest_piece(tone).sum() >= ONE_PLACE * tone.sum())


def _light_sky(seen: Seen, against: frozenset[str]) -> str:
    """A sky that is lighter than all below it."""
    if seen.sky.mean() < SKY or seen.sky.all():
        return ""
    light = float(np.median(seen.value[seen.sky]))
    if light < A_LIGHT or float((seen.value[~seen.sky] <= light - OVER).mean()) < ALL_BELOW:
        return ""
    sky = seen.light(seen.sky)
    named = "" if is_a_grey(sky) or sky == "pale" else f"{sky} "
    return f"the {named}sky is its light, and nearly all below it lies darker"


def _warm_and_cool(seen: Seen, against: frozenset[str]) -> str:
    """A warm colour and a cool one, each large enough to be seen at once."""
    greens = bool(against & {"green_strength", "green_area", "green_evenness"})
    words = family_words(seen.case.picture, seen.case.measures)
    told = [
        (family.share, family.lch[2], word)
        for family, word in zip(seen.case.measures.families, words, strict=True)
        if family.lch[1] >= STRONG
        and family.share >= LARGE
        and not is_a_grey(word)
        and not (greens and GREEN[0] <= family.lch[2] <= GREEN[1])
    ]
    pairs = [
        (min(one[0], other[0]), one, other)
        for one, other in combinations(told, 2)
        if abs(turn_of_one(one[1], other[1])) >= FAR_APART
        and (abs(turn_of_one(one[1], WARM)) <= REACH) != (abs(turn_of_one(other[1], WARM)) <= REACH)
    ]
    if not pairs:
        return ""
    _, one, other = max(pairs)
    warm, cool = (one, other) if abs(turn_of_one(one[1], WARM)) <= REACH else (other, one)
    return f"a warm colour and a cool one answer each other, the {warm[2]} and the {cool[2]}"


def _complements(seen: Seen, against: frozenset[str]) -> str:
    """Two colours that answer each other as complements."""
    two = complements(seen.case)
    if not two or (against & OF_GREEN and any(GREEN[0] <= hue <= GREEN[1] for _, hue in two)):
        return ""
    return f"{listed([f'the {word}' for word, _ in two])} answer each other as complements"


def _relief(seen: Seen, against: frozenset[str]) -> str:
    """Reds and browns beside much green."""
    return "its reds and browns relieve the green" if is_well_relieved(seen.case) else ""


def _kin(seen: Seen, against: frozenset[str]) -> str:
    """Colours near of kin."""
    families = seen.case.measures.families
    words = family_words(seen.case.picture, seen.case.measures)
    coloured = [
        (family, word)
        for family, word in zip(families, words, strict=True)
        if family.lch[1] >= COLOURED and not is_a_grey(word)
    ]
    total = sum(family.share for family, _ in coloured)
    if len(coloured) < 2 or total < 0.5:
        return ""
    spans = [
        [(f, word) for f, word in coloured if 0 <= turn_of_one(f.lch[2], start.lch[2]) <= KIN_SPAN]
        for start, _ in coloured
    ]
    near = max(spans, key=lambda span: sum(f.share for f, _ in span))
    names = list(dict.fromkeys(word for _, word in sorted(near, key=lambda one: -one[0].share)))
    if sum(f.share for f, _ in near) < KIN * total or len(names) < 2:
        return ""
    return f"its colours are near of kin, {listed(names[:3])}, and hold together"


def _largest(seen: Seen) -> str:
    """The one shape of colour that is seen first."""
    families = seen.case.measures.families
    largest = max(range(len(families)), key=lambda index: families[index].share)
    shape = largest_piece(assign_families(seen.lab, families) == largest)
    if families[largest].share < BIG or shape.sum() < IN_ONE * shape.size:
        return ""
    word = family_words(seen.case.picture, seen.case.measures)[largest]
    return f"one large shape, the {word} {lying(shape)}, is seen at once"


# From the surest to the plainest, each with the findings that speak against it: the first that is there is told.
_PLAIN: tuple[tuple[Callable[[Seen, frozenset[str]], str], frozenset[str]], ...] = (
    (_one_thing, frozenset({"bulls_eye", "value_masses"})),
    (_light_sky, frozenset({"equal_flecks", "bare_sky"})),
    (_warm_and_cool, OF_COLOUR | {"loudest_colour"}),
    (_complements, OF_COLOUR | {"loudest_colour"}),
    (_relief, OF_COLOUR | {"green_relief"}),
    (_kin, OF_COLOUR | OF_GREEN | {"loudest_colour", "green_relief"}),
    (
        _darks_and_lights,
        frozenset({"value_masses", "value_range", "full_contrast", "bare_sky", "closed_darks", "equal_flecks"}),
    ),
)
