"""Whether far land lies back is checked on ranges of known value, chroma and warmth before a meadow."""

import numpy as np
import pytest

from critique.measures.land_distance import LandDistance, measure_land_distance
from critique.measures.parts import measure_parts
from critique.perception.cielab import lab_to_srgb8
from critique.picture.picture import Picture, picture_from_srgb

HEIGHT, WIDTH = 300, 450
SKY, RANGE, DARK, RUST, MEADOW = (84, -4, -14), (60, 2, 0), (24, 2, -6), (34, 20, 16), (42, -12, 28)  # CIELAB


def landscape(*, dark: float = 0.0, crest: tuple[float, float, float] | None = None, mirrored: bool = False) -> Picture:
    """A hazy range under the sky and a meadow in front; the left ``dark`` of the range in deep shade, or all under its
    skyline in the colour of ``crest``."""
    rng = np.random.default_rng(3)
    down, across = np.mgrid[0:HEIGHT, 0:WIDTH] + 0.5
    down, across = down / HEIGHT, across / WIDTH
    top = 0.27 + 0.03 * np.sin(across * 9)
    far, under_crest = (down >= top) & (down < 0.52), down < top + 0.11
    lab = np.where((down >= 0.52)[..., None], MEADOW, SKY).astype(np.float64)
    lab[far] = RANGE
    lab[far & (across < dark)] = DARK
    if crest is not None:
        lab[far & under_crest] = crest
    lab += rng.normal(0, 1.0, (HEIGHT, WIDTH, 1)) * (1, 0.3, 0.5) * np.where(down >= 0.52, 5.0, 0.5)[..., None]
    return picture_from_srgb(lab_to_srgb8((lab[:, ::-1] if mirrored else lab).astype(np.float32)))


def distance(picture: Picture) -> LandDistance:
    return measure_land_distance(picture, measure_parts(picture))


@pytest.mark.parametrize("mirrored", [False, True])
def test_a_hazy_range_lies_back_by_what_it_is_lighter_greyer_and_cooler(mirrored: bool) -> None:
    found = distance(landscape(mirrored=mirrored))
    assert found.known
    assert found.lighter == pytest.approx(1.8, abs=0.2)  # 60 against 42
    assert found.quieter == pytest.approx(np.hypot(12, 28) - 2, abs=3)
    assert found.cooler == pytest.approx(28, abs=3)


def test_a_dark_fifth_of_the_skyline_takes_nothing_from_it() -> None:
    assert distance(landscape(dark=0.18)).lighter > 1.2


def test_where_a_third_of_the_skyline_is_dark_it_is_no_lighter_than_the_near_land() -> None:
    found = distance(landscape(dark=0.35))
    assert found.lighter < 0
    assert found.cooler > 20  # the shade is cool too


def test_dark_and_red_hills_over_a_pale_slope_dont_lie_back() -> None:
    found = distance(landscape(crest=RUST))
    assert found.lighter < 0
    assert found.quieter < 12  # the rust has chroma 26, the meadow 30
