"""One scene that is too green, and its plan: plans take seconds, so one is made for all tests that only look at it."""

import numpy as np
import pytest

from critique.paints.box import PaintBox, box_of
from critique.perception.cielab import lab_to_srgb8
from critique.picture.picture import Picture, picture_from_srgb
from critique.tasks.plan import Plan, plan_repaint

FOUR = ("PY74", "red oxide", "ultramarine", "phthalo green")


def green_scene(width: int = 480, height: int = 360, seed: int = 3) -> np.ndarray:
    """A pale sky with a cloud over a raw green meadow with a dark tree, all in small strokes: sRGB codes."""
    rng = np.random.default_rng(seed)
    lab = np.zeros((height, width, 3), dtype=np.float32)
    horizon = int(0.42 * height)
    lab[:horizon] = (76, -4, -22)
    lab[int(0.1 * height) : int(0.22 * height), int(0.5 * width) : int(0.8 * width)] = (92, 0, 2)
    lab[horizon:] = (56, -48, 52)
    lab[horizon : horizon + int(0.08 * height)] = (34, -32, 30)
    lab[int(0.2 * height) : horizon + 12, int(0.12 * width) : int(0.28 * width)] = (28, -26, 26)
    lab[int(0.8 * height) :, int(0.55 * width) :] = (40, -38, 40)
    strokes = rng.normal(0, 1, (height // 4 + 1, width // 8 + 1, 3)) * (4, 3, 3)
    lab += np.kron(strokes, np.ones((4, 8, 1)))[:height, :width].astype(np.float32)
    return lab_to_srgb8(lab)


@pytest.fixture(scope="session")
def meadow() -> Picture:
    return picture_from_srgb(green_scene(), "meadow.png")


@pytest.fixture(scope="session")
def four_tubes() -> PaintBox:
    return box_of(FOUR, "field box")


@pytest.fixture(scope="session")
def plan(meadow, four_tubes) -> Plan:
    return plan_repaint(meadow, box=four_tubes, size="40x30cm")
