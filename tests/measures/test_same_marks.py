"""Whether the same marks lie all over: as strong, as large and running alike in every place."""

import numpy as np
import pytest
from scenes import grey, rough
from scipy.ndimage import gaussian_filter
from scipy.signal import fftconvolve

from critique.advice.fault_limits import judge_flecks
from critique.measures.detail import measure_detail
from critique.perception.cielab import lab_to_srgb8
from critique.picture.picture import picture_from_srgb


def strokes_along(angles, rms=7.0):
    """Short strokes of one size, each running as ``angles`` (426, 640, rad) has it there, the nearest of 12 ways."""
    noise = np.random.default_rng(3).normal(0, 1, (426, 640))
    y, x = np.mgrid[-12:13, -12:13]
    ways = np.linspace(0, np.pi, 12, endpoint=False)
    strokes = np.zeros_like(noise)
    nearest = np.abs((angles[..., None] - ways + np.pi / 2) % np.pi - np.pi / 2).argmin(axis=-1)
    for number, way in enumerate(ways):
        along, beside = x * np.cos(way) + y * np.sin(way), y * np.cos(way) - x * np.sin(way)
        stroke = np.exp(-(along**2) / (2 * 4.0**2) - beside**2 / (2 * 1.2**2))
        strokes = np.where(nearest == number, fftconvolve(noise, stroke, mode="same"), strokes)
    return 50 + rms * strokes / strokes.std()


def test_strokes_of_one_size_that_sway_a_little_all_over_are_the_same_marks():
    y, x = np.mgrid[:426, :640]
    swaying = measure_detail(grey(strokes_along(np.pi / 2 + 0.5 * np.sin(x / 70) * np.cos(y / 90))))
    swirling = measure_detail(grey(strokes_along(np.arctan2(y - 213, x - 320))))
    assert swaying.evenness > 0.6 and swirling.evenness > 0.6
    assert 0.2 < swaying.directions < 0.5 < swirling.directions
    assert judge_flecks(swaying) != "holds" and judge_flecks(swirling) == "holds"


def test_marks_as_strong_everywhere_but_finer_here_than_there_are_not_the_same():
    noise = np.random.default_rng(3).normal(0, 1, (426, 640))
    fine, broad = (gaussian_filter(noise, spread) for spread in (0.8, 3.0))
    alike, mixed = (
        measure_detail(grey(50 + 8 * np.concatenate([above[:213] / above.std(), below[213:] / below.std()])))
        for above, below in ((fine, fine), (fine, broad))
    )
    assert mixed.sizes > 4 * alike.sizes
    assert mixed.same_marks < alike.same_marks - 0.4
    assert judge_flecks(alike) != "holds" and judge_flecks(mixed) == "holds"


def test_marks_alike_in_colour_over_land_that_has_some_of_its_own_are_the_same_marks():
    calm, lively = (rough(np.full((426, 640), 55.0), amount) for amount in (3, 14))
    light = np.concatenate([calm[:213], lively[213:]])
    colour = rough(np.zeros((426, 640)), 14, seed=5)
    bare, flecked = (
        measure_detail(picture_from_srgb(lab_to_srgb8(np.stack([light, 0.5 * tint, tint], -1))))
        for tint in (np.zeros_like(colour), colour)
    )
    assert bare.evenness == pytest.approx(flecked.evenness, abs=0.1)
    assert judge_flecks(bare) == "holds" and judge_flecks(flecked) != "holds"


def test_patches_alike_all_over_are_no_small_marks():
    noise = np.random.default_rng(3).normal(0, 1, (426, 640))
    small, broad = (gaussian_filter(noise, spread) for spread in (1.5, 5.0))
    small, broad = (measure_detail(grey(50 + 16 * marks / marks.std())) for marks in (small, broad))
    assert small.breadth < 0 and broad.breadth > 1
    assert judge_flecks(small) != "holds" and judge_flecks(broad) == "holds"
    assert broad.quietest > 2.5 and broad.same_marks > 0.2
