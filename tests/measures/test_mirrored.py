"""A lake mirrors what stands over it about its shore: skylines, made at random, turned over below a known height."""

import numpy as np
import pytest

from critique.measures.division import measure_division
from critique.measures.mirrored import mirror_height
from critique.perception.cielab import lab_to_srgb8
from critique.picture.picture import Picture, picture_from_srgb

HEIGHT, WIDTH = 400, 600


def scene(shore: float, seed: int, *, mirrored: bool) -> np.ndarray:
    """Woods and clouds (CIELAB) over a shore; below it either their image, darker and rippled, or plain grass."""
    from scipy.ndimage import gaussian_filter, gaussian_filter1d

    rng = np.random.default_rng(seed)
    foot = round(shore * HEIGHT)
    above = np.empty((foot, WIDTH, 3))
    above[:] = 78, -2, -14
    clouds = gaussian_filter(rng.normal(size=(foot, WIDTH)), (6, 24))
    above[..., 0] += 7 * clouds / clouds.std()
    hills = gaussian_filter1d(rng.normal(size=WIDTH), 14, mode="wrap")
    top = foot - (0.12 + 0.045 * hills / hills.std()).clip(0.02) * HEIGHT
    above[np.arange(foot)[:, None] > top] = 33, -9, 14
    below = np.empty((HEIGHT - foot, WIDTH, 3))
    below[:] = 52, -10, 26
    if mirrored:
        image = above[::-1][: HEIGHT - foot] * (0.85, 0.8, 0.8)
        below[: len(image)] = image
        below[len(image) :] = image[-1:]
        below[:3] = 45, 0, 8  # a bank, seen as a thin line
    ripples = gaussian_filter(rng.normal(size=below.shape[:2]), (1, 6))
    below[..., 0] += 2 * ripples / ripples.std()
    return np.concatenate([above, below]).astype(np.float32)


def picture(lab: np.ndarray) -> Picture:
    return picture_from_srgb(lab_to_srgb8(lab))


@pytest.mark.parametrize("seed", [1, 2, 3])
@pytest.mark.parametrize("shore", [0.36, 0.44, 0.56])
def test_a_lake_mirrors_about_its_shore(shore: float, seed: int) -> None:
    assert mirror_height(scene(shore, seed, mirrored=True)) == pytest.approx(shore, abs=0.02)


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_a_meadow_mirrors_nothing(seed: int) -> None:
    assert mirror_height(scene(0.44, seed, mirrored=False)) is None


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_the_line_of_a_lake_is_its_shore_and_not_the_edge_of_what_it_mirrors(seed: int) -> None:
    assert measure_division(picture(scene(0.4, seed, mirrored=True))).height == pytest.approx(0.4, abs=0.05)


def test_a_sun_in_its_glow_mirrors_nothing() -> None:
    rng = np.random.default_rng(3)
    y, x = np.mgrid[0:HEIGHT, 0:WIDTH]
    lab = np.zeros((HEIGHT, WIDTH, 3), dtype=np.float32)
    lab[..., 0] = 40 + 50 * np.exp(-np.hypot(x - 330, y - 180) / 90) + rng.normal(0, 2, (HEIGHT, WIDTH))
    lab[..., 2] = 20
    assert mirror_height(lab) is None
