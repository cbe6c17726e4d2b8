"""The largest dark mass of scenes whose masses are known."""

import numpy as np
import pytest

from critique.measures.dark_mass import measure_dark_mass
from critique.perception.cielab import lab_to_srgb8
from critique.picture.picture import Picture, picture_from_srgb


def trees(*placed: tuple[int, int, int, int]) -> Picture:
    """Dark green trees (top, bottom, left, right in px) in a light field of 426 by 640."""
    lab = np.zeros((426, 640, 3), dtype=np.float32)
    lab[..., 0] = 70
    for top, bottom, left, right in placed:
        lab[top:bottom, left:right] = (18, -8, 9)
    return picture_from_srgb(lab_to_srgb8(lab))


def test_of_two_dark_masses_the_larger_is_told() -> None:
    mass = measure_dark_mass(trees((200, 426, 0, 200), (200, 300, 500, 600)))
    assert mass.share == pytest.approx(226 * 200 / (426 * 640), abs=0.02)  # its border is soft
    height, width = mass.mask.shape
    assert mass.mask[:, width // 2 :].sum() == 0 and mass.mask[int(0.6 * height) :, : int(0.25 * width)].all()


def test_masses_that_touch_are_one() -> None:
    apart = measure_dark_mass(trees((200, 426, 0, 200), (200, 426, 260, 460)))
    joined = measure_dark_mass(trees((200, 426, 0, 200), (200, 426, 190, 390)))
    assert joined.share > 1.8 * apart.share


def test_a_light_picture_has_no_dark_mass() -> None:
    assert measure_dark_mass(trees()).share == 0
