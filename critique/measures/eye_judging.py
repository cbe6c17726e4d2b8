"""Which faults of the eye's path are sure enough to be named, and how surely?"""

from collections.abc import Callable
from typing import Literal

from critique.measures.aside import Aside
from critique.measures.eyepath import EyePath
from critique.measures.focal_places import FocalPlace
from critique.measures.pulls import Pull
from critique.measures.rivals import ANSWERED, RIVALS, Standing

Fault = Literal["watch", "rework"]
ByLimits = Callable[[float], Literal["holds", "watch", "rework"]]  # of a figure, by the limits of whoever judges

# Log-odds: a side that a teacher may mention in passing; one to be remarked on, and no more: as a criticism two readers
# of six such pictures signed none, as a remark most, and denied the one below; sides that nobody spoke of.
SOME_PULL, SIDE_TOLD, CALM_SIDES = 0.0, 1.85, -0.8
PULL_WATCH = 1.2  # of the strongest contrast inside: above it lies one of 76 landscapes
PULL_REWORK = 1.8  # of the same: half as much again as the highest of any landscape
CENTRED = 0.08  # of the width and height from the middle: dead centre
CENTRED_ACROSS = 0.04  # of the width, for a subject in the middle of the width only
MIDDLE_SURE = 0.57  # of all that holds the eye, for the same: as much as any place needs that is spoken of
# Of the strongest contrast elsewhere, for the same. Of ten pictures told so the three that both readers denied have up
# to 1.07, of the five that both signed three have 1.14 and more.
MIDDLE_DOMINANCE = 1.1
LONE = 0.5  # of the strength of the first place, which no second may reach beside a lone subject
BULLSEYE_SURE = 0.35  # of all that holds the eye: a subject that leaves no doubt
# The contrast of a lone subject beside the strongest elsewhere; of 76 landscapes the nearest to a bull's-eye has 1.04.
BULLSEYE_WATCH, BULLSEYE_REWORK = 1.2, 1.5
# The same of a place that holds so much of all that holds the eye, and the rarity that does with less contrast: of 93
# untouched pictures none has such a place within 0.08 of the middle with more than 0.97 of the contrast elsewhere.
SURELY_THERE, SURE_DOMINANCE = 0.75, 1.08
LARGE_CENTRED, LARGE_DOMINANCE = 0.1, 1.4  # of the width and height, and of all else as large; none of 76 has one there
# A thing dead centre that stands out in a rare colour, alone or where the eye settles too, and a large one over the
# middle of the foot: of 171 untouched pictures none has the first or the last, one the second.
ODD_CENTRED, FOCUS_CENTRED = 1.9, (0.7, 1.0, 1.2)  # of all else; of all that holds the eye, of all else, and of both
FOCUS_SURELY_CENTRED = (0.8, 0.9, 1.1)  # the same where next to nothing else holds the eye; of 93 none has all three
LARGE_OVER, LARGE_OVER_STANDS = (0.05, 0.13), 1.5  # of the width and height from the middle; of all else as large
# A picture is built about its very middle, as a target is, where so much lies in the middle third, with some of it left
# for the sides, so little off the middle, and so like its mirror. Of 176 landscapes and pictures that readers judged
# none is; one has 0.76 of the last, and one that has the others lies 0.042 off. Of six subjects that a stranger set in
# the middle with the same things to both sides four are.
MIDDLE_THIRD, OFF_CENTRE, MIRRORED = (0.45, 0.8), 0.04, 0.8
CLOSE_TO = 0.155  # of the width: what has its middle so near is close to a side
RIVALS_REWORK = 2.6  # of the same, for two places
# A place that is told to hold the eye: of all that holds it, or of the strongest contrast elsewhere. Of 276 pictures
# left out of the fit of the weights 128 have this, and in 65 % of those a reader marked the place.
TOLD, TOLD_BY_CONTRAST = (0.62, 0.6), 1.1
# The same for a place that a sentence is given to, but not where two others that stand out as much as anything both lie
# elsewhere, nor at the rim: of the same 276 pictures 59, and in 78 % of those a reader marked it; from 0.7 on it would
# be 86 and 71 %. Where something elsewhere has half as much contrast again it isn't said: of 20 places told it was so
# of one, which neither of its readers marked.
SAID, SAID_BY_CONTRAST = (0.8, 0.7), 1.15
RIVALS_STAND, ELSEWHERE = 1.0, 0.15  # of all else that stands out; of the width and height
RIM = 0.1  # of the width and height: of 80 places that readers noted first none lies nearer to an edge
ALONE = (0.8, 0.95)  # the same two for a place that is praised as the one that leads: marked in 24 of those 30
DARK_CORNERS = 4  # corners that hold the eye in: all of them


def _between(watch: float, rework: float) -> ByLimits:
    """The level of a figure by two limits."""
    return lambda figure: "rework" if figure > rework else "watch" if figure > watch else "holds"


BY_PULL = _between(PULL_WATCH, PULL_REWORK)
BY_DOMINANCE = _between(BULLSEYE_WATCH, BULLSEYE_REWORK)
BY_RIVALRY = _between(RIVALS, RIVALS_REWORK)


def pull_fault(eye: EyePath, by_limits: ByLimits = BY_PULL) -> tuple[Fault, Pull] | None:
    """An edge or corner that outdoes the inside of the picture."""
    pull = eye.strongest_pull
    level = by_limits(pull.strength)
    return None if level == "holds" else (level, pull)


def some_pull(eye: EyePath) -> bool:
    """Whether something along a side holds the eye, so that a reader may speak of it."""
    return eye.side_weight >= SOME_PULL


def calm_sides(eye: EyePath) -> bool:
    """Whether nothing along the sides draws the eye."""
    return eye.side_weight <= CALM_SIDES


def keeps_it_in(eye: EyePath) -> bool:
    """Whether nothing along the edges draws the eye out, so that it may be said and nothing is drawn that denies it."""
    return pull_fault(eye) is None and near_edge_fault(eye) is None and calm_sides(eye)


def surely_settles(eye: EyePath) -> FocalPlace | None:
    """The place that holds the eye, where it is sure enough to be told."""
    if not eye.claimed or rivals_fault(eye) is not None:
        return None
    holds, stands = TOLD
    place = eye.claimed[0]
    sure = place.strength >= holds and eye.dominance >= stands
    return place if sure or eye.dominance >= TOLD_BY_CONTRAST else None


def settles_to_say(eye: EyePath) -> FocalPlace | None:
    """The same, where a sentence may say that the eye settles there."""
    place, (holds, stands) = surely_settles(eye), SAID
    if place is None or _off(place) < RIM:
        return None
    if (place.strength < holds or eye.dominance < stands) and eye.dominance < SAID_BY_CONTRAST:
        return None
    aside = near_edge_fault(eye)
    if aside is not None and _apart(aside, place) > ELSEWHERE:
        return None
    elsewhere = eye.rivalry >= RIVALS_STAND and min(_apart(rival, place) for rival in eye.rivals) > ELSEWHERE
    return None if elsewhere else place


def leads_alone(eye: EyePath) -> FocalPlace | None:
    """The place that holds the eye, where nothing comes near it."""
    place, (holds, stands) = surely_settles(eye), ALONE
    return place if place is not None and place.strength >= holds and eye.dominance >= stands else None


def in_the_middle(eye: EyePath) -> FocalPlace | None:
    """A lone subject in the middle of the width."""
    if eye.focus.strength < MIDDLE_SURE or eye.dominance < MIDDLE_DOMINANCE or not _is_lone(eye):
        return None
    return eye.focus if abs(eye.focus.x - 0.5) <= CENTRED_ACROSS else None


def bullseye_fault(eye: EyePath, by_limits: ByLimits = BY_DOMINANCE) -> Fault | None:
    """A lone subject dead centre, stronger than all else, that nothing in its own colour answers.

    Or a picture that is built about its middle, what lies to one side like what lies to the other.
    """
    level = _lone_in_the_middle(eye, by_limits)
    return level if level is not None else "watch" if built_about_the_middle(eye) else None


def built_about_the_middle(eye: EyePath) -> bool:
    """Whether half of what differs from its row lies in the middle third, and as much to its left as to its right."""
    centred, (least, most) = eye.centred, MIDDLE_THIRD
    return least <= centred.share <= most and centred.off <= OFF_CENTRE and centred.mirror >= MIRRORED


def _lone_in_the_middle(eye: EyePath, by_limits: ByLimits) -> Fault | None:
    if eye.answered > ANSWERED:
        return None
    sure = eye.focus.strength >= BULLSEYE_SURE and _is_lone(eye)
    centred = _from_middle(eye.focus) <= CENTRED
    level = by_limits(eye.dominance) if sure and centred else "holds"
    if level != "holds":
        return level
    if sure and centred and eye.focus.strength >= SURELY_THERE and eye.dominance >= SURE_DOMINANCE:
        return "watch"
    large_centred = _from_middle(eye.large) <= LARGE_CENTRED and eye.large.strength >= LARGE_DOMINANCE
    return "watch" if large_centred or _odd_in_the_middle(eye) or _large_over_the_middle(eye) else None


def _odd_in_the_middle(eye: EyePath) -> bool:
    """What stands out in a rare colour sits dead centre, and nothing else comes near it."""
    if _from_middle(eye.odd) > CENTRED or not _is_lone(eye):
        return False
    if eye.odd.strength >= ODD_CENTRED:
        return True
    return _from_middle(eye.focus) <= CENTRED and any(
        eye.focus.strength >= sure and eye.dominance >= dominance and eye.odd.strength >= odd
        for sure, dominance, odd in (FOCUS_CENTRED, FOCUS_SURELY_CENTRED)
    )


def _large_over_the_middle(eye: EyePath) -> bool:
    """A large thing stands in the middle of the width, a crown on its stem in the very middle."""
    across, down = LARGE_OVER
    over = abs(eye.large.x - 0.5) <= across and abs(eye.large.y - 0.5) <= down
    return over and eye.large.strength >= LARGE_OVER_STANDS


def near_edge_fault(eye: EyePath) -> Aside | None:
    """What holds the eye and stands too near a side, with nothing farther in to answer it."""
    return eye.aside if eye.aside.outdoes_all or eye.aside.thing is not None else None


def rivals_fault(eye: EyePath, by_limits: ByLimits = BY_RIVALRY) -> tuple[Fault, Standing, Standing] | None:
    """Two places that hold the eye as much as each other."""
    level = by_limits(eye.rivalry)
    return None if level == "holds" else (level, *eye.rivals)


def corners_keep_it_in(eye: EyePath) -> bool:
    """Whether darker corners keep the eye in: only where all four are."""
    return eye.dark_corners >= DARK_CORNERS


def _off(place: FocalPlace | Standing) -> float:
    """How far a place lies from the nearest edge, of the width or height."""
    return min(place.x, 1 - place.x, place.y, 1 - place.y)


def _from_middle(place: FocalPlace | Standing | Aside) -> float:
    """How far a place lies from the middle, of the width or height."""
    return max(abs(place.x - 0.5), abs(place.y - 0.5))


def _apart(one: FocalPlace | Standing | Aside, other: FocalPlace | Standing) -> float:
    """How far two places lie from each other, of the width and height."""
    return float(((one.x - other.x) ** 2 + (one.y - other.y) ** 2) ** 0.5)


def _is_lone(eye: EyePath) -> bool:
    return len(eye.places) < 2 or eye.places[1].strength < LONE * eye.focus.strength
