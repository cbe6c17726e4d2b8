"""The plan's page to read, and its sheet to print and lean on the easel."""

import os
from collections import Counter
from dataclasses import dataclass
from pathlib import Path

from critique.advice.change_kind import ChangeKind
from critique.advice.change_kinds import all_change_kinds
from critique.advice.finding import Finding
from critique.advice.verdict import step_not_tried
from critique.errors import unwritten
from critique.paints.cards import paint_dabs
from critique.paints.cautions import cautions_for, in_one
from critique.paints.chart import STEPS_TOLD
from critique.paints.recipes import DABS, OFF, difference_in_words
from critique.picture.picture import Picture
from critique.report.aim_file import write_aim, write_drawn_aim
from critique.report.aim_words import greens_told, levels_in_aim, mended_told, still_open
from critique.report.commands import plan_command
from critique.report.folder import PLATES, replace_files
from critique.report.page import title_of
from critique.report.plan_chart import plan_chart
from critique.report.plan_words import (
    card_of,
    mixing_order,
    ml,
    paints_used,
    short_mixture,
    short_name,
    span_in_words,
    start_in_words,
)
from critique.report.plates.plan_key import aim_plate, grid_of, key_plate, values_plate
from critique.report.plates.plate import Plate
from critique.report.record import json_bytes
from critique.report.templating import rendered
from critique.report.view_words import crops_told
from critique.tasks.accents import Accent
from critique.tasks.first_step import in_turn
from critique.tasks.plan import Plan
from critique.words.figures import percent
from critique.words.lists import counted, listed

PAGE, SHEET, RECORD, AIM, KEY = "plan.html", "sheet.html", "plan.json", "aim.png", "passages.png"
HALF_LONG_EDGE, SHEET_LONG_EDGE, SMALL_LONG_EDGE = 760, 1500, 220  # px


@dataclass(frozen=True, slots=True)
class FigureRow:
    """A figure before and in the aim, as it is read."""

    figure: str
    before: str
    after: str


def write_plan(plan: Plan, folder: Path, source: Path | None = None, *, command: str = "") -> Path:
    """Write ``plan.html``, ``sheet.html``, ``plan.json``, ``aim.png``, ``passages.png`` and the plates.

    ``source`` is the picture's file, from which the aim is made at full size; without it, or where the picture is
    a part of a photograph or its light was put right, the aim is as large as the picture is drawn. ``command`` is the
    one that made the plan, for the page to say how changes are left and taken.

    Raises
    ------
    OutputError
        When the folder or a file in it cannot be written.
    UnreadablePicture
        When the picture's file cannot be read any more.
    """
    key, values = key_plate(plan), values_plate(plan)
    files = {f"{PLATES}/{one.name}.png": one.png for one in (key, values)}
    files[KEY] = key_png(plan)
    files[RECORD] = json_bytes(plan.as_dict())
    files[SHEET] = sheet_html(plan, key, values).encode("utf-8", errors="backslashreplace")
    files[PAGE] = page_html(plan, key, values, command).encode("utf-8", errors="backslashreplace")
    replace_files(folder, files)
    beside = folder / f".{AIM}.part"
    try:
        if source is not None and _as_filed(plan.picture):
            write_aim(source, plan.aim.composed, beside)
        else:
            write_drawn_aim(plan.picture, plan.aim.composed, beside)
        os.replace(beside, folder / AIM)
    except OSError as error:
        raise unwritten(f"{folder / AIM}: the aim can't be written", error) from error
    finally:
        beside.unlink(missing_ok=True)
    return folder / PAGE


def key_png(plan: Plan) -> bytes:
    """A label a pixel, counted from 0, each shown in its passage's colour."""
    from io import BytesIO

    from PIL import Image

    image = Image.fromarray(plan.passages.places.labels.astype("uint8"))
    image = image.convert("P") if image.mode != "P" else image
    image.putpalette(b"".join(bytes.fromhex(one.srgb.lstrip("#")) for one in plan.passages.passages))
    stream = BytesIO()
    image.save(stream, "PNG", optimize=True)
    return stream.getvalue()


def _as_filed(picture: Picture) -> bool:
    """Whether a picture is all of its file, in the file's own light."""
    view = picture.view
    return view is None or not (view.cropped or (view.light is not None and view.light.neutral is not None))


def page_html(plan: Plan, key: Plate, values: Plate, command: str = "") -> str:
    """The page to read, as one HTML document."""
    box = plan.palette.box
    usual = usual_covering(plan)
    small = [
        aim_plate(picture, name, alt, SMALL_LONG_EDGE)
        for picture, name, alt in (
            (plan.picture, "was_small", "The picture, small."),
            (plan.aim.picture, "aim_small", "The aim, small."),
        )
    ]
    return rendered(
        "plan.html.j2",
        style="plan.css",
        title=title_of(plan.picture),
        plan=plan,
        was=aim_plate(plan.picture, "was", "The picture as it is.", HALF_LONG_EDGE),
        aim=aim_plate(plan.aim.picture, "aim", "The aim: the picture as it is to be repainted.", HALF_LONG_EDGE),
        study=aim_plate(plan.study.picture, "study", "The aim as these tubes can carry it.", HALF_LONG_EDGE),
        small=small,
        key=key,
        values=values,
        opening=opening(plan),
        ways=other_ways(plan, command or plan_command(plan.picture.file)),
        usual=usual,
        rows=_rows(plan),
        steps=in_turn(plan.aim.steps, plan.first_step),
        mended=mended_told(plan.aim),
        tubes=tubes_told(plan),
        dabs=[paint_dabs(paint, box.white) for paint in box.paints],
        cards=[(one, card_of(one), start_in_words(one), span_in_words(one)) for one in plan.passages.passages],
        out_of_reach=out_of_reach(plan),
        dabs_told=DABS,
        mixing=listed([str(number) for number in mixing_order(plan.passages.passages)]),
        touches=_touches(plan),
        chart=plan_chart(box, plan.passages.passages),
        steps_told=STEPS_TOLD,
        grid=_grid(plan),
        cautions=[caution.text for caution in cautions_for(box.with_white)],
        sheet=SHEET,
        aim_file=AIM,
        crops=crops_told((plan.picture,)),
    )


def sheet_html(plan: Plan, key: Plate, values: Plate) -> str:
    """The sheet of two pages, as one HTML document."""
    return rendered(
        "easel.html.j2",
        style="easel.css",
        title=title_of(plan.picture),
        plan=plan,
        aim=aim_plate(plan.aim.picture, "aim", "The aim.", SHEET_LONG_EDGE),
        key=key,
        values=values,
        cards=[card_of(one) for one in plan.passages.passages],
        tubes=tubes_told(plan),
        dabs_told=DABS,
        mixing=", ".join(str(number) for number in mixing_order(plan.passages.passages)),
        touches=_touches(plan),
        grid=_grid(plan),
        masses=[f"{mean:.0f}" for mean in plan.measures.values.plan(3).means],
        tall=plan.aim.picture.height > plan.aim.picture.width,
        find=[edge for edge in plan.edges if edge.kind == "find"],
        lose=[edge for edge in plan.edges if edge.kind == "lose"],
        cautions=[in_one(cautions_for(plan.palette.box.with_white))],
    )


def opening(plan: Plan) -> list[str]:
    """What the plan is, in a few sentences for the person who will paint it."""
    steps = [step.title for step in in_turn(plan.aim.steps, plan.first_step)]
    by_no_change = unmended(plan)
    by_hand = "" if by_no_change else step_by_hand(plan)
    told = [f"No change here mends its {one.subject}. {one.text}" for one in by_no_change]
    if steps:
        first = f"{listed(steps)[:1].upper()}{listed(steps)[1:]}."
    else:
        more = told or by_hand  # then it is told what to do by hand, and that no change does it needs no word
        step = step_told(plan) if plan.first_step is not None or not more else ""
        first = " ".join(part for part in ("The aim is the picture as it is.", step) if part)
    used = paints_used(plan.passages)
    tubes = listed([*(short_name(name) for name in plan.palette.paints if name in used), "white"])
    number = len(plan.passages.passages)
    second = f"Paint it from {tubes}, in {counted(number)} passage{'s' if number != 1 else ''}."
    left = still_open(plan.aim, {one.kind for one in by_no_change})
    unturned = [f"There was nothing to turn: “{title}” is no part of this aim." for title in plan.aim.not_turned]
    said = (first, *unturned, greens_told(plan.aim), left, *told, by_hand, second)
    return [sentence for sentence in said if sentence]


def unmended(plan: Plan) -> list[Finding]:
    """What is to be reworked, stays so in the aim, and no change would mend: the review says what to do of it.

    A line through the middle that can't be moved without bending what stands on it is drawn anew, before the paint.
    """
    after = levels_in_aim(plan.aim)
    at_hand = {step.kind for step in plan.aim.steps} | {one.kind for one in plan.aim.left_out}
    at_hand |= {kind for _, _, kind in to_try(plan)}
    return [
        one
        for one in plan.aim.before.findings
        if one.level == "rework"
        and after[one.kind] == "rework"
        and not any(one.kind in change.mends for change in all_change_kinds() if change.id in at_hand)
    ]


def step_told(plan: Plan) -> str:
    """The first step where the aim leaves it to the painter, as the review tells it; else that there is none."""
    if plan.first_step is not None:
        return "" if plan.first_step.in_aim else plan.first_step.text
    if plan.aim.steps or any(one.by_painter for one in plan.aim.left_out):
        return ""
    if any(finding.level != "holds" for finding in plan.aim.before.findings):
        return "Nothing that was tried on it mends what is open."
    return "Nothing in it asks to be changed for its own sake."


def step_by_hand(plan: Plan) -> str:
    """The review's first step where no change makes it, so that the plan doesn't leave open what the review mends."""
    if plan.aim.steps or plan.first_step is not None or any(one.by_painter for one in plan.aim.left_out):
        return ""
    return step_not_tried(plan.aim.before.case, plan.aim.before.findings)


def other_ways(plan: Plan, command: str) -> list[tuple[str, str]]:
    """How the painter leaves, turns or takes a change: what it does, and the command."""
    ways = [(f"Leave out: {step.title}.", f"{command} --leave {step.kind}") for step in plan.aim.steps]
    ways += [(f"Half as strong: {step.title}.", f"{command} --turn {step.kind}=0.5") for step in plan.aim.steps[:1]]
    first = plan.first_step.kind if plan.first_step is not None else ""
    left = sorted(plan.aim.left_out, key=lambda one: one.kind != first)
    taken = {True: "Take the first step", False: "Take all the same"}
    ways += [(f"{taken[one.kind == first]}: {one.title}.", f"{command} --take {one.kind}") for one in left]
    ways += [(f"For its {subject}, try: {title}.", f"{command} --take {kind}") for subject, title, kind in to_try(plan)]
    return ways


def to_try(plan: Plan) -> list[tuple[str, str, str]]:
    """What is left open and the change that would be for it, which nobody offered: subject, title and id."""
    named = [step.kind for step in plan.aim.steps] + [one.kind for one in plan.aim.left_out]
    after = levels_in_aim(plan.aim)
    return [
        (finding.subject, change.title, change.id)
        for finding in plan.aim.before.findings
        if finding.level != "holds" and after[finding.kind] != "holds"
        for change in all_change_kinds()
        if finding.kind in change.mends and change.id not in named and _has_something_to_do(change, plan)
    ]


def _has_something_to_do(change: ChangeKind, plan: Plan) -> bool:
    """Whether --take would find anything to change."""
    return next(iter(change.make(plan.aim.before, False)), None) is not None


def out_of_reach(plan: Plan) -> list[str]:
    """The passages and touches that none of the tubes mixes, in words, by their numbers and letters on the key."""
    touches = [
        f"Out of reach: {one.letter}, {one.colour}; the nearest mixture is "
        f"{difference_in_words(one.recipe.target_lab, one.recipe.lab)}."
        for one in plan.passages.accents
        if one.recipe.error > OFF
    ]
    passages = [
        f"Out of reach: {one.number}, {one.name} ({percent(one.share)}); the nearest mixture is "
        f"{difference_in_words(one.lab, one.recipe.lab)}."
        for one in plan.passages.passages
        if one.recipe.error > OFF
    ]
    return [*passages, *touches]


def _touches(plan: Plan) -> list[tuple[Accent, str]]:
    return [(one, short_mixture(one.recipe)) for one in plan.passages.accents]


def usual_covering(plan: Plan) -> str:
    """How most passages cover, so that it is said once; empty where no way is the usual one."""
    counted = Counter(one.covering.text for one in plan.passages.passages).most_common(1)
    return counted[0][0] if counted and counted[0][1] > 2 else ""


def _rows(plan: Plan) -> list[FigureRow]:
    """The figures that the aim moves: one that reads the same twice tells nothing."""
    rows = [
        FigureRow(
            one.name,
            f"{one.before:.1f}" if one.name == "value range" else percent(one.before),
            f"{one.after:.1f}" if one.name == "value range" else percent(one.after),
        )
        for one in plan.figures
    ]
    return [row for row in rows if row.before != row.after]


def tubes_told(plan: Plan) -> list[tuple[str, str]]:
    """Each tube, and how much of it is squeezed out."""
    held = {*paints_used(plan.passages), plan.palette.white}
    return [(one.label, ml(one.millilitres) if one.paint in held else "not needed") for one in plan.passages.tubes]


def _grid(plan: Plan) -> str:
    side = grid_of(plan)[2] / plan.canvas.unit_cm
    given = plan.canvas.written if plan.canvas.given else f"a canvas of {plan.canvas.written}, where no size was given"
    return " ".join([f"Squares of {side:g} {plan.canvas.unit} on {given}.", *cut_told(plan)])


def cut_told(plan: Plan) -> list[str]:
    """What the canvas's shape cuts off the aim, in a sentence; nothing where it has the aim's shape."""
    across, down = plan.canvas.shows(plan.aim.picture.width, plan.aim.picture.height)
    lost = 1 - min(across, down)
    if lost <= 0:
        return []
    side = "width" if across < down else "height"
    return [
        f"That canvas has another shape than the aim: {percent(lost)} of the aim's {side}, what lies outside the grid, "
        f"is cut off. {_all_of_it(plan, across < down)}"
    ]


def _all_of_it(plan: Plan, wide: bool) -> str:
    """How none of the aim need be cut off: how large it is painted, and what is left bare."""
    canvas, unit = plan.canvas, plan.canvas.unit_cm
    proportion = plan.aim.picture.width / plan.aim.picture.height
    width, height = (canvas.width, canvas.width / proportion) if wide else (canvas.height * proportion, canvas.height)
    spare, edges = (canvas.height - height, "above and below") if wide else (canvas.width - width, "left and right")
    return (
        f"To keep all of it, paint {width / unit:.3g} × {height / unit:.3g} {canvas.unit} and leave "
        f"{round(spare / 2 / unit, 1):g} {canvas.unit} bare {edges}."
    )
