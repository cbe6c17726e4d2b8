"""Of two lights that compete one is lowered, on scenes whose lights are known."""

import numpy as np
import pytest

from critique.advice.findings import all_findings
from critique.advice.gives_way import gives_way
from critique.advice.light_drafts import quiet_light
from critique.advice.trial import Trial
from critique.measures.two_lights import lights_compete
from tests.advice.changes import moor, trial_with


@pytest.mark.slow
def test_the_light_nearer_to_a_side_is_lowered_the_other_stays_and_two_compete_no_more() -> None:
    trial = trial_with(moor(240, 360))
    assert lights_compete(trial.case.measures.two_lights)
    (draft,) = quiet_light(trial, False)
    moved = draft.change.apply(trial.lab)[..., 0] - trial.lab[..., 0]
    near, lead = (slice(160, 176), slice(36, 50)), (slice(141, 157), slice(238, 252))
    assert -25 < moved[near].mean() < -15 and trial.lab[near][..., 0].mean() + moved[near].mean() > 40  # a light still
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
    assert -25 < moved[160:176, 245:259].mean() < -15 and np.abs(moved[22:36, 65:79]).max() < 0.5


def glows_over_a_hill(sky: float, hill: float) -> Trial:
    """Two glows of L* 92 in a sky, right over a black hill."""
    lab = moor(240, 360, lights=())
    lab[:130], lab[130:] = (sky, 0, -3), (hill, 0, 2)
    across, down = np.arange(360)[None], np.arange(240)[:, None]
    for x in (48, 250):
        weight = np.clip(1.6 - np.hypot(across - x, down - 112) / 16, 0, 1)[:130, :, None]
        lab[:130] = lab[:130] * (1 - weight) + np.array((92.0, 0.0, 16.0), dtype=np.float32) * weight
    lab[..., 0] += np.random.default_rng(5).normal(0, 1, lab.shape[:2]).astype(np.float32)
    return trial_with(np.clip(lab, (1, -99, -99), (99, 99, 99)))


def test_a_light_in_the_sky_takes_the_colours_of_the_sky_and_none_of_the_dark_land_beside_it() -> None:
    """A glow over a black hill became a grey-blue smudge: half of what lay about it was the hill."""
    trial = glows_over_a_hill(58, 8)
    (draft,) = quiet_light(trial, False)
    after = draft.change.apply(trial.lab)
    lowered = (after - trial.lab)[104:120, 40:56].mean(axis=(0, 1))
    assert -25 < lowered[0] < -12 and after[104:120, 40:56, 0].mean() > 58  # no darker than its sky


def test_a_sky_that_is_hardly_lighter_in_two_places_is_left_as_it_is() -> None:
    """To both sides of a mount the sky was a little lighter: lowered, one side of it was a smudge."""
    lab = moor(240, 360, lights=())
    lab[:130], lab[130:] = (76, 0, -3), (8, 0, 2)
    lab[96:130, 30:110] = lab[96:130, 230:310] = (88, 0, 2)
    trial = trial_with(lab)
    assert lights_compete(trial.case.measures.two_lights)
    assert not list(quiet_light(trial, False))


@pytest.mark.parametrize(
    ("one", "other", "lower"),
    [((0.3, 0.5), (0.8, 0.5), (0.8, 0.5)), ((0.1, 0.1), (0.6, 0.8), (0.6, 0.8)), ((0.4, 0.2), (0.9, 0.4), (0.9, 0.4))],
)
def test_of_two_the_lower_gives_way_and_of_two_at_a_height_the_one_nearer_to_a_side(
    one: tuple[float, float], other: tuple[float, float], lower: tuple[float, float]
) -> None:
    assert gives_way(one, other) == gives_way(other, one) == (lower, one if lower == other else other)
