"""Oklab against colour-science, and colours made quieter at the hue that is seen."""

import colour
import numpy as np

from critique.perception.cielab import lab_to_xyz
from critique.perception.oklab import oklab_to_xyz, quieter, xyz_to_oklab

COLOURS = np.array([[40.0, 20, -60], [60, 5, -45], [55, -40, 35], [75, 10, 70], [45, 60, 40], [50, 0, 0]])


def test_oklab_is_that_of_colour_science():
    xyz = lab_to_xyz(COLOURS)
    np.testing.assert_allclose(xyz_to_oklab(xyz), colour.XYZ_to_Oklab(xyz), atol=2e-4)
    np.testing.assert_allclose(oklab_to_xyz(xyz_to_oklab(xyz)), xyz, atol=1e-9)


def test_a_quieter_colour_has_the_chroma_asked_its_lightness_and_its_hue():
    half = quieter(COLOURS, 0.5)
    np.testing.assert_allclose(half[:, 0], COLOURS[:, 0], atol=1e-4)
    np.testing.assert_allclose(np.hypot(half[:, 1], half[:, 2]), np.hypot(COLOURS[:, 1], COLOURS[:, 2]) / 2, atol=1e-3)
    before, after = (colour.XYZ_to_Oklab(lab_to_xyz(lab))[:5] for lab in (COLOURS, half))
    turned = np.degrees(np.arctan2(after[:, 2], after[:, 1]) - np.arctan2(before[:, 2], before[:, 1]))
    assert np.abs(turned).max() < 1.0


def test_a_blue_made_quieter_turns_from_violet():
    """Hung and Berns, 1995: lines of one seen blue bend toward red in CIELAB as chroma rises."""
    half = quieter(COLOURS[:1], 0.5)[0]
    assert np.degrees(np.arctan2(half[2], half[1])) < np.degrees(np.arctan2(-60, 20))
