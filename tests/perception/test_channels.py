"""Sums over channels: held to numpy's own, to the last bit."""

import numpy as np
import pytest

from critique.perception.channels import over_channels


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
