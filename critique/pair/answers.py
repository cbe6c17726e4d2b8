"""The painter's questions about a repaint, answered in a sentence or two each."""

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

from critique.measures.division import Division
from critique.measures.division_judging import halving_fault
from critique.measures.measure import Measures
from critique.pair.change_maps import ChangedPlace
from critique.pair.comparison import CHANGED, Changes, FigureChange
from critique.pair.line_moved import line_moved, past_the_middle
from critique.picture.places import place_of
from critique.words.aloud import sentence
from critique.words.figures import percent
from critique.words.lists import counted, listed

Direction = Literal["up", "down", "both", "none"]


QuestionId = Literal["quieter", "richer", "values", "halved", "edges", "lean"]
QUESTIONS: dict[QuestionId, str] = {
    "quieter": "Is it quieter?",
    "richer": "Is it richer?",
    "values": "Do its values carry better?",
    "halved": "Is it cut in half?",
    "edges": "Does the eye stay in?",
    "lean": "Does the whole lean otherwise?",
}
NO_CHANGE = "no_change"


@dataclass(frozen=True, slots=True)
class Answer:
    """A question with its answer. ``direction`` is up for quieter, richer, wider, calmer; down for the opposite.

    ``id`` is that of the question, ``outcome`` that of the answer: what code goes by. The rest is for people.
    """

    id: QuestionId
    outcome: str
    question: str
    direction: Direction
    short: str  # the answer in a word or two
    text: str

    @property
    def key(self) -> tuple[QuestionId, str]:
        """Question and outcome."""
        return self.id, self.outcome


def answers(
    changes: Changes,
    before: Measures,
    after: Measures,
    *,
    of_colour: tuple[Changes, Measures, Measures] | None = None,
    lines: tuple[Division, Division] | None = None,
    places: tuple[ChangedPlace, ...] = (),
    too_loud: bool = False,
) -> tuple[Answer, ...]:
    """Is it quieter, is it richer, do its values reach, is it halved, does the eye stay, did its colour lean?

    ``of_colour`` are the changes and measures of what both show, where a crop took much of one: colour and value are
    judged by them. ``lines`` are the divisions that the plates show, ``places`` where it changed, and ``too_loud`` says
    that its loudness goes beyond what landscapes have.
    """
    colours, was, now = of_colour if of_colour is not None else (changes, before, after)
    drawn = lines if lines is not None else (before.division, after.division)
    return (
        _quieter(colours, places),
        _richer(colours, places, too_loud),
        _values(colours, was, now),
        _division(changes, *drawn),
        _edges(changes),
        _lean(colours, was, now),
    )


def _answer(asked: QuestionId, outcome: str, direction: Direction, short: str, text: str) -> Answer:
    return Answer(asked, outcome, QUESTIONS[asked], direction, short, text)


def _plain(decimals: int, factor: float = 1.0) -> Callable[[float], str]:
    return lambda value: f"{value * factor:.{decimals}f}".replace("-", "−")


WIDE = 0.05  # of the picture: a place as large as this bears on what is said of the whole
FEW = 0.05  # of the picture: shares below it are told to a tenth of a percent


def _tenths(share: float) -> str:
    return f"{100 * share:.1f} %" if share >= 0.0005 else "none"


def _from_to(change: FigureChange, text: Callable[[float], str] | None) -> str:
    """Such as "from 51 % to 14 %", or "by 21 %" for a figure without a unit that a painter knows (``text`` is None).

    Nothing where one picture hasn't the figure, or both read the same.
    """
    was, now = change.ends
    if math.isnan(was) or math.isnan(now):
        return ""
    if text is None:
        return f"by {abs(now / was - 1) * 100:.0f} %" if was > 0 else ""
    if text is percent:
        start, end = (percent(share) if share >= FEW else _tenths(share) for share in (was, now))
    else:
        start, end = text(was), text(now)
    return f"from {start} to {end}" if start != end else ""


Names = dict[str, tuple[str, Callable[[float], str] | None]]  # words for a figure, and how it reads


@dataclass(frozen=True, slots=True)
class _Told:
    """A figure that changed, with its words and from where to where it went."""

    figure: str
    words: str
    ends: str


def _told(changes: Changes, names: Names, *statuses: str) -> list[_Told]:
    """Those that changed so, and can be told."""
    told = [
        _Told(name, words, _from_to(changes[name], text))
        for name, (words, text) in names.items()
        if changes[name].status in statuses
    ]
    return [part for part in told if part.ends]


def _clause(told: list[_Told], verb: str) -> str:
    """Such as "colourfulness falls from 73 to 37 and the span of colour from 3300 to 1000"."""
    first, *rest = told
    return listed([f"{first.words} {verb} {first.ends}", *(f"{other.words} {other.ends}" for other in rest)])


BEYOND = "greens.beyond_leaf_share"
LOUDNESS: Names = {
    "greens.area_share": ("the area of yellow-green", percent),
    BEYOND: ("green stronger than a front-lit leaf", percent),
    "greens.median_chroma": ("the middle chroma of the greens", _plain(0)),
    "greens.p95_chroma": ("the chroma of the strongest greens", _plain(0)),
    "variety.colourfulness": ("colourfulness", _plain(0)),
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
        f"over {percent(most.share)} of the picture"
    )


def _quieter(changes: Changes, places: tuple[ChangedPlace, ...]) -> Answer:
    lower, higher = _told(changes, LOUDNESS, "less"), _told(changes, LOUDNESS, "more")
    if [told.figure for told in lower + higher] == [BEYOND]:
        # Greens of the same chroma pass the limit, which lies lower in darker colours, by their value alone.
        what = _clause(lower + higher, "falls" if lower else "rises")
        text = f"its colour is as strong as it was, but {what}, since a leaf's strength goes with its light"
        outcome, short = ("fewer_raw", "fewer raw greens") if lower else ("more_raw", "more raw greens")
        return _answer("quieter", outcome, "none", short, sentence(text))
    against = _against(places, 1 if lower else -1) if bool(lower) != bool(higher) else ""
    if against:
        clause = _clause(lower or higher, "falls" if lower else "rises")
        return _answer("quieter", "in_part", "both", "in part", sentence(f"in part: {clause}; but {against}"))
    if lower and not higher:
        return _answer("quieter", "quieter", "up", "quieter", sentence(f"yes: {_clause(lower, 'falls')}"))
    if higher and not lower:
        return _answer("quieter", "louder", "down", "louder", sentence(f"no, it is louder: {_clause(higher, 'rises')}"))
    if lower and higher:
        text = f"in part: {_clause(lower, 'falls')}; but {_clause(higher, 'rises')}"
        return _answer("quieter", "in_part", "both", "in part", sentence(text))
    against = _against(places, 1) or _against(places, -1)
    if against:
        text = f"as a whole its colour is as strong as it was, give or take a photograph; but {against}"
        return _answer("quieter", "in_places", "none", "in places only", sentence(text))
    text = "No change: its greens and its colour are as strong as they were, give or take a photograph."
    return _answer("quieter", NO_CHANGE, "none", "no change", text)


VARIETY: Names = {
    "variety.effective_hues": ("the number of hues", _plain(1)),
    "variety.hull_area": ("the span of colour", None),
    "variety.names": ("the number of named colours", _plain(0)),
    "variety.colourfulness": ("colourfulness", _plain(0)),
}


def _only_stronger(told: list[_Told], places: tuple[ChangedPlace, ...], too_loud: bool) -> bool:
    """Whether it has no more colours than it had, but stronger ones, or one that is.

    Saturation turned up brings greys over the threshold at which a colour counts as one, and so raises every count.
    """
    if too_loud or {part.figure for part in told} <= {"variety.hull_area", "variety.colourfulness"}:
        return True
    kinds = {place.kind for place in places if place.kind != "value"}
    return kinds == {"chroma"} and all(place.size > 0 for place in places if place.kind == "chroma")


def _richer(changes: Changes, places: tuple[ChangedPlace, ...], too_loud: bool) -> Answer:
    higher, lower = _told(changes, VARIETY, "more"), _told(changes, VARIETY, "less")
    still = len(VARIETY) - len(higher) - len(lower)
    rest = f"; {counted(still)} of the four counts of variety didn't move" if still in (1, 2) else ""
    if len(higher + lower) == 1:
        verb = "rises" if higher else "falls"
        text = f"hardly: {_clause(higher + lower, verb)}, and the other three counts of variety didn't move"
        return _answer("richer", "hardly", "none", "hardly", sentence(text))
    if higher and not lower and _only_stronger(higher, places, too_loud):
        strong = [place for place in places if place.kind == "chroma"]
        one = (
            f". One place does that: {place_of(strong[0].mask)}, over {percent(strong[0].share)} of the picture"
            if len(strong) == 1 and strong[0].share < WIDE
            else ""
        )
        text = sentence(f"no, its colours are stronger, not more: {_clause(higher, 'rises')}{one}")
        return _answer("richer", "stronger", "none", "stronger, not richer", text)
    if higher and not lower:
        return _answer("richer", "richer", "up", "richer", sentence(f"yes: {_clause(higher, 'rises')}{rest}"))
    if lower and not higher:
        return _answer(
            "richer", "poorer", "down", "poorer", sentence(f"no, it has less variety: {_clause(lower, 'falls')}{rest}")
        )
    if higher and lower:
        text = f"it depends on what you count: {_clause(higher, 'rises')}, while {_clause(lower, 'falls')}{rest}"
        return _answer("richer", "by_some_counts", "both", "by some counts", sentence(text))
    text = "No change: by all four counts of variety it has as many colours as it had."
    return _answer("richer", NO_CHANGE, "none", "no change", text)


REACH: Names = {
    "values.range": ("the reach of values", _plain(1)),
    "values.percentiles.p5": ("the darks", _plain(1)),
    "values.percentiles.p50": ("the middle value", _plain(1)),
    "values.percentiles.p95": ("the lights", _plain(1)),
    "values.plans.1.separation": ("the contrast that three masses hold", percent),
}
IN_THE_PLURAL = ("values.percentiles.p5", "values.percentiles.p95")  # darks and lights go, the others goes


def _values(changes: Changes, before: Measures, after: Measures) -> Answer:
    reach, holds = changes["values.range"], changes["values.plans.1.separation"]
    told = _told(changes, REACH, *CHANGED)
    key = f"it was in {_key(before)} and is in {_key(after)} now" if told and _key(before) != _key(after) else ""
    up = [change for change in (reach, holds) if change.status == "more"]
    down = [change for change in (reach, holds) if change.status == "less"]
    if not told:
        return _answer(
            "values", NO_CHANGE, "none", "no change", "No change: darks, middle and lights lie where they lay."
        )
    text = sentence(_clause(told, "go" if told[0].figure in IN_THE_PLURAL else "goes")) + (
        f" {sentence(key)}" if key else ""
    )
    if up and not down:
        wider = reach.status == "more"
        return _answer("values", "wider" if wider else "clearer", "up", "wider" if wider else "clearer", text)
    if down and not up:
        outcome, short = ("narrower", "narrower") if reach.status == "less" else ("less_clear", "less clear")
        return _answer("values", outcome, "down", short, text)
    return _answer("values", "moved", "both", "moved", text)


def _key(measures: Measures) -> str:
    return f"a {measures.values.key} {measures.values.spread} key"


def _division(changes: Changes, was: Division, now: Division) -> Answer:
    halves = _halves(now)
    if not changes.any_of("division.height", "division.strength", "division.near_middle"):
        if not now.present:
            text = "No change: no line divides either of them."
        elif line_moved(was, now):
            text = (
                f"The line that divides it lies {percent(was.height)} of the way down, then {percent(now.height)}"
                f"{past_the_middle(was, now)}, and {halves}; another photograph could take one line or the other."
            )
            return _answer("halved", "another_line", "none", "its line lies elsewhere", text)
        elif _cut(was) != _cut(now):
            text = f"The line lies where it lay, {percent(now.height)} of the way down, on the edge of halving the picture."
        else:
            text = f"No change: the line lies {percent(now.height)} of the way down and {halves}."
        return _answer("halved", NO_CHANGE, "none", "no change", text)
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
        return _answer("halved", "no_longer", "up", "no longer", sentence(f"no longer: {text}, and {rest}"))
    if _cut(now) and not _cut(was):
        return _answer(
            "halved",
            "now",
            "down",
            "now it is",
            sentence(f"now it is: {text}{',' if ',' in text else ''} and cuts the picture in half"),
        )
    whole = ("still halved" if now.halved else "still near the middle") if _cut(now) else "not halved, before or after"
    short = f"{'still' if _cut(now) else 'no'}, {'its line moved' if moved else 'as before'}"
    outcome = f"{'still' if _cut(now) else 'not'}_{'moved' if moved else 'as_before'}"
    return _answer("halved", outcome, "none", short, sentence(f"{whole}: {text}"))


def _cut(division: Division) -> bool:
    """Whether a review would name it as cut in half, surely or nearly."""
    return halving_fault(division) is not None


def _halves(division: Division) -> str:
    if division.halved:
        return "cuts it in half"
    return "comes near to cutting it in half" if division.nearly_halved else "doesn't cut it in half"


def _edges(changes: Changes) -> Answer:
    pull, frame = changes["eyepath.strongest_pull.strength"], changes["eyepath.framing"]
    parts = []
    if pull.changed:
        parts.append(
            f"the strongest pull at an edge goes {_from_to(pull, percent)} of what the focal place has, so the eye is "
            f"{'held better' if pull.status == 'less' else 'led out more'}"
        )
    if frame.changed:
        was, now = frame.ends
        parts.append(f"the corners are {_corners(now)} {_held_to(now)} the middle; before, they were {_corners(was)}")
    if changes.any_of("eyepath.focus.x", "eyepath.focus.y"):
        parts.append("the eye settles elsewhere")
    if not parts:
        text = "No change: the eye settles where it settled, and the edges pull as they did."
        return _answer("edges", NO_CHANGE, "none", "no change", text)
    better = pull.status == "less" or frame.status == "more"
    worse = pull.status == "more" or frame.status == "less"
    direction: Direction = "up" if better and not worse else "down" if worse and not better else "both"
    short = {"up": "better", "down": "less", "both": "otherwise"}[direction]
    return _answer("edges", short, direction, short, " ".join(sentence(part) for part in parts))


def _corners(framing: float) -> str:
    """How the corners stand against the middle; ``framing`` is in values, above 0 for darker corners."""
    return "as light" if _alike(framing) else f"{abs(framing):.1f} values {'darker' if framing > 0 else 'lighter'}"


def _held_to(framing: float) -> str:
    return "as" if _alike(framing) else "than"


def _alike(framing: float) -> bool:
    """Whether the corners are told to be as light as the middle."""
    return round(abs(framing), 1) == 0.0


LEANS: dict[Direction, tuple[str, str]] = {
    "up": ("less_green", "less green"),
    "down": ("greener", "greener"),
    "both": ("otherwise", "otherwise"),
}


def _lean(changes: Changes, before: Measures, after: Measures) -> Answer:
    names = ("cast.mean.a", "cast.mean.b", "cast.mean.chroma")
    if not changes.any_of(*names):
        return _answer(
            "lean", NO_CHANGE, "none", "no change", "No change: stirred together, its colours lean as they leaned."
        )
    was, now = before.cast.mean, after.cast.mean
    text = (
        f"stirred together, its colours leaned to {was.word} (chroma {was.chroma:.0f}) and now lean to {now.word} "
        f"(chroma {now.chroma:.0f})"
        if was.word != now.word
        else f"stirred together, its colours lean to {now.word} by a chroma of {now.chroma:.0f}, where it was {was.chroma:.0f}"
    )
    green = changes["cast.mean.a"]
    direction: Direction = (
        "up" if green.status == "more" and now.a <= 0 else "down" if green.status == "less" and now.a < 0 else "both"
    )
    outcome, short = LEANS[direction]
    return _answer("lean", outcome, direction, short, sentence(text))
