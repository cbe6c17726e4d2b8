"""What a page says that an aim mends: only what it does."""

from dataclasses import replace

import numpy as np
import pytest

from critique.advice.judging import Case
from critique.advice.norms import read_norms
from critique.advice.trial import Trial, trial_of
from critique.measures.measure import measure_picture
from critique.perception.cielab import lab_to_srgb8
from critique.picture.picture import picture_from_srgb
from critique.report.aim_words import costs, levels_in_aim, mended_told, not_asked, otherwise_told, still_open
from critique.tasks.aim import Aim, Wanted, aim_of

SKY, HILL, NEAR, BUSH, LIT = (78, -3, -20), (52, -22, 24), (46, -28, 36), (30, -14, 14), (64, -20, 26)


def green_hill() -> np.ndarray:
    """A strip of sky over three quarters of green, the lowest of it stronger than a leaf: Lab (320, 480, 3)."""
    lab = np.empty((320, 480, 3))
    lab[:80], lab[80:200], lab[200:] = SKY, HILL, NEAR
    lab[60:110, 60:150], lab[150:180, 250:400] = BUSH, LIT
    return lab


def parted(at: int) -> np.ndarray:
    """A light sky over a dark green field, parted by a level line ``at`` so many rows of 320."""
    lab = np.empty((320, 480, 3))
    lab[:at], lab[at:] = SKY, NEAR
    return lab


def tried(lab: np.ndarray) -> Trial:
    strokes = np.random.default_rng(4).normal(0, 1, (80, 60, 3)) * (4, 2, 2)
    picture = picture_from_srgb(lab_to_srgb8(lab + np.kron(strokes, np.ones((4, 8, 1)))))
    return trial_of(Case(picture, measure_picture(picture), read_norms()))


def aim_for(lab: np.ndarray) -> Aim:
    return aim_of(tried(lab), (), Wanted())


@pytest.mark.slow
def test_as_much_green_as_before_is_eased_and_not_mended_by_being_quieter():
    """Of two thirds of green a page asked to give up a third, and called that mended where none was given up."""
    aim = aim_for(green_hill())
    was, now = ({one.kind: one for one in trial.findings} for trial in (aim.before, aim.after))
    assert was["green_area"].level == "rework" and now["green_area"].level == "holds"
    assert abs(was["green_area"].figure - now["green_area"].figure) < 0.05
    assert levels_in_aim(aim)["green_area"] == "watch" and levels_in_aim(aim)["green_strength"] == "holds"
    assert "Eased, and still to watch: green area (no less of it, but quieter, chroma" in still_open(aim)
    assert "green strength" in mended_told(aim) and "green area" not in mended_told(aim)


@pytest.mark.slow
def test_what_was_mended_is_told_where_the_figure_beside_it_hardly_moved():
    """ "Green area: mended" stood beside 52 % and 51 %: it was the strength of those greens that had gone."""
    lab = green_hill()
    lab[80:170] = SKY  # about half is left, and vivid
    quiet = lab * np.where(np.arange(320)[:, None, None] < 170, 1, (1, 0.5, 0.5))
    aim = replace(aim_for(lab), after=tried(quiet))
    was, now = ({one.kind: one for one in trial.findings}["green_area"] for trial in (aim.before, aim.after))
    assert (was.level, now.level) == ("watch", "holds") and abs(was.figure - now.figure) < 0.02
    chroma = [round(trial.case.measures.greens.median_chroma) for trial in (aim.before, aim.after)]
    words = f"no less of it, but quieter, chroma {chroma[1]} at the middle instead of {chroma[0]}"
    assert chroma[1] < chroma[0] and otherwise_told(aim)["green_area"] == words
    assert f"green area ({words})" in mended_told(aim)
    assert "green_strength" not in otherwise_told(aim)  # its own figure tells it: none is beyond a leaf now


@pytest.mark.slow
def test_what_quieter_greens_no_longer_ask_for_is_not_called_mended():
    """Nothing answered the green, no red came in, and the page said of its relief that it was mended."""
    aim = aim_for(green_hill())
    was, now = (trial.case.measures.greens.relief_share for trial in (aim.before, aim.after))
    assert abs(was - now) < 0.01 and "green_relief" not in {one.kind for one in aim.after.findings}
    assert not_asked(aim) == {"green_relief"}
    assert "No longer asked for in it: relief for the green." in mended_told(aim)
    assert "relief" not in mended_told(aim).split(".")[0]


@pytest.mark.slow
def test_a_change_of_colour_moves_no_line():
    """A muted wood was said to be halved no longer, since another edge was found in it."""
    aim = aim_for(parted(160))
    assert {one.kind: one.level for one in aim.before.findings}["halving"] == "rework" and aim.steps
    elsewhere = replace(aim, after=tried(parted(100)))
    assert {one.kind: one.level for one in elsewhere.after.findings}["halving"] == "holds"
    assert levels_in_aim(elsewhere)["halving"] == "rework" and "halving" in still_open(elsewhere)
    assert "halving" not in costs(replace(aim, before=elsewhere.after, after=aim.before))
