"""How far do one or two places stand out beside all else?"""

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from critique.measures.pulls import FAINT
from critique.measures.salience import Float, blur
from critique.perception.channels import over_channels
from critique.perception.ranks import middle_colour, quantiles_of

# Two places that compete stand out alike, lie well apart and inside, and nothing else comes near them. What stands out
# is told by contrast times rarity of colour: of 96 things put into pictures by code it names 90.
ALIKE = 0.7  # of the stronger one's
RIVAL_APART = 0.3  # of the long edge
OWN = 0.16  # of the long edge: what lies nearer to a place is its own
RIVALS_INSIDE = 0.08  # of the width and height: what lies nearer to an edge pulls over it
PLAIN_COUNTS = 1.15  # of its strength beside what is rare: the plain contrast must outdo all else too
RIVALS = 1.38  # of the strongest elsewhere; one of 76 landscapes has more, 1.39
RIVAL_REACH, NOT_ITS_OWN = 0.06, 0.14  # of the long edge: where a place's plain contrast is looked for, and all else's
# Two of one colour (in ΔE*ab) are a pair, though rarity parts them: they may differ more in contrast, of the stronger
# one's, and count a little less. Of 112 untouched pictures the highest such pair has 1.4 times the third.
PAIR, PAIR_ALIKE, PAIR_COUNTS = 12.0, 0.65, 0.955
# Two of whatever colour and strength, a white sign and a dark rock, leave the eye no choice but those two where nothing
# else has two thirds of the weaker's contrast: they count less still. Of 171 untouched pictures the third has at least
# 1 / 1.37 of the second's.
TWO_ALIKE, TWO_COUNT = 0.5, 0.86
# Two lights as light as each other (in L*), each lighter than nearly all of a ring about it, compete sooner: they count
# so much more. Of 206 untouched pictures the highest such pair has 1.2 times the third, of seven that strangers put
# there all 1.25 and more. Of those as high the lower light is 3.6 lighter than its ring at most, of theirs 5.9 at
# least; a sun and a lit statue lie 17 apart, theirs 8 at most.
LIGHTS_COUNT, LIGHTER, AS_LIGHT = 1.13, 4.8, 12.0
LIGHT_MELTED, LIGHT_RING, ALMOST_ALL = 0.012, (0.06, 0.12), 0.9  # of the long edge; of the ring
PAIR_REACH = 0.02  # of the long edge: what is taken for the colour of a place
ODD_APART = 0.2  # of the long edge: how far from the odd one all else is looked at
ODD_INSIDE = 0.03  # of the width and height: what lies nearer to an edge is cut by it
LARGE, LARGE_SURROUND = 0.03, 2.5  # of the long edge, the spread of a large thing; and times it what surrounds it
LARGE_APART = 0.22  # of the long edge: how far from its middle all else is looked at
ANSWERS, ANSWERS_FROM = 15.0, 0.2  # ΔE*ab: the same colour to the eye; of the long edge: no more the thing itself
# Of the colour of what stands out in the middle, that lies elsewhere and answers it: of 28 put there by strangers
# none has any; a castle whose lights run down to its village and a pier on a beach have six tenths.
ANSWERED = 0.25


@dataclass(frozen=True, slots=True)
class Standing:
    """A place (0–1 from the left and the top) and how much it stands out beside all else: 1 is as much."""

    x: float
    y: float
    strength: float


def dominance(contrast: Float, x: float, y: float, *, reach: float, apart: float) -> float:
    """The strongest contrast within ``reach`` of a place beside the strongest farther away than ``apart``."""
    here = contrast[_away(contrast, x, y) <= reach]
    return float(here.max()) / _most_beyond(contrast, x, y, apart)


def odd_one(rare: Float) -> Standing:
    """What stands out most by contrast in a colour that the picture hardly has; ``rare`` (height, width) is of both."""
    x, y, strongest = _highest(_inside(rare, ODD_INSIDE))
    return Standing(x, y, strongest / _most_beyond(rare, x, y, ODD_APART))


def large_one(lab: Float) -> Standing:
    """What stands out most of things as large as a house near by or a setting sun; ``lab`` is (height, width, 3).

    A focal place settles on the border of such a thing, so that its middle is found by its whole size alone.
    """
    long_edge = max(lab.shape[:2])
    apart = blur(lab, LARGE * long_edge) - blur(lab, LARGE_SURROUND * LARGE * long_edge)
    contrast = np.asarray(np.sqrt(over_channels(np.square(apart))) / 10, dtype=np.float32)
    x, y, strongest = _highest(contrast)
    return Standing(x, y, strongest / _most_beyond(contrast, x, y, LARGE_APART))


def answered(lab: Float, x: float, y: float) -> float:
    """How much (0–1) of all in the colour of a place lies far from it: what stands alone has no answer elsewhere."""
    away = _away(lab[..., 0], x, y)
    own = middle_colour(lab[away <= PAIR_REACH])
    alike = np.sqrt(over_channels(np.square(lab - own))) <= ANSWERS
    return float((alike & (away > ANSWERS_FROM)).sum() / max(int(alike.sum()), 1))


def rivals_of(rare: Float, plain: Float, lab: Float) -> tuple[Standing, Standing]:
    """The two places that stand out most, the stronger first; both have the strength of the weaker beside all else.

    That is 0 where they aren't alike, or not well apart. ``plain`` is the contrast alone, ``rare`` that times rarity,
    ``lab`` (height, width, 3) what they were measured of: two of one colour are a pair by their contrast alone, and two
    lights count for more.
    """
    rivals = max(_rare_rivals(rare, plain), _pair(plain, lab), key=lambda rivals: rivals[0].strength)
    if rivals[0].strength <= 0 or not _both_are_lights(lab[..., 0], rivals):
        return rivals
    one, other = (replace(place, strength=LIGHTS_COUNT * place.strength) for place in rivals)
    return one, other


def _both_are_lights(light: Float, places: tuple[Standing, Standing]) -> bool:
    """Whether both are lighter than nearly all of a ring about them, and about as light, on a map of L*."""
    melted = blur(light, LIGHT_MELTED * max(light.shape))
    peaks = []
    for place in places:
        away = _away(melted, place.x, place.y)
        peaks.append(float(melted[away <= LIGHT_RING[0]].max()))
        ring = melted[(away > LIGHT_RING[0]) & (away <= LIGHT_RING[1])]
        if peaks[-1] < quantiles_of(ring, (ALMOST_ALL,))[0] + LIGHTER:
            return False
    return abs(peaks[0] - peaks[1]) <= AS_LIGHT


def _pair(plain: Float, lab: Float) -> tuple[Standing, Standing]:
    """The two places of the most contrast, where nothing else comes near them; less near if their colours differ."""
    one, other, third = _highest_three(plain)
    colours = [middle_colour(lab[_away(plain, place.x, place.y) <= PAIR_REACH]) for place in (one, other)]
    alike = other.strength >= PAIR_ALIKE * one.strength and float(np.linalg.norm(colours[0] - colours[1])) <= PAIR
    counts = PAIR_COUNTS if alike else TWO_COUNT if other.strength >= TWO_ALIKE * one.strength else 0.0
    well_apart = _apart(one, other, plain.shape) >= RIVAL_APART
    strength = counts * other.strength / max(third.strength, FAINT) if well_apart else 0.0
    return Standing(one.x, one.y, strength), Standing(other.x, other.y, strength)


def _highest_three(field: Float) -> list[Standing]:
    """The three highest places well inside, each with its own surround left out of the next ones' search."""
    left = _inside(field, RIVALS_INSIDE)
    found = []
    for _ in range(3):
        x, y, strength = _highest(left)
        found.append(Standing(x, y, strength))
        left = np.where(_away(field, x, y) > OWN, left, np.float32(0))
    return found


def _apart(one: Standing, other: Standing, shape: tuple[int, ...]) -> float:
    """How far two places lie from each other, in parts of the long edge."""
    height, width = shape
    return float(np.hypot((one.x - other.x) * width, (one.y - other.y) * height)) / max(height, width)


def _rare_rivals(rare: Float, plain: Float) -> tuple[Standing, Standing]:
    """The two places that stand out most by contrast in a rare colour, where the plain contrast says so too."""
    one, other, third = _highest_three(rare)
    if _apart(one, other, rare.shape) < RIVAL_APART or other.strength < ALIKE * one.strength:
        return Standing(one.x, one.y, 0.0), Standing(other.x, other.y, 0.0)
    away = [_away(plain, place.x, place.y) for place in (one, other)]
    weaker = min(float(plain[off <= RIVAL_REACH].max()) for off in away)
    elsewhere = float(plain[np.minimum(*away) > NOT_ITS_OWN].max(initial=0.0))
    strength = min(other.strength / max(third.strength, FAINT), PLAIN_COUNTS * weaker / max(elsewhere, FAINT))
    return Standing(one.x, one.y, strength), Standing(other.x, other.y, strength)


def _inside(field: Float, off: float) -> Float:
    """The field, 0 nearer to an edge than ``off`` of the width or height."""
    height, width = field.shape
    down, across = round(off * height), round(off * width)
    kept = np.zeros_like(field)
    kept[down : height - down, across : width - across] = field[down : height - down, across : width - across]
    return kept


def _highest(field: Float) -> tuple[float, float, float]:
    height, width = field.shape
    row, column = (int(number) for number in np.unravel_index(int(field.argmax()), field.shape))
    return (column + 0.5) / width, (row + 0.5) / height, float(field[row, column])


def _most_beyond(field: Float, x: float, y: float, apart: float) -> float:
    """The most of a field farther than ``apart`` from a place; never so little that nothing would stand beside it."""
    return max(float(field[_away(field, x, y) > apart].max(initial=0.0)), FAINT)


def _away(contrast: Float, x: float, y: float) -> NDArray[np.float64]:
    """How far each pixel lies from a place, in parts of the long edge."""
    height, width = contrast.shape
    down, across = np.arange(height)[:, None] + 0.5, np.arange(width) + 0.5
    return np.asarray(np.sqrt(np.square(across - x * width) + np.square(down - y * height)) / max(height, width))
