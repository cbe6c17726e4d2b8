"""Light at the viewing size is what Pillow's own Lanczos filter makes of it."""

import numpy as np
import pytest
from PIL import Image

from critique.photograph.fine_scale import finely_scaled


@pytest.mark.parametrize(
    "old, new", [((533, 800), (427, 640)), ((97, 31), (64, 20)), ((200, 300), (67, 3)), ((9, 9), (9, 4))]
)
def test_it_is_what_pillow_makes(old, new):
    light = np.random.default_rng(7).random((*old, 3), dtype=np.float32)
    theirs = [
        Image.fromarray(plane.copy()).resize(new[::-1], Image.Resampling.LANCZOS) for plane in light.transpose(2, 0, 1)
    ]
    np.testing.assert_allclose(finely_scaled(light, new), np.clip(np.stack(theirs, axis=2), 0, 1), rtol=0, atol=2e-6)
