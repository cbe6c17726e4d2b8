"""What is said of a painting on its way to its aim: what came nearer, what to do next, when to stop."""

import math
from dataclasses import dataclass

from critique.pair.toward_aim import PassageState, StateTowardAim, TowardAim
from critique.words.figures import percent
from critique.words.lists import counted, listed, listed_numbers

NEARER = 1.0  # ΔE00 by which a passage must have moved: less is another photograph
MORE_FORM = 0.1  # of the aim's light and shade
THERE = 4.0  # ΔE00 within which a passage has the colour that it was to have; real mixtures land no nearer
FORMED, CRISP, FINISHED = 0.6, 0.6, 0.5  # of the aim's: enough, at the easel's distance
SMALL = 0.02  # of the picture: a passage too small to be told on its own
VALUE_OFF, CHROMA_OFF, HUE_OFF = 0.4, 5.0, 12.0  # values, C*ab, degrees worth a word
LEAST_FORM = 2.0  # L* of light and shade that a passage of the aim must have to be worth forming
NEXT = 3  # things to do next
COLOURS_THERE = "the colours are there"
MANY = 6  # passages: more are told by how many they are


@dataclass(frozen=True, slots=True)
class TowardWords:
    """Sentences: one for each pass, the next things to do, whether to stop, and how the last state stands.

    ``stop`` is empty where the last state is another composition: the plan can't tell then.
    """

    passes: tuple[str, ...]
    next_things: tuple[str, ...]
    stop: str
    standing: str
    reached: bool


def toward_in_words(toward: TowardAim) -> TowardWords:
    """Everything said of the states."""
    last = toward.states[-1]
    things = tuple(_next_things(toward, last))
    reached = last.is_laid and not things
    return TowardWords(
        tuple(_pass(toward, *pair) for pair in zip(toward.states, toward.states[1:], strict=False)),
        things,
        _stop(toward, reached, len(things)),
        _standing(toward, last),
        reached,
    )


def reached_in_words(toward: TowardAim, *, quieter: bool) -> str:
    """Of an original and its repaint: first whether what was aimed at was reached."""
    before, after = toward.states[0], toward.states[-1]
    if after.laid == "another composition":
        return f"The repaint is {_another(after)}"
    if after.laid == "not at all":
        return "The repaint has another shape than the aim: whether it was reached can't be told."
    meant = "quieter, as meant" if quieter else "as meant"
    if after.colour <= THERE:
        return f"What was aimed at is reached: {meant}."
    if math.isfinite(before.colour) and after.colour <= before.colour - NEARER:
        way = min(max(1 - after.colour / max(before.colour, 1e-6), 0), 1)
        return (
            f"It went toward the aim, {meant}, about {round(way * 10) * 10} % of the way; {_farthest(toward, after)}."
        )
    if math.isfinite(before.colour) and after.colour < before.colour + NEARER:
        return f"It is no nearer to the aim than the original was; {_farthest(toward, after)}."
    return f"It went away from the aim; {_farthest(toward, after)}."


def _pass(toward: TowardAim, before: StateTowardAim, after: StateTowardAim) -> str:
    if after.laid == "another composition":
        how = "It is composed otherwise still" if before.laid == "another composition" else "It was composed anew"
        return f"{how}: no place of it is held against the aim's."
    if before.laid == "another composition":
        return "Its composition is the aim's, which that before it was not: there is nothing to hold it against."
    if "not at all" in (before.laid, after.laid):
        return "It has another shape than the aim, so it can't be laid on it: photograph the canvas square on, to its edges."
    nearer, away, formed = [], [], []
    for was, now in zip(before.passages, after.passages, strict=True):
        if not (math.isfinite(was.colour) and math.isfinite(now.colour)):
            continue
        if was.colour - now.colour >= NEARER:
            nearer.append(now.number)
        elif now.colour - was.colour >= NEARER and now.colour > THERE:
            away.append(now.number)
        if now.form - was.form >= MORE_FORM and toward.aim_forms[now.number - 1] >= LEAST_FORM:
            formed.append(now.number)
    told = []
    total = len(after.passages)
    if nearer:
        told.append(f"{_which(nearer, total)} came nearer to the colour aimed at")
    if formed:
        told.append(f"flat shapes became forms in {_which(formed, total)}")
    if after.finish - before.finish >= MORE_FORM:
        told.append("the brushwork came")
    if after.edges - before.edges >= MORE_FORM:
        told.append("edges were found")
    if away:
        told.append(f"{_which(away, total)} went away from it")
    if not told:
        return "It moved nothing that matters to the aim."
    text = "; ".join(told)
    return f"{text[:1].upper()}{text[1:]}."


def _next_things(toward: TowardAim, state: StateTowardAim) -> list[str]:
    """Colour before form, form before edges, edges before finish: as it is painted."""
    if state.laid == "another composition":
        return []
    if state.laid == "not at all":
        return ["Photograph the canvas square on, to its edges, so that it can be laid on the aim."]
    named = {one.number: one for one in toward.plan.passages}
    things = [
        f"{one.number}, {named[one.number].name}, is {_difference(one)}: go over it with {named[one.number].mixture}."
        for one in _off(toward, state)
    ]
    flat = [
        one
        for one in state.passages
        if math.isfinite(one.form)
        and one.form < FORMED
        and toward.aim_forms[one.number - 1] >= LEAST_FORM
        and toward.shares[one.number - 1] >= SMALL
        and one.colour <= THERE
    ]
    flat.sort(key=lambda one: -toward.shares[one.number - 1] * toward.aim_forms[one.number - 1] * (1 - one.form))
    things += [
        f"{one.number}, {named[one.number].name}, is still flat: turn it, from value {named[one.number].darkest:.0f} to "
        f"{named[one.number].lightest:.0f}."
        for one in flat
    ]
    find = [edge for edge in toward.plan.edges if edge.kind == "find"]
    for edge, part in zip(find, state.found_edges, strict=True):
        if part < CRISP:
            things.append(f"Find the edge between {edge.first} and {edge.second}, {edge.where}.")
    if not things and state.finish < FINISHED:
        things.append("The masses and forms are there: now the strokes, fewest where the eye doesn't go.")
    return things[:NEXT]


def _stop(toward: TowardAim, reached: bool, left: int) -> str:
    if reached:
        return "Stop here: what was aimed at is there, as nearly as paint and a photograph can tell."
    if toward.states[-1].laid == "another composition":
        return ""
    if len(toward.states) > 1:
        before, after = toward.states[-2:]
        if after.colour > before.colour + NEARER:
            return "The last pass led away from the aim. Put the brush down, look at the sheet, and take that pass back first."
    if left == 1:
        return "Go on: one thing is left to do. Stop when it is done."
    return f"Go on: {counted(left)} things come next. Stop when they are done."


def _standing(toward: TowardAim, state: StateTowardAim) -> str:
    if state.laid == "another composition":
        return f"It is {_another(state)}"
    if state.laid == "not at all":
        return ""
    how = (
        ""
        if state.laid == "by its drawing"
        else " It was laid on the aim by its frame: too little of the drawing is found in both."
    )
    colours, parts = _colours(toward, state), [_part(share) for share in (state.form, state.edges, state.finish)]
    if colours == COLOURS_THERE and set(parts) == {"there"}:
        return f"Now colours, forms, edges and brushwork are all there.{how}"
    words = [
        colours,
        f"forms {_part(state.form)}",
        f"edges {_part(state.edges)}",
        f"brushwork {_part(state.finish)}",
    ]
    return f"Now {listed(words)}.{how}"


def _colours(toward: TowardAim, state: StateTowardAim) -> str:
    """How near the colours are, with those passages that are named as off, so that no line says otherwise."""
    if state.colour > THERE:
        return f"the colours are {_far(state.colour)}"
    off = [one.number for one in _off(toward, state)]
    return f"{COLOURS_THERE} but for {listed_numbers(off)}" if off else COLOURS_THERE


def _off(toward: TowardAim, state: StateTowardAim) -> list[PassageState]:
    """The passages of which it is said that their colour is off, those that matter most first."""
    off = [
        one
        for one in state.passages
        if math.isfinite(one.colour) and one.colour > THERE and toward.shares[one.number - 1] >= SMALL
    ]
    return sorted(off, key=lambda one: -toward.shares[one.number - 1] * (one.colour - THERE))


def _another(state: StateTowardAim) -> str:
    """What is said of another composition: the whole of it beside the whole of the aim."""
    told = []
    for one in state.whole:
        if one.name == "value range":
            told.append(f"its values span {one.state:.1f} steps ({one.aim:.1f})")
        elif one.name == "green of all colour":
            told.append(f"green is {percent(one.state)} of all its colour (the aim {percent(one.aim)})")
        elif percent(one.state) == percent(one.aim) == percent(0):
            told.append("none of it is greener than a leaf in the sun (none of the aim)")
        else:
            told.append(f"{percent(one.state)} of it is greener than a leaf in the sun ({percent(one.aim)})")
    whole = f" As a whole, {listed(told)}." if told else ""
    return f"another composition than the aim's, so only the whole of both is compared.{whole}"


def _far(colour: float) -> str:
    return "near" if colour <= 2 * THERE else "still some way off" if colour <= 4 * THERE else "far off"


def _part(share: float) -> str:
    return "there" if share >= 0.8 else "mostly there" if share >= 0.55 else "begun" if share >= 0.25 else "to come"


def _farthest(toward: TowardAim, state: StateTowardAim) -> str:
    off = [one for one in state.passages if math.isfinite(one.colour) and toward.shares[one.number - 1] >= SMALL]
    if not off:
        return "no passage can be seen"
    one = max(off, key=lambda one: toward.shares[one.number - 1] * one.colour)
    return f"the most that is left is in {one.number}, {toward.plan.passages[one.number - 1].name}: it is {_difference(one)}"


def _difference(one: PassageState) -> str:
    """How a passage differs from what it should be, in words without letters."""
    told = []
    if abs(one.values) >= VALUE_OFF:
        told.append(f"{abs(one.values):.1f} of a value too {'light' if one.values > 0 else 'dark'}")
    if abs(one.chroma) >= CHROMA_OFF:
        told.append("too strong" if one.chroma > 0 else "too grey")
    if abs(one.hue) >= HUE_OFF and abs(one.chroma) < 40:
        told.append("of another hue")
    return listed(told) or "a little off"


def _which(numbers: list[int], total: int) -> str:
    """The passages by number; by how many they are where they are many."""
    if len(numbers) == total:
        return f"all {total} passages"
    return f"{len(numbers)} of its {total} passages" if len(numbers) > MANY else listed_numbers(numbers)
