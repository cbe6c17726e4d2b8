"""What an edge cuts off is looked for in scenes where it was put."""

import numpy as np
import pytest

from critique.measures.cut_off import ANSWERED_MOST, cut_off

HEIGHT, WIDTH = 260, 400
ORANGE, GROUND, SKY = (62.0, 42.0, 66.0), (40.0, 4.0, 18.0), (80.0, -3.0, -10.0)


def scene(amount: float = 1.2) -> np.ndarray:
    rng = np.random.default_rng(6)
    lab = np.where(np.arange(HEIGHT)[:, None, None] < 130, SKY, GROUND) * np.ones((HEIGHT, WIDTH, 1))
    return (lab + rng.normal(0, amount, (HEIGHT, WIDTH, 3))).astype(np.float32)


def with_patch(x: int, colour: tuple[float, float, float] = ORANGE, *, bristle: float = 1.0) -> np.ndarray:
    lab = scene()
    rng = np.random.default_rng(7)
    lab[90:150, x : x + 30] = colour
    lab[90:150, x : x + 30, 0] += rng.normal(0, bristle, (60, 1))  # strokes from side to side
    return lab


@pytest.mark.parametrize("bristle", [0.5, 4.0])
def test_a_strange_shape_at_an_edge_is_cut_off_even_if_a_bristle_painted_it(bristle: float) -> None:
    found = cut_off(with_patch(0, bristle=bristle))
    assert found is not None and found.strength >= 1
    assert found.sides == ("left",)
    assert found.x == pytest.approx(15 / WIDTH, abs=0.02)


def test_the_same_shape_inside_is_not_cut_off() -> None:
    assert cut_off(with_patch(180)) is None


def test_a_solid_post_is_cut_off_though_the_ground_it_stands_on_is_nearly_as_dark() -> None:
    lab = np.where(np.arange(HEIGHT)[:, None, None] < 150, SKY, (16.0, 2.0, 5.0)) * np.ones((HEIGHT, WIDTH, 1))
    lab = lab.astype(np.float32)
    assert cut_off(lab) is None
    lab[40:, :18] = (3.0, 0.0, 1.0)
    post = cut_off(lab)
    assert post is not None and post.strength >= 1 and post.sides == ("left", "bottom")


def test_a_band_of_ground_that_something_stops_at_one_side_is_not_cut_off() -> None:
    lab = scene(0.5)
    lab[150:] = (16.0, 2.0, 5.0)
    lab[80:, :18] = (3.0, 0.0, 1.0)
    found = cut_off(lab)
    assert found is None or found.strength < 1


def with_bush(reach: float, *, across: float = 0.0, colour: tuple[float, float, float] = ORANGE) -> np.ndarray:
    """A round bush of many touches, ``reach`` of the width to either side of its middle."""
    lab = scene()
    rng = np.random.default_rng(8)
    down, right = np.mgrid[:HEIGHT, :WIDTH]
    touches = np.repeat(np.repeat(rng.normal(0, 9, (HEIGHT // 4, WIDTH // 4)), 4, 0), 4, 1)
    bush = np.hypot(down - 140, right - across * WIDTH) < reach * WIDTH
    lab[bush] = colour
    lab[bush, 0] += touches[bush].astype(np.float32)
    return lab


@pytest.mark.parametrize("reach", [0.08, 0.12, 0.16])
def test_a_bush_of_many_touches_is_cut_off_however_large_it_is(reach: float) -> None:
    found = cut_off(with_bush(reach))
    assert found is not None and found.strength >= 1 and found.sides == ("left",)
    assert found.share == pytest.approx(np.pi / 2 * reach**2 * WIDTH / HEIGHT, rel=0.25)
    assert found.y == pytest.approx(140 / HEIGHT, abs=0.03)
    mirrored = cut_off(np.ascontiguousarray(with_bush(reach)[:, ::-1]))
    assert mirrored is not None and mirrored.sides == ("right",)


def test_a_mass_of_the_picture_is_no_bush_nor_what_stands_inside_or_is_answered_or_hardly_parts_from_its_ground() -> (
    None
):
    assert cut_off(with_bush(0.26)) is None
    assert cut_off(with_bush(0.14, across=0.5)) is None
    assert cut_off(with_bush(0.14, colour=(46.0, 10.0, 24.0))) is None
    answered = with_bush(0.14)
    answered[150:180, 300:340] = ORANGE
    assert cut_off(answered) is None


def test_a_bush_with_a_spark_of_its_colour_elsewhere_pulls_less_surely() -> None:
    """Turned by two degrees, a boat by the shore went from no word to the gravest."""
    alone, answered = with_bush(0.14), with_bush(0.14)
    side = round((0.0025 * HEIGHT * WIDTH) ** 0.5)
    answered[150 : 150 + side, 300 : 300 + side] = ORANGE
    surely, less = cut_off(alone), cut_off(answered)
    assert surely is not None and surely.strength > ANSWERED_MOST
    assert less is not None and 1 <= less.strength <= ANSWERED_MOST


def with_gap(x: int) -> np.ndarray:
    """The same shape with leaves across it, as a gap in a wood has them."""
    lab = with_patch(x)
    lab[90:150:12, x + 8 : x + 30] = lab[90:150:12, x + 40 : x + 62]
    lab[91:150:12, x + 8 : x + 30] = lab[91:150:12, x + 40 : x + 62]
    return lab


def test_what_has_its_colour_elsewhere_belongs_to_the_picture() -> None:
    alone, answered = with_gap(0), with_gap(0)
    answered[180:240, 100:] = ORANGE
    assert cut_off(alone) is not None
    assert cut_off(answered) is None


def test_a_solid_shape_is_cut_off_whatever_has_its_colour_but_less_surely() -> None:
    alone, answered = with_patch(0), with_patch(0)
    answered[180:240, 100:] = ORANGE
    surely, less = cut_off(alone), cut_off(answered)
    assert surely is not None and less is not None
    assert 1 <= less.strength < surely.strength


def with_blot(colour: tuple[float, float, float]) -> np.ndarray:
    """A ragged blot at the top of a sky over land that is black too."""
    lab = scene()
    lab[150:] = (7.0, 0.0, 0.0)
    down, across = np.mgrid[:HEIGHT, :WIDTH]
    turn = np.arctan2(down, across - 200)
    lab[np.hypot(down, across - 200) < 24 * (1 + 0.5 * np.cos(9 * turn))] = colour
    return lab


@pytest.mark.parametrize(("light", "found"), [(7.0, True), (58.0, False)])
def test_a_border_as_hard_as_black_on_a_sky_pulls_though_the_land_is_black(light: float, found: bool) -> None:
    lab = with_blot((light, 0.0, 0.0))
    lab[180:, :240] = (light, 0.0, 0.0)
    assert (cut_off(lab) is not None) is found


@pytest.mark.parametrize(("bars", "found"), [(4, True), (2, False)])
def test_bars_of_a_fence_are_taken_together(bars: int, found: bool) -> None:
    lab = scene()
    lab[150:] = (7.0, 0.0, 0.0)
    for bar in range(bars):
        lab[:14, 220 + 14 * bar : 227 + 14 * bar] = (7.0, 0.0, 0.0)
    shape = cut_off(lab)
    assert (shape is not None) is found
    assert shape is None or (shape.sides == ("top",) and shape.x == pytest.approx(0.6, abs=0.03))


def test_gaps_that_show_the_sky_are_no_fence() -> None:
    lab = scene()
    lab[120:] = (20.0, -6.0, 8.0)
    gaps = lab.copy()
    for gap in range(4):
        gaps[200 + 12 * gap : 207 + 12 * gap, :14] = (80.0, -3.0, -10.0)
    assert cut_off(gaps) is None
