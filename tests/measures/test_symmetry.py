"""Likeness of left and right is checked on pictures made alike and on pictures made unlike."""

import numpy as np
import pytest
from scenes import MEADOW, SKY, bands, doubled, mirrored, painted

from critique.advice.fault_limits import judge_symmetry
from critique.measures.symmetry import measure_symmetry
from critique.picture.picture import picture_from_srgb


def folded(seed: int, weight: float = 1.0):
    """A picture whose right half is, by ``weight``, the mirror of its left."""
    codes = painted(seed=seed).srgb.astype(float)
    half = codes[:, : codes.shape[1] // 2]
    alike = np.concatenate([half, half[:, ::-1]], axis=1)
    return picture_from_srgb(np.rint(weight * alike + (1 - weight) * codes).astype(np.uint8))


@pytest.mark.slow
@pytest.mark.parametrize("seed", [1, 2, 3, 4])
def test_a_folded_picture_is_alike_and_the_same_blotches_unfolded_are_not(seed: int) -> None:
    alike, unlike = measure_symmetry(folded(seed)), measure_symmetry(painted(seed=seed))
    assert alike.likeness > 0.9 and judge_symmetry(alike) == "rework"
    assert unlike.likeness < 0.5 and judge_symmetry(unlike) == "holds"


def test_halves_that_were_traced_are_alike_in_a_light_from_one_side_too() -> None:
    codes = folded(7).srgb.astype(float)
    lit = np.clip(codes + np.linspace(-40, 40, codes.shape[1])[None, :, None], 0, 255)
    found = measure_symmetry(picture_from_srgb(np.rint(lit).astype(np.uint8)))
    assert judge_symmetry(found) != "holds"


@pytest.mark.slow
@pytest.mark.parametrize("seed", [7, 8, 9])
def test_a_light_from_one_side_is_taken_out_before_halves_are_held_together(seed: int) -> None:
    codes = folded(seed).srgb.astype(float) * 0.6 + 50
    lit = np.clip(codes + np.linspace(-90, 90, codes.shape[1])[None, :, None], 0, 255)
    found = measure_symmetry(picture_from_srgb(np.rint(lit).astype(np.uint8)))
    assert found.likeness > 0.8  # with that light left in it is 0.5


@pytest.mark.slow
def test_the_less_is_mirrored_the_less_alike_it_is() -> None:
    likeness = [measure_symmetry(folded(5, weight)).likeness for weight in (1.0, 0.8, 0.6, 0.4, 0.2)]
    assert likeness == sorted(likeness, reverse=True)
    assert judge_symmetry(measure_symmetry(folded(5, 0.4))) == "holds"


def test_bands_of_sky_and_ground_are_no_likeness() -> None:
    assert abs(measure_symmetry(bands((0.4, SKY), (0.6, MEADOW))).likeness) < 0.05


def test_a_mirror_and_another_size_change_nothing() -> None:
    picture = folded(6, 0.7)
    likeness = measure_symmetry(picture).likeness
    assert measure_symmetry(mirrored(picture)).likeness == pytest.approx(likeness, abs=0.005)
    assert measure_symmetry(doubled(picture)).likeness == pytest.approx(likeness, abs=0.01)
