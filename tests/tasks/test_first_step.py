"""What a review says to do first, its plan says too: made in the aim, or to be taken on purpose."""

from dataclasses import replace

import numpy as np
import pytest
from demo_pictures import demo_path
from measured import measured

from critique.advice.change import Change
from critique.advice.finding import Finding
from critique.advice.judging import Case
from critique.advice.norms import read_norms
from critique.advice.room import room_for
from critique.advice.shape_drafts import move_line
from critique.advice.standing_still import stands_still
from critique.advice.suggestion import Suggestion
from critique.advice.trial import effect_of, trial_of
from critique.advice.verdict import verdict
from critique.perception.cielab import lab_to_srgb8
from critique.picture.picture import Picture, picture_from_srgb
from critique.picture.read import read_picture
from critique.report.aim_words import aim_told
from critique.report.page import _told
from critique.report.plan_page import opening, other_ways
from critique.report.printing import summary
from critique.tasks.aim import LeftOut, Step
from critique.tasks.first_step import first_step, in_turn
from critique.tasks.plan import plan_repaint
from critique.tasks.review import review_picture


def halved(ground: tuple[float, float, float], line: float = 0.5) -> Picture:
    """A pale sky over plain ground with a dark path in front, a level edge between them, in small strokes."""
    rng = np.random.default_rng(4)
    height, width = 300, 420
    lab = np.zeros((height, width, 3), np.float32)
    lab[: int(line * height)] = (84, -2, -10)
    lab[int(line * height) :] = ground
    lab[int(0.1 * height) : int(0.2 * height), 60:200] = (96, 0, 2)
    lab[int(0.75 * height) :, 170:270, 0] -= 24
    strokes = rng.normal(0, 1, (height // 4 + 1, width // 8 + 1, 3)) * (3, 1.5, 1.5)
    lab += np.kron(strokes, np.ones((4, 8, 1)))[:height, :width].astype(np.float32)
    return picture_from_srgb(lab_to_srgb8(lab), "halved.png")


@pytest.fixture(scope="module")
def field() -> Picture:
    return halved((46, 8, 22))


@pytest.fixture(scope="module")
def review(field):
    return review_picture(field, aim=True)


def case_of(picture: Picture) -> Case:
    return Case.of(picture, measured(picture), read_norms())


def test_a_step_that_the_aim_leaves_to_the_painter_is_said_so_with_how_to_take_it(review, tmp_path):
    first = review.first_step
    assert first is not None and first.kind == "move_division" and not first.in_aim
    assert "It is left to you, since it draws the picture anew" in first.text  # of an aim that is the picture no word
    assert review.advice.verdict[-1] == first.text and first.text.startswith("First step, if you agree: move")
    assert "--take move_division" in summary(review, tmp_path)


@pytest.mark.slow
def test_the_plan_names_the_same_first_step_and_gives_its_command(field, review):
    plan = plan_repaint(field)
    assert plan.first_step == review.first_step
    assert plan.aim.steps == () and review.first_step.text in opening(plan)[0]
    assert other_ways(plan, "critique plan x.png")[0][1].endswith("--take move_division")
    left = plan_repaint(field, leave=["move_division"])
    assert left.first_step is None and "First step" not in " ".join(opening(left))


def test_the_first_step_mends_what_holds_the_picture_back_most_wherever_it_stands_in_the_aim(review):
    """A field of tulips was held back by its red, and its values were to be widened first."""
    steps = tuple(
        Step(kind, kind, "Said.", 1.0, "", Change(kind, np.copy))
        for kind in ("widen_values", "quiet_loudest", "quiet_edge")
    )
    aim = replace(review.aim, steps=steps)
    loud = Finding("loudest_colour", "loudest colour", "rework", "Loud.", 1.8, "1.8", "")
    near = Finding("value_range", "value range", "watch", "Near.", 4.4, "4.4", "")
    told = first_step((), aim, (near, loud))
    assert told is not None and told.kind == "quiet_loudest" and told.in_aim
    told = first_step((), aim, (near, replace(loud, level="watch")))
    assert told is not None and told.kind == "widen_values"


def test_terminal_page_plan_and_a_review_without_an_aim_begin_with_one_and_the_same_step(review):
    """ "Hold the greens" in the terminal, "mute" on the page, in a portfolio "turn some of the green to ochre"."""
    widen, muted, held = (
        Step(kind, kind, "Said.", 1.0, "", Change(kind, np.copy))
        for kind in ("widen_values", "mute_greens", "hold_within_leaf")
    )
    much = Finding("green_area", "green area", "rework", "Green.", 0.9, "90 %", "")
    near = Finding("value_range", "value range", "watch", "Near.", 4.4, "4.4", "")
    for steps, kind, told in (
        ((muted, held), "mute_greens", ["mute_greens", "hold_within_leaf"]),
        ((muted, widen, held), "mute_greens", ["mute_greens", "widen_values", "hold_within_leaf"]),
        ((widen, held), "hold_within_leaf", ["hold_within_leaf", "widen_values"]),
        ((widen,), "widen_values", ["widen_values"]),
    ):
        aim = replace(review.aim, steps=steps)
        first = first_step((), aim, (much, near))
        assert first is not None and first.kind == kind
        assert [step.kind for step in in_turn(steps, first)] == told
        shown = replace(review, aim=aim, advice=replace(review.advice, findings=(much, near), suggestions=()))
        assert aim_told(shown, aim).split(", then ") == told
        assert [step.kind for step in _told(shown).steps] == told
    offers = tuple(Suggestion(kind, "Said.", (), Change(kind, np.copy)) for kind in ("widen_values", "mute_greens"))
    case = review.aim.before.case
    assert verdict(case, (much, near), offers)[-1].startswith("First step: mute_greens. ")
    for middle, step in ((37.0, "grey the strongest greens most"), (24.0, "turn some of the green to ochre")):
        greens = replace(case.measures.greens, chroma_share=0.9, beyond_leaf_share=0.0, median_chroma=middle)
        green = replace(case, measures=replace(case.measures, greens=greens))
        for offered, then in ((offers[:1], "; then widen_values"), ((), "")):
            told = verdict(green, (much, near), offered)[-1]
            assert told.startswith(f"First step: {step}") and then in told


def test_a_change_that_mends_only_what_comes_last_is_no_step(review):
    offered = (Suggestion("quiet it", "Said.", (), Change("quiet_loudest", np.copy)),)
    left = replace(review.aim, left_out=(LeftOut("quiet_loudest", "quiet it", "it is only to watch"),))
    loud = Finding("loudest_colour", "loudest colour", "watch", "Loud.", 1.3, "1.3", "")
    assert first_step(offered, left, (loud,)) is None
    grave = first_step(offered, left, (replace(loud, level="rework", figure=1.6),))
    assert grave is not None and grave.kind == "quiet_loudest"


def test_a_change_left_to_the_painter_is_no_first_step_where_the_verdict_tells_another_thing_first(review):
    """A black blot was told first, and the line was to be moved first."""
    offered = (Suggestion("move the line", "Said.", (), Change("move_division", np.copy)),)
    left = replace(review.aim, left_out=(LeftOut("move_division", "move the line", "it draws the picture anew"),))
    line = Finding("halving", "halving", "rework", "Halved.", 0.5, "50 %", "")
    blot = Finding("closed_darks", "closed darks", "watch", "Black.", 0.02, "2 %", "")
    assert first_step(offered, left, (line,)) is not None
    assert first_step(offered, left, (blot, line)) is None


def test_an_aim_that_is_the_picture_has_no_effect_to_tell(review):
    assert review.aim.steps == () and review.aim.effect == ""
    assert effect_of(review.aim.before, review.aim.before).text == ""


def test_where_the_ground_is_too_green_the_sky_is_given_the_room_and_finding_and_change_agree():
    case = case_of(halved((46, -24, 30)))
    assert room_for(case).way == "down" and room_for(case).winner == "sky"
    drafts = list(move_line(trial_of(case), False))
    assert drafts and all(draft.change.parameters.to > 0.5 for draft in drafts)
    finding = next(one for one in trial_of(case).findings if one.kind == "halving")
    assert "Lower it to about 62 %" in finding.text and "Raise" not in finding.text
    assert "down, to about 62 %" in drafts[0].text and "give the sky the room" in drafts[0].text


@pytest.mark.slow
@pytest.mark.parametrize("line", [0.47, 0.5, 0.54])
def test_the_line_is_measured_where_the_change_says_that_it_goes(line):
    case = case_of(halved((46, -24, 30), line))
    trial = trial_of(case)
    for draft in move_line(trial, False):
        after = trial.with_draft(draft).case
        off, height = (figure.moved(case, after) for figure in draft.figures)
        assert height.after == pytest.approx(draft.change.parameters.to, abs=0.011)
        assert off.after == pytest.approx(abs(height.after - 0.5))


@pytest.mark.slow
def test_values_of_a_haze_are_widened_only_on_purpose():
    haze = np.full((240, 320, 3), (84, -1, -4), np.float32)
    haze[130:] = (76, -1, -3)
    haze[170:200, 80:200] = (68, 0, 4)
    # A grain that stays one when its values are widened six times: twice as much would then be touches all over.
    haze += np.random.default_rng(2).normal(0, 0.3, (240, 320, 1)).astype(np.float32)
    aim = review_picture(picture_from_srgb(lab_to_srgb8(haze), "haze.png"), aim=True).aim
    assert "widen_values" not in [step.kind for step in aim.steps]
    assert "mist" in next(one.reason for one in aim.left_out if one.kind == "widen_values")


@pytest.mark.slow
def test_values_of_a_sunny_meadow_are_no_haze():
    demo = read_picture(demo_path("tolvesk_01_ostermell_meadow.jpg"))
    assert "widen_values" in [step.kind for step in review_picture(demo, aim=True).aim.steps]


@pytest.mark.slow
def test_a_finding_whose_figures_hardly_moved_is_told_of_no_move(field):
    case, green = case_of(field), case_of(halved((46, -28, 35)))
    assert stands_still("green_area", case.measures, case.measures)
    assert not stands_still("green_area", case.measures, green.measures)
    told = effect_of(trial_of(case), trial_of(green)).text
    assert "green strength from" in told
    less = effect_of(trial_of(case), trial_of(green), beside=frozenset({"green_strength"})).text
    assert "green strength" not in less
