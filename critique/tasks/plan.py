"""The plan of a repaint: one aim, one palette, its passages, and the order of work."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

import numpy as np
from numpy.typing import NDArray

from critique.advice.judging import Case
from critique.advice.norms import Norms, read_norms
from critique.advice.suggestions import offers
from critique.advice.trial import trial_of
from critique.measures.eye_judging import settles_to_say
from critique.measures.families import Family
from critique.measures.land_greens import land_green_share
from critique.measures.measure import Measures, measure_picture
from critique.measures.part_chances import SKY
from critique.measures.parts import PART_NAMES, Parts, measure_parts
from critique.paints.box import PaintBox, default_box
from critique.picture.picture import Picture
from critique.plain import json_line, plain
from critique.records import heading
from critique.steps import step
from critique.tasks.aim import Aim, Wanted, aim_of, asked_of, crops
from critique.tasks.canvas_size import CanvasSize, canvas_size, other_shape
from critique.tasks.edges_of_aim import EdgeToPaint, edges_to_paint
from critique.tasks.first_step import FirstStep, first_step
from critique.tasks.order_of_work import Stage, order_of_work, other_media
from critique.tasks.passages import Passages, passages_of
from critique.tasks.plan_palette import AimPalette, palette_for
from critique.tasks.relief_of_tubes import relief_of_tubes
from critique.tasks.repaint import RepaintStudy, repaint_study

SURE_ENOUGH = 0.6  # of a part: below it snow was called water, and the mist of a waterfall sky


@dataclass(frozen=True, slots=True)
class FigureMoved:
    """A figure of the picture and of its aim."""

    name: str
    before: float
    after: float


@dataclass(frozen=True, slots=True)
class Plan:
    """Everything that a painter needs at the easel; ``study`` is the aim as its tubes can carry it, pixel by pixel."""

    picture: Picture
    aim: Aim
    figures: tuple[FigureMoved, ...]
    families: tuple[Family, ...]  # of the aim
    palette: AimPalette
    passages: Passages
    canvas: CanvasSize
    another_shape: bool  # whether the canvas has another shape than the aim
    fresh: bool  # whether a new canvas is begun
    edges: tuple[EdgeToPaint, ...]
    stages: tuple[Stage, ...]
    oil: str
    gouache: str
    study: RepaintStudy
    first_step: FirstStep | None  # what the review says to do first; None where nothing is to be done
    relief: str  # what to do about a touch of red that the tubes can't mix; empty where none is asked for
    measures: Measures = field(metadata={"record": False}, repr=False)  # of the aim

    def as_dict(self) -> dict[str, Any]:
        """The record: what ``plan.json`` holds."""
        findings = [
            {"subject": finding.subject, "level": finding.level, "text": finding.text}
            for finding in self.aim.after.findings
        ]
        changes = [step.change.as_dict() for step in self.aim.steps]
        aim = plain(self.aim)
        aim["steps"] = [{**told, **change} for told, change in zip(aim["steps"], changes, strict=True)]
        record = plain(self)
        return {**heading(), **record, "aim": {**aim, "findings": findings}}

    def as_line(self) -> str:
        """The record as one line of JSON."""
        return json_line(self.as_dict())


def plan_repaint(
    picture: Picture,
    *,
    box: PaintBox | None = None,
    paints: int = 4,
    take: Sequence[str] = (),
    leave: Sequence[str] = (),
    turned: Mapping[str, float] | None = None,
    like: Picture | None = None,
    like_everything: bool = False,
    size: str | None = None,
    fresh: bool = False,
    norms: Norms | None = None,
) -> Plan:
    """Plan how a picture is repainted.

    Parameters
    ----------
    box : the painter's tubes; the landscape set unless told otherwise.
    paints : how many of them beside white; all of a box that holds no more.
    take, leave : changes to make in any case, such as a crop, and changes to leave, by id or title.
    turned : how many times as strong a change is made, by id or title: up to 1.5; what is turned to 0 is left.
    like : a picture whose greens, or with ``like_everything`` whose colours, the aim is led toward.
    size : of the canvas, such as "16x12in".
    fresh : whether a new canvas is begun, rather than the old painting gone over.

    Raises
    ------
    CritiqueError
        When a change, a size or a number of paints makes no sense.
    """
    wanted = Wanted(tuple(take), tuple(leave), dict(turned or {}), like, like_everything)
    asked_of(wanted)
    owned = box if box is not None else default_box()
    step("Measuring")
    measures = measure_picture(picture)
    case = Case.of(picture, measures, norms if norms is not None else read_norms(), owned)
    step("Judging, and trying changes")
    before = trial_of(case)
    tried = offers(before)
    offered = tuple(offer.suggestion for offer in tried)
    step("Composing the aim")
    aim = aim_of(before, offered, wanted, owned, tuple(offer.after for offer in tried))
    after = aim.after.case.measures
    canvas = canvas_size(size, aim.picture.width, aim.picture.height)
    step("Choosing the tubes")
    palette = palette_for(after.families, owned, paints)
    cut = any(crops(step.change) for step in aim.steps)
    below = None if fresh or cut else picture
    step("Mixing its passages")
    parts = measure_parts(aim.picture) if cut else measures.parts
    passages = passages_of(
        aim.picture,
        below,
        palette.box,
        canvas,
        parts_of(parts),
        sky=parts.chance[:, SKY][parts.regions.labels],
        # Where the eye was held before counts too: what quiets a picture may let another place come forward.
        holding=[
            (place.x, place.y) for each in ((after,) if cut else (after, measures)) for place in each.eyepath.claimed
        ],
    )
    step("Putting the work in order")
    focus = after.eyepath.focus
    sure = settles_to_say(after.eyepath) is not None
    edges = edges_to_paint(passages.places, (focus.x, focus.y), sure=sure)
    stages = order_of_work(
        passages.passages,
        passages.accents,
        edges,
        after.values.plan(3),
        palette.box,
        green_area=measures.greens.area_share,
        fresh=fresh,
        bare_sky=any(one.kind == "bare_sky" and one.level != "holds" for one in before.findings),
    )
    oil, gouache = other_media()
    return Plan(
        picture,
        aim,
        _figures(case, aim.after.case),
        after.families,
        palette,
        passages,
        canvas,
        other_shape(canvas, aim.picture.width, aim.picture.height),
        fresh,
        edges,
        stages,
        oil,
        gouache,
        repaint_study(aim.picture, palette.box, after.greens),
        first_step(offered, aim, before.findings),
        relief_of_tubes(before.findings, palette.box, owned),
        after,
    )


def parts_of(parts: Parts) -> NDArray[np.str_]:
    """The name of the part that each place of a picture belongs to; empty where that is no more than likely."""
    sure = {"sky": parts.sky_sureness, "water": parts.water_sureness}
    names = [name if sure.get(name, parts.land_sureness) >= SURE_ENOUGH else "" for name in PART_NAMES]
    return np.array(names)[parts.labels]


def _figures(before: Case, after: Case) -> tuple[FigureMoved, ...]:
    """The figures that tell what the aim is about; green as the finding on it has it, a sure sky left out."""
    was, now = before.measures, after.measures
    return (
        FigureMoved(
            "green area, the sky left out",
            land_green_share(before.picture, was.parts),
            land_green_share(after.picture, now.parts),
        ),
        FigureMoved("green of all colour", was.greens.chroma_share, now.greens.chroma_share),
        FigureMoved("green beyond a leaf", was.greens.beyond_leaf_share, now.greens.beyond_leaf_share),
        FigureMoved("value range", was.values.range, now.values.range),
    )
