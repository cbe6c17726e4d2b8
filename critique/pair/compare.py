"""Two pictures held against each other, the passes of one painting, and many versions of one subject."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path
from typing import Any

from critique.errors import CritiqueError
from critique.measures.families import Family
from critique.measures.figures import compared_figures
from critique.measures.main_colours import main_colours
from critique.paints.box import PaintBox, default_box
from critique.paints.palette_size import SAME_ERROR, SIZES, PaletteNeed, palette_needs
from critique.pair.balance import Place
from critique.pair.comparison_words import (
    BY_GREYS,
    JUDGED,
    PERHAPS_TWO,
    SIDE_BY_SIDE,
    STATES,
    TURNED_ROUND_STATE,
    alike_in_words,
    comparison_verdict,
    light_in_words,
    shine_in_words,
)
from critique.pair.drawing_words import TWO_PICTURES, drawing_in_words
from critique.pair.hold import Held, State, hold, state_of
from critique.pair.kept_plan import KeptPlan
from critique.pair.passes_words import LAST_IS_ANOTHER, pass_in_words, stop_or_go
from critique.pair.toward_aim import TowardAim, toward_aim
from critique.pair.toward_words import TowardWords, reached_in_words, toward_in_words
from critique.pair.transport import Transport, match_families
from critique.pair.uncropped import LAST_UNCROPPED, OF_A_PAIR, OF_STATES, not_yet_in_words, uncropped
from critique.photograph.corners import Corners
from critique.picture.picture import Picture
from critique.picture.read import read_picture
from critique.plain import json_line, plain
from critique.records import heading
from critique.words.lists import listed


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
    def not_yet(self) -> bool:
        """Whether they look like two pictures, and one may show more than its painting: its wall would be judged."""
        return self.held.unrelated and (uncropped(self.first.picture) or uncropped(self.second.picture))

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
            "light": {
                "text": self.light,
                "balance": plain(self.held.balance),
                "moved_alike": plain(self.held.alike),
                "shine": plain(self.held.shine),
            },
            "drawing": {
                "text": self.drawing,
                **plain(self.held.registration),
                "unrelated": self.held.unrelated,
                "turned_round": self.held.turned_round,
                "frame": plain(self.held.frame),
            },
            "definition": plain(self.held.definition),
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
                    "light": {
                        "text": light,
                        "balance": plain(step.balance),
                        "moved_alike": plain(step.alike),
                        "shine": plain(step.shine),
                    },
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
            *((_two_pictures((first, second), OF_A_PAIR),) if held.unrelated else _verdict(held)),
        ),
        light=light_in_words(
            held.balance,
            SIDE_BY_SIDE,
            held.unrelated,
            alike=held.alike is not None,
            not_yet=uncropped(original) or uncropped(repaint),
        ),
        drawing=drawing_in_words(
            held.registration, held.frame, held.unrelated, held.crop, turned_round=held.turned_round
        ),
        toward=toward,
    )


def _verdict(held: Held) -> tuple[str, ...]:
    verdict = comparison_verdict(
        held.changes,
        held.answers,
        held.moves,
        held.maps,
        held.registration,
        held.balance,
        held.crop,
        turned_round=held.turned_round,
        alike=held.alike,
        shine=held.shine,
        definition=held.definition,
    )
    return (*verdict, PERHAPS_TWO) if held.doubtful else verdict


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
    by_findings = _stop_by_findings(steps, states[-1]) if steps else ""
    return Passes(
        states=tuple(states),
        steps=steps,
        texts=tuple(_told(step, pair) for step, pair in zip(steps, pairwise(states), strict=True)),
        lights=tuple(
            light_in_words(
                step.balance,
                JUDGED,
                step.unrelated,
                by_a_grey=BY_GREYS,
                alike=step.alike is not None,
                not_yet=any(uncropped(state.picture) for state in pair),
            )
            for step, pair in zip(steps, pairwise(states), strict=True)
        ),
        advice=(_stop_by_aim(told, states[-1]) if told is not None else "") or by_findings,
        toward=toward,
        told=told,
    )


def _stop_by_aim(told: TowardWords, last: State) -> str:
    """What the aim says of stopping; where it is reached, with what it never meant to mend."""
    left = [finding.subject for finding in last.findings if finding.level != "holds"]
    rest = f" What the plan left as it was is still to be judged: {listed(left)}." if told.reached and left else ""
    return f"{told.stop}{rest}"


def _stop_by_findings(steps: tuple[Held, ...], last: State) -> str:
    """What the last passes say of stopping: those since a state that could not be held against the one before it."""
    if steps[-1].unrelated:
        return LAST_UNCROPPED if uncropped(last.picture) else LAST_IS_ANOTHER
    since = next((place for place in range(len(steps), 0, -1) if steps[place - 1].unrelated), 0)
    return stop_or_go(tuple((step.changes, step.moves) for step in steps[since:]), steps[-1].definition)


def _two_pictures(states: tuple[State, State], corners: tuple[str, str]) -> str:
    """That two look like different pictures; where one may show more than its painting, that comes first."""
    return not_yet_in_words([state.picture for state in states], corners) or TWO_PICTURES


def _told(step: Held, states: tuple[State, State]) -> str:
    if step.unrelated:
        return _two_pictures(states, OF_STATES)
    turned = f"{TURNED_ROUND_STATE} " if step.turned_round else ""
    light = alike_in_words(step.alike, BY_GREYS)
    told = turned + pass_in_words(step.changes, step.moves, step.answers, step.maps, step.definition)
    shine = shine_in_words(step.shine, STATES) if step.changes.changed or (step.maps and step.maps.places) else ""
    return " ".join(part for part in (told, light, shine, PERHAPS_TWO if step.doubtful else "") if part)
