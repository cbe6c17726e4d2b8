"""The repaint study against the mixtures themselves: within reach nothing moves, out of reach values hold, no bands."""

import tracemalloc

import numpy as np
import pytest

from critique.measures.greens import measure_greens
from critique.paints.box import box_of
from critique.paints.kubelka_munk import mixture_lab
from critique.paints.reachable import VALUE_WEIGHT, nearest_reachable, reachable_map
from critique.perception.cielab import lab_to_lch, lch_to_lab, srgb8_to_lab
from critique.picture.picture import picture_from_lab, picture_from_srgb
from critique.tasks.repaint import repaint_study

EARTHS = box_of(["yellow ochre", "red oxide", "PB29", "PG7"], "earths")
BRIGHT = box_of(["PY83", "PR122", "PB15:3", "burnt sienna", "PV23"], "bright")


def picture_of(lab):
    lab = np.asarray(lab, np.float32)
    return picture_from_lab(lab, picture_from_srgb(np.zeros((*lab.shape[:2], 3), np.uint8)))


def mixtures(box, count, seed):
    """Random mixtures of at most three paints with white, strong tinters in small parts too."""
    rng = np.random.default_rng(seed)
    parts = np.zeros((count, len(box.with_white)))
    for row in parts:
        row[rng.choice(len(box.paints), 3, replace=False)] = rng.dirichlet(np.full(3, 0.5)) * rng.choice([0.1, 0.5, 1])
        row[-1] = rng.choice([0, 1, 1]) * rng.random() * 2
    return mixture_lab(parts, box.with_white).astype(np.float32)


@pytest.mark.parametrize("box", [EARTHS, BRIGHT], ids=["earths", "bright"])
def test_a_colour_that_the_palette_mixes_is_found(box):
    lab = mixtures(box, 600, 3)
    off = np.linalg.norm(nearest_reachable(lab, box) - lab, axis=1)
    assert np.median(off) < 0.1 and np.percentile(off, 99) < 1


def test_nearest_is_as_near_as_a_fine_grid_of_mixtures_has_it():
    """Brute force: 30,000 mixtures of every three of the four paints with white."""
    grid = np.random.default_rng(1).dirichlet(np.full(4, 0.3), 8_000)
    cloud = np.concatenate(
        [
            mixture_lab(grid, [*(EARTHS.paints[i] for i in three), EARTHS.white])
            for three in ((0, 1, 2), (0, 1, 3), (0, 2, 3), (1, 2, 3))
        ]
    )
    aims = srgb8_to_lab(np.random.default_rng(2).integers(0, 256, (60, 3)).astype(np.uint8))

    def miss(lab, aim):
        """With value counting three times."""
        return np.hypot(VALUE_WEIGHT * (lab[..., 0] - aim[0]), np.hypot(*np.moveaxis(lab[..., 1:] - aim[1:], -1, 0)))

    found = nearest_reachable(aims, EARTHS)
    for aim, one in zip(aims, found, strict=True):
        # Hue counts up to one and a half times as much, so that the plain distance may be that much longer.
        assert miss(one, aim) <= 1.5 * miss(cloud, aim).min() + 1


def test_within_reach_the_study_is_the_picture():
    lab = mixtures(EARTHS, 4_000, 4).reshape(50, 80, 3)
    lab = picture_of(lab).lab
    study = repaint_study(picture_of(lab), EARTHS)
    assert study.mean_error < 0.8 and study.value_error < 0.03


def test_values_are_kept_before_chroma():
    meadow = lch_to_lab(np.array([[[58.0, 70.0, 128.0], [45.0, 60.0, 135.0], [75.0, 75.0, 115.0]]])).astype(np.float32)
    painted = reachable_map(meadow, EARTHS).applied(meadow)
    before, after = lab_to_lch(meadow), lab_to_lch(painted)
    assert np.abs(after[..., 0] - before[..., 0]).max() < 3
    assert (after[..., 1] < before[..., 1] - 25).all()


@pytest.mark.parametrize("box", [EARTHS, BRIGHT], ids=["earths", "bright"])
def test_a_smooth_gradient_stays_smooth(box):
    rng = np.random.default_rng(6)
    along = np.linspace(0, 1, 900)[:, None]
    for first, last in srgb8_to_lab(rng.integers(0, 256, (12, 2, 3)).astype(np.uint8)):
        ramp = (first * (1 - along) + last * along).astype(np.float32)[None]
        painted = reachable_map(ramp, box).applied(ramp)
        step = float(np.linalg.norm(last - first)) / 899
        steps = np.linalg.norm(np.diff(painted[0], axis=0), axis=1)
        assert steps.max() < 6 * step, "no band: no step is much longer than the picture's own"
        assert np.abs(np.diff(painted[0], axis=0, n=2)).max() < 6 * step


def test_a_sky_from_blue_to_cream_does_not_band():
    down = np.linspace(0, 1, 600)[:, None]
    sky = np.array([58, -4, -32]) * (1 - down) + np.array([88, 2, 14]) * down
    painted = reachable_map(sky[None].astype(np.float32), EARTHS).applied(sky[None].astype(np.float32))[0]
    step = float(np.linalg.norm(sky[1] - sky[0]))
    assert np.linalg.norm(np.diff(painted, axis=0), axis=1).max() < 1.6 * step
    assert (np.diff(painted[:, 0]) > 0).all(), "it still grows lighter all the way"


def test_strokes_stay():
    rng = np.random.default_rng(7)
    strokes = np.repeat(rng.normal(0, 4, (60, 20, 1)), 6, axis=1)
    lab = lch_to_lab(np.array([55.0, 60.0, 125.0])) + strokes * [1, 0.4, -0.4]
    study = repaint_study(picture_of(lab), EARTHS)
    before, after = picture_of(lab).lab[..., 0].ravel(), study.picture.lab[..., 0].ravel()
    assert np.corrcoef(before, after)[0, 1] > 0.99
    assert after.std() == pytest.approx(before.std(), rel=0.12)


def test_greens_are_measured_before_and_after():
    lab = np.empty((80, 120, 3), np.float32)
    lab[:30], lab[30:] = (78, -5, -14), lch_to_lab(np.array([56, 66, 128]))
    meadow = picture_of(lab)
    study = repaint_study(meadow, EARTHS)
    assert study.before == measure_greens(meadow) and study.after == measure_greens(study.picture)
    assert study.before.beyond_leaf_share > 0.5 and study.after.beyond_leaf_share == 0
    assert study.picture.lab.shape == meadow.lab.shape
    assert study.paints == ("yellow ochre", "red oxide", "ultramarine blue", "phthalo green (blue shade)")
    assert study.value_error == pytest.approx(np.abs(study.picture.lab - meadow.lab)[..., 0].mean() / 10, abs=0.02)


def test_the_ends_of_the_scale_are_mapped_without_fault():
    ends = np.array([[[0, 0, 0], [100, 0, 0], [32, 79, -108], [88, -86, 83]]], np.float32)
    painted = reachable_map(ends, box_of(["PG7", "PY74"])).applied(ends)
    assert np.isfinite(painted).all() and painted[..., 0].min() >= 0 and painted[..., 0].max() <= 100
    again = reachable_map(ends, box_of(["PG7", "PY74"])).applied(ends)
    assert np.array_equal(painted, again)


def test_a_study_takes_little_memory_beside_the_pictures():
    tones = np.linspace(20, 90, 640)[None] + np.linspace(-15, 5, 427)[:, None]
    lab = np.stack([tones, -tones / 6, tones / 3], axis=-1)
    picture = picture_of(lab)
    before = measure_greens(picture)
    repaint_study(picture, EARTHS, before)  # what is kept of a box isn't the study's
    fresh = picture_of(lab)
    tracemalloc.start()
    try:
        repaint_study(fresh, EARTHS, before)
        peak = tracemalloc.get_traced_memory()[1]
    finally:
        tracemalloc.stop()
    assert peak < 6 * lab.astype(np.float32).nbytes
