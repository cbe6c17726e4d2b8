"""What a plan says of what it leaves: findings that stay open, greens that stay green, and the lights above white."""

import re
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest

from critique.advice.change_kinds import all_change_kinds
from critique.advice.kinds import KINDS
from critique.paints.catalogue import WHITE_NAME
from critique.paints.recipes import recipe_of
from critique.report.aim_words import levels_in_aim, still_open
from critique.report.plan_page import cut_told, opening, other_ways, step_by_hand, to_try, tubes_told, unmended
from critique.report.plan_words import short_name
from critique.report.printing_plan import plan_text
from critique.tasks.canvas_size import canvas_size
from critique.tasks.order_of_work import order_of_work
from critique.tasks.passages import Needed
from critique.tasks.plan import plan_repaint

pytestmark = pytest.mark.slow  # each makes a whole plan


def test_what_the_aim_leaves_open_is_named_and_a_green_picture_is_not_called_quiet(plan):
    left = [
        one.subject
        for one in plan.aim.before.findings
        if one.level != "holds" and levels_in_aim(plan.aim)[one.kind] != "holds"
    ]
    told = still_open(plan.aim)
    assert (told == "") == (not left)
    assert all(subject in told for subject in left) and "they are quiet" not in plan.aim.greens.text
    page = " ".join(opening(plan))
    assert all(subject in page for subject in left)


def test_what_was_to_be_turned_and_is_not_in_the_aim_is_told(plan, meadow, four_tubes, tmp_path):
    made = plan.aim.steps[0].kind
    named = {one.kind for one in (*plan.aim.steps, *plan.aim.left_out)}
    absent = next(kind for kind in all_change_kinds() if kind.id not in named)
    turned = plan_repaint(meadow, box=four_tubes, turned={made: 0.8, absent.id: 0.5})
    (line,) = (sentence for sentence in opening(turned) if "nothing to turn" in sentence)
    assert f"“{absent.title}”" in line and line in " ".join(plan_text(turned, tmp_path).split())
    assert turned.aim.not_turned == (absent.title,) and not plan.aim.not_turned


def test_for_what_stays_open_the_page_gives_the_change_that_nobody_offered(plan):
    open_kinds = {one.kind for one in plan.aim.before.findings if levels_in_aim(plan.aim)[one.kind] != "holds"}
    offered = {step.kind for step in plan.aim.steps} | {one.kind for one in plan.aim.left_out}
    mending = {kind.id: kind for kind in all_change_kinds() if open_kinds & {*kind.mends} and kind.id not in offered}
    told = {kind for _, _, kind in to_try(plan)}
    assert told <= {*mending}
    for name, kind in mending.items():  # what finds nothing to change in the picture isn't offered
        assert (name in told) == bool(list(kind.make(plan.aim.before, False))), name
    bare = replace(plan, aim=replace(plan.aim, steps=(), left_out=(), after=plan.aim.before))
    tried = to_try(bare)
    assert "mute_greens" in {kind for _, _, kind in tried}  # the meadow's greens are too strong
    ways = dict(other_ways(bare, "critique plan meadow.png"))
    for subject, title, kind in tried:
        assert ways[f"For its {subject}, try: {title}."] == f"critique plan meadow.png --take {kind}"


def test_a_canvas_of_another_shape_says_how_it_keeps_all_of_the_aim(plan):
    assert plan.aim.picture.width * 3 == plan.aim.picture.height * 4  # as 40 × 30 cm is
    assert cut_told(plan) == []
    (told,) = cut_told(replace(plan, canvas=canvas_size("30x30cm", 480, 360)))
    assert "25 % of the aim's width" in told
    assert told.endswith("To keep all of it, paint 30 × 22.5 cm and leave 3.8 cm bare above and below.")


def test_nothing_is_laid_above_pure_white(plan):
    stages = {stage.title: stage.text for stage in plan.stages}
    bare = [one.number for one in plan.passages.passages if [part.paint for part in one.recipe.parts] == [WHITE_NAME]]
    assert ("white alone" in stages["Block-in"]) == bool(bare)
    pretend = [
        replace(one, recipe=recipe_of([1], [plan.palette.box.white], one.lab)) if number == 0 else one
        for number, one in enumerate(sorted(plan.passages.passages, key=lambda one: -one.lightest))
    ]
    made = order_of_work(pretend, (), (), plan.measures.values.plan(3), plan.palette.box, green_area=0.4, fresh=False)
    first, second, last = (
        next(one.text for one in made if one.title == title) for title in ("Block-in", "Second pass", "Last")
    )
    assert f"{pretend[0].number} is white alone" in first and f" {pretend[0].number} from" not in second
    assert f"lights of {pretend[0].number} in pure white" in last


def test_a_mass_is_laid_in_near_the_values_of_its_own_passages(plan):
    """ "The lights 2, 10, 8, 5 and 4 near value 8", which the same page lists at 6.8 to 7.7."""
    passages, values = plan.passages.passages, plan.measures.values.plan(3)
    lighter = replace(values, means=tuple(mean + 1.5 for mean in values.means))  # their lightest strokes weigh in that
    made = order_of_work(passages, (), (), lighter, plan.palette.box, green_area=0.4, fresh=False)
    block_in = next(one for one in made if one.title == "Block-in")
    near = [int(value) for value in re.findall(r"near value (\d+)", block_in.text)]
    ends = [0.0, *values.thresholds, 11.0]
    masses = [[one for one in passages if low <= one.value < high] for low, high in pairwise(ends)]
    assert len(near) == sum(bool(mass) for mass in masses) > 1
    for value, mass in zip(near, filter(None, masses), strict=True):
        mean = np.average([one.value for one in mass], weights=[one.share for one in mass])
        assert value == pytest.approx(mean, abs=0.51)


def test_no_light_is_laid_thick_in_a_sky_that_is_faulted_as_bare(plan):
    """ "The lightest lights of 1, thick", where 1 was the sky that outshone everything."""
    light, *others = sorted(plan.passages.passages, key=lambda one: -one.lightest)
    passages = [replace(light, part="sky"), *(replace(one, part="near") for one in others)]
    for bare, number in ((False, light.number), (True, others[0].number)):
        made = order_of_work(
            passages,
            (),
            (),
            plan.measures.values.plan(3),
            plan.palette.box,
            green_area=0.4,
            fresh=False,
            bare_sky=bare,
        )
        assert made[-1].passages == (number,)


def test_a_little_paint_is_mixed_of_few_parts_and_the_plan_says_what_that_costs(plan):
    heaps = {one.number: 0.0 for one in plan.passages.passages}
    for one in plan.passages.passages:
        heaps[one.same_as or one.number] += one.millilitres
    for one in plan.passages.passages:
        assert one.rounded >= 0 and (one.rounded == 0 or heaps[one.same_as or one.number] < 0.75)


def test_a_place_is_called_by_its_value_and_a_painter_s_word_and_never_in_shadow(plan):
    names = [one.name for one in plan.passages.passages]
    assert not any(
        word in name for name in names for word in ("shadow", "half-tone", "in the light", "ish gray", "moderate")
    )
    dark = min(
        (one for one in plan.passages.passages if one.part in ("far", "middle", "near")), key=lambda one: one.value
    )
    assert "dark" in dark.name or "black" in dark.name


@pytest.mark.parametrize(("kind", "told"), [("symmetry", True), ("green_strength", False)])
def test_what_is_to_be_reworked_and_no_change_mends_is_told_before_the_paint(plan, kind, told):
    """Wings alike left and right are drawn anew; for greens that are too strong there are changes."""
    wrong = replace(plan.aim.before.findings[0], kind=kind, subject="this", level="rework", text="Draw it anew.")
    before, after = replace(plan.aim.before), replace(plan.aim.after)
    for trial in (before, after):
        trial.__dict__["findings"] = (wrong,)
    changed = replace(plan, aim=replace(plan.aim, before=before, after=after))
    assert unmended(changed) == ([wrong] if told else [])
    page = opening(changed)
    assert ("No change here mends its this. Draw it anew." in page) == told
    assert not (told and any("Still open" in sentence for sentence in page))  # once, and not again as open
    bare = replace(changed, first_step=None, aim=replace(changed.aim, steps=(), left_out=()))
    nothing = "Nothing that was tried on it mends what is open." in opening(bare)[0]
    assert nothing == (not unmended(bare) and not step_by_hand(bare))


def test_where_no_change_is_made_the_plan_ends_with_the_step_that_the_review_names(plan):
    assert step_by_hand(plan) == ""
    before = plan.aim.before
    bare = replace(plan, first_step=None, aim=replace(plan.aim, steps=(), left_out=(), after=before))
    kinds = {kind.step for kind in KINDS if kind.step}
    assert any(step in step_by_hand(bare) for step in kinds)
    told = opening(bare)
    assert unmended(bare) or step_by_hand(bare) in told
    assert not any("Nothing that was tried" in sentence for sentence in told)  # what to do by hand is told: once


def test_a_tube_that_no_mixture_holds_is_not_among_those_that_it_is_painted_from(plan):
    spare = Needed("raw umber", "raw umber (PBr7)", 0.0)
    palette = replace(plan.palette, paints=(*plan.palette.paints, "raw umber"))
    idle = replace(plan, palette=palette, passages=replace(plan.passages, tubes=(*plan.passages.tubes, spare)))
    assert opening(idle) == opening(plan) and "Paint it from" in opening(plan)[-1]
    held = {part.paint for one in plan.passages.passages for part in one.recipe.parts}
    assert all(short_name(name) in opening(plan)[-1] for name in plan.palette.paints if name in held)
    assert tubes_told(idle) == [*tubes_told(plan), ("raw umber (PBr7)", "not needed")]
    assert "not needed" not in dict(tubes_told(plan)).values()
