"""How crisp the edges between masses are, on edges of known spread, and what is said where none is."""

from dataclasses import replace
from math import erf, sqrt

import numpy as np
import pytest
from PIL import Image
from scipy.ndimage import gaussian_filter

from critique.advice.findings import finding_of
from critique.advice.judging import Case
from critique.advice.kinds import kind_named
from critique.advice.norms import read_norms
from critique.advice.praise import virtues
from critique.measures.crispness import measure_crispness
from critique.perception.cielab import lab_to_srgb8
from critique.photograph.corners import ALL
from critique.photograph.fitness import Fitness
from critique.picture.picture import Picture, picture_from_srgb
from critique.picture.view import View
from tests.measured import measured, said
from tests.measures.scenes import bands, mirrored, rough

HEIGHT, WIDTH = 420, 640


def grey(lightness: np.ndarray) -> Picture:
    lab = np.zeros((*lightness.shape, 3), dtype=np.float32)
    lab[..., 0] = lightness
    return picture_from_srgb(lab_to_srgb8(lab))


def hills(spread: float) -> np.ndarray:
    """L* of two ranges of hills and a light house before a light sky, all edges with the same spread in px."""
    y, x = np.mgrid[:HEIGHT, :WIDTH].astype(np.float32)
    light = np.full((HEIGHT, WIDTH), 80.0, dtype=np.float32)
    light[y > 190 + 60 * np.sin(x / 90)] = 50
    light[y > 280 + 40 * np.cos(x / 110)] = 22
    light[(np.abs(y - 310) < 30) & (np.abs(x - 420) < 45)] = 84
    return gaussian_filter(light, spread) if spread else light


def bristles(light: np.ndarray) -> np.ndarray:
    """The same under long level tracks of a brush, each a px or two wide and cut."""
    tracks = gaussian_filter(np.random.default_rng(4).standard_normal(light.shape), (0.6, 14))
    return light + 3 * tracks / tracks.std()


@pytest.mark.parametrize("spread", [1.5, 2.5, 4.0])
def test_what_is_taken_at_once_is_that_of_a_blurred_step(spread: float) -> None:
    """A step blurred by a Gaussian is its integral: erf tells what lies between one and two px on either side."""
    expected = (erf(1 / spread / sqrt(2)) + erf(2 / spread / sqrt(2))) / 2
    assert measure_crispness(grey(hills(spread))).found == pytest.approx(expected, abs=0.06)


def test_no_edge_crisp_is_named_with_what_to_sharpen_and_shown_where_light_meets_dark() -> None:
    shown = grey(rough(hills(4), 0.6))
    found = said(shown, "soft edges")["soft edges"]
    assert found.level == "rework"
    assert "the photograph is out of focus" in found.text and "sharpen a few" in found.text
    where = kind_named("soft_edges").where
    assert where is not None
    mask = where(measured(shown))
    assert isinstance(mask, np.ndarray) and 0.005 < mask.mean() < 0.1
    y, x = ((np.argwhere(mask) + 0.5) * np.divide((HEIGHT, WIDTH), mask.shape)).T.astype(int)
    house = np.maximum(np.abs(y - 310) - 30, np.abs(x - 420) - 45)
    assert np.median(np.abs(house)) < 12, "the light house before the dark hill is the greatest step"
    assert measure_crispness(mirrored(shown)).found == pytest.approx(found.figure, abs=0.02)


@pytest.mark.parametrize("touch", [bristles, lambda light: rough(light, 3)])
def test_tracks_of_the_brush_over_soft_shapes_are_no_crisp_edges(touch) -> None:
    assert said(grey(touch(hills(5))), "soft edges")["soft edges"].level != "holds"


@pytest.mark.parametrize("long_edge", [900, 1500])
def test_the_size_of_the_file_makes_no_difference(long_edge: int) -> None:
    drawn = grey(hills(3)).srgb
    size = (long_edge, round(long_edge * HEIGHT / WIDTH))
    larger = np.asarray(Image.fromarray(drawn).resize(size, Image.Resampling.BICUBIC))
    crisp = [measure_crispness(picture_from_srgb(one)).found for one in (drawn, larger)]
    assert crisp[0] == pytest.approx(crisp[1], abs=0.03)


def test_one_crisp_thing_among_soft_ones_is_enough() -> None:
    light = hills(5)
    light[270:350, 365:475] = hills(0)[270:350, 365:475]
    assert said(grey(light), "soft edges") == {}


def test_a_little_soft_is_to_watch_and_what_the_camera_may_have_done_is_never_more() -> None:
    assert said(grey(hills(2.1)), "soft edges")["soft edges"].level == "watch"
    soft = Fitness("sharpness", 5.0, "rework", "hold still", "likely")
    photographed = replace(grey(hills(5)), view=View("whole", ALL, None, (soft,)))
    assert said(photographed, "soft edges")["soft edges"].level == "watch"


def test_crisp_edges_mist_small_files_and_empty_pictures_are_not_named() -> None:
    assert said(grey(hills(0.7)), "soft edges") == {}
    mist = 70 + (hills(5) - 50) * 0.25
    assert said(grey(mist), "soft edges") == {}
    assert said(grey(hills(5)[::2, ::2]), "soft edges") == {}
    even = bands((1.0, (60, -5, 5)), width=WIDTH, height=HEIGHT)
    assert np.isnan(measured(even).crispness.found) and said(even, "soft edges") == {}


def test_no_shape_is_praised_for_its_edge_where_none_is_crisp() -> None:
    praised = []
    for spread in (0.7, 6.0):
        y, x = np.mgrid[:HEIGHT, :WIDTH].astype(np.float32)
        light = np.where(np.hypot(y - 240, x - 200) < 90, 17.0, np.where(y > 290, 45.0, 80.0)).astype(np.float32)
        shown = grey(rough(gaussian_filter(light, spread), 0.6))
        case = Case.of(shown, measured(shown), read_norms())
        found = finding_of(case, kind_named("soft_edges"))
        praised.append({kind.id for kind, _ in virtues(case, {found.kind} if found else set())})
    assert "silhouette" in praised[0] and "silhouette" not in praised[1]
