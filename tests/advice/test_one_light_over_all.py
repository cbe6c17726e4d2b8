"""A lean is told where all colours lie to one side of the grey, however far they spread along it."""

from dataclasses import replace

import numpy as np
import pytest
from measured import said

from critique.measures.cast import measure_cast
from critique.measures.cast_judging import leans_all_over
from critique.perception.cielab import lab_to_linear, lab_to_srgb8
from critique.perception.srgb import linear_to_srgb8
from critique.picture.picture import Picture, picture_from_srgb

SIZE = (240, 360)  # px
VIOLET, ROSE, BLUE, ORANGE = (1.3, 0.55, 1.2), (1.4, 0.62, 0.8), (0.3, 0.6, 1.6), (1.4, 0.8, 0.25)  # lights


def day(rng: np.random.Generator) -> np.ndarray:
    """A blue sky with white clouds over grey hills, green and brown land and a grey road: (rows, columns, 3) CIELAB."""
    lab = np.zeros((*SIZE, 3)) + np.array([66.0, -4.0, -20.0])
    lab[20:60, 40:200] = (90.0, 0.0, 2.0)
    lab[90:120] = (58.0, -1.0, -3.0)
    lab[120:] = (46.0, -14.0, 24.0)
    lab[170:, :140] = (38.0, 10.0, 20.0)
    lab[150:, 250:310] = (62.0, 1.0, 6.0)
    lab[140:200, 150:230] = (22.0, -6.0, 8.0)
    return lab + rng.normal(0, 1.2, lab.shape)


def under(light: tuple[float, float, float]) -> Picture:
    """That day, seen through a light of a colour: its share of red, green and blue."""
    linear = lab_to_linear(day(np.random.default_rng(3)).astype(np.float32))
    return picture_from_srgb(linear_to_srgb8(np.clip(linear * np.array(light, np.float32), 0, 1)))


def test_a_day_with_whites_and_greys_leans_nowhere() -> None:
    picture = picture_from_srgb(lab_to_srgb8(day(np.random.default_rng(3))))
    assert measure_cast(picture).off_neutral < 0
    assert not said(picture, "colour cast")


@pytest.mark.parametrize("light", [VIOLET, ROSE, BLUE, ORANGE])
def test_one_light_over_all_of_it_is_told_though_sky_and_land_keep_their_difference(light) -> None:
    finding = said(under(light), "colour cast")["colour cast"]
    assert finding.level == "watch" and "If that is the light you painted, leave it" in finding.text


def test_the_same_light_with_a_grey_rock_and_a_white_wall_in_it_is_none() -> None:
    lab = day(np.random.default_rng(3))
    lab[..., 1:] += (14.0, -12.0)
    lab[60:90, 220:300] = (86.0, 0.0, 3.0)
    lab[200:230, 40:130] = (45.0, -1.0, 2.0)
    assert not said(picture_from_srgb(lab_to_srgb8(lab)), "colour cast")


def test_the_strongest_of_one_light_is_not_told_besides() -> None:
    """A lake gone violet was told of its violet along the top alone."""
    lab = np.zeros((*SIZE, 3)) + np.array([52.0, 26.0, -24.0])
    lab[:60] = (60.0, 44.0, -48.0)
    lab[60:110] = (80.0, 16.0, -12.0)
    picture = picture_from_srgb(lab_to_srgb8(lab + np.random.default_rng(4).normal(0, 1.2, lab.shape)))
    assert set(said(picture, "colour cast", "loudest colour")) == {"colour cast"}
    lab[110:] = (52.0, -2.0, 6.0)
    free = picture_from_srgb(lab_to_srgb8(lab + np.random.default_rng(4).normal(0, 1.2, lab.shape)))
    assert set(said(free, "colour cast", "loudest colour")) == {"loudest colour"}


def test_a_raw_sky_that_makes_the_mean_is_told_as_loud_itself() -> None:
    """A raw pink sky over a dim lake was told as a lean of the whole alone, though the lake had hardly any."""
    lab = np.zeros((*SIZE, 3)) + np.array([34.0, 3.0, -1.0])
    lab[:140] = (52.0, 60.0, -14.0)
    picture = picture_from_srgb(lab_to_srgb8(lab + np.random.default_rng(4).normal(0, 1.0, lab.shape)))
    assert "loudest colour" in said(picture, "colour cast", "loudest colour")


def test_a_sun_that_glows_far_more_than_all_leans_is_no_cast_and_a_lamp_is() -> None:
    lamp = measure_cast(under(ORANGE))
    assert leans_all_over(lamp)
    sun = replace(lamp, lightest=replace(lamp.lightest, chroma=2.2 * lamp.size))
    assert not leans_all_over(sun)
    assert not leans_all_over(replace(lamp, one_sided=0.5))


def varnished(hue: float, part: float) -> Picture:
    """That day with so much of its own colour left, and toned in a hue as by an old varnish."""
    lab = day(np.random.default_rng(3))
    tone = 22 * np.array([np.cos(np.radians(hue)), np.sin(np.radians(hue))])
    lab[..., 1:] = part * lab[..., 1:] + tone * np.clip(lab[..., :1] / 50, 0.35, 1.2)
    return picture_from_srgb(lab_to_srgb8(lab))


def test_a_yellow_varnish_over_all_of_it_is_told_and_a_green_one_by_the_name_of_green() -> None:
    """A yellow on its way to green was told of neither."""
    assert "yellow" in said(varnished(94.0, 0.15), "colour cast")["colour cast"].text
    assert set(said(varnished(125.0, 0.15), "colour cast", "green cast")) == {"green cast"}


def test_a_lean_to_earth_is_one_only_where_all_is_of_one_hue() -> None:
    """Wheat under a green sky leans to yellow: it is painted so."""
    lamp, violet = measure_cast(under(ORANGE)), measure_cast(under(VIOLET))
    assert leans_all_over(lamp) and not leans_all_over(replace(lamp, one_sided=0.85))
    assert leans_all_over(replace(violet, one_sided=0.85))
