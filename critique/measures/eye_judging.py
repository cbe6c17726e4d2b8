"""Which faults of the eye's path are sure enough to be named, and how surely?"""

from collections.abc import Callable
from typing import Literal

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
NEAR_EDGE = 0.155  # of the width and height: a focal place this close to an edge may leave over it
NEAR_DOMINANCE = 1.5  # of the strongest contrast elsewhere that it has then; of 76 landscapes one has such a place
NEAR_SURE, NEAR_DOMINANCE_SURE = 0.5, 1.15  # of all that holds the eye: a place that holds so much needs less of it
# Of the width from the left or right edge, of all that holds the eye and of all else: what leads so surely stands at a
# side. Of 212 untouched pictures none has it; of 40 subjects that strangers moved there six that nothing else tells.
NEAR_SIDE, NEAR_SIDE_SURE, NEAR_SIDE_DOMINANCE = 0.2, 0.65, 0.7
NEAR_REWORK = 2.0  # of the strongest contrast elsewhere
# How many times as much as anywhere else what stands there would hold the eye, if people didn't look first near the
# middle; it needs the same contrast. Of some 170 untouched pictures the most has 24.7, a palm cut by the edge.
ASIDE = 26.0
ODD_NEAR_EDGE = 1.7  # of all else that stands out by contrast and rarity; none of 76 landscapes has more at an edge
# Of all as large, and of all else: what is rare near an edge is something there only where a large thing stands with
# it, or where it is rarer by far. Of 29 told by rarity alone strangers had put five there; a reader signed two of 7.
ODD_LARGE, ODD_ALONE = 1.3, 2.6
ODD_NEAR_REWORK = 4.0  # of the same
# The subject itself may stand near an edge: a face that looks in, a ship on its horizon. So far (of the width and
# height) it may lie from where the eye settles, and stand out by so much less; and so much a large one stands out of
# all as large. Of 54 pictures that two readers judged line by line two such had 2.2, and 2.1 and 1.5 of the large, and
# neither reader signed it; large ones put there by code have 3.6 or more.
SUBJECT_REACH, SUBJECT_ODD, SUBJECT_LARGE = 0.12, 2.6, 1.5
# Of the contrast of all else: a large one that the eye settles on, and that has so much, stands too near an edge all
# the same. Of 276 untouched pictures the one large subject there has 1.8; discs put there by code have 2.0 to 2.3.
SUBJECT_DOMINANCE = 1.9
# A large thing near an edge and what stands out most in one place, or that and the focal place there: of 112 untouched
# pictures only a photograph of a launch has either.
LARGE_NEAR, ODD_WITH_IT, TOGETHER = 1.7, 1.3, 0.2  # of all else as large; of all else; of the width and height
# Of the width from the left or right edge: what has its middle there is cut in two by it, a wing that closes the
# picture and no subject. Neither reader signed it of firs; of things that code put near a side none is within 0.06.
WING = 0.03
LARGE_AT_SIDE, ODD_AT_SIDE = 1.4, 1.5  # of all else as large; of all else: at the left or right edge, of 171 one
FOCUS_WITH_IT, AT_FOCUS = 1.0, 0.1  # of the strongest contrast elsewhere; of the width and height
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
    """A lone subject dead centre, stronger than all else, that nothing in its own colour answers."""
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


def near_edge_fault(eye: EyePath) -> tuple[Fault, FocalPlace | Standing] | None:
    """What stands out near an edge, if it isn't a subject that may stand there."""
    found = _near_an_edge(eye)
    return None if found is None or _may_stand_there(eye, found[1]) else found


def _may_stand_there(eye: EyePath, place: FocalPlace | Standing) -> bool:
    """Whether the subject itself stands near an edge, on the ground at the foot or large enough to reach in from it."""
    at_foot = 1 - place.y < min(place.x, 1 - place.x, place.y)
    large = eye.large.strength >= SUBJECT_LARGE and _apart(eye.large, place) <= TOGETHER
    if eye.focus.strength < NEAR_SURE or (eye.odd.strength >= SUBJECT_ODD and not (at_foot and large)):
        return False
    if _apart(place, eye.focus) > SUBJECT_REACH:  # the eye may settle on the sails, over the hull at the foot
        return at_foot and large and abs(place.x - eye.focus.x) <= SUBJECT_REACH
    return at_foot or (large and eye.dominance < SUBJECT_DOMINANCE)


def _near_an_edge(eye: EyePath) -> tuple[Fault, FocalPlace | Standing] | None:
    together = _apart(eye.large, eye.odd) <= TOGETHER
    alone = ODD_NEAR_EDGE if together and eye.large.strength >= ODD_LARGE else ODD_ALONE
    if eye.odd.strength >= alone and _off(eye.odd) <= NEAR_EDGE:
        return ("rework" if eye.odd.strength >= ODD_NEAR_REWORK else "watch"), eye.odd
    near_it = together and _off_side(eye.large) > WING
    large = near_it and eye.large.strength >= LARGE_NEAR and _off(eye.large) <= NEAR_EDGE
    if large and eye.odd.strength >= ODD_WITH_IT:
        return "watch", eye.large
    at_side = near_it and max(_off_side(eye.large), _off_side(eye.odd)) <= NEAR_EDGE
    if at_side and eye.large.strength >= LARGE_AT_SIDE and eye.odd.strength >= ODD_AT_SIDE:
        return "watch", eye.large
    aside: tuple[Fault, Standing] | None = ("watch", eye.aside) if _holds_aside(eye) else None
    if not eye.claimed:
        return aside
    off = _off(eye.focus)
    least = NEAR_DOMINANCE_SURE if eye.focus.strength >= NEAR_SURE else NEAR_DOMINANCE
    if off <= NEAR_EDGE and eye.dominance >= least:
        return ("rework" if eye.dominance >= NEAR_REWORK else "watch"), eye.focus
    sure_at_side = eye.focus.strength >= NEAR_SIDE_SURE and eye.dominance >= NEAR_SIDE_DOMINANCE
    if sure_at_side and _off_side(eye.focus) <= NEAR_SIDE:
        return "watch", eye.focus
    both = eye.dominance >= FOCUS_WITH_IT and eye.odd.strength >= ODD_WITH_IT
    if off <= NEAR_EDGE and both and _apart(eye.focus, eye.odd) <= AT_FOCUS:
        return "watch", eye.focus
    return aside


def _holds_aside(eye: EyePath) -> bool:
    """Whether the eye would settle close to a side if it didn't look first near the middle."""
    stands = eye.aside.strength >= ASIDE and eye.aside_dominance >= NEAR_SIDE_DOMINANCE
    return stands and _off_side(eye.aside) <= NEAR_EDGE


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


def _off_side(place: FocalPlace | Standing) -> float:
    """How far a place lies from the left or the right edge, of the width."""
    return min(place.x, 1 - place.x)


def _from_middle(place: FocalPlace | Standing) -> float:
    """How far a place lies from the middle, of the width or height."""
    return max(abs(place.x - 0.5), abs(place.y - 0.5))


def _apart(one: FocalPlace | Standing, other: FocalPlace | Standing) -> float:
    """How far two places lie from each other, of the width and height."""
    return float(((one.x - other.x) ** 2 + (one.y - other.y) ** 2) ** 0.5)


def _is_lone(eye: EyePath) -> bool:
    return len(eye.places) < 2 or eye.places[1].strength < LONE * eye.focus.strength
