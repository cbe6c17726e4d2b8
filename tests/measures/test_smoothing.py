"""Blurs against SciPy's own, in double precision."""

import numpy as np
import pytest
from scipy.ndimage import gaussian_filter, gaussian_filter1d

from critique.measures import smoothing
from critique.measures.smoothing import gaussian, gaussian_down

FLOAT32 = 1e-4  # of values up to 100: some twenty units in the last place


@pytest.mark.slow
@pytest.mark.parametrize("shape", [(64, 97, 3), (97, 64), (5, 300, 2), (200, 3), (1, 1)])
@pytest.mark.parametrize("spread", [0.8, 3.84, 24.0])
@pytest.mark.parametrize("truncate", [2.0, 3.0, 4.0])
def test_blur_is_that_of_scipy(shape, spread, truncate):
    field = (np.random.default_rng(5).random(shape) * 100).astype(np.float32)
    spreads = (spread, spread) + (0,) * (field.ndim - 2)
    wanted = gaussian_filter(field.astype(np.float64), spreads, mode="nearest", truncate=truncate)
    made = gaussian(field, spread, truncate=truncate)
    assert made.shape == field.shape and made.dtype == np.float32
    assert made == pytest.approx(wanted, abs=FLOAT32)


@pytest.mark.parametrize("order", [(1, 0), (0, 1), (2, 0), (0, 2), (1, 1)])
def test_derivatives_are_those_of_scipy(order):
    field = (np.random.default_rng(5).random((80, 120)) * 100).astype(np.float32)
    wanted = gaussian_filter(field.astype(np.float64), 1.8, order=order, mode="nearest", truncate=3)
    assert gaussian(field, 1.8, truncate=3, order=order) == pytest.approx(wanted, abs=FLOAT32)


@pytest.mark.parametrize("spread", [0.8, 12.8])
def test_a_blur_from_row_to_row_is_that_of_scipy(spread):
    field = (np.random.default_rng(5).random((80, 120)) * 100).astype(np.float32)
    wanted = gaussian_filter1d(field.astype(np.float64), spread, axis=0, mode="nearest", truncate=3)
    assert gaussian_down(field, spread, truncate=3) == pytest.approx(wanted, abs=FLOAT32)


def test_blocks_leave_no_seam(monkeypatch):
    field = (np.random.default_rng(5).random((90, 130)) * 100).astype(np.float32)
    whole = gaussian(field, 2.0)
    monkeypatch.setattr(smoothing, "BLOCK", 1)
    assert gaussian(field, 2.0) == pytest.approx(whole, abs=FLOAT32)
