"""Pairs of known change: what a comparison must say of each, and what it must not."""

import sys
from pathlib import Path

import numpy as np
import pytest

from critique.paints.box import box_of
from critique.pair.balance import balance_by_greys
from critique.pair.compare import Comparison, compare_passes, compare_pictures
from critique.pair.comparison import Changes
from critique.pair.finding_moves import finding_moves
from critique.pair.hold import state_of
from critique.pair.register import register
from critique.perception.cielab import lab_to_linear, linear_to_lab
from critique.picture.picture import Picture, picture_from_srgb

sys.path.insert(0, str(Path(__file__).parent))
from pictures import MEADOW, OTHERS, REPAINT, another_photograph, demo, greens_muted, repainted

FEW = box_of(["hansa yellow opaque", "pyrrole red", "ultramarine blue"])  # its mixtures are searched in no time
SNOW, EVENING, BEECHES, NESS = OTHERS


def compared(first: Picture, second: Picture) -> Comparison:
    return compare_pictures(first, second, box=FEW)


def flattened(picture: Picture, kept: float = 0.75) -> Picture:
    """Values drawn together about their middle, and the sky with them."""
    lab = picture.lab.copy()
    lab[..., 0] = lab[..., 0].mean() + (lab[..., 0] - lab[..., 0].mean()) * np.float32(kept)
    return repainted(picture, lab)


def in_light(picture: Picture, gains: tuple[float, float, float]) -> Picture:
    """The same state in another exposure and under another lamp."""
    return repainted(picture, linear_to_lab(np.clip(lab_to_linear(picture.lab) * np.float32(gains), 0, 1)))


def told(comparison: Comparison) -> str:
    return " ".join((*comparison.verdict, comparison.light, *(answer.text for answer in comparison.held.answers)))


@pytest.mark.slow
@pytest.mark.parametrize("name", [MEADOW, REPAINT, SNOW, EVENING, BEECHES, NESS])
def test_flattened_paint_is_never_taken_for_light(name: str) -> None:
    picture = demo(name)
    flat = flattened(picture)
    balance = balance_by_greys(picture, flat, register(picture, flat))
    assert balance is None or not balance.needed


@pytest.mark.slow
@pytest.mark.parametrize("name", [MEADOW, REPAINT, SNOW, EVENING, BEECHES, NESS])
def test_another_exposure_and_lamp_are_found_and_undone(name: str) -> None:
    picture, gains = demo(name), (0.85, 0.8, 0.7)
    lit = in_light(picture, gains)
    balance = balance_by_greys(picture, lit, register(picture, lit))
    assert balance is not None and balance.needed
    assert np.array(balance.gains_second) * gains == pytest.approx(np.ones(3), abs=0.02)


@pytest.mark.slow
def test_a_flattened_repaint_is_not_called_darker_and_lighter_at_once_and_the_page_asks() -> None:
    comparison = compared(demo(MEADOW), flattened(demo(MEADOW)))
    words = told(comparison)
    assert "take that for light" not in words and "all over" not in words
    assert "nothing was corrected" in comparison.light and "same light?" in comparison.light
    assert "narrower in its values" in " ".join(comparison.verdict[:2])


@pytest.mark.slow
def test_a_second_photograph_of_the_same_state_is_no_change() -> None:
    comparison = compared(demo(REPAINT), another_photograph(in_light(demo(REPAINT), (0.92, 0.9, 0.84))))
    assert comparison.verdict[0].startswith("No change")
    assert comparison.held.places == ()
    assert not [move for move in comparison.held.moves if move.outcome in ("broke", "worse")]


@pytest.mark.slow
def test_a_finding_that_goes_to_rework_is_named_as_worse_though_its_figure_hardly_moved() -> None:
    """Whoever reads "to watch, to rework" in the table reads "worse" in the text."""
    states = [state_of(demo(name)) for name in (REPAINT, MEADOW)]
    none_moved = Changes(tuple(change for change in compare_passes(states[:1] * 2).steps[0].changes.figures))
    found, measured = [state.findings for state in states], (states[0].measures, states[1].measures)
    moves = finding_moves(*found, none_moved, measured)
    reworked = [move for move in moves if move.after == "rework" != move.before]
    assert reworked and {move.outcome for move in reworked} <= {"broke", "worse"}
    same = finding_moves(*found, none_moved, measured, unchanged=True)
    assert {move.outcome for move in same if move.after != move.before} == {"on the edge"}


def cropped(picture: Picture, rows: slice) -> Picture:
    return picture_from_srgb(np.ascontiguousarray(picture.srgb[rows]), picture.file)


@pytest.mark.slow
def test_a_crop_is_told_by_what_it_shows_and_nothing_of_the_paint_is_called_changed() -> None:
    picture = demo(NESS)
    comparison = compared(picture, cropped(picture, slice(round(0.35 * picture.srgb.shape[0]), None)))
    assert comparison.verdict[0].startswith(
        "The repaint shows the lower 65 % of the original; what both show is unchanged"
    )
    for answer in comparison.held.answers:
        if answer.id in ("quieter", "richer", "values", "lean"):
            assert answer.outcome == "no_change", answer.text
    upper = compared(picture, cropped(picture, slice(0, round(0.75 * picture.srgb.shape[0]))))
    assert upper.verdict[0].startswith("The repaint shows the upper 75 % of the original")


@pytest.mark.slow
def test_a_line_that_a_crop_moved_is_told_as_the_plates_show_it() -> None:
    picture = demo(REPAINT)
    second = cropped(picture, slice(round(0.25 * picture.srgb.shape[0]), None))
    comparison = compared(picture, second)
    was, now = (state.measures.division.height for state in (comparison.first, comparison.second))
    assert abs(was - now) > 0.05
    (answer,) = (answer for answer in comparison.held.answers if answer.id == "halved")
    assert answer.outcome != "no_change" and not answer.text.startswith("No change")
    for height in (was, now):
        assert f"{height:.0%}".replace("%", " %") in answer.text


@pytest.mark.slow
def test_a_warmed_sky_is_named_with_where_it_is_and_from_what_to_what() -> None:
    picture = demo(NESS)
    lab = picture.lab.copy()
    rows = np.linspace(0, 1, lab.shape[0])[:, None]
    lab[..., 2] += np.clip((0.29 - rows) / 0.03, 0, 1) * 22
    comparison = compared(picture, repainted(picture, lab))
    (most,) = [sentence for sentence in comparison.verdict if sentence.startswith("Most of all")]
    assert "warmer" in most and "sky" in most and " to " in most
    (quieter,) = (answer for answer in comparison.held.answers if answer.id == "quieter")
    assert quieter.outcome != "quieter" and not quieter.text.startswith("No change")


@pytest.mark.slow
@pytest.mark.parametrize("name", [SNOW, NESS])
def test_saturation_turned_up_is_never_called_richer(name: str) -> None:
    lab = demo(name).lab.copy()
    lab[..., 1:] *= 2.2
    comparison = compared(demo(name), repainted(demo(name), lab))
    assert "richer" not in " ".join(comparison.verdict)
    (richer,) = (answer for answer in comparison.held.answers if answer.id == "richer")
    assert richer.outcome == "stronger" and "take that for light" not in told(comparison)


@pytest.mark.slow
def test_one_red_blob_is_worse_before_it_is_anything_and_never_richness() -> None:
    picture = demo(SNOW)
    codes = picture.srgb.copy()
    height, width = codes.shape[:2]
    down, across = np.ogrid[:height, :width]
    codes[np.hypot(down - 0.62 * height, across - 0.95 * width) < 0.045 * width] = (230, 40, 20)
    comparison = compared(picture, picture_from_srgb(codes, picture.file))
    assert comparison.verdict[0].startswith("Worse: ")
    assert "richer" not in " ".join(comparison.verdict)
    assert any("red shape has come in on the right" in place for place in comparison.held.places), (
        comparison.held.places
    )


@pytest.mark.slow
def test_what_is_called_quieter_is_not_stronger_over_more_of_the_picture() -> None:
    comparison = compared(demo(MEADOW), greens_muted(demo(MEADOW), 0.5))
    assert "quieter" in " ".join(comparison.verdict[:2])
    assert comparison.held.places and not [place for place in comparison.held.places if "stronger" in place]
