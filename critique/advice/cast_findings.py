"""Whether the whole leans to one hue. Whose lean it is, the photograph's or the painting's, needs a reference."""

from typing import Literal

import numpy as np

from critique.advice.colour_words import SOME_SKY
from critique.advice.finding import Finding, Level
from critique.advice.green_area import TOO_STRONG
from critique.advice.judging import Case
from critique.advice.kind import Kind
from critique.measures.cast import Cast
from critique.measures.cast_judging import cast_fault, is_toned, leans_to_green
from critique.measures.land_greens import MAP_LONG_EDGE
from critique.perception.ranks import quantiles_of
from critique.picture.picture import lab_at
from critique.words.aloud import article, sentence

GREENNESS_WATCH: float = 6.0  # mean −a*; of 76 landscapes the highest has 6.8
LIGHTS_TOO = 4.5  # −a* of the lightest tenth: where the lights stay neutral it is a sea or a meadow that is green
# −a* of the fifth of the lights that is least green, its blue taken off: a white, a pink, a violet or a blue-white light
# shows that only leaves are green. Of 88 pictures, 76 paintings and 61 with a cast put in, what readers saw no cast in has
# up to 2.2, a plain cast 3.3 and more.
EVERY_LIGHT = 3.0
# Of the picture, lights without green: a* and b* from and up to which, and the part of the lightest that are asked. A light
# that tints everything leaves none (30 casts of green put in, none); under a turquoise sky white walls and clouds stay white.
WHITE_A, WHITE_B, LIGHTS_ASKED, SOME_WHITE = -2.0, 12.0, 0.2, 0.004
LIGHTS_ALONE, NOT_RED = 9.0, 0.5  # −a* of the same and of the whole: green lights in a warm picture; highest seen 8.6
GREENNESS_REWORK: float = 9.0
OWN_COLOUR = 25.0  # C* of the lights beyond which they have a colour of their own: a field of rape is no lean
OWN_GREENNESS = 7.5  # −a*: how far a picture that lives by its greens leans by them alone
IN_A_WOOD = 10.5  # −a*: the same where no sky is seen; readers of two such pictures saw no lean, for a wood is green
MUCH_FOLIAGE = 0.4  # of the picture that reads as green
ITS_GREENS = 0.45  # of the chroma in the yellow-green band: the whole then leans by its greens in great part
ONE_HUE = 0.9  # of all chroma: the picture is all of the one hue
ASK = (
    "If that is the light you painted, leave it; if the painting itself leans less, the photograph does: hold it beside a "
    "grey card in daylight, or photograph it with one, before you change a colour"
)
TONED_FIRST = 0.3  # how often a lean that nobody passes over is spoken of first; our choice


def green_cast(case: Case, kind: Kind) -> Finding | None:
    """Whether the whole leans to green."""
    cast, greens = case.measures.cast, case.measures.greens
    level = green_level(cast, kind)
    if level == "holds" or _leans_by_its_leaves(case) or not leans_to_green(cast):
        return None  # a blue day leans to blue, however little red is in it
    if cast.owner not in ("photograph", "painting") and _has_whites(case):
        return None
    if cast.owner != "painting":
        level = "watch"  # without a reference nobody can tell whose it is
    lean = "its colours lean to green, and its lights with them"
    if cast.owner == "photograph":
        text = f"{lean}, and so does the grey beside it: it is the photograph's. Photograph it again in open shade"
    elif cast.owner == "painting":
        text = (
            f"{lean}, and the grey beside it doesn't: it is the painting's own, and warm gallery lamps will show it. Let "
            "more red and violet into the greys and the lights"
        )
    elif greens.chroma_share > ITS_GREENS:
        text = (
            f"{lean}. Much of that is its foliage; whether the painting's own lights are so green, a grey card beside it in "
            "daylight tells"
        )
    else:
        text = f"{lean}. {ASK}. If it is the painting's, let red and violet into the greys and the lights"
    return _finding(case, kind, level, text)


def _leans_by_its_leaves(case: Case) -> bool:
    """Whether a lean so small is that of much foliage, and the lights lean no farther: readers saw no cast in it."""
    cast, greens, reads = case.measures.cast, case.measures.greens, case.measures.reads_as_green.share
    leafy = reads >= MUCH_FOLIAGE and greens.chroma_share > ITS_GREENS
    closed = case.measures.parts.sky_share < SOME_SKY and -cast.mean.a < IN_A_WOOD
    if leafy and closed and greens.median_chroma < TOO_STRONG:
        return True  # inside a wood all light is green, and nothing in it tells a lean from leaves
    return leafy and -cast.mean.a < OWN_GREENNESS and -cast.lightest.a < LIGHTS_ALONE


def _has_whites(case: Case) -> bool:
    """Whether some of the lights have no green in them, by which all other green is that of what was painted."""
    lab = lab_at(case.picture, MAP_LONG_EDGE)
    light = lab[..., 0] >= quantiles_of(lab[..., 0], (1 - LIGHTS_ASKED,))[0]
    return float((light & (lab[..., 1] > WHITE_A) & (np.abs(lab[..., 2]) < WHITE_B)).mean()) >= SOME_WHITE


def green_level(cast: Cast, kind: Kind) -> Level:
    """How far the whole leans to green, all its lights with it."""
    if cast.lights_at_least < EVERY_LIGHT:
        return "holds"
    greenness, lights = -cast.mean.a, -cast.lightest.a * min(1.0, OWN_COLOUR / max(cast.lightest.chroma, OWN_COLOUR))
    if lights >= LIGHTS_ALONE and greenness >= NOT_RED:
        return "watch" if greenness < GREENNESS_WATCH else kind.by_limits(greenness)
    return kind.by_limits(greenness) if lights >= LIGHTS_TOO else "holds"


def colour_cast(case: Case, kind: Kind) -> Finding | None:
    """Whether the whole leans to another hue farther than landscapes do."""
    cast = case.measures.cast
    if leans_to_green(cast):
        return None  # told by its own name; beyond it a blue has less red too, and is no lean to green
    fault = cast_fault(cast)
    if fault is None:
        return None
    lean = f"the whole leans: {_stirred(cast)}"
    if cast.owner == "photograph":
        text = f"{lean}, and so does the grey beside it: it is the photograph's. Balance it by that grey and look again"
    elif cast.owner == "painting":
        text = f"{lean}, and the grey beside it doesn't: it is the painting's own. One cooler or warmer place would free it"
    elif cast.one_sided >= ONE_HUE:
        text = (
            f"everything in it, greys and lights too, leans to {cast.mean.word}. {ASK}. If it is meant so, one small note of "
            f"another hue would let the {cast.mean.word} tell"
        )
    else:
        text = f"{lean}, and hardly anything in it is a plain grey. {ASK}"
    level: Level = fault if cast.owner == "painting" else "watch"
    return _finding(case, kind, level, text, TONED_FIRST if is_toned(cast) else None)


def _stirred(cast: Cast) -> str:
    """The lean in the figure and the word of every table."""
    return f"stirred together, its colours make {article(cast.mean.word)} {cast.mean.word} of chroma {cast.mean.chroma:.0f}"


def _finding(case: Case, kind: Kind, level: Level, text: str, said_first: float | None = None) -> Finding:
    cast: Cast = case.measures.cast
    figure = -cast.mean.a if kind.limits is not None else cast.mean.chroma
    name = "cast.greenness" if kind.limits is not None else "cast.mean.chroma"
    return kind.finding(
        level=level,
        text=sentence(text),
        figure=figure,
        figure_text=_stirred(cast),
        norm=case.standing(name),
        percentile=case.percentile(name),
        said_first=said_first,
    )


def green_cast_owner(cast: Cast) -> Literal["photograph", "painting", "either"]:
    """Whose a green cast is, as far as a reference tells."""
    if cast.owner == "photograph":
        return "photograph"
    return "painting" if cast.owner == "painting" else "either"
