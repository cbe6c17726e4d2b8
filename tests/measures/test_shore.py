"""The shore of a lake lies midway between the crowns over it and their mirror image."""

import numpy as np
import pytest
from numpy.typing import NDArray

from critique.measures.level_lines import level_lines
from critique.measures.shore import mirrored_shore


def lake(*heights: float, mirrored: bool = True) -> NDArray[np.float32]:
    """Sky, a wood, a bright shore line, its image in the water and the sky's; heights are 0–1 from the top."""
    lab = np.zeros((300, 400, 3), dtype=np.float32)
    lab[:] = (78, -2, -12)
    crowns, shore, image = (round(height * 300) for height in heights)
    lab[crowns:shore] = (30, -4, 8)
    lab[shore : shore + 4] = (60, 0, 12)
    lab[shore + 4 : image] = (36, -3, 4)
    if mirrored:
        lab[image:] = (66, -2, -10)
    else:
        lab[image:] = (14, 6, 12)
    return lab + np.random.default_rng(3).normal(0, 1.5, lab.shape).astype(np.float32)


def test_the_shore_is_midway_between_the_crowns_and_their_image() -> None:
    lab = lake(0.48, 0.6, 0.72)
    found = mirrored_shore(lab, level_lines(lab))
    assert found is not None and found.y == pytest.approx(0.6, abs=0.02)
    turned = lab[:, ::-1]
    again = mirrored_shore(turned, level_lines(turned))
    assert again is not None and again.y == pytest.approx(found.y, abs=0.005)


def test_what_lies_at_another_distance_or_steps_the_same_way_is_no_image() -> None:
    for lab in (lake(0.48, 0.6, 0.8), lake(0.48, 0.6, 0.72, mirrored=False)):
        assert mirrored_shore(lab, level_lines(lab)) is None
