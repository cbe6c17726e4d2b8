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
    assert tuple(weights) == (*CHANNELS, "across", "down", "edge", "below_sky")
    numbers = np.array(list(weights.values()))
    assert float(numbers.sum()) == pytest.approx(7.933, abs=1e-3)
    assert float(numbers @ np.arange(1, 10)) == pytest.approx(-51.393, abs=1e-3)


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
