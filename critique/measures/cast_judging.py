"""Is a lean of the whole picture worth a word, and which word?"""

from typing import Literal

from critique.measures.cast import Cast
from critique.perception.hue import turn_of_one

Fault = Literal["watch", "rework"]

# Hues between which a lean is what landscapes have: of 76 none leans elsewhere by more than C* 14.
EARTH = (48.0, 112.0)  # degrees of CIELAB
# Degrees: leans within so much of it are told as green. One at 95° is a yellow varnish to anyone; meadows begin at 99°.
GREEN_HUE, NEAR_GREEN = 150.0, 52.0
ODD_REWORK = 18.0  # C* of the mean of a lean to green, blue, violet or pink
# C* off the neutral. One light over all leaves nothing grey, and no hue of the other side: of 68 pictures with a cast
# put in 62 have more; of 146 paintings, and photographs passed through a brush, three whose lights lean as they do.
ALL_OVER = 1.25
TONED = 6.0  # C* off the neutral from which nobody passes it over: of untouched pictures the most is 4.5
# Degrees between the hue of the whole and that of its lights: of 45 pictures that a warm light put in made lean so far,
# 43 keep within it, for it tints the lights with the rest, and of 68 with a light of any colour put in all.
TINTED_ALIKE = 28.0
# The mean's C* beside the mean of all C*: of 68 pictures with a cast put in the least told has 0.73. A lean to warm
# earth is what most landscapes have; there a cast is all of one hue, and the least told has 0.95.
ONE_SIDE, OF_ONE_HUE = 0.65, 0.9
# Of the C* of the whole, that of its lights in hues of fire: with so much more a sun is painted that tints nothing.
A_SUN, FIRE = 2.0, (20.0, 100.0)
SEEN = 10.0  # C* of the mean: what leans less is a grey day, all of it a little off the grey


def leans_all_over(cast: Cast) -> bool:
    """Whether nothing in it, sky and greys included, is free of its lean: whites are tinted, its opposite grey."""
    least = ONE_SIDE if is_odd(cast) else OF_ONE_HUE
    all_over = cast.off_neutral >= ALL_OVER and cast.size >= SEEN and cast.one_sided >= least
    return all_over and not _is_a_sun(cast)


def _is_a_sun(cast: Cast) -> bool:
    """Whether its lights glow far more than the whole leans: a sunset's own."""
    return FIRE[0] <= cast.lightest.hue <= FIRE[1] and cast.lightest.chroma >= A_SUN * cast.size


def leans_to_green(cast: Cast) -> bool:
    """Whether the mean of it all is a green, which is told by its own name."""
    return abs(turn_of_one(cast.mean.hue, GREEN_HUE)) <= NEAR_GREEN


def is_odd(cast: Cast) -> bool:
    """Whether the mean of it all has another hue than the warm earth that landscapes lean to."""
    return not EARTH[0] <= cast.mean.hue <= EARTH[1]


def is_toned(cast: Cast) -> bool:
    """Whether it leans so far that it seems all of one hue, as a print toned in it."""
    return leans_all_over(cast) and cast.off_neutral >= TONED


def cast_fault(cast: Cast) -> Fault | None:
    """A lean that painters would ask about; 'rework' never for what a reference shows to be the photograph's."""
    if not leans_all_over(cast) or (cast.reference is None and _lights_lean_elsewhere(cast)):
        return None
    return "rework" if cast.size >= ODD_REWORK and is_odd(cast) and cast.owner != "photograph" else "watch"


def _lights_lean_elsewhere(cast: Cast) -> bool:
    """Whether the lights have another hue than the whole: a tinted light would have tinted them in its own."""
    return abs(turn_of_one(cast.mean.hue, cast.lightest.hue)) > TINTED_ALIKE
