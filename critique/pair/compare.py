"""Two pictures held against each other, the passes of one painting, and many versions of one subject."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path
from typing import Any

from critique.advice.advise import judge
from critique.advice.finding import Finding
from critique.errors import CritiqueError
from critique.measures.families import Family
from critique.measures.figures import compared_figures, measures_record
from critique.measures.main_colours import main_colours
from critique.measures.measure import Measures, measure_picture
from critique.paints.box import PaintBox, default_box
from critique.paints.palette_size import SAME_ERROR, SIZES, PaletteNeed, palette_needs
from critique.pair.answers import Answer, answers
from critique.pair.balance import Balance, Place, balance_by_greys, balance_by_points, in_gains
from critique.pair.change_maps import ChangeMaps, change_maps, with_parts
from critique.pair.comparison import SURE_PART, Changes, compare_figures
from critique.pair.comparison_words import (
    BY_GREYS,
    JUDGED,
    SIDE_BY_SIDE,
    TWO_PICTURES,
    comparison_verdict,
    drawing_in_words,
    light_in_words,
    place_in_words,
)
from critique.pair.finding_moves import FindingMove, beyond_landscapes, finding_moves
from critique.pair.frame import Frame, common_frame
from critique.pair.kept_plan import KeptPlan
from critique.pair.line_moved import with_line_moved
from critique.pair.overlay import overlaid
from critique.pair.own_spread import OwnSpread, own_jumps, own_spread
from critique.pair.passes_words import pass_in_words, stop_or_go
from critique.pair.register import Registration, register
from critique.pair.toward_aim import TowardAim, toward_aim
from critique.pair.toward_words import TowardWords, reached_in_words, toward_in_words
from critique.pair.transport import Transport, match_families
from critique.photograph.corners import Corners
from critique.picture.picture import Picture
from critique.picture.read import read_picture
from critique.plain import json_line, plain
from critique.records import heading

MAPS_LONG_EDGE = 320  # px: where a repaint changed is told in places, not in strokes
# Mean ΔE00 of the cheapest repaint from which two pictures without a common drawing pass for two subjects: of 117 pairs
# of unrelated landscapes two thirds cost more. The demo repaint, which takes raw green from half the picture, costs 16.
TWO_SUBJECTS = 20.0


@dataclass(frozen=True, slots=True)
class State:
    """A picture with its measures and findings, in its own light."""

    picture: Picture
    measures: Measures
    findings: tuple[Finding, ...]
    own_spread: OwnSpread  # how far another photograph moves the greens of this very picture

    def as_dict(self) -> dict[str, Any]:
        """The picture's part of a record, as in a review without its suggestions."""
        return {"picture": plain(self.picture), **measures_record(self.measures), "findings": plain(self.findings)}


@dataclass(frozen=True, slots=True)
class Held:
    """A second state held against a first: how it lies on it, in what light, what changed and what that means.

    ``second`` is the second picture brought into the light of the first (as photographed when there was nothing to
    correct), ``first`` likewise; ``frame`` is the part of each that both show, None where that is the whole.
    ``together`` are the measures of both in that light and frame, None where they are so already, and ``deciding``
    those by which the figures were judged.
    """

    registration: Registration
    unrelated: bool  # neither the drawing nor the colours of the one are found in the other: no light is brought over
    balance: Balance | None
    frame: Frame | None
    first: Picture
    second: Picture
    together: tuple[Measures, Measures] | None
    deciding: tuple[Measures, Measures]
    changes: Changes
    moves: tuple[FindingMove, ...]
    answers: tuple[Answer, ...]
    maps: ChangeMaps | None  # where both follow one drawing
    crop: Frame | None = None  # what both show, however much of either that leaves out

    @property
    def places(self) -> tuple[str, ...]:
        """Where it changed, in words."""
        return tuple(place_in_words(place) for place in self.maps.places) if self.maps is not None else ()

    def places_record(self) -> dict[str, Any] | None:
        """The changed places, as a record has them."""
        return None if self.maps is None else {**plain(self.maps), "texts": list(self.places)}


@dataclass(frozen=True, slots=True)
class Comparison:
    """An original and its repaint, with everything that the page tells of them."""

    first: State
    second: State
    held: Held
    transport: Transport
    needs: tuple[PaletteNeed, PaletteNeed]
    box: PaintBox
    verdict: tuple[str, ...]
    light: str
    drawing: str
    toward: TowardAim | None = None  # where a plan was given

    @property
    def families(self) -> tuple[tuple[Family, ...], tuple[Family, ...]]:
        """The families that ``transport`` matches: in one light and frame."""
        return _families(self.first, self.second, self.held)

    def as_dict(self) -> dict[str, Any]:
        """The record: what ``comparison.json`` holds."""
        return {
            **heading(),
            "verdict": list(self.verdict),
            "answers": plain(self.held.answers),
            "light": {"text": self.light, "balance": plain(self.held.balance)},
            "drawing": {
                "text": self.drawing,
                **plain(self.held.registration),
                "unrelated": self.held.unrelated,
                "frame": plain(self.held.frame),
            },
            "figures": plain(self.held.changes.figures),
            "findings": plain(self.held.moves),
            "changed_places": self.held.places_record(),
            "families": {**plain(self.transport), "matched": plain(self.families)},
            "palette": {
                "box": self.box.name,
                "error": SAME_ERROR,
                "sizes": list(SIZES),
                "first": {**plain(self.needs[0]), "needed": self.needs[0].size_at(SAME_ERROR)},
                "second": {**plain(self.needs[1]), "needed": self.needs[1].size_at(SAME_ERROR)},
            },
            "first": self.first.as_dict(),
            "second": self.second.as_dict(),
            **({"toward_aim": plain(self.toward)} if self.toward is not None else {}),
        }

    def as_line(self) -> str:
        """The record as one line of JSON."""
        return json_line(self.as_dict())


@dataclass(frozen=True, slots=True)
class Passes:
    """The states of one painting in order; ``steps`` hold each state against the one before it."""

    states: tuple[State, ...]
    steps: tuple[Held, ...]
    texts: tuple[str, ...]  # one a step
    lights: tuple[str, ...]  # the same
    advice: str  # the one verdict: by the aim where there is one that the last state can be held against
    toward: TowardAim | None = None  # where a plan was given
    told: TowardWords | None = None

    def as_dict(self) -> dict[str, Any]:
        """The record: what ``passes.json`` holds."""
        return {
            **heading(),
            "advice": self.advice,
            "passes": [state.as_dict() for state in self.states],
            "steps": [
                {
                    "text": text,
                    "light": {"text": light, "balance": plain(step.balance)},
                    "figures": plain(step.changes.figures),
                    "findings": plain(step.moves),
                    "changed_places": step.places_record(),
                }
                for step, text, light in zip(self.steps, self.texts, self.lights, strict=True)
            ],
            **({"toward_aim": {**plain(self.toward), "told": plain(self.told)}} if self.toward is not None else {}),
        }

    def as_line(self) -> str:
        """The record as one line of JSON."""
        return json_line(self.as_dict())


@dataclass(frozen=True, slots=True)
class Lineup:
    """Versions of one subject, in the order given, ranked by nothing."""

    states: tuple[State, ...]

    def as_dict(self) -> dict[str, Any]:
        """The record: what ``lineup.json`` holds."""
        return {
            **heading(),
            "figures": [figure.name for figure in compared_figures()],
            "pictures": [state.as_dict() for state in self.states],
        }

    def as_line(self) -> str:
        """The record as one line of JSON."""
        return json_line(self.as_dict())


def compare_files(
    original: str | Path,
    repaint: str | Path,
    neutrals: tuple[Place, Place] | None = None,
    box: PaintBox | None = None,
    plan: KeptPlan | None = None,
    *,
    corners: tuple[Corners | None, Corners | None] = (None, None),
    whole: bool = False,
) -> Comparison:
    """Read two pictures and compare them; see ``compare_pictures``.

    Raises
    ------
    UnreadablePicture
        When one of the files cannot be read as a picture.
    """
    first, second = (
        read_picture(file, corners=own, whole=whole and own is None)
        for file, own in zip((original, repaint), corners, strict=True)
    )
    return compare_pictures(first, second, neutrals, box, plan)


def compare_pictures(
    original: Picture,
    repaint: Picture,
    neutrals: tuple[Place, Place] | None = None,
    box: PaintBox | None = None,
    plan: KeptPlan | None = None,
) -> Comparison:
    """Compare an original and its repaint; with a ``plan``, first whether what was aimed at was reached.

    ``neutrals`` is where something grey lies in each, as fractions of width and height from the upper left; without
    it the greyest thing that both have is looked for. ``box`` is the paint box that palettes are chosen from.
    """
    toward = toward_aim([original, repaint], plan) if plan is not None else None
    first, second = state_of(original), state_of(repaint)
    held = hold(first, second, neutrals)
    paints = box if box is not None else default_box()
    needs = palette_needs([main_colours(picture) for picture in (held.first, held.second)], paints)
    return Comparison(
        first=first,
        second=second,
        held=held,
        transport=match_families(*_families(first, second, held)),
        needs=(needs[0], needs[1]),
        box=paints,
        verdict=(
            *((reached_in_words(toward, quieter=_quieter(held)),) if toward is not None else ()),
            *((TWO_PICTURES,) if held.unrelated else ()),
            *comparison_verdict(
                held.changes, held.answers, held.moves, held.maps, held.registration, held.balance, held.crop
            ),
        ),
        light=light_in_words(held.balance, SIDE_BY_SIDE, held.unrelated),
        drawing=drawing_in_words(held.registration, held.frame, held.unrelated, held.crop),
        toward=toward,
    )


def _quieter(held: Held) -> bool:
    """Whether the greens of the second are less of all its colour, or weaker."""
    before, after = (measures.greens for measures in held.deciding)
    return after.chroma_share < before.chroma_share and after.beyond_leaf_share <= before.beyond_leaf_share


def _families(first: State, second: State, held: Held) -> tuple[tuple[Family, ...], tuple[Family, ...]]:
    seen = held.together if held.together is not None else (first.measures, second.measures)
    return seen[0].families, seen[1].families


def compare_passes(
    states: Sequence[State], plan: KeptPlan | None = None, neutrals: Sequence[Place | None] = ()
) -> Passes:
    """Hold each state of a painting against the one before it; with a ``plan``, all of them against its aim too.

    ``neutrals`` is where something grey lies in each state, None where none was named; two that both have one are
    balanced by it.

    Raises
    ------
    CritiqueError
        When there are fewer than two states.
    """
    if len(states) < (2 if plan is None else 1):
        raise CritiqueError("passes need at least two pictures that can be read: the states of one painting, in order")
    toward = toward_aim([state.picture for state in states], plan) if plan is not None else None
    told = toward_in_words(toward) if toward is not None else None
    greys = pairwise(neutrals or [None] * len(states))
    both = ((first, second) if first is not None and second is not None else None for first, second in greys)
    steps = tuple(hold(*pair, grey) for pair, grey in zip(pairwise(states), both, strict=True))
    by_findings = stop_or_go(tuple((step.changes, step.moves) for step in steps)) if steps else ""
    return Passes(
        states=tuple(states),
        steps=steps,
        texts=tuple(_told(step) for step in steps),
        lights=tuple(light_in_words(step.balance, JUDGED, step.unrelated, by_a_grey=BY_GREYS) for step in steps),
        advice=(told.stop if told is not None else "") or by_findings,
        toward=toward,
        told=told,
    )


def _told(step: Held) -> str:
    text = pass_in_words(step.changes, step.moves, step.answers, bool(step.places))
    return f"{TWO_PICTURES} {text}" if step.unrelated else text


def state_of(picture: Picture) -> State:
    """Measure and judge one picture."""
    measures = measure_picture(picture)
    return State(picture, measures, judge(picture, measures), own_spread(picture, measures))


def hold(first: State, second: State, neutrals: tuple[Place, Place] | None = None) -> Held:
    """Hold a second state against a first: lay it on, bring both into one light and frame, and tell what changed."""
    registration = register(first.picture, second.picture)
    unrelated = _unrelated(first, second, registration)
    balance: Balance | None = None
    if neutrals is not None:
        balance = balance_by_points(first.picture, second.picture, *neutrals)
    elif not unrelated:
        balance = balance_by_greys(first.picture, second.picture, registration)
    pictures = first.picture, second.picture
    if balance is not None and balance.needed:
        pictures = in_gains(first.picture, balance.gains_first), in_gains(second.picture, balance.gains_second)
    crop = common_frame(first.picture, second.picture, registration, most=1.0)
    frame = common_frame(first.picture, second.picture, registration)
    shown = pictures if frame is None else (frame.of_first(pictures[0]), frame.of_second(pictures[1]))
    together = None
    if shown != (first.picture, second.picture):
        together = _measured_again(first, shown[0]), _measured_again(second, shown[1])
    light_is_known = balance is not None
    decides = together is not None and (light_is_known or frame is not None)
    seen = first.measures, second.measures
    deciding = together if together is not None and decides else seen
    changes = compare_figures(seen, together, light_is_known, decides, (first.own_spread, second.own_spread))
    if changes.in_doubt:
        looked_at = shown if decides else (first.picture, second.picture)
        jumps = [own_jumps(*each, changes.in_doubt) for each in zip(looked_at, deciding, strict=True)]
        changes = changes.beyond({name: max(jumps[0][name], jumps[1][name]) for name in jumps[0]})
    lines = first.measures.division, second.measures.division
    changes = with_line_moved(changes, lines, (first.picture, second.picture), registration)
    maps = None
    if registration.found:
        parts = first.measures.parts
        sky = parts.mask("sky") & (parts.sky_sureness >= SURE_PART)
        maps = with_parts(change_maps(overlaid(*pictures, registration, MAPS_LONG_EDGE)), sky)
    unchanged = not changes.changed and maps is not None and not maps.places
    moves = finding_moves(first.findings, second.findings, changes, second.measures, unchanged=unchanged)
    answered = answers(
        changes,
        *deciding,
        of_colour=_of_what_both_show(crop, pictures, light_is_known) if crop is not None and frame is None else None,
        lines=lines,
        places=maps.places if maps is not None else (),
        too_loud=beyond_landscapes(moves),
    )
    return Held(
        registration, unrelated, balance, frame, *pictures, together, deciding, changes, moves, answered, maps, crop
    )


def _of_what_both_show(
    crop: Frame, pictures: tuple[Picture, Picture], light_is_known: bool
) -> tuple[Changes, Measures, Measures]:
    """Changes and measures of what both show: what a crop left out says nothing of the paint."""
    seen = measure_picture(crop.of_first(pictures[0])), measure_picture(crop.of_second(pictures[1]))
    return compare_figures(seen, light_is_known=light_is_known), *seen


def _unrelated(first: State, second: State, registration: Registration) -> bool:
    """Whether these look like two subjects: no drawing in common, not even in part, and colours far apart."""
    if registration.found or registration.moved is not None:
        return False
    return match_families(first.measures.families, second.measures.families).cost > TWO_SUBJECTS


def _measured_again(state: State, picture: Picture) -> Measures:
    return state.measures if picture is state.picture else measure_picture(picture)
