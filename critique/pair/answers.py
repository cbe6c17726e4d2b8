"""The painter's questions about a repaint, answered in a sentence or two each."""

import numpy as np

from critique.measures.cast import Lean
from critique.measures.division import Division
from critique.measures.division_judging import halving_fault
from critique.measures.measure import Measures
from critique.pair.answer import (
    NO_CHANGE,
    Answer,
    Direction,
    Names,
    Told,
    answered,
    clause,
    figures_told,
    plain_number,
)
from critique.pair.change_maps import ChangedPlace, ChangeMaps
from critique.pair.changed_words import WARM
from critique.pair.comparison import CHANGED, Changes
from critique.pair.eye_answer import eye_answer
from critique.pair.line_moved import line_moved, past_the_middle
from critique.picture.places import place_of
from critique.words.aloud import sentence
from critique.words.figures import percent
from critique.words.lists import counted


def answers(
    changes: Changes,
    before: Measures,
    after: Measures,
    *,
    of_colour: tuple[Changes, Measures, Measures] | None = None,
    lines: tuple[Division, Division] | None = None,
    maps: ChangeMaps | None = None,
    too_loud: bool = False,
) -> tuple[Answer, ...]:
    """Is it quieter, is it richer, do its values reach, is it halved, does the eye stay, did its colour lean?

    ``of_colour`` are the changes and measures of what both show, where a crop took much of one: colour and value are
    judged by them. ``lines`` are the divisions that the plates show, ``maps`` where it changed, None where the two
    don't lie on each other, and ``too_loud`` says that its loudness goes beyond what landscapes have.
    """
    places = maps.places if maps is not None else ()
    colours, was, now = of_colour if of_colour is not None else (changes, before, after)
    drawn = lines if lines is not None else (before.division, after.division)
    return (
        _quieter(colours, places, mapped=maps is not None),
        _richer(colours, places, too_loud, came_in=_came_in(maps)),
        _values(colours, was, now),
        _division(changes, *drawn, mapped=maps is not None),
        eye_answer(changes, maps, before.eyepath, after.eyepath),
        _lean(colours, was, now),
    )


WIDE = 0.05  # of the picture: a place as large as this bears on what is said of the whole
BEYOND = "greens.beyond_leaf_share"
LOUDNESS: Names = {
    "greens.area_share": ("the area of yellow-green", percent),
    BEYOND: ("green stronger than a front-lit leaf", percent),
    "greens.median_chroma": ("the middle chroma of the greens", plain_number(0)),
    "greens.p95_chroma": ("the chroma of the strongest greens", plain_number(0)),
    "variety.colourfulness": ("colourfulness", plain_number(0)),
}


def _against(places: tuple[ChangedPlace, ...], sign: int) -> str:
    """Where colour changed its strength the other way over more of the picture; empty where it didn't."""
    moved = [place for place in places if place.kind == "chroma"]
    other = [place for place in moved if place.size * sign > 0]
    if sum(place.share for place in other) <= sum(place.share for place in moved if place.size * sign < 0):
        return ""
    most = max(other, key=lambda place: place.share * abs(place.size))
    if most.share < WIDE:
        return ""
    return (
        f"it is {'stronger' if sign > 0 else 'quieter'} by {abs(most.size):.0f} in chroma {place_of(most.mask)}, "
        f"{percent(most.share)} of the picture"
    )


COLOURFULNESS = "variety.colourfulness"
OF_THE_STRONGEST = {BEYOND, "greens.p95_chroma", COLOURFULNESS}  # figures that a few strong places move


def _quieter(changes: Changes, places: tuple[ChangedPlace, ...], *, mapped: bool) -> Answer:
    lower, higher = figures_told(changes, LOUDNESS, "less"), figures_told(changes, LOUDNESS, "more")
    if [told.figure for told in lower + higher] == [BEYOND]:
        # Greens of the same chroma pass the limit, which lies lower in darker colours, by their value alone.
        what = clause(lower + higher, "falls" if lower else "rises")
        text = f"its colour is as strong as it was, but {what}, since a leaf's strength goes with its light"
        outcome, short = ("fewer_raw", "fewer raw greens") if lower else ("more_raw", "more raw greens")
        return answered("quieter", outcome, "none", short, sentence(text))
    moved = {told.figure for told in lower + higher}
    if mapped and moved and moved <= OF_THE_STRONGEST and bool(lower) != bool(higher):
        # Colourfulness goes by the strongest as they do: the whole is as loud as it was where no wide place moved.
        strong = [place for place in places if place.kind == "chroma"]
        if sum(place.share for place in strong) < WIDE:
            return _one_place(strong, clause(lower + higher, "falls" if lower else "rises"))
    strong = [place for place in places if place.kind == "chroma"]
    if mapped and lower and higher and sum(place.share for place in strong) < WIDE:
        return _one_place(strong, "")  # what counts as a green is another set now, and its mean goes its own way
    against = _against(places, 1 if lower else -1) if bool(lower) != bool(higher) else ""
    if against:
        what = clause(lower or higher, "falls" if lower else "rises")
        return answered("quieter", "in_part", "both", "in part", sentence(f"in part: {what}; but {against}"))
    if lower and not higher:
        return answered("quieter", "quieter", "up", "quieter", sentence(f"yes: {clause(lower, 'falls')}"))
    if higher and not lower:
        return answered("quieter", "louder", "down", "louder", sentence(f"no, it is louder: {clause(higher, 'rises')}"))
    if lower and higher:
        text = f"in part: {clause(lower, 'falls')}; but {clause(higher, 'rises')}"
        return answered("quieter", "in_part", "both", "in part", sentence(text))
    against = _against(places, 1) or _against(places, -1)
    if against:
        text = f"as a whole its colour is as strong as it was, give or take a photograph; but {against}"
        return answered("quieter", "in_places", "none", "in places only", sentence(text))
    text = "No change: its greens and its colour are as strong as they were, give or take a photograph."
    return answered("quieter", NO_CHANGE, "none", "no change", text)


def _one_place(strong: list[ChangedPlace], what: str) -> Answer:
    """Where the whole is as strong as it was, and one small place of it, or none, moved a figure of the whole."""
    if not strong:
        text = "its colour is as strong as it was at every place" + (f", though {what}" if what else "")
        return answered("quieter", NO_CHANGE, "none", "no change", sentence(text))
    most = max(strong, key=lambda place: place.share * abs(place.size))
    where = f"{place_of(most.mask)}, {percent(most.share)} of the picture"
    louder = "louder" if most.size > 0 else "quieter"
    text = f"as a whole its colour is as strong as it was; one place is {louder}, {where}" + (
        f": {what}" if what else ""
    )
    return answered("quieter", "in_places", "none", "in places only", sentence(text))


VARIETY: Names = {
    "variety.effective_hues": ("the number of hues", plain_number(1)),
    "variety.hull_area": ("the span of colour", None),
    "variety.names": ("the number of named colours", plain_number(0)),
    "variety.colourfulness": ("colourfulness", plain_number(0)),
}


ANOTHER_COLOUR = 30.0  # degrees of hue: a place that turned so far lost the colour that it had, an orange made violet
STRENGTHS = {"variety.hull_area", COLOURFULNESS}  # what counts strong colours for more; the others count hues and names


def _only_strength(told: list[Told], places: tuple[ChangedPlace, ...], sign: int) -> bool:
    """Whether it has no more colours than it had, or no fewer, but stronger ones (``sign`` 1) or weaker (-1).

    Saturation turned up brings greys over the threshold at which a colour counts as one, and so raises every count;
    turned down, it lowers them.
    """
    coloured = [place for place in places if place.kind != "value"]
    another = any(place.kind == "hue" and abs(place.size) >= ANOTHER_COLOUR for place in coloured)
    if {part.figure for part in told} <= STRENGTHS and not another:
        return True
    return bool(coloured) and all(place.kind == "chroma" and place.size * sign > 0 for place in coloured)


def _came_in(maps: ChangeMaps | None) -> bool:
    """Whether a thing was set in that the earlier picture hasn't got, not even faintly."""
    return maps is not None and any(thing.came and not thing.faint for thing in maps.things)


def _richer(changes: Changes, places: tuple[ChangedPlace, ...], too_loud: bool, *, came_in: bool) -> Answer:
    """``came_in`` says that a thing was set in: what colour it brought is one more, and not only a stronger one."""
    higher, lower = figures_told(changes, VARIETY, "more"), figures_told(changes, VARIETY, "less")
    still = len(VARIETY) - len(higher) - len(lower)
    rest = f"; {counted(still)} of the four counts of variety didn't move" if still in (1, 2) else ""
    if len(higher + lower) == 1:
        verb = "rises" if higher else "falls"
        text = f"hardly: {clause(higher + lower, verb)}, and the other three counts of variety didn't move"
        return answered("richer", "hardly", "none", "hardly", sentence(text))
    if higher and not lower and (too_loud or (_only_strength(higher, places, 1) and not came_in)):
        strong = [place for place in places if place.kind == "chroma"]
        one = (
            f". One place does that: {place_of(strong[0].mask)}, {percent(strong[0].share)} of the picture"
            if len(strong) == 1 and strong[0].share < WIDE
            else ""
        )
        text = sentence(f"no, its colours are stronger, not more: {clause(higher, 'rises')}{one}")
        return answered("richer", "stronger", "none", "stronger, not richer", text)
    if higher and not lower:
        return answered("richer", "richer", "up", "richer", sentence(f"yes: {clause(higher, 'rises')}{rest}"))
    if lower and not higher and _only_strength(lower, places, -1):
        text = f"its colours are quieter, not fewer: {clause(lower, 'falls')}"
        return answered("richer", "quieter", "none", "quieter, not poorer", sentence(text))
    if lower and not higher:
        return answered(
            "richer", "poorer", "down", "poorer", sentence(f"no, it has less variety: {clause(lower, 'falls')}{rest}")
        )
    counted_up, counted_down = ({part.figure for part in told} for told in (higher, lower))
    if higher and lower and counted_up <= STRENGTHS and not counted_down & STRENGTHS:
        text = (
            f"no, it is stronger, but fewer colours share it: {clause(lower, 'falls')}, while {clause(higher, 'rises')}"
        )
        return answered("richer", "fewer_colours", "down", "stronger, in fewer colours", sentence(text))
    if higher and lower and counted_down <= STRENGTHS and not counted_up & STRENGTHS:
        text = f"it is quieter, and more colours share it: {clause(higher, 'rises')}, while {clause(lower, 'falls')}"
        return answered("richer", "more_colours", "up", "quieter, in more colours", sentence(text))
    if higher and lower:
        text = f"it depends on what you count: {clause(higher, 'rises')}, while {clause(lower, 'falls')}{rest}"
        return answered("richer", "by_some_counts", "both", "by some counts", sentence(text))
    text = "No change: by all four counts of variety it has as many colours as it had."
    return answered("richer", NO_CHANGE, "none", "no change", text)


REACH: Names = {
    "values.range": ("the reach of values", plain_number(1)),
    "values.percentiles.p5": ("the darks", plain_number(1)),
    "values.percentiles.p50": ("the middle value", plain_number(1)),
    "values.percentiles.p95": ("the lights", plain_number(1)),
    "values.plans.1.separation": ("the contrast that three masses hold", percent),
}
IN_THE_PLURAL = ("values.percentiles.p5", "values.percentiles.p95")  # darks and lights go, the others goes
ONE_END = {  # what became of one end of the values, where the figure is less and where it is more
    IN_THE_PLURAL[0]: ("deeper darks", "lighter darks"),
    IN_THE_PLURAL[1]: ("lower lights", "brighter lights"),
}


def _values(changes: Changes, before: Measures, after: Measures) -> Answer:
    reach, holds = changes["values.range"], changes["values.plans.1.separation"]
    told = figures_told(changes, REACH, *CHANGED)
    key = _key_moved(before, after) if told else ""
    if not told:
        return answered(
            "values", NO_CHANGE, "none", "no change", "No change: darks, middle and lights lie where they lay."
        )
    text = sentence(clause(told, "go" if told[0].figure in IN_THE_PLURAL else "goes")) + (
        f" {sentence(key)}" if key else ""
    )
    if reach.changed and not changes.any_of(*IN_THE_PLURAL):
        return answered(
            "values", "hardly", "none", "hardly", text
        )  # neither end went farther than a photograph moves it
    if reach.changed:  # a picture with less between its ends holds more of it in three masses, for that alone
        outcome = "wider" if reach.status == "more" else "narrower"
        return answered("values", outcome, "up" if outcome == "wider" else "down", outcome, text)
    if holds.changed:
        clearer = holds.status == "more"
        outcome, short = ("clearer", "clearer") if clearer else ("less_clear", "less clear")
        return answered("values", outcome, "up" if clearer else "down", short, text)
    middle, ends = changes["values.percentiles.p50"], [changes[name] for name in IN_THE_PLURAL]
    alone = [end for end in ends if end.changed]
    if len(alone) == 1 and not middle.changed:  # the rest is as light as it was
        less, more = ONE_END[alone[0].figure]
        return answered("values", "one_end", "none", more if alone[0].status == "more" else less, text)
    moved = {middle.status, *(end.status for end in ends)}
    if moved <= {"no change", "more"}:
        return answered("values", "lighter", "none", "lighter", text)
    if moved <= {"no change", "less"}:
        return answered("values", "darker", "none", "darker", text)
    return answered("values", "moved", "both", "moved", text)


REACHES = {"major": "wide (major)", "minor": "close (minor)"}


def _key_moved(before: Measures, after: Measures) -> str:
    """Such as "it was in the high key and is in the middle key now"; empty where it is as it was."""
    was, now = before.values, after.values
    moved = []
    if was.key != now.key:
        moved.append(f"it was in the {was.key} key and is in the {now.key} key now")
    if was.spread != now.spread:
        moved.append(f"its range was {REACHES[was.spread]} and is {REACHES[now.spread]} now")
    return "; ".join(moved)


def _division(changes: Changes, was: Division, now: Division, *, mapped: bool) -> Answer:
    halves = _halves(now)
    if not changes.any_of("division.height", "division.strength", "division.near_middle"):
        if not now.present:
            text = "No change: no line divides either of them."
        elif line_moved(was, now) and mapped:
            text = (
                "Nothing of the drawing moved. The line that parts it most plainly is another now, "
                f"{percent(now.height)} of the way down where it was {percent(was.height)}, and {halves}."
            )
            return answered("halved", "another_line", "none", "another line is plainest", text)
        elif line_moved(was, now):
            text = (
                f"The line that divides it lies {percent(was.height)} of the way down, then {percent(now.height)}"
                f"{past_the_middle(was, now)}, and {halves}; another photograph could take one line or the other."
            )
            return answered("halved", "another_line", "none", "its line lies elsewhere", text)
        elif _cut(was) != _cut(now):
            text = f"The line lies where it lay, {percent(now.height)} of the way down, on the edge of halving the picture."
        else:
            text = f"No change: the line lies {percent(now.height)} of the way down and {halves}."
        return answered("halved", NO_CHANGE, "none", "no change", text)
    moved = changes["division.height"].changed
    if moved:
        text = f"the line moved from {percent(was.height)} to {percent(now.height)} of the way down"
        text += past_the_middle(was, now)
    elif was.present and not now.present:
        text = f"the line {percent(was.height)} of the way down is gone"
    elif now.present and not was.present:
        text = f"a line now shows {percent(now.height)} of the way down"
    else:
        more = "more" if changes["division.strength"].status == "more" else "less"
        text = f"the line {percent(now.height)} of the way down parts it {more} plainly"
    if _cut(was) and not _cut(now):
        rest = "still lies near the middle" if now.nearly_halved else "nothing cuts the picture in half"
        return answered("halved", "no_longer", "up", "no longer", sentence(f"no longer: {text}, and {rest}"))
    if _cut(now) and not _cut(was):
        return answered(
            "halved",
            "now",
            "down",
            "now it is",
            sentence(f"now it is: {text}{',' if ',' in text else ''} and cuts the picture in half"),
        )
    if moved and now.nearly_halved and not was.nearly_halved and not _cut(now):
        return answered(
            "halved", "now_near", "down", "nearly, now", sentence(f"nearly, now: {text}, and lies near the middle")
        )
    whole = ("still halved" if now.halved else "still near the middle") if _cut(now) else "not halved, before or after"
    short = f"{'still' if _cut(now) else 'no'}, {'its line moved' if moved else 'as before'}"
    outcome = f"{'still' if _cut(now) else 'not'}_{'moved' if moved else 'as_before'}"
    return answered("halved", outcome, "none", short, sentence(f"{whole}: {text}"))


def _cut(division: Division) -> bool:
    """Whether a review would name it as cut in half, surely or nearly."""
    return halving_fault(division) is not None


def _halves(division: Division) -> str:
    if division.halved:
        return "cuts it in half"
    return "comes near to cutting it in half" if division.nearly_halved else "doesn't cut it in half"


LEANS: dict[Direction, tuple[str, str]] = {
    "up": ("less_green", "less green"),
    "down": ("greener", "greener"),
    "both": ("otherwise", "otherwise"),
}


LEANS_SO = 4.0  # of a* and b* that the mean of all must move toward warm or cool to be called so
MOSTLY = 0.75  # of all that it moved
NO_LEAN = 3.0  # C*: stirred together, such colours make a grey


def _leaned(lean: Lean, verb: str) -> str:
    if lean.chroma < NO_LEAN:
        return "made a grey" if verb == "leaned" else "make a grey"
    return f"{verb} to {lean.word} (chroma {lean.chroma:.0f})"


def _lean(changes: Changes, before: Measures, after: Measures) -> Answer:
    names = ("cast.mean.a", "cast.mean.b", "cast.mean.chroma")
    if not changes.any_of(*names):
        return answered(
            "lean", NO_CHANGE, "none", "no change", "No change: stirred together, its colours lean as they leaned."
        )
    was, now = before.cast.mean, after.cast.mean
    text = (
        f"stirred together, its colours {_leaned(was, 'leaned')} and now {_leaned(now, 'lean')}"
        if was.word != now.word or min(was.chroma, now.chroma) < NO_LEAN
        else f"stirred together, its colours lean to {now.word} by a chroma of {now.chroma:.0f}, where it was {was.chroma:.0f}"
    )
    green = changes["cast.mean.a"]
    direction: Direction = (
        "up" if green.status == "more" and now.a <= 0 else "down" if green.status == "less" and now.a < 0 else "both"
    )
    outcome, short = LEANS[direction]
    turned = _warmer_or_cooler(was, now)
    if turned and (direction == "both" or was.word != now.word):
        direction, outcome, short = "both", turned, turned
    if outcome == "otherwise":
        short = f"leans to {now.word} now" if now.chroma >= NO_LEAN else "leans nowhere now"
    return answered("lean", outcome, direction, short, sentence(text))


def _warmer_or_cooler(was: Lean, now: Lean) -> str:
    """Whether what moved went mostly toward warm or toward cool; empty where it went aside, or hardly anywhere."""
    moved = np.array([now.a - was.a, now.b - was.b])
    along = float(moved @ (np.cos(WARM), np.sin(WARM)))
    if abs(along) < max(LEANS_SO, MOSTLY * float(np.linalg.norm(moved))):
        return ""
    return "warmer" if along > 0 else "cooler"
