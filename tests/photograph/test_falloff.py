"""How steeply light falls off: put in by the test, read off a surround of many paints."""

import numpy as np
import pytest
from scipy.optimize import least_squares

from critique.photograph.evening import light_across
from critique.photograph.falloff import SCATTER, falloff_of, fitted_slope, surround_of

CANVAS = ((0.3, 0.3), (0.7, 0.3), (0.7, 0.7), (0.3, 0.7))


def told(scene):
    small, beside = surround_of(scene, CANVAS)
    return falloff_of(np.log(np.maximum(small, np.float32(1e-3))), beside)


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
def test_the_falloff_is_read_off_whatever_lies_around(kind, across, down):
    slope, _ = told(lit(surround(kind), across, down))
    assert np.abs(np.exp(slope) - [across, down]).max() < 0.06


def test_what_lies_on_the_canvas_has_no_say():
    scene = lit(surround("patchwork"), 1.3, 1.1)
    other = scene.copy()
    other[144:336, 192:448] = np.linspace(0.05, 0.9, 256, dtype=np.float32)[None, :, None]
    assert np.array_equal(told(other)[0], told(scene)[0])


def test_places_that_scatter_agree_less():
    agreements = [told(lit(surround(kind), 1.2, 1.0))[1] for kind in ("wall", "wall and floor", "brick")]
    assert agreements == sorted(agreements, reverse=True) and agreements[0] > 0.9


def test_many_paints_are_no_wall_to_even_by_unasked_and_show_the_falloff():
    found = light_across(lit(surround("patchwork"), 1.8, 1.0), CANVAS)
    assert found is not None and found.likely and not found.sure
    assert 1.8**0.3 < found.falloff < 1.8**0.42  # of the canvas, four tenths of the photograph: rather less than more


@pytest.mark.parametrize("around", ["every place of a paint of its own", "clipped", "dark"])
def test_where_nothing_shows_the_light_nothing_is_told(around):
    scene = np.random.default_rng(6).uniform(0.02, 0.9, (480, 640, 3)).astype(np.float32)
    if around != "every place of a paint of its own":
        scene[:] = 1.0 if around == "clipped" else 0.002
    assert told(scene) is None and light_across(scene, CANVAS) is None


def test_the_slope_is_that_of_scipy_with_the_same_loss():
    random = np.random.default_rng(7)
    steps = random.uniform(-0.8, 0.8, (2000, 2))
    apart = steps @ [0.4, -0.25] + random.normal(0, 0.04, 2000)
    apart[::4] += random.normal(0.5, 0.1, 500) * np.sign(steps[::4, 0])  # pairs that are two paints

    def geman_mcclure(squares):
        return np.stack([squares / (1 + squares), 1 / (1 + squares) ** 2, -2 / (1 + squares) ** 3])

    theirs = least_squares(lambda slope: apart - steps @ slope, [0.4, -0.25], loss=geman_mcclure, f_scale=SCATTER)
    (ours, weight), plain = fitted_slope(steps, apart), np.linalg.lstsq(steps, apart)[0]
    off = (apart - steps @ theirs.x) / SCATTER
    assert np.allclose(ours, theirs.x, atol=1e-3) and weight == pytest.approx((1 / (1 + off**2) ** 2).mean(), abs=1e-3)
    assert np.abs(ours - [0.4, -0.25]).max() < 0.05 < 0.2 < np.abs(plain - [0.4, -0.25]).max()
