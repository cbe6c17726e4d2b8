"""By how much a card gets other light than the canvas: put in by the test, read off a surround of many paints."""

import numpy as np
import pytest
from scipy.optimize import least_squares

from critique.photograph.reference_light import SCATTER, _slope, light_beside

CANVAS = ((0.3, 0.3), (0.7, 0.3), (0.7, 0.7), (0.3, 0.7))
CARD = (0.85, 0.5)


def surround(kind):
    """Linear light (480, 640, 3) of what lies around, in even light, the canvas in its middle left grey."""
    random = np.random.default_rng(4)
    scene = np.full((480, 640, 3), 0.3, np.float32)
    if kind == "patchwork":  # paints that lie about in the room, of any colour
        for _ in range(60):
            top, left = random.integers(480), random.integers(640)
            scene[top : top + random.integers(40, 160), left : left + random.integers(40, 160)] = random.uniform(
                0.05, 0.6, 3
            )
    elif kind == "brick":  # of one chromaticity, each of another tone
        scene[:] = [0.3, 0.15, 0.1]
        scene *= np.exp(random.normal(0, 0.2, (24, 16))).repeat(20, 0).repeat(40, 1)[..., None].astype(np.float32)
    elif kind == "wall and floor":
        scene[360:] = [0.3, 0.2, 0.12]
        scene[360:, 320:] *= 0.5
    scene[144:336, 192:448] = random.uniform(0.02, 0.9, (192, 256, 3))
    return scene


def lit(scene, across, down):
    """Light that changes by such factors from the left to the right and from the top to the bottom."""
    x, y = ((np.arange(side, dtype=np.float32) + 0.5) / side - 0.5 for side in (640, 480))
    light = scene * np.exp(np.log(across) * x + np.log(down) * y[:, None])[..., None] * 0.7
    return (light * np.random.default_rng(5).normal(1, 0.02, scene.shape)).astype(np.float32)


@pytest.mark.parametrize("kind", ["wall", "patchwork", "brick", "wall and floor"])
@pytest.mark.parametrize(("across", "down"), [(1.0, 1.0), (1.5, 1.0), (0.6, 1.3)])
def test_the_light_beside_is_read_off_whatever_lies_around(kind, across, down):
    found = light_beside(lit(surround(kind), across, down), CANVAS, CARD)
    assert found == pytest.approx(across**0.35, rel=0.03)


def test_what_lies_on_the_canvas_has_no_say():
    scene = lit(surround("patchwork"), 1.3, 1.1)
    other = scene.copy()
    other[144:336, 192:448] = np.linspace(0.05, 0.9, 256, dtype=np.float32)[None, :, None]
    assert light_beside(other, CANVAS, CARD) == light_beside(scene, CANVAS, CARD)


@pytest.mark.parametrize("around", ["every place of a paint of its own", "clipped", "dark"])
def test_where_nothing_shows_the_light_nothing_is_told(around):
    scene = np.random.default_rng(6).uniform(0.02, 0.9, (480, 640, 3)).astype(np.float32)
    if around != "every place of a paint of its own":
        scene[:] = 1.0 if around == "clipped" else 0.002
    assert light_beside(scene, CANVAS, CARD) is None


def test_the_slope_is_that_of_scipy_with_the_same_loss():
    random = np.random.default_rng(7)
    steps = random.uniform(-0.8, 0.8, (2000, 2))
    apart = steps @ [0.4, -0.25] + random.normal(0, 0.04, 2000)
    apart[::4] += random.normal(0.5, 0.1, 500) * np.sign(steps[::4, 0])  # pairs that are two paints

    def geman_mcclure(squares):
        return np.stack([squares / (1 + squares), 1 / (1 + squares) ** 2, -2 / (1 + squares) ** 3])

    theirs = least_squares(lambda slope: apart - steps @ slope, [0.4, -0.25], loss=geman_mcclure, f_scale=SCATTER)
    ours, plain = _slope(steps, apart), np.linalg.lstsq(steps, apart)[0]
    assert np.allclose(ours, theirs.x, atol=1e-3)
    assert np.abs(ours - [0.4, -0.25]).max() < 0.05 < 0.2 < np.abs(plain - [0.4, -0.25]).max()
