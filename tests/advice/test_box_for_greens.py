"""What a box can do about a strong green: quiet it, mix it afresh, or neither, and that this is said as it is."""

import dataclasses

import numpy as np
import pytest

from critique.advice.green_drafts import mute
from critique.paints.box import box_of
from critique.perception.cielab import lch_to_lab
from tests.advice.changes import trial_with

SKY, MEADOW = (75, -5, -18), (62.0, 62.0, 125.0)  # L*a*b*; L*, C*ab, h°: far beyond any leaf
FIELD = ["PY74", "yellow ochre", "red oxide", "ultramarine", "phthalo green"]


@pytest.fixture(scope="module")
def trial():
    lab = np.full((180, 270, 3), SKY, np.float32)
    lab[70:] = lch_to_lab(np.array(MEADOW))
    return trial_with(lab + np.random.default_rng(3).normal(0, 1, lab.shape).astype(np.float32))


def muting(trial, names):
    (draft,) = mute(dataclasses.replace(trial, case=dataclasses.replace(trial.case, box=box_of(names))), False)
    return draft


def test_a_box_with_a_red_earth_quiets_a_meadow_and_leaves_it_one(trial):
    """A red earth knocks back a green: common practice, no source. More of it makes a brown, and is not asked for."""
    draft = muting(trial, FIELD)
    (green,) = draft.greens
    assert green.paint is not None and green.paint.adds is not None and "this box" not in draft.text
    assert green.target.chroma < 0.7 * MEADOW[1] and green.target.hue > 100


def test_four_earths_mix_no_green_and_are_not_told_to(trial):
    draft = muting(trial, ["burnt sienna", "yellow ochre", "raw umber", "PR101"])
    assert "This box mixes no green" in draft.text and "afresh" not in draft.text and "brown" not in draft.text


def test_a_green_and_a_yellow_mix_no_quiet_green(trial):
    """Of two strong paints side by side on the colour circle none greys the other."""
    draft = muting(trial, ["PG7", "PY74"])
    assert "mixes no green so quiet" in draft.text and "afresh" not in draft.text


def test_a_quiet_tube_that_no_touch_of_another_makes_is_mixed_afresh(trial):
    draft = muting(trial, ["PG7", "PY74", "chromium oxide green"])
    assert "mix the quiet green afresh" in draft.text
