"""What holds the eye: the fitted weights are held to their printed sums, the cues to what they say they are."""

import numpy as np
import pytest

from critique.measures.eye_chances import eye_weights, held_by, place_cues
from critique.measures.salience import CHANNELS, salience

SHAPE = (60, 90)
NO_SKY = np.zeros((12, 18), dtype=bool)


def flat(lab: tuple[float, float, float] = (55, 0, 0)) -> np.ndarray:
    return np.full((*SHAPE, 3), lab, dtype=np.float32)


def highest(field: np.ndarray) -> tuple[float, float]:
    rows, columns = np.nonzero(field == field.max())  # a channel is cut off at its fullest
    return float(columns.mean() + 0.5) / field.shape[1], float(rows.mean() + 0.5) / field.shape[0]


def test_the_weights_are_those_that_were_fitted() -> None:
    # The sum and the weighted sum as printed after make_eye_weights.py had run: a changed or swapped cell misses them.
    weights = eye_weights()
    assert tuple(weights) == (*CHANNELS, "across", "down", "edge", "below_sky", "high", "summit")
    numbers = np.array(list(weights.values()))
    assert float(numbers.sum()) == pytest.approx(4.540, abs=1e-3)
    assert float(numbers @ np.arange(1, 14)) == pytest.approx(-60.559, abs=1e-3)


def test_all_that_holds_the_eye_is_one_and_a_flat_picture_holds_nothing() -> None:
    lab = flat()
    lab[30:36, 40:46] = (55, 40, 20)
    places = place_cues(SHAPE, NO_SKY)
    assert float(held_by(salience(lab), places, eye_weights()).sum()) == pytest.approx(1, abs=1e-4)
    assert held_by(salience(flat()), places, eye_weights()).max() == 0


@pytest.mark.parametrize(("colour", "channel"), [((55, 40, 20), "red"), ((92, 2, 4), "white"), ((20, 4, 4), "rarity")])
def test_a_spot_is_found_by_its_channel(colour: tuple[float, float, float], channel: str) -> None:
    lab = flat((55, -10, 30))
    lab[30:34, 60:64] = colour
    assert highest(salience(lab)[channel]) == (pytest.approx(62 / 90, abs=0.03), pytest.approx(32 / 60, abs=0.04))


def test_a_dark_or_a_green_spot_is_neither_red_nor_white() -> None:
    for colour in ((20.0, -10.0, 30.0), (55.0, -50.0, 30.0)):
        lab = flat((55, -10, 30))
        lab[30:34, 60:64] = colour
        caught = salience(lab)
        assert caught["red"].max() == 0 and caught["white"].max() == pytest.approx(0, abs=0.05)


def test_what_is_large_is_found_by_its_middle() -> None:
    lab = flat()
    lab[20:44, 20:44] = (25, 0, 0)
    assert highest(salience(lab)["large"]) == (pytest.approx(32 / 90, abs=0.05), pytest.approx(32 / 60, abs=0.05))


def test_lone_detail_is_found_and_the_same_detail_among_its_like_is_not() -> None:
    # A block of stripes on a plain ground; then stripes all over, where no place has more detail than what is about it.
    lab = flat()
    lab[24:32, 60:68:2] = (30, 0, 0)
    alone = salience(lab)["alone"]
    assert highest(alone) == (pytest.approx(64 / 90, abs=0.05), pytest.approx(28 / 60, abs=0.07)) and alone.max() > 1.5
    lab[:, ::2] = (30, 0, 0)
    assert salience(lab)["alone"].max() < 0.2


def test_a_large_pale_light_shines_and_a_small_one_or_a_grey_one_hardly() -> None:
    def shining(value: float, spread: float) -> float:
        y, x = np.mgrid[0:60, 0:90]
        glow = np.exp(-((x - 60) ** 2 + (y - 20) ** 2) / (2 * spread**2))
        lab = flat((40, 0, 0))
        lab[..., 0] += (value - 40) * glow
        found = salience(lab)["shining"]
        if found.max() > 0.1:
            assert highest(found) == (pytest.approx(60 / 90, abs=0.06), pytest.approx(20 / 60, abs=0.06))
        return float(found.max())

    assert shining(98, 12) > 0.5
    assert shining(98, 2) < 0.1 and shining(68, 12) == 0


def test_the_summit_is_the_highest_land_and_a_level_skyline_has_none() -> None:
    x = np.linspace(0, 1, 90)
    ridge = 0.5 - 0.25 * np.exp(-(((x - 0.3) / 0.06) ** 2)) - 0.1 * np.exp(-(((x - 0.8) / 0.06) ** 2))
    mountains = np.arange(60)[:, None] / 60 < ridge[None]
    summit = place_cues(SHAPE, mountains)["summit"]
    assert highest(summit) == (pytest.approx(0.3, abs=0.03), pytest.approx(0.28, abs=0.04)) and summit.max() > 0.9
    assert summit[:, 60:].max() < 0.1 * summit.max()
    level = np.zeros(SHAPE, dtype=bool)
    level[:30] = True
    assert place_cues(SHAPE, level)["summit"].max() < 1e-6 and place_cues(SHAPE, NO_SKY)["summit"].max() < 1e-6


def test_what_is_high_lies_above_two_fifths_of_the_height() -> None:
    high = place_cues(SHAPE, NO_SKY)["high"]
    assert high[0].min() > 0.9 and high[25:].max() == 0 and high[12].max() == pytest.approx(0.23, abs=0.02)


def test_places_lie_under_the_skyline_and_what_is_clear_above_no_sky_at_all() -> None:
    sky = NO_SKY.copy()
    sky[:6] = True
    sky[9:11, 4:8] = True  # water that is taken for sky reaches up to no top
    cues = place_cues(SHAPE, sky)
    assert cues["below_sky"][45] == pytest.approx(45.5 / 60 - 0.5, abs=0.01)
    assert place_cues(SHAPE, NO_SKY)["below_sky"][45] == pytest.approx(45.5 / 60, abs=0.01)


def test_the_middle_is_nearest_and_edges_are_felt_only_near_them() -> None:
    cues = place_cues(SHAPE, NO_SKY)
    assert cues["across"][30, 45] == pytest.approx(0, abs=0.01) and cues["across"][30, 89] > 0.95
    assert cues["edge"][30, 68] < 0.01 and cues["edge"][30, 89] > 0.9
