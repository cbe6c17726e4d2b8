"""Is a lean of the whole picture worth a word, and which word?"""

from typing import Literal

from critique.measures.cast import Cast

Fault = Literal["watch", "rework"]

# Landscapes lean to warm earth: of 76 the largest lean has C* 31, the next 24. What leans elsewhere is seldom.
EARTH = (48.0, 112.0)  # degrees of CIELAB hue between which a lean is what landscapes have
WARM_WATCH = 25.0  # C* of the mean of a warm lean
ODD_WATCH, ODD_REWORK = 12.5, 18.0  # C* of the mean of a lean to green, blue, violet or pink
FREE = 0.03  # of the picture without the lean: sails or earth that stay grey under a blue sky show it to be the subject
ONE_SIDED = 0.7  # of all chroma: a lean, not a large cool passage among warm ones
# C* toward the lean that all of a picture but a twentieth has. Of 76 paintings and 8 demos, brown ones and sunsets too,
# none has more than 5.5: a grey, a cloud or a far hill is free in each. Pictures toned in one hue have 8.7 and more.
ALL_OVER = 7.0


def leans_all_over(cast: Cast) -> bool:
    """Whether nothing in it, sky and greys included, is free of its lean: a glow leaves some shadow cool."""
    return cast.all_but_few >= ALL_OVER


def cast_fault(cast: Cast) -> Fault | None:
    """A lean that painters would ask about; 'rework' never for what a reference shows to be the photograph's."""
    if cast.one_sided < ONE_SIDED:
        return None
    everywhere: Fault | None = "watch" if leans_all_over(cast) else None
    if EARTH[0] <= cast.mean.hue <= EARTH[1]:
        return "watch" if cast.size >= WARM_WATCH else everywhere
    if cast.size < ODD_WATCH or cast.free_share >= FREE:
        return everywhere
    return "rework" if cast.size >= ODD_REWORK and cast.owner != "photograph" else "watch"
