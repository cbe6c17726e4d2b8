"""The grain of a picture is checked on strokes that lie at a known tilt."""

import numpy as np
import pytest
from scipy.ndimage import gaussian_filter, rotate

from critique.measures.grain import grain_of


def strokes(tilt: float, seed: int = 1) -> np.ndarray:
    """CIELAB (300, 400, 3) of long strokes that fall to the right by ``tilt`` degrees."""
    noise = gaussian_filter(np.random.default_rng(seed).normal(size=(600, 700)), (1.5, 40))
    turned = rotate(noise, -tilt, reshape=False, order=1)[150:450, 150:550]
    light = 50 + 12 * turned / turned.std()
    return np.stack([light, np.zeros_like(light), np.zeros_like(light)], -1).astype(np.float32)


@pytest.mark.parametrize("tilt", [-6.0, -2.5, 0.0, 3.0, 8.0])
def test_the_tilt_of_the_strokes_is_found(tilt: float) -> None:
    grain = grain_of(strokes(tilt))
    assert grain.tilt == pytest.approx(tilt, abs=1.0)
    assert grain.plainness > 2


def test_a_mirror_turns_it_round() -> None:
    assert grain_of(strokes(4.0)[:, ::-1]).tilt == pytest.approx(-grain_of(strokes(4.0)).tilt, abs=0.6)


def test_blotches_have_no_plain_grain_and_a_flat_picture_none() -> None:
    light = 50 + 200 * gaussian_filter(np.random.default_rng(2).normal(size=(300, 400)), 4)
    blotches = np.stack([light, np.zeros_like(light), np.zeros_like(light)], -1).astype(np.float32)
    assert grain_of(blotches).plainness < 1.8
    assert grain_of(np.full((300, 400, 3), 50, dtype=np.float32)).plainness == 0
