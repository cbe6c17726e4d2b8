"""A second state of a picture held against a first: how it lies on it, in what light, and what changed."""

from dataclasses import dataclass
from typing import Any

from critique.advice.advise import judge
from critique.advice.finding import Finding
from critique.measures.figures import measures_record
from critique.measures.measure import Measures, measure_picture
from critique.measures.parts import Parts
from critique.pair.alike import OneChange, moved_alike
from critique.pair.another_picture import ANOTHER, DOUBTFUL, is_turned_round, masses_in_common
from critique.pair.answer import Answer
from critique.pair.answers import answers
from critique.pair.balance import Balance, Place, balance_by_greys, balance_by_points, in_gains
from critique.pair.change_maps import ChangeMaps, change_maps, with_parts
from critique.pair.changed_words import changes_in_words
from critique.pair.comparison import SURE_PART, Changes, compare_figures
from critique.pair.definition import Definition, definition_moved
from critique.pair.eye_answer import pull_repainted
from critique.pair.finding_moves import FindingMove, beyond_landscapes, finding_moves
from critique.pair.frame import Frame, common_frame
from critique.pair.line_moved import with_line_moved
from critique.pair.overlay import overlaid
from critique.pair.own_spread import OwnSpread, own_jumps, own_spread
from critique.pair.register import Registration, register
from critique.pair.scattered import share_in_patches
from critique.pair.shine import Shine, shine_over
from critique.picture.picture import Picture
from critique.plain import plain

MAPS_LONG_EDGE = 320  # px: where a repaint changed is told in places, not in strokes


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
    unrelated: bool  # neither the drawing nor the masses of the one are found in the other: no light is brought over
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
    turned_round: bool = False  # the second is the first, left for right
    doubtful: bool = (
        False  # whether it is the same picture is to be asked: no drawing, and few of the masses, are common
    )
    alike: OneChange | None = None  # where all of it moved as by another light, and nothing told whether it was
    shine: Shine | None = None  # a veil of light over part of either
    definition: Definition | None = None  # where strokes alone came out crisper or softer, and no mass or colour moved

    @property
    def places(self) -> tuple[str, ...]:
        """Where it changed, in words."""
        return changes_in_words(self.maps) if self.maps is not None else ()

    def places_record(self) -> dict[str, Any] | None:
        """The changed places, as a record has them."""
        return None if self.maps is None else {**plain(self.maps), "texts": list(self.places)}


def state_of(picture: Picture) -> State:
    """Measure and judge one picture."""
    measures = measure_picture(picture)
    return State(picture, measures, judge(picture, measures), own_spread(picture, measures))


def hold(first: State, second: State, neutrals: tuple[Place, Place] | None = None) -> Held:
    """Hold a second state against a first: lay it on, bring both into one light and frame, and tell what changed."""
    registration = register(first.picture, second.picture)
    common = masses_in_common(first.picture, second.picture, registration)
    unrelated = common < ANOTHER
    turned_round = is_turned_round(first.picture, second.picture, registration)
    if turned_round:
        unrelated = False
    balance = _balance(first.picture, second.picture, None if unrelated else registration, neutrals)
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
    maps, alike, shine = _laid_over(pictures, registration, first.measures.parts, light_is_known=light_is_known)
    if changes.in_doubt:
        looked_at = shown if decides else (first.picture, second.picture)
        jumps = [own_jumps(*each, changes.in_doubt) for each in zip(looked_at, deciding, strict=True)]
        surely = pull_repainted(changes, first.measures.eyepath, second.measures.eyepath, maps)
        changes = changes.beyond({name: max(jumps[0][name], jumps[1][name]) for name in jumps[0] if name not in surely})
    lines = first.measures.division, second.measures.division
    changes = with_line_moved(changes, lines, (first.picture, second.picture), registration)
    masses_stay = maps is not None and not maps.places and not maps.things
    unchanged = not changes.changed and masses_stay
    definition = (
        definition_moved(*pictures, registration)
        if maps is not None and masses_stay and share_in_patches(maps) == 0
        else None
    )
    moves = finding_moves(
        first.findings,
        second.findings,
        changes,
        seen,
        unchanged=unchanged,
        repainted=max(maps.shares.values(), default=0.0) if maps is not None else 1.0,
    )
    replies = answers(
        changes,
        *deciding,
        of_colour=_of_what_both_show(crop, pictures, light_is_known) if crop is not None and frame is None else None,
        lines=lines,
        maps=maps,
        too_loud=beyond_landscapes(moves),
    )
    return Held(
        registration,
        unrelated,
        balance,
        frame,
        *pictures,
        together,
        deciding,
        changes,
        moves,
        replies,
        maps,
        crop,
        turned_round,
        not (unrelated or turned_round) and common < DOUBTFUL,
        alike,
        shine,
        definition,
    )


def _balance(
    first: Picture, second: Picture, registration: Registration | None, neutrals: tuple[Place, Place] | None
) -> Balance | None:
    """The light between two pictures: by the places told, or by the greys where one lies on the other."""
    if neutrals is not None:
        return balance_by_points(first, second, *neutrals)
    return balance_by_greys(first, second, registration) if registration is not None else None


def _laid_over(
    pictures: tuple[Picture, Picture], registration: Registration, parts: Parts, *, light_is_known: bool
) -> tuple[ChangeMaps | None, OneChange | None, Shine | None]:
    """Where it changed, whether all moved as by another light, and any veil of light; nothing without one drawing."""
    if not registration.found:
        return None, None, None
    both = overlaid(*pictures, registration, MAPS_LONG_EDGE)
    sky = parts.mask("sky") & (parts.sky_sureness >= SURE_PART)
    return with_parts(change_maps(both), sky), None if light_is_known else moved_alike(both), shine_over(both)


def _of_what_both_show(
    crop: Frame, pictures: tuple[Picture, Picture], light_is_known: bool
) -> tuple[Changes, Measures, Measures]:
    """Changes and measures of what both show: what a crop left out says nothing of the paint."""
    seen = measure_picture(crop.of_first(pictures[0])), measure_picture(crop.of_second(pictures[1]))
    return compare_figures(seen, light_is_known=light_is_known), *seen


def _measured_again(state: State, picture: Picture) -> Measures:
    return state.measures if picture is state.picture else measure_picture(picture)
