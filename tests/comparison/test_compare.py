"""A comparison says what changed, where and by how much, and nothing else."""

import sys
from functools import cache
from pathlib import Path

import numpy as np
import pytest

from critique.advice.kinds import KINDS
from critique.cli.pair import compare, passes
from critique.measures.division import measure_division
from critique.measures.figures import compared_figures
from critique.measures.main_colours import main_colours
from critique.paints.box import box_of, default_box, find_paint
from critique.paints.kubelka_munk import mixture_lab
from critique.paints.palette_size import palette_needs
from critique.pair.answer import Answer
from critique.pair.compare import Comparison, compare_passes, compare_pictures
from critique.pair.comparison_words import light_in_words
from critique.pair.finding_moves import subjects_of
from critique.pair.hold import state_of
from critique.perception.cielab import lab_to_linear, lab_to_srgb8, linear_to_lab
from critique.perception.hue import YELLOW_GREEN
from critique.perception.reference import demo_path
from critique.picture.picture import Picture, picture_from_lab, picture_from_srgb
from critique.picture.read import read_picture

sys.path.insert(0, str(Path(__file__).parent))
from pictures import (
    MEADOW,
    OTHERS,
    REPAINT,
    SECOND_PASS,
    another_photograph,
    corner_darkened,
    demo,
    greens_muted,
    line_moved,
    repainted,
)

FEW = box_of(["hansa yellow opaque", "pyrrole red", "ultramarine blue"])  # its mixtures are searched in no time


def held(first: Picture, second: Picture) -> Comparison:
    return compare_pictures(first, second, box=FEW)


@cache
def compared(first: str, second: str) -> Comparison:
    return held(demo(first), demo(second))


def answered(comparison: Comparison) -> dict[str, Answer]:
    return {answer.id: answer for answer in comparison.held.answers}


def statuses(comparison: Comparison) -> dict[str, str]:
    return {change.figure: change.status for change in comparison.held.changes.figures}


def outcomes(comparison: Comparison) -> dict[str, str]:
    return {move.subject: move.outcome for move in comparison.held.moves}


@pytest.mark.slow
def test_the_repaint_gains_what_the_original_lacked() -> None:
    comparison = compared(MEADOW, REPAINT)
    status = statuses(comparison)
    for figure in ("greens.area_share", "greens.beyond_leaf_share", "greens.median_chroma"):
        assert status[figure] == "less", figure
    assert answered(comparison)["quieter"].direction == "up"
    assert answered(comparison)["halved"].outcome == "no_longer"
    for subject in ("green area", "green strength", "halving"):
        assert outcomes(comparison)[subject] == "fixed", subject
    told, made = comparison.verdict[:2]
    assert told.startswith("Better: green strength, green area") and "Nothing is worse." in told
    assert "quieter" in made and "no longer cut in half" in made


@pytest.mark.slow
def test_swapped_it_says_the_opposite() -> None:
    there, back = compared(MEADOW, REPAINT), compared(REPAINT, MEADOW)
    opposite = {"more": "less", "less": "more"}
    assert statuses(back) == {name: opposite.get(status, status) for name, status in statuses(there).items()}
    assert answered(back)["quieter"].direction == "down"
    assert answered(back)["halved"].outcome == "now"
    for subject in ("green area", "green strength", "halving"):
        assert outcomes(back)[subject] == "broke", subject
    assert back.verdict[0].startswith("Worse: green strength, ") and "green area" in back.verdict[0]
    assert "Better" not in back.verdict[0]
    assert "louder" in back.verdict[1]
    assert back.transport.cost == pytest.approx(there.transport.cost, rel=1e-9)


@pytest.mark.slow
def test_what_holds_only_because_the_green_went_is_not_called_better() -> None:
    """Most of the green goes to straw, and as little red answers what is left as before."""
    meadow = read_picture(demo_path(MEADOW))
    lab = meadow.lab.copy()
    green = YELLOW_GREEN.contains(lab)
    green[:, : lab.shape[1] // 6] = False
    lab[green] = (70, 3, 24)
    comparison = compare_pictures(meadow, picture_from_lab(lab, meadow))
    (move,) = (move for move in comparison.held.moves if move.kind == "green_relief")
    assert move.before == "watch" and move.outcome == "no longer matters"
    assert move.reason.startswith("there is little green left")
    (judged,) = (told for told in comparison.verdict if "No longer matters" in told)
    assert "relief" not in judged.split("No longer matters")[0]


@pytest.mark.slow
def test_two_subjects_are_said_to_be_two_and_no_light_is_brought_from_one_to_the_other() -> None:
    """A summer meadow and an evening by a lake, by the scripts that paint them."""
    comparison = compared(MEADOW, OTHERS[1])
    assert comparison.held.unrelated and comparison.held.balance is None
    assert comparison.verdict == ("These look like two different pictures: is that the right file?",)
    assert "no correction for light was made" in comparison.light
    assert comparison.as_dict()["drawing"]["unrelated"] is True
    for first, second in ((MEADOW, REPAINT), (MEADOW, SECOND_PASS)):
        assert not compared(first, second).held.unrelated, second
    done = compare_passes([state_of(demo(name)) for name in (MEADOW, OTHERS[1])])
    assert done.texts == ("These look like two different pictures: is that the right file?",)
    assert done.advice.startswith("The last file looks like another picture")


@pytest.mark.slow
def test_the_way_to_balance_by_a_grey_that_is_named_is_an_option_that_there_is() -> None:
    told = compare_passes([state_of(demo(name)) for name in (SECOND_PASS, REPAINT)]).lights[0]
    assert "--grey, once for each" in told and "oint at" not in told
    assert "--grey" in {name for each in passes.params for name in each.opts}
    assert {"--grey-original", "--grey-repaint"} <= {name for each in compare.params for name in each.opts}
    assert "--grey-original and --grey-repaint" in light_in_words(None, "")


@pytest.mark.slow
def test_findings_of_both_pictures_stand_where_a_review_has_them() -> None:
    first, second = (state_of(demo(name)).findings for name in (MEADOW, REPAINT))
    order = list(subjects_of(first, second))
    assert sorted(order) == sorted({finding.kind for finding in (*first, *second)})
    for findings in (first, second):
        places = [order.index(finding.kind) for finding in findings]
        assert places == sorted(places)


@pytest.mark.slow
@pytest.mark.parametrize("name", [MEADOW, OTHERS[1]])
def test_a_picture_against_itself_has_not_changed(name: str) -> None:
    comparison = compared(name, name)
    assert set(statuses(comparison).values()) <= {"no change", "not compared"}
    assert comparison.verdict[0].startswith("No change")
    assert all(answer.text.startswith("No change") for answer in comparison.held.answers)
    assert comparison.held.places == ()
    assert comparison.transport.cost == pytest.approx(0, abs=1e-9)


@pytest.mark.slow
@pytest.mark.parametrize("name", [MEADOW, REPAINT, *OTHERS])
def test_another_photograph_of_a_picture_is_no_change_of_the_picture(name: str) -> None:
    comparison = held(demo(name), another_photograph(demo(name)))
    assert [change.figure for change in comparison.held.changes.changed] == []
    assert comparison.verdict[0].startswith("No change")
    assert comparison.held.places == ()
    assert comparison.held.balance is not None and comparison.held.balance.needed
    assert "differ in their light" in comparison.light, "a correction is told"
    change = comparison.held.changes["cast.mean.b"]
    assert change.before == pytest.approx(comparison.first.measures.cast.mean.b), "with the figures as photographed"


@pytest.mark.slow
def test_a_crop_alone_is_told_and_changes_nothing() -> None:
    picture = demo(OTHERS[1])
    rows, columns = (round(0.03 * length) for length in picture.srgb.shape[:2])
    comparison = held(picture, picture_from_srgb(np.ascontiguousarray(picture.srgb[rows:, :-columns]), picture.file))
    assert comparison.verdict[0].startswith("No change")
    assert "cropped otherwise" in comparison.drawing
    assert comparison.held.frame is not None and comparison.held.frame.cut_first == pytest.approx(1 - 0.97**2, abs=0.01)
    change = comparison.held.changes["values.mean"]
    assert change.decided_together and change.before == comparison.first.measures.values.mean


@pytest.mark.slow
def test_greens_muted_by_a_known_part_are_named_with_that_size_and_nothing_else_is() -> None:
    kept = 0.55
    comparison = held(demo(MEADOW), greens_muted(demo(MEADOW), kept))
    change = comparison.held.changes["greens.median_chroma"]
    assert change.after / change.before == pytest.approx(kept, abs=0.03)
    answers = answered(comparison)
    assert answers["quieter"].outcome == "quieter"
    for question in ("values", "halved", "edges"):
        assert answers[question].direction == "none", question
    assert comparison.held.maps is not None
    assert {place.kind for place in comparison.held.maps.places} == {"chroma"}
    largest = comparison.held.maps.places[0]
    assert largest.size == pytest.approx(-(1 - kept) * change.before, rel=0.12)
    assert largest.share == pytest.approx(comparison.first.measures.greens.area_share, abs=0.05)
    assert comparison.held.places[0].startswith("Along the bottom (")


@pytest.mark.slow
@pytest.mark.parametrize("name", [MEADOW, REPAINT])
def test_a_darkened_corner_is_named_with_its_size_and_place_and_nothing_else_is(name: str) -> None:
    comparison = held(demo(name), corner_darkened(demo(name), 1.6))
    assert comparison.held.maps is not None
    values = [place for place in comparison.held.maps.places if place.kind == "value"]
    assert len(values) == 1
    assert values[0].share == pytest.approx(0.3 * 0.35, abs=0.015)
    true_size = np.mean(np.minimum(demo(name).lab[312:, 448:, 0] - 2, 16)) / 10
    assert values[0].size == pytest.approx(-true_size, abs=0.2)
    told = comparison.held.places[0]
    assert "darker by 1." in told and told.startswith("In the lower right (")
    answers = answered(comparison)
    assert answers["quieter"].direction == "none"
    assert answers["halved"].direction == "none"
    assert comparison.held.changes["eyepath.framing"].status == "more"


@pytest.mark.slow
def test_a_picture_made_lighter_all_over_is_said_to_be_or_its_photograph() -> None:
    """By 30 % of the light: L* + 16 goes with the cube root of the light. [CIE 15, CIELAB]"""
    picture = demo(OTHERS[1])
    light = lab_to_linear(picture.lab) * np.float32(1.3)
    comparison = held(picture, repainted(picture, linear_to_lab(np.clip(light, 0, 1))))
    (told,) = [sentence for sentence in comparison.verdict if "take that for light" in sentence]
    size = float(told.split(" is ")[1].split(" values lighter")[0])
    assert comparison.held.balance is not None
    before = comparison.held.balance.references[0][0]
    assert size == pytest.approx((before + 16) * (1.3 ** (1 / 3) - 1) / 10, abs=0.1)
    assert "grey card" in comparison.light


@pytest.mark.slow
def test_a_line_that_moved_is_named_with_how_far() -> None:
    picture = demo(REPAINT)
    height = measure_division(picture).height
    comparison = held(picture, line_moved(picture, height, 0.1))
    change = comparison.held.changes["division.height"]
    assert change.status == "more"
    assert change.change == pytest.approx(0.1, abs=0.02)
    assert "the line moved" in answered(comparison)["halved"].text
    assert f"its line moved from {height:.0%} to {height + 0.1:.0%} of the way down".replace("%", " %") in " ".join(
        comparison.verdict[:2]
    )
    assert answered(comparison)["quieter"].direction == "none"


@pytest.mark.slow
def test_a_pass_over_the_same_drawing_shows_where_it_changed() -> None:
    """The script that paints it greys the greens all over the land, and darkens the near ground and the corners."""
    states = [state_of(demo(name)) for name in (MEADOW, SECOND_PASS, REPAINT)]
    done = compare_passes(states)
    over, again = done.steps
    assert over.maps is not None and again.maps is None, "the repaint moved the line"
    quieter = next(place for place in over.maps.places if place.kind == "chroma")
    assert quieter.size < -20 and quieter.share > 0.4 and quieter.y > 0.6
    darker = next(place for place in over.maps.places if place.kind == "value")
    assert darker.size < -0.6 and darker.y > 0.8
    assert any("darker" in text and "bottom" in text for text in over.places)
    assert "green strength" in done.texts[0] and "halving" in done.texts[0].split("Still open")[1]
    assert "halving" in done.texts[1].split(". ")[0] and done.advice.startswith("Stop here")
    assert done.as_dict()["steps"][0]["changed_places"]["texts"] == list(over.places)


def test_every_finding_stands_on_figures_that_are_compared() -> None:
    names_compared = {figure.name for figure in compared_figures()}
    for kind in KINDS:
        assert kind.figures and set(kind.figures) <= names_compared, kind.id


def test_fewer_paints_leave_more_error_and_the_need_follows_from_it() -> None:
    for need in palette_needs([main_colours(demo(MEADOW)), main_colours(demo(REPAINT))], default_box()):
        assert list(need.errors) == sorted(need.errors, reverse=True)
        size = need.size_at(1.5)
        assert size is not None
        assert need.errors[size - 1] <= 1.5 < need.errors[size - 2]
        assert [len(paints) for paints in need.paints] == [1, 2, 3, 4, 5, 6]


def test_a_picture_mixed_of_two_paints_and_white_needs_two() -> None:
    paints = [find_paint(name) for name in ("pyrrole red", "ultramarine blue")] + [default_box().white]
    parts = [(1, 2, 4), (3, 1, 6), (0, 1, 3), (1, 0, 8), (2, 2, 3)]
    colours = lab_to_srgb8(mixture_lab(parts, paints).astype(np.float32))
    codes = np.repeat(np.repeat(colours[None], 60, axis=0), 20, axis=1)
    (need,) = palette_needs([main_colours(picture_from_srgb(codes))], default_box())
    assert need.size_at(0.7) == 2
    assert set(need.paints[1]) == {"pyrrole red", "ultramarine blue"}


@pytest.mark.slow
def test_passes_tell_what_each_fixed_what_the_last_broke_and_when_to_stop() -> None:
    good, quiet = demo(REPAINT), greens_muted(demo(MEADOW), 0.3)
    meadow, worked, again = (state_of(picture) for picture in (demo(MEADOW), quiet, another_photograph(quiet)))
    done = compare_passes([meadow, worked, again])
    assert done.texts[0].startswith("Better: ") and "green strength" in done.texts[0].split(". ")[0]
    assert "halving" in done.texts[0].split("Still open")[1]
    assert "moved nothing" in done.texts[1]
    assert "stop here" in done.advice and "halving" in done.advice
    whole = state_of(good)
    assert compare_passes([meadow, whole]).advice.startswith("Stop here")
    assert compare_passes([whole, whole]).advice.startswith(
        "Stop here. The last pass moved nothing that the review judges"
    )
    assert compare_passes([whole, meadow]).advice.startswith("Stop and go back")
