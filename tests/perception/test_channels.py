"""Sums over channels, and hue angles: held to numpy's own, to the last bit."""

import numpy as np
import pytest

from critique.perception.channels import over_channels
from critique.perception.hue import hue_of


@pytest.mark.parametrize("channels", [2, 3])
@pytest.mark.parametrize("kind", [np.float32, np.float64])
def test_a_sum_over_channels_is_numpys_to_the_last_bit(channels: int, kind: type[np.floating]) -> None:
    values = np.random.default_rng(3).normal(20, 40, (37, 53, channels)).astype(kind)

    assert np.array_equal(over_channels(values), values.sum(axis=-1))
    assert over_channels(values).dtype == kind


def test_a_sum_over_channels_leaves_what_it_was_given() -> None:
    values = np.ones((4, 5, 3), dtype=np.float32)
    kept = values.copy()

    over_channels(values)

    assert np.array_equal(values, kept)


def test_hue_angles_are_those_of_the_remainder_to_the_last_bit() -> None:
    a, b = np.random.default_rng(5).normal(0, 30, (2, 400)).astype(np.float32)
    a[:4], b[:4] = (0, 0, 5, -5), (0, -0.0, -0.0, -1e-30)
    for kind in (np.float32, np.float64):
        expected = np.degrees(np.arctan2(b.astype(kind), a.astype(kind))) % 360
        assert np.array_equal(hue_of(a.astype(kind), b.astype(kind)), expected)
