"""What stands at a place is told by what it stands out by: its light, its dark, or its colour."""

import numpy as np
import pytest

from critique.advice.judging import Case
from critique.advice.norms import read_norms
from critique.advice.standing_things import QUIETED, thing_at
from critique.measures.measure import measure_picture
from critique.perception.cielab import lab_to_srgb8
from critique.picture.picture import picture_from_srgb

HEIGHT, WIDTH = 240, 360  # px
GROUND = (45.0, 2.0, 8.0)


def with_spot(colour: tuple[float, float, float]) -> Case:
    """A greyish brown ground with a spot of a colour low on the right."""
    lab = np.tile(np.array(GROUND), (HEIGHT, WIDTH, 1))
    down, across = np.mgrid[:HEIGHT, :WIDTH]
    lab[np.hypot(down - 190, across - 280) <= 9] = colour
    picture = picture_from_srgb(lab_to_srgb8(lab))
    return Case.of(picture, measure_picture(picture), read_norms())


@pytest.mark.parametrize(
    ("colour", "way", "named"),
    [
        ((85.0, 1.0, 6.0), "light", "the light shape low on the right"),
        ((12.0, 1.0, 3.0), "dark", "the dark shape low on the right"),
        ((45.0, 55.0, 35.0), "colour", "the red low on the right"),
        (GROUND, "", ""),
    ],
)
def test_a_thing_is_named_by_what_it_stands_out_by(colour, way, named) -> None:
    thing = thing_at(with_spot(colour), 280 / WIDTH, 190 / HEIGHT)
    assert (thing.way, thing.named) == (way, named)
    assert thing.where == "low on the right" and QUIETED[thing.way]
