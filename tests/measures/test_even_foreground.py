"""Whether the foreground is even: nearly one tone and one colour, with no strong marks in it."""

import numpy as np
import pytest
from measured import measured, said

from critique.advice.fault_limits import EVEN_GROUND, judge_even_foreground
from critique.picture.picture import Picture, picture_from_lab, picture_from_srgb

HEIGHT, WIDTH = 400, 600


def field(
    *, path: bool = False, grass: float = 0.5, dark: float = 25.0, ground: float = 50.0, scale: int = 1
) -> Picture:
    """A light sky, dark trees and a green field, L*; a path across it, or strokes of so many L* all over it."""
    rng = np.random.default_rng(5)
    lab = np.empty((HEIGHT, WIDTH, 3), np.float32)
    lab[:160] = (85, -2, -10)
    lab[160:240] = (dark, -8, 12)
    lab[240:] = (ground, -15, 28)
    if path:
        for row in range(240, HEIGHT):
            middle = int(300 + 0.8 * (row - 320))
            lab[row, middle - 60 : middle + 60] = (72, 4, 20)
    lab[240:, :, 0] += np.repeat(np.repeat(rng.normal(0, grass, (80, 300)), 2, axis=0), 2, axis=1)
    lab = np.repeat(np.repeat(lab, scale, axis=0), scale, axis=1)
    return picture_from_lab(lab, picture_from_srgb(np.zeros((*lab.shape[:2], 3), np.uint8)))


def test_a_field_of_one_green_is_even_and_one_with_a_path_or_grass_is_not() -> None:
    """Of 104 pictures that two readers noted, they called just such foregrounds empty, flat, even or dull."""
    assert judge_even_foreground(measured(field()).even_foreground) == "watch"
    assert judge_even_foreground(measured(field(path=True)).even_foreground) == "holds"
    assert judge_even_foreground(measured(field(grass=12.0)).even_foreground) == "holds"


def test_where_all_is_close_in_value_the_foreground_is_no_evener_than_the_rest() -> None:
    """Fog and snow: readers spoke of the whole and not of what lies in front."""
    assert judge_even_foreground(measured(field(dark=78.0, ground=72.0)).even_foreground) == "holds"


def test_a_field_under_a_light_sky_is_even_though_nothing_in_the_picture_is_dark() -> None:
    """Readers of four pictures so called the empty field first or second."""
    assert judge_even_foreground(measured(field(dark=78.0)).even_foreground) == "watch"


def test_what_it_spans_is_what_was_painted() -> None:
    found = measured(field(path=True)).even_foreground
    tones, colours = 72.0 - 50.0, np.hypot(15 + 4, 28 - 20)
    assert found.spread == pytest.approx(tones + colours, abs=2.5)
    assert found.above_and_below == pytest.approx(85.0 - 25.0, abs=2.0)
    assert measured(field()).even_foreground.spread < 3.0 < EVEN_GROUND.watch


def test_neither_a_mirror_nor_a_larger_picture_changes_it() -> None:
    found = measured(field(path=True)).even_foreground
    twice = measured(field(path=True, scale=2)).even_foreground
    assert twice.spread == pytest.approx(found.spread, abs=0.3) and twice.drawn == pytest.approx(found.drawn, abs=0.3)
    picture = field(path=True)
    turned = picture_from_lab(np.ascontiguousarray(picture.lab[:, ::-1]), picture)
    assert measured(turned).even_foreground.spread == pytest.approx(found.spread, abs=0.1)


def test_it_is_said_of_the_picture_and_asks_whether_it_is_meant() -> None:
    told = said(field(), "even foreground")["even foreground"]
    assert told.level == "watch" and "If it is to rest the eye, leave it" in told.text
    assert not said(field(path=True), "even foreground")


def test_of_a_black_foreground_its_closed_dark_is_told_and_not_that_it_is_even() -> None:
    black = field()
    lab = black.lab.copy()
    lab[240:] = (2, 0, 0)
    assert set(said(picture_from_lab(lab, black), "even foreground", "closed darks")) == {"closed darks"}
    assert said(black, "even foreground")
