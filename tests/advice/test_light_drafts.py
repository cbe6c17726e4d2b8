"""Of two lights that compete one is lowered, on scenes whose lights are known."""

import numpy as np
import pytest

from critique.advice.findings import all_findings
from critique.advice.light_drafts import quiet_light
from critique.measures.two_lights import lights_compete
from tests.advice.changes import trial_with


def moor(*lights: tuple[float, float]) -> np.ndarray:
    """A grey sky over a dark moor with the grain of brushwork, and round lights at these places, 0–1."""
    rng = np.random.default_rng(3)
    down, across = ((np.arange(240)[:, None] + 0.5) / 240, (np.arange(360)[None] + 0.5) / 360)
    lab = np.where((down < 0.4)[..., None], (58.0, 0.0, -3.0), (30.0, -2.0, 10.0)) + np.zeros((240, 360, 3))
    for x, y in lights:
        away = np.hypot((across - x) * 360, (down - y) * 240)
        weight = np.clip(1.6 - away / 16, 0, 1)[..., None]
        lab = lab * (1 - weight) + np.array((92.0, 0.0, 16.0)) * weight
    lab[..., 0] += rng.normal(0, 1.2, (240, 360))
    return np.clip(lab, (1, -99, -99), (99, 99, 99)).astype(np.float32)


def test_the_light_nearer_to_a_side_is_lowered_the_other_stays_and_two_compete_no_more() -> None:
    trial = trial_with(moor((0.12, 0.7), (0.68, 0.62)))
    assert lights_compete(trial.case.measures.two_lights)
    (draft,) = quiet_light(trial, False)
    moved = draft.change.apply(trial.lab)[..., 0] - trial.lab[..., 0]
    near, lead = (slice(160, 176), slice(36, 50)), (slice(141, 157), slice(238, 252))
    assert moved[near].mean() < -25 and trial.lab[near][..., 0].mean() + moved[near].mean() > 40  # a light still
    assert np.abs(moved[lead]).max() < 0.5 and np.abs(moved[:90]).mean() < 0.2
    after = trial.with_draft(draft)
    assert draft.figures[0].gain(trial.case, after.case) > 0.3
    assert "two_lights" not in {finding.kind for finding in all_findings(after.case)}
    assert "left" in draft.text and "let one light lead" in draft.text.lower()


@pytest.mark.parametrize("lights", [(), ((0.5, 0.62),)])
def test_one_light_and_none_are_left_alone(lights: tuple[tuple[float, float], ...]) -> None:
    assert not list(quiet_light(trial_with(moor(*lights)), False))


def test_a_sun_stays_and_the_light_far_below_it_is_lowered_though_the_sun_is_nearer_to_an_edge() -> None:
    trial = trial_with(moor((0.2, 0.12), (0.7, 0.7)))
    (draft,) = quiet_light(trial, False)
    moved = draft.change.apply(trial.lab)[..., 0] - trial.lab[..., 0]
    assert moved[160:176, 245:259].mean() < -25 and np.abs(moved[22:36, 65:79]).max() < 0.5
