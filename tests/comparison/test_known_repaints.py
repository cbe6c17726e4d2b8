"""Pairs of known change: what a comparison must say of each, and what it must not."""

import sys
from pathlib import Path

import numpy as np
import pytest

from critique.paints.box import box_of
from critique.pair.balance import balance_by_greys
from critique.pair.compare import Comparison, compare_passes, compare_pictures, state_of
from critique.pair.comparison import Changes
from critique.pair.finding_moves import finding_moves
from critique.pair.register import register
from critique.perception.cielab import lab_to_linear, linear_to_lab
from critique.picture.picture import Picture

sys.path.insert(0, str(Path(__file__).parent))
from pictures import MEADOW, OTHERS, REPAINT, another_photograph, demo, repainted

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


@pytest.mark.parametrize("name", [MEADOW, REPAINT, SNOW, EVENING, BEECHES, NESS])
def test_flattened_paint_is_never_taken_for_light(name: str) -> None:
    picture = demo(name)
    flat = flattened(picture)
    balance = balance_by_greys(picture, flat, register(picture, flat))
    assert balance is None or not balance.needed


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
    assert "narrower in its values" in comparison.verdict[0]


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
    moves = finding_moves(states[0].findings, states[1].findings, none_moved, states[1].measures)
    reworked = [move for move in moves if move.after == "rework" != move.before]
    assert reworked and {move.outcome for move in reworked} <= {"broke", "worse"}
    same = finding_moves(states[0].findings, states[1].findings, none_moved, states[1].measures, unchanged=True)
    assert {move.outcome for move in same if move.after != move.before} == {"on the edge"}
