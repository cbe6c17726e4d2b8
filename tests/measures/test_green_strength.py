"""The two figures that a search asks for are those of the whole measure, but for the finest detail."""

import numpy as np
import pytest
from demo_pictures import demo_path

from critique.measures.greens import green_strength, measure_greens
from critique.picture.picture import as_shown, picture_from_lab
from critique.picture.read import read_picture


@pytest.mark.parametrize("name", ["tolvesk_01_ostermell_meadow.jpg", "tolvesk_05_orvalden_beeches.jpg"])
def test_share_and_middle_chroma_are_those_of_the_measure(name):
    picture = read_picture(demo_path(name))
    lab = picture.lab * np.float32([1, 1.6, 1.6])  # some of it beyond what a screen shows
    greens = measure_greens(picture_from_lab(lab, picture))
    expected = pytest.approx((greens.chroma_share, greens.median_chroma), rel=0.04, abs=0.005)
    assert green_strength(as_shown(lab)) == expected


def test_without_green_there_is_no_middle():
    share, middle = green_strength(np.full((8, 8, 3), (50, 0, 0), dtype=np.float32))
    assert share == 0 and np.isnan(middle)
