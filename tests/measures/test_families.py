"""Families of pictures painted from a known few colours."""

import numpy as np
import pytest
from scenes import EARTH, MEADOW, SKY, STRONG, bands, painted

from critique.measures.families import assign_families, measure_families
from critique.perception.difference import delta_e_2000


def test_the_colours_a_picture_is_painted_with_are_its_families():
    colours = (SKY, MEADOW, STRONG, EARTH, (92, 0, 6))
    shares = (0.35, 0.25, 0.2, 0.15, 0.05)
    families = measure_families(bands(*zip(shares, colours, strict=True)))
    assert len(families) == 5
    for family, share, colour in zip(families, shares, colours, strict=True):
        assert family.share == pytest.approx(share, abs=0.01)
        assert delta_e_2000(family.lab, colour) < 0.5


def test_two_colours_that_look_alike_are_one_family():
    families = measure_families(bands((0.5, (50, -20, 30)), (0.3, (51, -21, 31)), (0.2, SKY)))
    assert len(families) == 2
    assert families[0].share == pytest.approx(0.8, abs=0.01)


def test_a_rich_picture_has_five_to_nine_families_apart_from_each_other():
    families = measure_families(painted())
    assert 5 <= len(families) <= 9
    assert sum(family.share for family in families) == pytest.approx(1)
    assert [family.share for family in families] == sorted((family.share for family in families), reverse=True)
    lab = np.array([family.lab for family in families])
    apart = delta_e_2000(lab[:, None], lab[None]) + 99 * np.eye(len(lab))
    assert apart.min() >= 5


def test_every_colour_goes_to_its_nearest_family():
    picture = painted()
    families = measure_families(picture)
    labels = assign_families(picture.lab[::7, ::7], families)
    centres = np.array([family.lab for family in families])
    distance = ((picture.lab[::7, ::7, None] - centres) ** 2).sum(axis=-1)
    assert np.array_equal(labels, distance.argmin(axis=-1))


def test_a_family_carries_its_names():
    family = measure_families(bands((1.0, (43.0, -14.9, 22.0))))[0]  # the colour chart's foliage
    assert family.name == "moderate olive green"
    assert family.munsell.endswith(("/4.0", "/4.1", "/3.9"))
    assert "GY 4.2" in family.munsell
    assert family.srgb.startswith("#")


@pytest.mark.parametrize(("apart", "number"), [(4.6, 1), (5.4, 2)])
def test_families_closer_than_five_steps_are_one(apart, number):
    one, other = np.array([55.0, 10.0, 30.0]), np.array([55.0, 11.0, 30.0])
    while delta_e_2000(one, other) < apart:
        other[1] += 0.02
    assert len(measure_families(bands((0.6, tuple(one)), (0.4, tuple(other))))) == number


def test_no_picture_has_more_than_nine_families_and_ten_colours_far_apart_have_as_many():
    colours = [
        (L, 40 * np.cos(h), 40 * np.sin(h)) for L in (35, 75) for h in np.radians(np.arange(5) * 72 + 10 * (L > 50))
    ]
    families = measure_families(bands(*((0.1, colour) for colour in colours)))
    assert len(families) == 9
    assert sorted(round(family.share, 1) for family in families) == [0.1] * 8 + [0.2]
