"""Which colours lie in a band, by their angle: the shorter way that the program takes finds the same ones."""

import numpy as np
import pytest

from critique.perception.cielab import lch_to_lab
from critique.perception.hue import GREEN_FAMILY, RELIEF, YELLOW_GREEN

NEAR = 0.01  # degrees and C*: so near to a border rounding decides


def by_angle(band, lab):
    """The definition: a hue from the band's start, which rises with lightness, to its end, and colour enough."""
    chroma = np.hypot(lab[:, 1], lab[:, 2])
    start = band.start + band.start_slope * (lab[:, 0] - 50)
    hue = np.degrees(np.arctan2(lab[:, 2], lab[:, 1]))
    inside = ((hue - start) % 360 <= (band.end - start) % 360) & (chroma >= band.least_chroma)
    away = [np.abs((hue - border + 180) % 360 - 180) for border in (start, band.end)]
    sure = (np.minimum(*away) > NEAR) & (np.abs(chroma - band.least_chroma) > NEAR)
    return inside, sure


@pytest.mark.parametrize("band", [YELLOW_GREEN, GREEN_FAMILY, RELIEF], ids=lambda band: band.name)
@pytest.mark.parametrize("lightness", [(0, 100), (20, 21), (60, 60)], ids=["all", "few", "one"])
def test_a_band_holds_what_lies_between_its_angles(band, lightness):
    rng = np.random.default_rng(8)
    lab = rng.uniform((lightness[0], -60, -60), (lightness[1], 60, 60), (40_000, 3)).astype(np.float32)
    lab[:, 0] = np.clip(lab[:, 0], *lightness)
    inside, sure = by_angle(band, lab.astype(np.float64))
    found = band.contains(lab)
    assert sure.mean() > 0.99 and (found == inside)[sure].all()
    assert band.contains(lab.reshape(200, 200, 3)).shape == (200, 200)
    assert all(bool(band.contains(one)) == one_found for one, one_found in zip(lab[:50], found[:50], strict=True))


def test_no_colour_is_in_a_band_where_there_is_none():
    assert not YELLOW_GREEN.contains(np.zeros((4, 5, 3), np.float32)).any()
    assert YELLOW_GREEN.contains(np.zeros((0, 3), np.float32)).shape == (0,)


def test_how_far_a_colour_lies_in_a_band_is_a_half_on_each_border_and_grows_inward():
    def held(lightness, chroma, hue):
        lab = lch_to_lab([[lightness, chroma, hue]])
        return float(YELLOW_GREEN.holds(lab, hue_fades=5.0, chroma_fades=2.0)[0])

    start, least = YELLOW_GREEN.start_at(60.0), YELLOW_GREEN.least_chroma
    for border in ((60, 40, float(start)), (60, 40, YELLOW_GREEN.end), (60, least, 125)):
        assert held(*border) == pytest.approx(0.5, abs=0.01), border
    assert held(60, 40, 125) > 0.99
    assert held(60, 40, float(start) - 5) < 0.2 and held(60, 40, YELLOW_GREEN.end + 5) < 0.2
    assert held(60, least - 2, 125) < 0.2 < 0.8 < held(60, least + 2, 125)
