"""A strip of one colour along a side is found where it was drawn, and nothing that changes along its way is one."""

import numpy as np
import pytest
from scenes import painted

from critique.measures.eyepath import measure_eyepath
from critique.measures.side_strip import SideStrip, side_strip
from critique.perception.cielab import lab_to_srgb8
from critique.picture.picture import Picture, lab_at, picture_from_srgb

POST = (9, 2, 3)  # CIELAB


def with_post(side: str, *, wide: float = 0.035, until: float = 1.0) -> Picture:
    """Blotches of all colours, and along a side a dark post, over ``until`` of it."""
    lab = painted().lab.copy()
    turned = lab if side in ("left", "right") else lab.transpose(1, 0, 2)
    across = (np.arange(turned.shape[1]) + 0.5) / turned.shape[1]
    near = across < wide if side in ("left", "top") else across > 1 - wide
    turned[near[None] & (np.arange(len(turned)) < until * len(turned))[:, None]] = POST
    return picture_from_srgb(lab_to_srgb8(lab))


def strip_of(picture: Picture) -> SideStrip | None:
    return side_strip(lab_at(picture, 400))


@pytest.mark.parametrize("side", ["left", "right", "top", "bottom"])
def test_a_post_from_end_to_end_is_found_at_its_side(side: str) -> None:
    found = strip_of(with_post(side))
    assert found is not None
    assert found.side == side
    assert found.apart > 20


def test_blotches_and_half_a_post_are_no_strip() -> None:
    assert strip_of(painted()) is None
    assert strip_of(with_post("left", until=0.5)) is None
    assert strip_of(with_post("bottom", until=0.5)) is None


@pytest.mark.parametrize("side", ["right", "bottom"])
def test_a_post_pulls_at_its_side(side: str) -> None:
    pull = measure_eyepath(with_post(side)).strongest_pull
    assert pull.sides == (side,)
    assert pull.strength > 1.2
