"""The rising curve is the one that scipy draws."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.interpolate import PchipInterpolator

from critique.advice.rising_curve import rising_curve

STEPS = st.lists(st.floats(0.01, 1), min_size=3, max_size=8)


@given(STEPS, st.data())
def test_it_is_what_scipy_draws(steps, data):
    rises = data.draw(st.lists(st.floats(0.01, 1), min_size=len(steps), max_size=len(steps)))
    x, y = np.cumsum([0.0, *steps]), np.cumsum([0.0, *rises])
    at = np.linspace(0, x[-1], 57)
    ours = rising_curve(x, y, at)
    assert ours == pytest.approx(PchipInterpolator(x, y)(at), abs=1e-9)
    assert np.all(np.diff(ours) >= -1e-12)
    assert rising_curve(x, y, x) == pytest.approx(y)
