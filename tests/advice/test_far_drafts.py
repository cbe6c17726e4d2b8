"""The far land goes back whole, down to its foot, and takes nothing along that is of another colour."""

import numpy as np

from critique.advice.far_drafts import recede_land
from critique.measures.far_warmth import comes_forward
from tests.advice.changes import trial_with


def receded(trial):
    (draft,) = recede_land(trial, False)
    return draft, draft.change.apply(trial.lab) - trial.lab


def plain_under_hills(hills, foot=0.6, castle=None, rocks=None):
    """A cool sky, hills of that colour from half of the height to their foot, and a meadow, all with a grain.

    On the hills stands a castle of a colour, or rocks of one lie in front, where they are given.
    """
    rng = np.random.default_rng(2)
    down = np.arange(240)[:, None] / 240 * np.ones(360)
    lab = np.where((down < 0.5)[..., None], (80, -3, -8), np.where((down < foot)[..., None], hills, (48, -6, 18)))
    if castle is not None:
        lab[128:142, 150:200] = castle
    if rocks is not None:
        lab[200:, 60:160] = rocks
    return trial_with((lab + rng.normal(0, 1.5, (240, 360, 1)) * (1, 0.2, 0.4)).astype(np.float32))


def test_warm_far_hills_go_back_and_the_ground_in_front_stays():
    trial = plain_under_hills((45, 18, 46))
    draft, moved = receded(trial)
    hills = moved[124:140, 60:300].mean(axis=(0, 1))
    assert hills[0] > 8 and hills[2] < -15 and np.abs(moved[160:]).mean() < 0.3 and np.abs(moved[:110]).mean() < 0.5
    assert draft.figures[0].gain(trial.case, trial.with_draft(draft).case) > 0.15
    assert trial.level("land_distance") > trial.with_draft(draft).level("land_distance")


def test_hills_that_lie_back_are_left_there():
    assert not list(recede_land(plain_under_hills((60, -2, -6)), False))


def test_far_hills_go_no_lighter_than_a_value_however_light_the_sky():
    trial = plain_under_hills((25, 22, 40))
    _, moved = receded(trial)
    assert 8 < moved[124:140, 60:300, 0].mean() <= moved[..., 0].max() < 10.5


def test_a_hill_goes_back_down_to_its_foot_and_a_castle_on_it_stays():
    """Of hills that reach lower than a band along the horizon the upper half went pale, and a castle before them."""
    _, moved = receded(plain_under_hills((45, 18, 46), foot=0.68, castle=(82, 2, 16)))
    high, low = (moved[rows, 20:120].mean(axis=(0, 1)) for rows in (slice(126, 136), slice(148, 158)))
    assert low[0] > 0.8 * high[0] > 6 and low[2] < 0.8 * high[2] < -12
    assert np.abs(moved[131:139, 160:190].mean(axis=(0, 1))).max() < 2.5


def test_what_lies_at_ones_feet_too_is_no_far_land():
    """A canyon's far rim went lilac, and the rocks of the same red in front stayed."""
    assert list(recede_land(plain_under_hills((45, 18, 46)), False))
    assert not list(recede_land(plain_under_hills((45, 18, 46), rocks=(45, 18, 46)), False))


def test_scraps_of_a_rusty_wood_are_no_hill():
    """About a castle a few crowns went pale, and those beside them didn't."""
    lab = plain_under_hills((45, 18, 46)).lab.copy()
    crowns = np.arange(360) // 9 % 2 == 0
    lab[120:144, crowns] = (26, -6, 10)
    trial = trial_with(lab)
    assert comes_forward(trial.case.measures.far_warmth) is not None
    assert not list(recede_land(trial, False))
