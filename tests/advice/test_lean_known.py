"""What to do about a lean, once a grey beside the painting has told whose it is."""

import json

import numpy as np
import pytest
from demo_pictures import demo_path

from critique.perception.srgb import linear_to_srgb8
from critique.photograph.light_asked import NOTHING_ASKED, LightAsked
from critique.photograph.read import read_photograph
from critique.picture.picture import Picture
from critique.picture.read import read_picture
from critique.tasks.review import review_picture

pytestmark = pytest.mark.slow  # whole reviews


def on_a_wall(name: str, tint: tuple[float, float, float], grey: bool) -> Picture:
    """A tinted painting on a wall with a grey card, its corners given, and the card named or not."""
    painted = read_photograph(demo_path(name)).light[::2, ::2] * np.array(tint, np.float32)
    high, wide, _ = painted.shape
    scene = np.full((high + 300, wide + 400, 3), 0.5, np.float32)
    scene[150 : 150 + high, 150 : 150 + wide] = np.clip(painted, 0, 1)
    scene[200:400, wide + 200 : wide + 350] = 0.18
    size = np.array(scene.shape[1::-1])
    corners = tuple(
        (float(x), float(y)) for x, y in (np.array([[0, 0], [wide, 0], [wide, high], [0, high]]) + 150) / size
    )
    light = LightAsked(grey=((wide + 275) / size[0], 300 / size[1])) if grey else NOTHING_ASKED
    return read_picture(linear_to_srgb8(scene), corners=corners, light=light)


@pytest.mark.parametrize(
    ("name", "tint", "finding"),
    [
        ("tolvesk_05_orvalden_beeches.jpg", (1.25, 1, 0.7), "colour_cast"),
        ("tolvesk_02_ostermell_repaint.jpg", (0.8, 1.1, 0.8), "green_cast"),
    ],
)
def test_who_named_a_grey_is_not_sent_for_a_grey_card(name, tint, finding):
    done = review_picture(on_a_wall(name, tint, grey=True), aim=True)
    assert done.measures.cast.owner == "painting"
    open_ones = {one.kind for one in done.advice.findings if one.level != "holds"}
    assert finding in open_ones
    told = json.dumps(done.as_dict())
    assert "grey card in daylight" not in told and "beside a grey card first" not in told


def test_who_named_none_is():
    done = review_picture(on_a_wall("tolvesk_02_ostermell_repaint.jpg", (0.8, 1.1, 0.8), grey=False), aim=True)
    assert done.measures.cast.owner == "unknown"
    (cast,) = (one for one in done.advice.findings if one.kind == "green_cast")
    assert cast.level == "watch" and "a grey card beside it in daylight" in cast.text
