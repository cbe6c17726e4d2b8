"""The page of an original and its repaint: pictures first, words second, numbers third."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from critique.advice.finding import LEVELS as LEVELS_OF_FINDINGS
from critique.advice.finding import Level
from critique.advice.kinds import kind_named
from critique.measures.values import LEVELS
from critique.paints.cautions import cautions_for
from critique.paints.palette_size import SAME_ERROR, SIZES, PaletteNeed
from critique.pair.answer import NO_CHANGE, stayed_in_words
from critique.pair.compare import Comparison
from critique.pair.comparison_words import asks_for_a_grey
from critique.pair.finding_moves import OUTCOME_WORDS, FindingMove
from critique.pair.hold import MAPS_LONG_EDGE, Held
from critique.pair.overlay import overlaid
from critique.pair.uncropped import OF_A_PAIR, uncropped
from critique.perception.cielab import lab_to_srgb8, lch_of
from critique.perception.reference import reference_path
from critique.perception.srgb import hex_of
from critique.photograph.corners import written_corners
from critique.picture.picture import Picture
from critique.report.commands import PLACE_IT, with_greys
from critique.report.compared_rows import compared_groups
from critique.report.page import title_of
from critique.report.plates.change import change_plates
from critique.report.plates.division import division_plate
from critique.report.plates.greens import greens_plate
from critique.report.plates.photograph import in_colour
from critique.report.plates.plate import Plate, image_of
from critique.report.plates.values import plan_plate
from critique.report.templating import LEVEL_WORDS, rendered
from critique.report.view_words import crops_told
from critique.words.lists import listed
from critique.words.painters import painters_word

BESIDE_LONG_EDGE = 1000  # px of each of two pictures: half a page at nearly two dots a px
SIDES = ("original", "repaint")
TOLD = ("broke", "worse", "fixed", "better", "no longer matters", "open", "as it was", "on the edge")  # in this order


@dataclass(frozen=True, slots=True)
class ComparisonPlates:
    """The plates of a comparison, the original's first in every pair."""

    opening: tuple[Plate, ...]
    greens: tuple[Plate, ...]
    plans: tuple[tuple[Plate, ...], ...]
    division: tuple[Plate, ...]
    change: tuple[Plate, ...]

    def all(self) -> Iterator[tuple[str, Plate]]:
        """File names (without suffix) and plates that are written to disk."""
        for pair in (self.greens, *self.plans, self.division):
            for side, plate in zip(SIDES, pair, strict=True):
                yield f"{plate.name}_{side}", plate
        for plate in self.change:
            yield plate.name, plate


def draw_comparison(comparison: Comparison) -> ComparisonPlates:
    """Draw every plate of a comparison."""
    states = (comparison.first, comparison.second)
    held = comparison.held
    change: tuple[Plate, ...] = ()
    if comparison.held.maps is not None:
        both = overlaid(held.first, held.second, held.registration, MAPS_LONG_EDGE)
        change = change_plates(both, comparison.held.maps)
    return ComparisonPlates(
        opening=tuple(beside_plate(state.picture, BESIDE_LONG_EDGE) for state in states),
        greens=tuple(greens_plate(state.picture, state.measures, state.findings) for state in states),
        plans=tuple(
            tuple(plan_plate(state.picture, state.measures.values, levels) for state in states) for levels in LEVELS
        ),
        division=tuple(division_plate(state.picture, state.measures.division) for state in states),
        change=change,
    )


def beside_plate(picture: Picture, long_edge: int) -> Plate:
    """The picture itself, as large as it is shown beside others."""
    codes = in_colour(picture, min(long_edge, max(picture.width, picture.height)))
    return Plate("picture", image_of(codes), f"The picture {title_of(picture)}.", title_of(picture))


def comparison_html(comparison: Comparison, plates: ComparisonPlates, again: str = "") -> str:
    """The page as one HTML document; ``again`` is the command that makes it."""
    first, second, held = comparison.first, comparison.second, comparison.held
    needs = [
        (size, _need(comparison.needs[0], index), _need(comparison.needs[1], index))
        for index, size in enumerate(SIZES[: min(4, len(comparison.needs[0].errors))])
    ]
    return rendered(
        "comparison.html.j2",
        comparison=comparison,
        no_change=NO_CHANGE,
        stayed=stayed_in_words(held.answers, alike=held.alike is not None),
        open_moves=[move for move in held.moves if _open(move)],
        hold_in_both=listed([move.subject for move in held.moves if _holds_in_both(move)]),
        grey_command=_by_a_grey(comparison, again),
        place_it=PLACE_IT,
        names=(title_of(first.picture), title_of(second.picture)),
        pictures=(first.picture, second.picture),
        crops=crops_told((first.picture, second.picture), OF_A_PAIR),
        corners_command=_by_corners(comparison, again),
        opening=plates.opening,
        parts=() if comparison.not_yet else _parts(bool(plates.change)),
        outcome_words=OUTCOME_WORDS,
        told=sorted((move for move in held.moves if move.outcome in TOLD), key=_order_told),
        level_said=level_said,
        references=_references(comparison),
        change_plates=plates.change,
        greens=plates.greens,
        plans=plates.plans,
        division=plates.division,
        need_text=need_in_words(*comparison.needs),
        needs=needs,
        cautions=_cautions(comparison),
        groups=compared_groups(first.measures, second.measures, held.together, held.changes),
        together=_brought(held),
        measured_on=measured_on(),
    )


def _open(move: FindingMove) -> bool:
    """Whether a finding is open in either picture."""
    return (move.before, move.after) != ("holds", "holds")


def _holds_in_both(move: FindingMove) -> bool:
    """Whether something holds in both that is named as what holds, and not as a fault that neither has."""
    return not _open(move) and level_said(move.kind, move.subject, "holds") == LEVEL_WORDS["holds"]


def level_said(kind: str, named: str, level: Level) -> str:
    """A level in words, beside the finding's name in a table: "holds" after a fault's name reads as if it stayed."""
    known = kind_named(kind)
    return "none" if level == "holds" and known.virtue and named == known.title else LEVEL_WORDS[level]


def _order_told(move: FindingMove) -> tuple[int, int]:
    """Worse before better, and what is to be reworked first."""
    return TOLD.index(move.outcome), -LEVELS_OF_FINDINGS.index(move.after)


def _by_a_grey(comparison: Comparison, again: str) -> str:
    """The command that balances the two by a grey, where the page asks for one; empty elsewhere."""
    if not again or not asks_for_a_grey(comparison.held.balance, comparison.held.unrelated):
        return ""
    pictures = [comparison.first.picture, comparison.second.picture]
    return with_greys(again, ["--grey-original", "--grey-repaint"], pictures)


def _by_corners(comparison: Comparison, again: str) -> str:
    """The command that says where the canvas lies in what wasn't cropped, where nothing is told before; else empty."""
    if not again or not comparison.not_yet:
        return ""
    pictures = (comparison.first.picture, comparison.second.picture)
    told = [
        f"{option} {written_corners(picture.view.corners if picture.view.likely else None)}"
        for picture, option in zip(pictures, OF_A_PAIR, strict=True)
        if uncropped(picture) and picture.view is not None
    ]
    return " ".join([again, *told])


def need_in_words(first: PaletteNeed, second: PaletteNeed) -> str:
    """How many paints each needs at the same error, in a sentence."""
    sizes = [need.size_at(SAME_ERROR) for need in (first, second)]
    words = {1: "one paint", 2: "two paints", 3: "three paints", 4: "four paints", 5: "five paints", 6: "six paints"}
    most = len(first.errors)
    told = [words[size] if size is not None else f"more than {words[most]}" for size in sizes]
    at = f"to come within {SAME_ERROR:g} steps of its colours on average (one or two are just seen side by side)"
    if sizes[0] == sizes[1]:
        return f"The same for both: {told[0]} and white {at}."
    return f"The original needs {told[0]} and white {at}, the repaint {told[1]} and white."


def measured_on() -> int:
    """How many pictures the spread of photographs was measured on."""
    lines = reference_path("photograph_spread.csv").read_text(encoding="utf-8").splitlines()
    return next(int(line.split(":", 1)[1]) for line in lines if line.startswith("# number:"))


def _parts(changed: bool) -> tuple[tuple[str, str], ...]:
    parts = (
        ("questions", "What you asked"),
        ("findings", "Better and worse"),
        ("light", "Light and drawing"),
        ("changed", "Where it changed"),
        ("greens", "Greens"),
        ("values", "Value plans"),
        ("division", "Division"),
        ("palette", "How many paints each needs"),
        ("figures", "All figures"),
    )
    return tuple(part for part in parts if changed or part[0] != "changed")


def _brought(held: Held) -> str:
    """What was done to both before they were measured again; empty when nothing was."""
    if held.together is None:
        return ""
    lit = held.balance is not None and held.balance.needed
    return "In one light and frame" if lit and held.frame is not None else "In one light" if lit else "In one frame"


def _references(comparison: Comparison) -> list[dict[str, Any]]:
    balance = comparison.held.balance
    if balance is None:
        return []
    what = "The grey named in" if balance.how == "pointed at" else "What is greyest in"  # it may be a pale blue
    return [
        {
            "label": f"{what} the {side}",
            "lab": lab,
            "word": painters_word(*lch_of(lab)),
            "srgb": hex_of(lab_to_srgb8(lab)),
        }
        for side, lab in zip(SIDES, balance.references, strict=True)
    ]


def _need(need: PaletteNeed, index: int) -> dict[str, Any]:
    return {"error": need.errors[index], "paints": ", ".join(need.paints[index])}


def _cautions(comparison: Comparison) -> tuple[str, ...]:
    named = {name for need in comparison.needs for names in need.paints[:4] for name in names}
    return tuple(one.text for one in cautions_for(paint for paint in comparison.box.with_white if paint.name in named))
