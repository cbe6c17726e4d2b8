"""Scaling down gives the exact mean of the light that falls on each new pixel."""

import hashlib
import os
import subprocess
import sys

import numpy as np
import pytest

from critique.photograph.scale import area_average, average_of_rows, scaled_size


def naive_average(light: np.ndarray, new_height: int, new_width: int) -> np.ndarray:
    """The integral of the picture over each new pixel, divided by its area: by splitting every pixel evenly."""
    height, width, channels = light.shape
    fine = np.repeat(np.repeat(light.astype(np.float64), new_height, axis=0), new_width, axis=1)
    return fine.reshape(new_height, height, new_width, width, channels).mean(axis=(1, 3))


@pytest.mark.parametrize(("shape", "long_edge"), [((40, 30), 17), ((33, 50), 32), ((31, 64), 63), ((64, 64), 16)])
def test_averages_are_exact(shape, long_edge):
    light = np.random.default_rng(1).random((*shape, 3), dtype=np.float32)
    expected = naive_average(light, *scaled_size(*shape, long_edge))
    assert np.abs(area_average(light, long_edge) - expected).max() < 1e-6


@pytest.mark.parametrize("channels", [1, 3])
def test_average_light_of_the_whole_is_kept(channels):
    light = np.random.default_rng(2).random((1700, 2300, channels), dtype=np.float32)
    scaled = area_average(light, 777)
    assert scaled.shape == (574, 777, channels)
    assert np.abs(scaled.mean(axis=(0, 1)) - light.mean(axis=(0, 1))).max() < 1e-4


def test_rows_in_strips_give_what_the_whole_gives():
    light = np.random.default_rng(3).random((900, 4000, 3), dtype=np.float32)
    asked = []

    def rows(first: int, last: int) -> np.ndarray:
        asked.append(last - first)
        return light[first:last]

    assert np.array_equal(average_of_rows(rows, 900, 4000, 1000), area_average(light, 1000))
    assert len(asked) > 10 and max(asked) < 100  # never the whole at once


def test_a_small_picture_is_left_as_it_is():
    light = np.random.default_rng(4).random((90, 70, 3), dtype=np.float32)
    assert np.array_equal(area_average(light, 90), light)
    assert np.array_equal(area_average(light, 1600), light)


def test_even_light_stays_even():
    light = np.full((501, 333, 3), 0.37, np.float32)
    assert np.abs(area_average(light, 64) - 0.37).max() < 1e-6


def test_mirrored_picture_gives_the_mirrored_average():
    light = np.random.default_rng(5).random((301, 457, 3), dtype=np.float32)
    assert np.abs(area_average(light[:, ::-1], 100)[:, ::-1] - area_average(light, 100)).max() < 1e-6


_DIGEST = """
import hashlib, numpy as np
from critique.photograph.scale import area_average
light = np.random.default_rng(0).random((1500, 2100, 3), dtype=np.float32)
print(hashlib.sha256(area_average(light, 1600).tobytes()).hexdigest())
"""


@pytest.mark.slow
def test_last_bit_does_not_depend_on_how_many_threads_compute():
    digests = {
        subprocess.check_output(
            [sys.executable, "-c", _DIGEST], env=os.environ | {"OMP_NUM_THREADS": threads}, text=True
        )
        for threads in ("1", "2", "4")
    }
    assert len(digests) == 1
    assert len(digests.pop().strip()) == hashlib.sha256().digest_size * 2
