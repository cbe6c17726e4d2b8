"""Whether a green and the colour that it touches are parted by value, on scenes painted with known values."""

import numpy as np
import pytest
from scenes import EARTH, bands, doubled, mirrored

from critique.measures.families import measure_families
from critique.measures.neighbours import measure_neighbours
from critique.perception.cielab import lab_to_srgb8
from critique.picture.picture import picture_from_srgb

PALE = (88, -2, -6)


def near(picture):
    families = measure_families(picture)
    return measure_neighbours(picture, families), families


@pytest.mark.parametrize("lightness", [40, 52, 64, 70])
def test_the_step_of_value_between_a_green_and_the_water_beside_it_is_as_painted(lightness):
    picture = bands((0.3, PALE), (0.35, (52, -6, -26)), (0.35, (lightness, -20, 30)))
    found, families = near(picture)
    assert found.value_difference == pytest.approx((lightness - 52) / 10, abs=0.1)
    assert families[found.green].lab == pytest.approx((lightness, -20, 30), abs=2)
    assert families[found.other].lab == pytest.approx((52, -6, -26), abs=2)


def test_of_several_neighbours_the_one_nearest_in_value_is_named():
    lab = np.empty((300, 450, 3), np.float32)
    lab[:100], lab[100:200], lab[200:] = (70, -4, -24), (50, -20, 30), (46, 24, 24)
    found, families = near(picture_from_srgb(lab_to_srgb8(lab)))
    assert families[found.other].lab == pytest.approx((46, 24, 24), abs=2)
    assert found.value_difference == pytest.approx(0.4, abs=0.1) and found.contact > 0.9


def test_a_green_that_touches_nothing_of_its_value_has_no_neighbour():
    for picture in (
        bands((0.4, (50, -6, -26)), (0.2, PALE), (0.4, (50, -20, 30))),  # grey between them
        bands((0.5, (50, -6, -26)), (0.5, EARTH)),  # no green at all
        bands((0.5, (50, -16, 34)), (0.5, (50, -4, 30))),  # one run of hues
        bands((0.5, (84, -6, -20)), (0.5, (84, -14, 20))),  # a sky's green
    ):
        found, _ = near(picture)
        assert (found.green, found.other, found.value_difference, found.contact) == (None,) * 4


def test_neighbours_are_the_same_mirrored_and_at_twice_the_size():
    picture = bands((0.3, PALE), (0.35, (55, -6, -26)), (0.35, (48, -20, 30)))
    one = near(picture)[0]
    for other in (mirrored(picture), doubled(picture)):
        assert near(other)[0].value_difference == pytest.approx(one.value_difference, abs=0.05)
