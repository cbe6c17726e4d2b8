"""How much of a picture is said to be green, in every sentence the same."""

import numpy as np
from numpy.typing import NDArray

from critique.advice.judging import Case
from critique.advice.norms import SOME_GREEN
from critique.measures.greens import Greens
from critique.measures.land_greens import MAP_LONG_EDGE, SURE_SKY, land_greens_map
from critique.measures.measure import Measures
from critique.perception.channels import chroma_of
from critique.perception.hue import hue_of
from critique.picture.areas import same_frame
from critique.picture.kept import kept
from critique.picture.picture import Picture, lab_at
from critique.words.aloud import about
from critique.words.figures import percent

SEA_GREENS, SEEN_AS_GREEN = (125.0, 200.0), 8.0  # degrees of hue, to blue-green; C*, as for the band
GREYED_GREENS, GREYED = (100.0, 200.0), 5.0  # the same nearer to grey; readers saw a sea of chroma 5 as green
MATTERS = SOME_GREEN  # of the picture: with less green than this its evenness and strength are an accent's
NEXT_TO_NONE = 0.02  # of the picture, as colour and as what reads as green: a bright strip of meadow is seen
ALMOST_NONE = 0.05  # of the picture, as colour and as what reads as green: both, or it isn't said
A_LITTLE = 0.15  # of the picture that reads as green: so little, in browns and greys, is no green to anyone
# Times what is green by its colour: where so much more reads as green, it lies in near-blacks or browns. Of four such
# pictures readers saw a third to two thirds less of it in two, and as much or more in two old paintings.
BORNE_OUT = 2.5
ALL_YELLOW, MOST = 0.5, 0.5  # how much strong yellow lies about a place of a field; and of all that is yellow-green


def told_green(case: Case, share: float) -> float:
    """How much of the picture is said to be green, with ``share`` of it yellow-green off the sky.

    It is what reads as green; where more than that is green by its colour, cool greens counted, the middle of the two:
    of 48 pictures readers noted shares between them, and told so, 13 instead of 16 are a quarter off theirs or more.
    """
    greens, reads = case.measures.greens, case.measures.reads_as_green.share
    if reads < A_LITTLE:
        return reads  # a green sea isn't what grows
    cool = greens.family.area_share - greens.area_share
    return max(reads, (reads + min(share + cool, 1.0)) / 2)


def of_a_yellow_field(case: Case) -> bool:
    """Whether most of its yellow-green is the shade of a field that is seen as yellow: rape in flower, ripe corn."""
    greens = land_greens_map(case.picture, case.measures.parts)
    field = same_frame(case.measures.reads_as_green.yellow >= ALL_YELLOW, greens.shape)
    return bool((greens & field).sum() > MOST * greens.sum())


def over_another_part(was: Measures, now: Measures) -> str:
    """That another part of a later picture is green; empty where as much of it is.

    Greens as alike as they were, and as little answered, weigh more where they are most of the picture.
    """
    shares = [percent(measures.greens.area_share) for measures in (was, now)]
    return "" if shares[0] == shares[1] else f"with {shares[1]} of the picture in green instead of {shares[0]}"


def told_share(case: Case, told: float) -> str:
    """That share in words, to be followed by "of it reads as green"; none where the colour bears out little of it."""
    unsure = A_LITTLE <= told and told > BORNE_OUT * case.measures.greens.family.area_share
    return "some" if unsure else about(told)


def cool_greens(case: Case) -> float:
    """How much of the picture is a cool green or a sea-green that is seen as one, whatever it is the colour of."""
    return _cool_greens(case.picture)


@kept
def _cool_greens(picture: Picture) -> float:
    return share_of_hues(picture, SEA_GREENS, SEEN_AS_GREEN)


def cool_greens_beside(case: Case) -> float:
    """How much of the picture is such a green outside its grass and foliage: water, a sky, distance."""
    of_hue = _of_hue(case.picture, SEA_GREENS, SEEN_AS_GREEN)
    return float((of_hue & ~case.measures.reads_as_green.where(of_hue.shape)).mean())


def is_air_or_water(case: Case) -> bool:
    """Whether most of those greens surely lie in the sky, in water or far away: the crown of a tree may be as cool."""
    of_hue = _of_hue(case.picture, SEA_GREENS, SEEN_AS_GREEN)
    beside = of_hue & ~case.measures.reads_as_green.where(of_hue.shape)
    parts = case.measures.parts
    sureness = {"sky": parts.sky_sureness, "water": parts.water_sureness, "far": parts.land_sureness}
    sure = [name for name, by in sureness.items() if by >= SURE_SKY]
    return bool((beside & same_frame(parts.mask(*sure), beside.shape)).sum() > MOST * beside.sum())


def greyed_greens(case: Case) -> float:
    """How much of the picture is a green of any kind, those near to grey counted."""
    return share_of_hues(case.picture, GREYED_GREENS, GREYED)


def share_of_hues(picture: Picture, hues: tuple[float, float], least: float) -> float:
    """How much of a picture has a hue from one to the other (degrees), and so much C*ab at least."""
    return float(_of_hue(picture, hues, least).mean())


def _of_hue(picture: Picture, hues: tuple[float, float], least: float) -> NDArray[np.bool_]:
    """Where it has that (height, width)."""
    lab = lab_at(picture, MAP_LONG_EDGE)
    chroma, hue = chroma_of(lab), hue_of(lab[..., 1], lab[..., 2])
    return np.asarray((hue >= hues[0]) & (hue <= hues[1]) & (chroma >= least))


def green_by_cool(case: Case) -> bool:
    """Whether it reads as green by greens so cool that hardly any of them is a yellow-green: a lawn in the shade."""
    return min(case.measures.reads_as_green.share, cool_greens(case)) >= A_LITTLE


def little_green_left(greens: Greens) -> str:
    """Such as "there is little green left (6 %)"."""
    return f"there is little green left ({percent(greens.area_share)})"
