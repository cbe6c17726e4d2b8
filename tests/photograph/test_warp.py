"""Light seen through a homography, held to a finer interpolation and to Pillow's own."""

import numpy as np
import pytest
from PIL import Image
from scipy.ndimage import gaussian_filter, map_coordinates

from critique.photograph.straighten import straightened
from critique.photograph.warp import warped

KEYSTONE = np.array([[1.02, 0.03, 5], [0.02, 1.01, 4], [2e-5, 1e-5, 1]])
ASKEW = np.array([[0.9, -0.35, 120], [0.35, 0.9, 4], [1e-4, -2e-5, 1]])


@pytest.fixture(scope="module")
def plane():
    noise = np.random.default_rng(5).normal(size=(400, 500))
    return np.clip(gaussian_filter(0.5 + noise, 1.2), 0, 1).astype(np.float32)


@pytest.mark.parametrize("matrix", [KEYSTONE, ASKEW])
def test_in_two_steps_it_is_as_true_as_at_once(plane, matrix):
    x, y, w = (row[0] * (np.arange(330) + 0.5) + row[1] * (np.arange(260) + 0.5)[:, None] + row[2] for row in matrix)
    true = map_coordinates(
        plane.astype(float), [y / w - 0.5, x / w - 0.5], order=5
    )  # a finer interpolation than either
    by_pillow = Image.fromarray(plane).transform(
        (330, 260), Image.Transform.PERSPECTIVE, matrix.ravel()[:8].tolist(), Image.Resampling.BICUBIC
    )
    own, theirs = (
        float(np.std((seen - true)[4:-4, 4:-4]))
        for seen in (warped([plane], matrix, 0, 260, 330)[..., 0], np.asarray(by_pillow))
    )
    assert own < 1.03 * theirs < 0.1 * plane.std()


def test_a_part_is_that_part_of_all(plane):
    every = warped([plane], ASKEW, 0, 260, 330)
    assert np.abs(warped([plane], ASKEW, 100, 131, 330) - every[100:131]).max() < 1e-4


@pytest.mark.parametrize("turns", [1, 2, 3])
def test_a_canvas_that_lies_on_its_side_is_turned_upright(plane, turns):
    light = np.stack([plane, plane**2, 1 - plane], axis=-1)
    around = ((0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0))
    corners = tuple(around[(corner + turns) % 4] for corner in range(4))
    wanted = np.rot90(light, turns)
    result = straightened(light, corners, (wanted.shape[1], wanted.shape[0]))
    assert np.abs(result - wanted).max() < 1e-4
