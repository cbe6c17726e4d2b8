"""How much a colour is a green that changes reach: full within the band, none beyond its feather, smooth between."""

import numpy as np
import pytest

from critique.perception.cielab import lch_to_lab
from critique.perception.green_weight import FULL, HUE_FEATHER, LEAST, green_weight
from critique.perception.hue import GREEN_FAMILY, YELLOW_GREEN


def weight(lightness, chroma, hue):
    return float(green_weight(lch_to_lab(np.array([[lightness, chroma, hue]], dtype=np.float32)))[0])


@pytest.mark.parametrize("lightness", [20.0, 50.0, 90.0])
def test_the_whole_band_counts_in_full_and_nothing_beyond_its_feather_does(lightness):
    start, end = float(YELLOW_GREEN.start_at(np.float32(lightness))), GREEN_FAMILY.end
    for hue in (start + 0.1, (start + end) / 2, end - 0.1):
        assert weight(lightness, 40, hue) == pytest.approx(1, abs=1e-3)
    for hue in (start - HUE_FEATHER - 0.1, end + HUE_FEATHER + 0.1, start - 90, end + 90):
        assert weight(lightness, 40, hue) == 0


def test_half_way_through_the_feather_half_counts_and_the_fall_is_even_to_both_sides():
    # The curve 3 x² − 2 x³, by its values at the quarters.
    end = GREEN_FAMILY.end
    for part, value in ((0.25, 0.15625), (0.5, 0.5), (0.75, 0.84375)):
        assert weight(50, 40, end + HUE_FEATHER * (1 - part)) == pytest.approx(value, abs=2e-3)
        assert weight(50, LEAST + (FULL - LEAST) * part, 135) == pytest.approx(value, abs=2e-3)


def test_greys_are_left_alone_whatever_their_hue():
    assert weight(50, LEAST - 0.1, 130) == 0
    assert weight(50, FULL + 0.1, 130) == pytest.approx(1, abs=1e-3)
