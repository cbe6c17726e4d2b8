"""Values of pictures whose values are known, and the masses against scikit-image."""

import numpy as np
import pytest
import skimage.filters
from scenes import bands, painted

from critique.measures.families import measure_families
from critique.measures.squint import squint
from critique.measures.values import measure_values, otsu_cuts, value_plan


def grey(value):
    return (10 * value, 0, 0)


def test_three_known_masses_are_found_with_their_shares():
    values = measure_values(bands((0.5, grey(8)), (0.3, grey(5)), (0.2, grey(2))))
    plan = values.plan(3)
    assert np.allclose(plan.shares, (0.2, 0.3, 0.5), atol=0.01)
    assert np.allclose(plan.means, (2, 5, 8), atol=0.1)
    assert plan.separation > 0.98
    assert values.largest_mass == pytest.approx(0.5, abs=0.01)
    assert values.range == pytest.approx(6, abs=0.05)


@pytest.mark.parametrize("levels", [2, 3, 4])
def test_masses_agree_with_multi_otsu_of_scikit_image(levels):
    lightness = painted().lab[..., 0]
    bins = 64
    count, edges = np.histogram(lightness, bins=bins, range=(0, 100))
    ours = edges[otsu_cuts(count, levels)]
    centres = (edges[:-1] + edges[1:]) / 2
    # scikit-image names the last bin of the darker part, ours the first edge of the lighter one.
    theirs = skimage.filters.threshold_multiotsu(hist=(count, centres), classes=levels) + 50 / bins
    assert np.allclose(ours, theirs, atol=100 / bins)
    assert _between(lightness, ours) >= _between(lightness, theirs) - 1e-3


def _between(lightness, thresholds):
    mass = np.digitize(lightness, thresholds)
    return sum(
        (mass == level).mean() * (lightness[mass == level].mean() - lightness.mean()) ** 2 for level in np.unique(mass)
    )


def test_key_is_told_by_the_middle_and_spread_by_the_ends():
    high = measure_values(bands((0.8, grey(8.2)), (0.2, grey(6.5))))
    low = measure_values(bands((0.7, grey(2)), (0.3, grey(9))))
    assert (high.key, high.spread) == ("high", "minor")
    assert (low.key, low.spread) == ("low", "major")


def test_a_flat_picture_has_no_masses_to_separate():
    values = measure_values(bands((1.0, grey(5))))
    assert values.range == pytest.approx(0, abs=0.02)
    assert all(plan.separation == 0 for plan in values.plans)
    assert value_plan(np.full((8, 8), 50, dtype=np.float32), 5).levels == 5


def test_squinting_melts_texture_and_keeps_the_large_edge():
    rng = np.random.default_rng(5)
    lightness = np.full((200, 300), 30, dtype=np.float32)
    lightness[:, 150:] = 75
    noisy = lightness + rng.normal(0, 3, lightness.shape).astype(np.float32)
    soft = squint(noisy)
    assert soft[:, :130].std() < 1.2
    assert soft[:, 150:152].mean() - soft[:, 148:150].mean() > 35


def test_families_that_differ_in_hue_but_not_in_value_are_twins():
    picture = bands((0.5, (55, -20, 30)), (0.3, (56, 25, 20)), (0.2, (20, 0, 0)))
    families = measure_families(picture)
    twins = measure_values(picture, families).twins
    assert [(twin.first, twin.second) for twin in twins] == [(0, 1)]
    assert twins[0].value_difference == pytest.approx(0.1, abs=0.05)
