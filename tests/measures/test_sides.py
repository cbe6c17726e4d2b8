"""What stands along the left or the right edge, and whether it holds the eye there."""

import numpy as np
import pytest

from critique.measures.eyepath import measure_eyepath
from critique.measures.salience import CHANNELS, salience
from critique.measures.sides import measure_sides, side_weights
from critique.perception.cielab import lab_to_srgb8
from critique.picture.picture import Picture, picture_from_srgb

SIZE = (300, 400)  # px


def meadow(posts_at: tuple[float, ...], *, value: float = 1.5) -> np.ndarray:
    """Lab of a quiet meadow under a sky, with upright posts at these parts of the width."""
    lab = np.zeros((*SIZE, 3), dtype=np.float32)
    lab[..., 0], lab[..., 2] = 75, 6
    lab[140:, :, 0] = 55
    lab[..., 0] += np.random.default_rng(5).normal(0, 1.0, SIZE)
    for at in posts_at:
        left = round(at * SIZE[1])
        lab[70:260, left : left + 10, 0] = value * 10
    return lab


def seen(lab: np.ndarray) -> Picture:
    return picture_from_srgb(lab_to_srgb8(lab))


def test_posts_at_a_side_weigh_there_and_posts_inside_do_not() -> None:
    inside = measure_eyepath(seen(meadow((0.4, 0.55))))
    left = measure_eyepath(seen(meadow((0.02, 0.06))))
    assert inside.side_weight < 0 < left.side_weight
    assert left.heavier_side == "left"


def test_a_mirrored_picture_weighs_as_much_at_the_other_side() -> None:
    lab = meadow((0.03, 0.5))
    one, other = measure_eyepath(seen(lab)), measure_eyepath(seen(lab[:, ::-1]))
    assert (one.heavier_side, other.heavier_side) == ("left", "right")
    assert abs(one.side_weight - other.side_weight) < 0.15


def test_light_spots_along_a_side_weigh_there() -> None:
    dark = np.full((120, 160), 30.0, dtype=np.float32)
    flat = {name: np.zeros_like(dark) for name in CHANNELS}
    lit, inside = dark.copy(), dark.copy()
    for row in range(20, 110, 6):
        lit[row : row + 3, 146:149] = 90
        inside[row : row + 3, 60:140:6] = 90
    plain = measure_sides(dark, flat).weight
    found = measure_sides(lit, flat)
    assert found.weight > plain + 1 and found.heavier == "right"
    assert measure_sides(inside, flat).weight < plain


def test_what_is_large_at_one_edge_weighs_there_and_inside_it_does_not() -> None:
    still = np.full((120, 160), 50.0, dtype=np.float32)
    none = {name: np.zeros_like(still) for name in CHANNELS}
    at_edge, inside = np.zeros_like(still), np.zeros_like(still)
    at_edge[30:90, :25] = 1
    inside[30:90, 60:120] = 1
    plain = measure_sides(still, none).weight
    assert measure_sides(still, none | {"large": at_edge}).weight > plain + 1
    assert measure_sides(still, none | {"large": inside}).weight < plain


def test_the_weights_are_those_that_were_fitted() -> None:
    # The sum and the weighted sum as printed after make_side_weights.py had run.
    weights = side_weights()
    assert tuple(weights) == ("one_sided", "light", "large", "start")
    numbers = np.array(list(weights.values()))
    assert float(numbers.sum()) == pytest.approx(9.980, abs=1e-3)
    assert float(numbers @ np.arange(1, 5)) == pytest.approx(13.948, abs=1e-3)


def test_a_blank_has_no_side_that_holds_the_eye() -> None:
    blank = np.full((*SIZE, 3), 50.0, dtype=np.float32) * np.array([1, 0, 0], dtype=np.float32)
    assert measure_eyepath(seen(blank)).side_weight < 0
    tiny = np.zeros((3, 3, 3), np.float32)
    assert np.isfinite(measure_sides(tiny[..., 0], salience(tiny)).weight)
