"""Where a repaint changed, in sentences: one for a place, whatever changed there."""

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from critique.advice.colour_words import word_of_lab
from critique.pair.change_maps import ChangedPlace, ChangeMaps
from critique.pair.changed_things import ChangedThing
from critique.perception.hue import LEAST_CHROMA
from critique.picture.places import EVERYWHERE, place_of, spot
from critique.words.figures import percent
from critique.words.hues import hue_word
from critique.words.lists import listed

WARM = np.radians(65.0)  # hue of orange light, the warm end for painters; common practice, no source
WARMER = 6.0  # of a* and b* along it, over a place, that reads as warmer or cooler where one of the two is a grey
TURNED = 10.0  # degrees nearer to it, or farther off, that read so where both are colours
SAME_PLACE = 0.6  # of the smaller of two places that lies in the other: then they are one place
LIKE_SIZE = 0.4  # of the larger that the smaller must have for that
ALIKE_IN_SIZE, ALIKE_IN_COLOUR = 1.8, 14.0  # times the area, and of L*a*b*: one thing that was moved
A_LITTLE, MUCH = 9.0, 20.0  # C*: a photograph moves 6; from the second a colour changes its name twice over
MOST_OF_A_SKY = 0.25  # of the picture: a place as large, from side to side, is the sky as a whole
ORDER = ("value", "hue", "chroma")  # in which changes of one place are told

Group = tuple[ChangedPlace, ...]


def gathered(places: Sequence[ChangedPlace]) -> tuple[Group, ...]:
    """The places, those that lie on each other together: each group the largest first, groups by size."""
    groups: list[list[ChangedPlace]] = []
    for place in sorted(places, key=lambda one: -one.share):
        home = next((group for group in groups if _one_place(group, place)), None)
        if home is None:
            groups.append([place])
        else:
            home.append(place)
    return tuple(tuple(group) for group in groups)


def changes_in_words(maps: ChangeMaps) -> tuple[str, ...]:
    """What came and went, then a sentence for each other place, such as "In the lower right (8 % of the picture): darker by 1.9 values."."""
    places = _sky_in_one(gathered(beside_things(maps)))
    return (*things_in_words(maps.things), *(group_in_words(group) for group in places))


def beside_things(maps: ChangeMaps) -> tuple[ChangedPlace, ...]:
    """The places that are more than something that came or went there."""
    things = [thing.mask for thing in maps.things]
    return tuple(
        place
        for place in maps.places
        if not any(float((place.mask & thing).mean()) >= SAME_PLACE * place.share for thing in things)
    )


def most_changed(maps: ChangeMaps, least: float) -> Group | None:
    """The place whose colour moved farthest over the most of the picture; None where none takes ``least`` of it."""
    wide = [group for group in _sky_in_one(gathered(beside_things(maps))) if group[0].share >= least]
    return max(wide, key=lambda group: group[0].share * _far(group[0]), default=None)


def group_in_words(group: Group) -> str:
    """One place with all that changed there: "Along the bottom (34 % of the picture): from green to olive, quieter."."""
    largest = group[0]
    place = place_of(largest.mask)
    where = place.words
    part = f"in the {largest.part}, " if largest.part and where != EVERYWHERE else ""
    if part and place.column == "wide" and largest.share >= MOST_OF_A_SKY:
        part, where = "", f"in the {largest.part}"  # a sky lies above; how far down it reaches is seen
    words = [_word(lab, largest.part) for lab in (largest.was, largest.now)]
    renamed = words[0] != words[1]
    told = [f"from {words[0]} to {words[1]}"] if renamed else []
    ways = [
        _what(one)
        for one in sorted(group, key=lambda one: ORDER.index(one.kind))
        if not (renamed and one.kind == "hue")  # the turn is told by the colours' names
    ]
    ways += [_warmer(largest)] if _warmer(largest) else []
    told += [listed(ways)] if ways else []
    where = f"{part}{where}"
    return f"{where[0].upper()}{where[1:]} ({percent(largest.share)} of the picture): {', '.join(told)}."


def _word(lab: tuple[float, float, float], part: str) -> str:
    """What a painter calls the colour of a place: in the sky, that of a light."""
    return word_of_lab(np.asarray(lab), in_sky=1.0 if part == "sky" else 0.0)


def _sky_in_one(groups: Sequence[Group]) -> tuple[Group, ...]:
    """The groups, with those of the sky that went one way, to warm or to cool, as one: to the eye it is one sky."""
    told: list[Group] = []
    for group in groups:
        like = next((at for at, other in enumerate(told) if _one_way(other[0], group[0])), None)
        if like is None:
            told.append(group)
        else:
            told[like] = (_both(told[like][0], group[0]),)
    return tuple(told)


def _one_way(one: ChangedPlace, other: ChangedPlace) -> bool:
    return one.part == other.part == "sky" and _warmer(one) == _warmer(other) != ""


def _both(one: ChangedPlace, other: ChangedPlace) -> ChangedPlace:
    """Two places as one, that of a turned hue: what it is called goes by the larger."""
    larger = one if one.share >= other.share else other
    mask = one.mask | other.mask
    return replace(larger, kind="hue", mask=mask, share=float(mask.mean()))


def things_in_words(things: Sequence[ChangedThing]) -> tuple[str, ...]:
    """A sentence for each; one for a thing that was taken from one place to another."""
    told, left = [], list(things)
    for gone in [thing for thing in things if not thing.came]:
        here = next((thing for thing in left if thing.came and _same(gone, thing)), None)
        if here is not None:
            told.append(_moved_in_words(gone, here))
            left = [thing for thing in left if thing is not gone and thing is not here]
    return (*told, *(thing_in_words(thing) for thing in left))


def _same(gone: ChangedThing, came: ChangedThing) -> bool:
    size = came.share / gone.share
    return 1 / ALIKE_IN_SIZE <= size <= ALIKE_IN_SIZE and _apart(gone.lab, came.lab) <= ALIKE_IN_COLOUR


def _moved_in_words(gone: ChangedThing, came: ChangedThing) -> str:
    """Such as "The red shape has moved from low on the left to low on the right."."""
    was, now = (spot(thing.x, thing.y).words for thing in (gone, came))
    if was != now:
        return f"The {_shape(came)} has moved: it was {was} and is {now} now."
    return f"The {_shape(came)} {now} has moved a little."


def _shape(thing: ChangedThing) -> str:
    """Such as "red shape"; of one that is of several colours no colour is told."""
    return "shape of several colours" if thing.mixed else f"{word_of_lab(np.asarray(thing.lab))} shape"


def _apart(one: tuple[float, float, float], other: tuple[float, float, float]) -> float:
    return float(np.linalg.norm(np.subtract(one, other)))


def thing_in_words(thing: ChangedThing) -> str:
    """Such as "A red shape has come in at the bottom, near the middle (1.2 % of the picture)."."""
    shape, where = _shape(thing), f"{place_of(thing.mask)} ({percent(thing.share)} of the picture)"
    if thing.faint:
        stands = "stands out more" if thing.came else "no longer stands out"
        return f"The {shape} {where} {stands}."
    if thing.came:
        return f"{'An' if shape[0] in 'aeiou' else 'A'} {shape} has come in {where}."
    return f"The {shape} {where} is gone."


def _one_place(group: Sequence[ChangedPlace], place: ChangedPlace) -> bool:
    if any(place.kind == one.kind for one in group):
        return False
    largest = group[0]
    both = float((largest.mask & place.mask).mean())
    return both >= SAME_PLACE * place.share and place.share >= LIKE_SIZE * largest.share


def _far(place: ChangedPlace) -> float:
    return _apart(place.now, place.was)


def _what(place: ChangedPlace) -> str:
    """Such as "darker by 1.9 values"."""
    size = abs(place.size)
    if place.kind == "value":
        return f"{'lighter' if place.size > 0 else 'darker'} by {size:.1f} values"
    if place.kind == "chroma":
        way = "stronger" if place.size > 0 else "quieter"
        return f"a little {way}" if size < A_LITTLE else f"much {way}" if size >= MUCH else way
    return f"nearer to {hue_word(place.hue)}"


def _warmer(place: ChangedPlace) -> str:
    """Whether it reads as warmer or as cooler; empty where as neither.

    Of two colours by their hues alone: a colour made weaker or stronger is no cooler for it.
    """
    before, after = (np.asarray(lab[1:]) for lab in (place.was, place.now))
    if min(np.hypot(*before), np.hypot(*after)) >= LEAST_CHROMA:
        off = [abs((np.arctan2(b, a) - WARM + np.pi) % (2 * np.pi) - np.pi) for a, b in (before, after)]
        nearer = float(np.degrees(off[0] - off[1]))
        return ("warmer" if nearer > 0 else "cooler") if abs(nearer) >= TURNED else ""
    along = float((after - before) @ (np.cos(WARM), np.sin(WARM)))
    return ("warmer" if along > 0 else "cooler") if abs(along) >= WARMER else ""
