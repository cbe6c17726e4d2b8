"""A blur that the test puts in is told and undone; what is sharp stays as it is."""

import numpy as np
import pytest
from demo_pictures import demo_path

from critique.measures.parts import measure_parts
from critique.measures.reads_as_green import measure_reads_as_green
from critique.photograph.camera_blur import LEAST, blur_of, recovered
from critique.photograph.read import read_photograph
from critique.photograph.scale import area_average
from critique.picture.picture import picture_of


@pytest.fixture(scope="module")
def painting():
    return area_average(read_photograph(demo_path("tolvesk_01_ostermell_meadow.jpg")).light, 640)


def blurred(light, radius):
    from scipy.ndimage import gaussian_filter

    return gaussian_filter(light, (radius, radius, 0))


@pytest.mark.parametrize("radius", [0.6, 0.9])
def test_a_blur_is_told_and_undone(painting, radius):
    soft = blurred(painting, radius)
    told = blur_of(soft)
    assert told == pytest.approx(radius, abs=0.25)
    assert np.abs(recovered(soft, told) - painting).mean() < 0.75 * np.abs(soft - painting).mean()


def test_what_is_sharp_stays_as_it_is(painting):
    assert recovered(painting, LEAST / 2) is painting


def test_what_reads_as_green_comes_back(painting):
    def share(light):
        picture = picture_of(read_photograph((255 * np.clip(light, 0, 1) ** (1 / 2.2)).round().astype(np.uint8)))
        return measure_reads_as_green(picture, measure_parts(picture)).share

    soft = blurred(painting, 0.8)
    own = share(painting)
    assert abs(share(recovered(soft, blur_of(soft))) - own) < abs(share(soft) - own)
