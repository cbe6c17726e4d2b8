"""The page of many versions of one subject: the same room for each, in the order given, ranked by nothing."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from critique.measures.figures import figure_named
from critique.pair.compare import Lineup
from critique.pair.hold import State
from critique.pair.photograph_spread import read_spreads, spread_of
from critique.pair.uncropped import uncropped
from critique.report.comparison_page import beside_plate, measured_on
from critique.report.figures import figure_groups
from critique.report.page import title_of
from critique.report.plates.plate import Plate
from critique.report.plates.values import plan_plate
from critique.report.templating import rendered
from critique.report.view_words import crops_told
from critique.words.aloud import sentence
from critique.words.figures import number, percent
from critique.words.lists import listed

PICTURE_LONG_EDGE = 620  # px
IN_A_ROW = 3  # pictures at most, on a wide screen; two on a phone
GAP = 2.2  # per cent of the wall's width between two in a row
ALONE = 64.0  # per cent of the wall's width that a picture takes at most, so that one alone leaves room for words
WIDTH, EDGE = 720.0, 20.0  # px of a line of letters, and its margins; on a phone it is drawn at half that
LITTLE = 0.01  # of the picture: less green than this is told without a figure
ROW = 26.0  # px between letters that would lie on each other
LETTER = 30.0  # px that a letter takes along the line
TOO_LITTLE = {  # why a figure isn't told of a picture, by what it needs
    "nothing": "none to tell",
    "green": "too little green to tell",
    "all greens": "too little green to tell",
    "line": "no line plain enough to tell",
}
LINES = (  # figures that are laid out as lines, with what their ends mean
    ("greens.area_share", "Green area, sky and all", "less", "more", True),
    ("greens.median_chroma", "Middle chroma of the greens", "quieter", "stronger", False),
    ("variety.effective_hues", "Effective number of hues", "fewer", "more", False),
    ("variety.colourfulness", "Colourfulness", "quieter", "stronger", False),
    ("values.percentiles.p50", "Middle value", "darker", "lighter", False),
    ("values.range", "Range of values", "closer", "wider", False),
    ("division.height", "How far down the line lies", "higher", "lower", True),
    ("eyepath.from_middle", "Focal place, from the middle (0) to a corner (1)", "nearer", "farther", False),
)


@dataclass(frozen=True, slots=True)
class Card:
    """One picture on the wall with its letter, its plan and what is plain about it."""

    letter: str
    name: str
    picture: Plate
    width: float  # per cent of the wall's width, so that all take the same area
    narrow: float  # the same on a phone
    plans: tuple[Plate, ...]
    families: tuple[tuple[str, float], ...]  # screen colour and per cent of the width
    text: str


@dataclass(frozen=True, slots=True)
class Line:
    """One figure as a line with every picture's letter where it stands."""

    label: str
    told: str  # from the least to the most
    ends: tuple[str, str]  # what lies to either side
    letters: tuple[tuple[str, float, float], ...]
    height: float
    level: float  # of the line, px from the top
    reach: str
    alt: str


def letters_for(count: int) -> list[str]:
    """A, B, … Z, AA, AB, …"""
    alphabet = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
    return [(alphabet[index // 26 - 1] if index >= 26 else "") + alphabet[index % 26] for index in range(count)]


def lineup_html(lineup: Lineup) -> str:
    """The page as one HTML document."""
    letters = letters_for(len(lineup.states))
    roots = [math.sqrt(state.picture.width / state.picture.height) for state in lineup.states]
    rows = rows_of(len(roots))
    wide, narrow = scale_of([roots[row] for row in rows]), scale_of([roots[at : at + 2] for at in range(len(roots))])
    cards = [
        _card(letter, state, round(wide * root, 2), round(narrow * root, 2))
        for letter, state, root in zip(letters, lineup.states, roots, strict=True)
    ]
    groups = [figure_groups(state.measures) for state in lineup.states]
    tables = [
        (
            each[0].title,
            [(rows[0].entry, [row.text for row in rows]) for rows in zip(*(g.rows for g in each), strict=True)],
        )
        for each in zip(*groups, strict=True)
    ]
    return rendered(
        "lineup.html.j2",
        crops=crops_told(state.picture for state in lineup.states),
        cards=cards,
        rows=[cards[row] for row in rows],
        gap=GAP,
        lines=[line for line in (_line(lineup.states, letters, *each) for each in LINES) if line is not None],
        letters=letters,
        tables=tables,
        pictures=[state.picture for state in lineup.states],
        measured_on=measured_on(),
    )


def rows_of(number: int) -> list[slice]:
    """Rows of two or three, the fuller ones first: four pictures hang two by two."""
    count = math.ceil(number / IN_A_ROW)
    ends = [0]
    for row in range(count):
        ends.append(ends[-1] + number // count + (row < number % count))
    return [slice(start, end) for start, end in pairwise(ends)]


def scale_of(rows: Sequence[Sequence[float]]) -> float:
    """What √(width / height) is multiplied with, so that all take one area and every row fits; per cent of the wall."""
    widest = max(root for row in rows for root in row)
    return min(ALONE / widest, *((100 - GAP * (len(row) - 1)) / sum(row) for row in rows)) - 0.01


def _card(letter: str, state: State, width: float, narrow: float) -> Card:
    picture, measures = state.picture, state.measures
    plate = beside_plate(picture, PICTURE_LONG_EDGE)
    return Card(
        letter=letter,
        name=title_of(picture),
        picture=plate,
        width=width,
        narrow=narrow,
        plans=tuple(plan_plate(picture, measures.values, levels) for levels in (2, 3)),
        families=tuple((family.srgb, round(100 * family.share, 2)) for family in measures.families),
        text=_plainly(state),
    )


def _plainly(state: State) -> str:
    """What the picture holds, and what to look at; no word of praise or blame more for one than for another."""
    measures = state.measures
    line = (
        "no dividing line"
        if not measures.division.present
        else f"a line {percent(measures.division.height)} of the way down"
        if math.isfinite(figure_named("division.height").of(measures))  # as below, where it is compared
        else f"perhaps a line {percent(measures.division.height)} of the way down"
    )
    share = measures.greens.area_share
    green = f"green over {percent(share)} of it" if share >= LITTLE else "next to no green"
    opening = (
        f"{measures.values.key} key, values {number(measures.values.percentiles['p5'])} to "
        f"{number(measures.values.percentiles['p95'])}; {green}; {line}"
    )
    look = [finding.subject for finding in state.findings if finding.level != "holds"]
    told = [sentence(opening), *([f"To look at: {listed(look)}."] if look else [])]
    if uncropped(state.picture):
        told.append("All of this may be counted with the wall around it: where the canvas ends isn't sure.")
    return " ".join(told)


def _span_told(letters: list[str], known: list[str], low: str, high: str, too_little: str) -> str:
    """From the least to the most, of which pictures, and why the others aren't among them."""
    if low != high:
        told = f"{low} to {high}"
    elif len(known) == len(letters):
        told = f"{low} for all"
    else:
        told = f"{low} for {listed(known)}"
    without = [letter for letter in letters if letter not in known]
    if without:
        told += f"; {listed(without)} {'has' if len(without) == 1 else 'have'} {too_little}"
    return told


def _line(
    states: Sequence[State], letters: list[str], name: str, label: str, low_word: str, high_word: str, share: bool
) -> Line | None:
    figure = figure_named(name)
    known = [
        (letter, value)
        for letter, state in zip(letters, states, strict=True)
        if math.isfinite(value := figure.of(state.measures))
    ]
    if not known:
        return None
    values = [value for _, value in known]
    spread = spread_of(read_spreads(), figure, tuple(state.own_spread for state in states)).any_light
    reach = math.expm1(spread) * sum(values) / len(values) if figure.scale == "ratio" else spread
    low, high = min(values), max(values)
    span = max(high - low, 2 * reach, 1e-9)
    start = (low + high) / 2 - span / 2
    room = WIDTH - 2 * EDGE
    rows: list[float] = []  # where the last letter of each row lies
    placed = []
    for letter, value in sorted(known, key=lambda pair: (pair[1], pair[0])):
        x = EDGE + room * (value - start) / span
        row = next((index for index, last in enumerate(rows) if x - last >= LETTER), len(rows))
        rows[row : row + 1] = [x]
        placed.append((letter, round(x, 1), row))
    level = ROW * len(rows) + 6
    text = percent if share else number
    told = ", ".join(f"{letter} {text(value)}" for letter, value in known)
    span_told = _span_told(letters, [letter for letter, _ in known], text(low), text(high), TOO_LITTLE[figure.needs])
    bar = room * reach / span
    return Line(
        label,
        span_told,
        (low_word, high_word),
        tuple((letter, x, level - 8 - ROW * row) for letter, x, row in placed),
        level + 18,
        level,
        f"M{EDGE:.1f} {level + 10:.1f}v6h{bar:.1f}v-6",
        f"{label}: {told}.",
    )
