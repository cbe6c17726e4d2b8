"""The ruler's own consistency: what goes there comes back."""

import numpy as np

from critique.perception.cielab import lab_to_lch, lab_to_srgb8, lch_to_lab, srgb8_to_lab
from critique.perception.hue import (
    LIGHT_WHEEL,
    HueBand,
    circular_mean,
    circular_spread,
    nearest_station,
)
from critique.perception.munsell import Munsell, munsell_value, to_munsell, value_luminance
from critique.perception.srgb import hex_of, linear_to_srgb8, srgb8_to_linear

EVERY_TENTH = (
    np.stack(np.meshgrid(*[np.arange(0, 256, 15)] * 3, indexing="ij"), axis=-1).reshape(-1, 3).astype(np.uint8)
)


def test_eight_bit_codes_survive_linear_light_and_lab():
    codes = np.arange(256, dtype=np.uint8)
    assert np.array_equal(linear_to_srgb8(srgb8_to_linear(codes)), codes)
    assert np.array_equal(lab_to_srgb8(srgb8_to_lab(EVERY_TENTH)), EVERY_TENTH)


def test_lch_and_lab_are_one_colour():
    lab = srgb8_to_lab(EVERY_TENTH)
    assert np.allclose(lch_to_lab(lab_to_lch(lab)), lab, atol=1e-3)


def test_a_band_agrees_with_its_angles_on_every_side_of_the_circle():
    hue = np.arange(0.25, 360, 0.5)
    lab = lch_to_lab(np.stack([np.full_like(hue, 50), np.full_like(hue, 20), hue], axis=-1))
    for start, end in ((101, 148), (281, 45), (350, 10), (10, 300), (20, 220), (220, 90)):
        expected = (hue >= start) & (hue <= end) if start < end else (hue >= start) | (hue <= end)
        assert np.array_equal(HueBand("any", start, end, 8).contains(lab), expected)
    assert not HueBand("any", 0, 180, 21).contains(lab).any()


def test_angles_average_across_zero():
    assert abs(circular_mean([350, 10, 0]) % 360) < 1e-6 or abs(circular_mean([350, 10, 0]) - 360) < 1e-6
    assert circular_spread([120, 120]) < 1e-3
    assert circular_spread([100, 140]) > circular_spread([110, 130]) > 5
    assert np.isnan(circular_mean([0, 180]))


def test_opposite_stations_of_the_light_wheel_name_each_other():
    opposite = {station.name: station.opposite for station in LIGHT_WHEEL}
    assert len(opposite) == 6
    assert all(opposite[opposite[name]] == name for name in opposite)
    assert nearest_station(120).name in ("yellow", "green")
    assert nearest_station(359).name == "magenta"


def test_munsell_value_inverts_its_luminance():
    values = np.linspace(0.5, 9.5, 19)
    assert np.allclose(munsell_value(value_luminance(values)), values, atol=1e-3)


def test_notation_is_written_as_the_trade_writes_it():
    assert Munsell(35.0, 5, 6).notation == "5.0GY 5.0/6.0"
    assert Munsell(40.0, 5, 6).notation == "10.0GY 5.0/6.0"
    assert Munsell(0.0, 5, 6).notation == "10.0RP 5.0/6.0"
    assert Munsell(99.97, 5, 6).notation == "10.0RP 5.0/6.0"
    assert Munsell(12, 4.56, 0.2).notation == "N 4.6"
    assert to_munsell([50, 0, 0]).chroma < 0.1


def test_hex_is_lower_case_and_padded():
    assert hex_of([0, 10, 255]) == "#000aff"
