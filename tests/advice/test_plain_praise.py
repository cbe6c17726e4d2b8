"""What a picture is praised for in which nothing stands out: one modest thing that is there, and none that isn't."""

import numpy as np
import pytest

from critique.advice.judging import Case
from critique.advice.norms import read_norms
from critique.advice.praise_plain import plain_praise, what_is_there
from critique.advice.verdict import verdict
from critique.measures.measure import measure_picture
from critique.perception.cielab import lab_to_srgb8
from critique.picture.picture import picture_from_srgb
from tests.advice.test_what_is_said_first import found

HEIGHT, WIDTH = 240, 360  # px
OF_COLOUR = frozenset({"colour_cast", "green_cast"})


def case_of(*bands: tuple[float, tuple[float, float, float]]) -> Case:
    """Bands of one colour from the top down, each a share of the height, with a painter's unevenness."""
    rng = np.random.default_rng(5)
    rows = np.concatenate([np.tile(colour, (round(share * HEIGHT), 1)) for share, colour in bands])
    lab = np.repeat(rows[:, None], WIDTH, axis=1) + rng.normal(0, 1.5, (len(rows), WIDTH, 3))
    picture = picture_from_srgb(lab_to_srgb8(lab))
    return Case.of(picture, measure_picture(picture), read_norms())


def test_a_light_sky_over_darker_land_is_praised_and_over_snow_it_is_not() -> None:
    sky = (0.4, (86.0, -3.0, -10.0))
    assert "sky is its light" in plain_praise(case_of(sky, (0.6, (40.0, -8.0, 22.0))), ())
    assert "sky is its light" not in plain_praise(case_of(sky, (0.6, (88.0, 0.0, 2.0))), ())


@pytest.mark.parametrize("warm", [(62.0, 10.0, 45.0), (55.0, 35.0, 30.0)])
def test_a_warm_colour_and_a_cool_one_answer_each_other_and_two_blues_do_not(warm: tuple[float, float, float]) -> None:
    cool = (0.5, (58.0, -6.0, -32.0))
    told = plain_praise(case_of(cool, (0.5, warm)), ())
    assert "a warm colour and a cool one" in told and "blue" in told
    assert "warm" not in plain_praise(case_of(cool, (0.5, warm)), OF_COLOUR)
    assert "warm" not in plain_praise(case_of(cool, (0.5, (40.0, 2.0, -30.0))), ())


def test_a_verdict_never_leaves_what_works_to_the_eye() -> None:
    """A review of a raw meadow began with: what works in it is for the eye to say."""
    case = case_of((0.5, (60.0, -30.0, 45.0)), (0.5, (66.0, -34.0, 52.0)))
    for findings in ((), (found("green_strength", "rework", 0.4), found("value_masses", "watch", 0.5))):
        first = verdict(case, findings, ())[0]
        assert first.startswith(("What works: ", "What there is to build on: ", "Its "))
    assert "green" in what_is_there(case)
