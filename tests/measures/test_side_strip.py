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
    """Blotches of all colours, and along a side a dark post, down to ``until`` of the height."""
    lab = painted().lab.copy()
    height, width = lab.shape[:2]
    across = (np.arange(width) + 0.5) / width
    post = (across < wide if side == "left" else across > 1 - wide)[None] & (np.arange(height) < until * height)[
        :, None
    ]
    lab[post] = POST
    return picture_from_srgb(lab_to_srgb8(lab))


def strip_of(picture: Picture) -> SideStrip | None:
    return side_strip(lab_at(picture, 400))


@pytest.mark.parametrize("side", ["left", "right"])
def test_a_post_from_top_to_foot_is_found_at_its_side(side: str) -> None:
    found = strip_of(with_post(side))
    assert found is not None
    assert found.side == side
    assert found.apart > 20


def test_blotches_and_half_a_post_are_no_strip() -> None:
    assert strip_of(painted()) is None
    assert strip_of(with_post("left", until=0.5)) is None


def test_a_post_pulls_at_its_side() -> None:
    pull = measure_eyepath(with_post("right")).strongest_pull
    assert pull.sides == ("right",)
    assert pull.strength > 1.2
