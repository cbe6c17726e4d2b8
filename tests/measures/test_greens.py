"""Greens of pictures whose greens are known."""

import numpy as np
import pytest
from scenes import EARTH, MEADOW, SKY, STRONG, bands, painted

from critique.measures.green_kinds import measure_green_kinds
from critique.measures.greens import measure_greens
from critique.measures.histogram import COLOURS_LONG_EDGE, rank_value
from critique.measures.smoothing import FINEST_COLOUR, without_finest
from critique.perception.hue import YELLOW_GREEN, beyond_leaf, circular_mean, circular_spread
from critique.picture.picture import lab_at


def test_a_known_share_of_green_is_measured():
    greens = measure_greens(bands((0.55, SKY), (0.30, MEADOW), (0.15, STRONG)))
    assert greens.area_share == pytest.approx(0.45, abs=0.01)
    assert greens.beyond_leaf_share == pytest.approx(0.15, abs=0.01)
    chroma = [np.hypot(*lab[1:]) for lab in (SKY, MEADOW, STRONG)]
    expected = (0.30 * chroma[1] + 0.15 * chroma[2]) / (0.55 * chroma[0] + 0.30 * chroma[1] + 0.15 * chroma[2])
    assert greens.chroma_share == pytest.approx(expected, abs=0.01)
    assert greens.median_chroma == pytest.approx(chroma[1], abs=0.5)
    assert greens.p95_chroma == pytest.approx(chroma[2], abs=0.6)


def test_one_green_is_even_and_two_are_less_so():
    # Seen in patches, where it meets the sky it is a little of both.
    assert measure_greens(bands((0.5, SKY), (0.5, MEADOW))).evenness == pytest.approx(1.0, abs=0.015)
    two = measure_greens(bands((0.5, SKY), (0.3, MEADOW), (0.2, STRONG)))
    assert two.evenness == pytest.approx(0.6, abs=0.02)
    assert np.allclose(two.commonest, MEADOW, atol=1)


def test_one_tone_is_the_share_of_the_picture_in_one_green_whatever_lies_beside_it():
    of_two = measure_greens(bands((0.4, SKY), (0.25, MEADOW), (0.35, STRONG)))
    assert of_two.one_tone_share == pytest.approx(0.35, abs=0.02)
    assert measure_greens(bands((1.0, EARTH))).one_tone_share == 0
    # A green that wavers by ΔE00 4 and more from patch to patch is no one mixture.
    steps = [(L, -20, 30) for L in range(30, 70, 5)]
    varied = measure_greens(bands((0.2, SKY), *((0.1, step) for step in steps)))
    assert varied.one_tone_share < 0.17


def test_relief_is_the_chroma_of_the_reds_and_violets():
    red = (45, 50, 20)
    greens = measure_greens(bands((0.7, MEADOW), (0.3, red)))
    expected = 0.3 * np.hypot(50, 20) / (0.3 * np.hypot(50, 20) + 0.7 * np.hypot(20, 30))
    assert greens.relief_share == pytest.approx(expected, abs=0.01)
    assert measure_greens(bands((0.5, SKY), (0.5, MEADOW))).relief_share == 0


def test_a_blue_green_counts_in_the_family_only():
    viridian = (45, -30, 3)
    greens = measure_greens(bands((0.6, EARTH), (0.4, viridian)))
    assert greens.area_share == greens.chroma_share == greens.beyond_leaf_share == 0
    assert np.isnan(greens.median_chroma)
    assert greens.family.area_share == pytest.approx(0.4, abs=0.01)


def test_mean_hue_and_spread_are_those_of_the_angles():
    picture = painted()
    greens = measure_greens(picture)
    lab = without_finest(lab_at(picture, COLOURS_LONG_EDGE), FINEST_COLOUR)
    inside = lab[YELLOW_GREEN.contains(lab)]
    hue, chroma = np.degrees(np.arctan2(inside[:, 2], inside[:, 1])), np.hypot(inside[:, 1], inside[:, 2])
    assert greens.mean_hue == pytest.approx(circular_mean(hue, chroma), abs=0.05)
    assert greens.hue_spread == pytest.approx(circular_spread(hue, chroma), abs=0.05)
    assert greens.median_chroma == pytest.approx(float(np.median(chroma)), abs=0.02)
    assert greens.value_spread == pytest.approx(float(inside[:, 0].std()) / 10, abs=0.005)
    assert greens.beyond_leaf_share == pytest.approx(float(beyond_leaf(lab).mean()), abs=1e-6)


def test_ranks_agree_with_numpy():
    values = np.random.default_rng(4).normal(50, 12, 50001).astype(np.float32)
    ranks = [0.02, 0.5, 0.95]
    assert np.allclose(rank_value(values, ranks), np.percentile(values, [2, 50, 95]), atol=0.02)


def test_a_grey_picture_has_no_green():
    greens = measure_greens(bands((0.5, (80, 0, 0)), (0.5, (30, 0, 0))))
    assert greens.area_share == greens.chroma_share == greens.relief_share == 0


def test_near_and_far_greens_are_the_lowest_and_highest_third_of_the_green():
    kinds = measure_green_kinds(bands((0.4, SKY), (0.3, (60, -12, 20)), (0.3, (45, -25, 40))))
    assert kinds.far.chroma == pytest.approx(np.hypot(12, 20), abs=0.7)
    assert kinds.near.chroma == pytest.approx(np.hypot(25, 40), abs=0.7)
    assert (kinds.far.value, kinds.near.value) == (pytest.approx(6.0, abs=0.1), pytest.approx(4.5, abs=0.1))
