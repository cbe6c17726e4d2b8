"""One light for two photographs: known gains come back, and a repaint is not mistaken for light."""

import sys
from pathlib import Path

import numpy as np
import pytest

from critique.errors import CritiqueError
from critique.pair.balance import balance_by_greys, balance_by_points, in_gains
from critique.pair.register import register
from critique.perception.cielab import lab_to_linear, linear_to_lab
from critique.picture.picture import picture_from_lab, picture_from_srgb

sys.path.insert(0, str(Path(__file__).parent))
from pictures import MEADOW, REPAINT, corner_darkened, demo, greens_muted

GAINS = (1.06, 0.99, 0.91)


@pytest.mark.slow
@pytest.mark.parametrize("name", [MEADOW, REPAINT])
def test_known_gains_of_light_are_found_again_and_undone(name: str) -> None:
    picture = demo(name)
    lit = picture_from_lab(linear_to_lab(lab_to_linear(picture.lab) * np.float32(GAINS) * np.float32(0.95)), picture)
    balance = balance_by_greys(picture, lit, register(picture, lit))
    assert balance is not None and balance.how == "same place" and balance.needed
    assert np.array(balance.gains_second) * GAINS * 0.95 == pytest.approx(np.ones(3), abs=0.01)
    assert balance.gains_first == (1.0, 1.0, 1.0)
    back = in_gains(lit, balance.gains_second)
    assert np.abs(back.lab - picture.lab).mean() < 0.3


@pytest.mark.slow
def test_a_painted_change_is_no_change_of_light() -> None:
    picture = demo(MEADOW)
    for other in (greens_muted(picture, 0.4), corner_darkened(picture, 1.5)):
        balance = balance_by_greys(picture, other, register(picture, other))
        assert balance is not None and not balance.needed


def test_the_place_pointed_at_becomes_a_neutral_of_one_luminance_in_both() -> None:
    rng = np.random.default_rng(1)
    codes = rng.integers(60, 200, (200, 300, 3)).astype(np.uint8)
    first, second = codes.copy(), codes.copy()
    first[150:, 250:] = (140, 130, 110)
    second[:60, :60] = (120, 128, 150)
    pictures = picture_from_srgb(first), picture_from_srgb(second)
    balance = balance_by_points(*pictures, (0.93, 0.9), (0.1, 0.15))
    cards = [
        in_gains(pictures[0], balance.gains_first).lab[170:190, 270:290].mean(axis=(0, 1)),
        in_gains(pictures[1], balance.gains_second).lab[20:40, 20:40].mean(axis=(0, 1)),
    ]
    for card in cards:
        assert np.hypot(card[1], card[2]) < 0.5
    assert cards[0][0] == pytest.approx(cards[1][0], abs=0.3)


def test_a_place_outside_or_in_the_black_is_refused_by_name() -> None:
    picture = demo(MEADOW)
    black = picture_from_srgb(np.zeros((100, 100, 3), np.uint8), "black.jpg")
    with pytest.raises(CritiqueError, match="outside"):
        balance_by_points(picture, picture, (1.2, 0.5), (0.5, 0.5))
    with pytest.raises(CritiqueError, match=r"black\.jpg.*too dark"):
        balance_by_points(picture, black, (0.5, 0.5), (0.5, 0.5))
