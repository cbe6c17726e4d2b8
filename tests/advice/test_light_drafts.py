"""Of two lights that compete one is lowered, on scenes whose lights are known."""

import numpy as np
import pytest

from critique.advice.findings import all_findings
from critique.advice.light_drafts import quiet_light
from critique.measures.two_lights import lights_compete
from tests.advice.changes import moor, trial_with


def test_the_light_nearer_to_a_side_is_lowered_the_other_stays_and_two_compete_no_more() -> None:
    trial = trial_with(moor(240, 360))
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
    assert not list(quiet_light(trial_with(moor(240, 360, lights=lights)), False))


def test_a_sun_stays_and_the_light_far_below_it_is_lowered_though_the_sun_is_nearer_to_an_edge() -> None:
    trial = trial_with(moor(240, 360, lights=((0.2, 0.12), (0.7, 0.7))))
    (draft,) = quiet_light(trial, False)
    moved = draft.change.apply(trial.lab)[..., 0] - trial.lab[..., 0]
    assert moved[160:176, 245:259].mean() < -25 and np.abs(moved[22:36, 65:79]).max() < 0.5
