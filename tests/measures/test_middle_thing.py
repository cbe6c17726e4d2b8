"""One thing in the very middle is looked for in scenes whose middle is known."""

from dataclasses import replace

import numpy as np
import pytest

from critique.measures.middle_thing import (
    REWORK,
    SPOKEN_OF,
    MiddleThing,
    in_the_very_middle,
    measure_middle_thing,
    middle_thing_fault,
)
from critique.perception.cielab import lab_to_srgb8
from critique.picture.picture import Picture, picture_from_srgb

HEIGHT, WIDTH = 300, 420
Lab = tuple[float, float, float]
Box = tuple[float, float, float, float]  # from the left and the top, to the right and the foot, 0–1
DARK: Lab = (14, 1, 2)


def land(*things: tuple[Box, Lab], sky: Lab = (78, -2, -8), ground: Lab = (55, -4, 22)) -> Picture:
    """A field below a sky, level at 0.55, with even things in it, each ragged along its sides."""
    rng = np.random.default_rng(6)
    y, x = ((np.arange(size) + 0.5) / size for size in (HEIGHT, WIDTH))
    lab = np.where(y[:, None, None] < 0.55, np.array(sky), np.array(ground)) * np.ones((HEIGHT, WIDTH, 1))
    for (left, top, right, foot), colour in things:
        ragged = rng.normal(0, 0.004, (2, HEIGHT, 1))
        there = (x > left + ragged[0]) & (x < right + ragged[1]) & ((y > top) & (y < foot))[:, None]
        lab[there] = colour
    lab[..., 0] += rng.normal(0, 2.0, (HEIGHT, WIDTH))
    return picture_from_srgb(lab_to_srgb8(lab.astype(np.float32)))


def upright(wide: float, high: float, *, x: float = 0.5, foot: float = 0.75) -> Box:
    return (x - wide / 2, foot - high, x + wide / 2, foot)


def asked(picture: Picture) -> MiddleThing:
    return measure_middle_thing(picture)


@pytest.mark.parametrize(("wide", "high"), [(0.06, 0.45), (0.12, 0.6), (0.2, 0.7), (0.3, 0.6)])
def test_a_dark_block_in_the_middle_is_told_at_any_size_with_its_place_and_step(wide: float, high: float) -> None:
    thing = asked(land((upright(wide, high), DARK)))
    assert middle_thing_fault(thing) is not None
    assert thing.manner == "dark" and thing.x == pytest.approx(0.5, abs=0.01)
    assert 0.6 * wide * high <= thing.share <= 1.1 * wide * high  # where it stands out most: before the sky
    assert 55 - 14 <= thing.step <= 78 - 14 + 1  # from the ground to the sky


def test_the_larger_and_starker_it_is_the_more_it_stands_out() -> None:
    small, large = (asked(land((upright(wide, high), DARK))) for wide, high in ((0.06, 0.4), (0.2, 0.7)))
    paler = asked(land((upright(0.06, 0.4), (40, 1, 2))))
    assert large.stands_out >= REWORK > small.stands_out > paler.stands_out
    assert (middle_thing_fault(small), middle_thing_fault(large)) == ("watch", "rework")


def test_a_tower_from_a_dark_ground_or_over_the_top_edge_is_one_too() -> None:
    on_dark = land((upright(0.12, 0.5, foot=0.66), DARK), ground=(18, 0, 4))
    over_top = land((upright(0.12, 0.7, foot=0.68), DARK))
    assert middle_thing_fault(asked(on_dark)) is not None
    assert middle_thing_fault(asked(over_top)) is not None


def test_a_hill_as_dark_beside_a_part_of_it_does_not_hide_it() -> None:
    hill = ((-1, 0.42, 2, 0.56), (16.0, 0.0, -2.0))
    thing = asked(land((upright(0.13, 0.65, foot=0.85), DARK), hill))
    assert middle_thing_fault(thing) is not None and thing.y == pytest.approx(0.53, abs=0.05)


@pytest.mark.parametrize(
    ("colour", "manner"), [((96, 0, 8), "light"), ((72, 8, 62), "coloured"), ((55, 60, 30), "coloured")]
)
def test_a_light_and_a_colour_of_its_own_are_told_as_well(colour: Lab, manner: str) -> None:
    box = upright(0.18, 0.24, foot=0.62)
    thing = asked(land((box, colour), sky=(56, -2, -8), ground=(50, -4, 12)))
    assert middle_thing_fault(thing) is not None and thing.manner == manner


@pytest.mark.parametrize(
    "things",
    [
        (),
        ((upright(0.12, 0.6, x=0.36), DARK),),  # to one side, by a third
        ((upright(0.12, 0.6, x=0.62), DARK),),
        tuple((upright(0.12, 0.6, x=x), DARK) for x in (0.2, 0.5, 0.8)),  # one of three trunks
        (((0.05, 0.3, 0.95, 0.7), DARK),),  # a wood from side to side
        ((upright(0.12, 0.2, foot=0.3), DARK),),  # a cloud above the middle
        ((upright(0.12, 0.2, foot=0.95), DARK),),  # a stone in the foreground
        ((upright(0.3, 0.16, foot=0.36), DARK), (upright(0.02, 0.44, foot=0.8), DARK)),  # a crown on its stem
        (((-1, 0.0, 0.42, 0.8), DARK), ((0.58, 0.0, 2, 0.8), DARK)),  # sky in a gap between two woods
        ((upright(0.12, 0.6), (60, -3, 10)),),  # hardly darker than what is about it
    ],
)
def test_to_one_side_in_a_row_a_wood_above_below_and_a_gap_are_not(things: tuple) -> None:
    assert middle_thing_fault(asked(land(*things))) is None


def test_what_is_dark_over_a_slope_does_not_stand_on_its_foot() -> None:
    steps = [((0.36 + 0.028 * row, 0.2 + 0.06 * row, 0.48 + 0.028 * row, 0.27 + 0.06 * row), DARK) for row in range(9)]
    upright_steps = [((0.44, top, 0.56, foot), colour) for (_, top, _, foot), colour in steps]
    assert middle_thing_fault(asked(land(*steps))) is None
    assert middle_thing_fault(asked(land(*upright_steps))) is not None


def test_what_has_its_like_off_the_middle_is_not_alone() -> None:
    thing = asked(land((upright(0.12, 0.6), DARK), (upright(0.12, 0.6, x=0.82), DARK)))
    assert thing.elsewhere == pytest.approx(thing.stands_out, rel=0.15)
    assert not in_the_very_middle(thing, stands_out=SPOKEN_OF)
    assert in_the_very_middle(replace(thing, elsewhere=0.0), stands_out=SPOKEN_OF)


def test_a_white_house_under_a_white_sky_and_a_black_stone_before_dark_woods_are_alone() -> None:
    white: Lab = (93, 0, 3)
    house = asked(
        land((upright(0.2, 0.2, foot=0.62), white), ((-1, -1, 2, 0.2), white), sky=(50, -2, -8), ground=(45, 6, 24))
    )
    assert house.answered > 0.5 and house.elsewhere < 0.2 * house.stands_out
    woods = tuple(((x - 0.1, 0.1, x + 0.1, 0.7), (34.0, -6.0, 12.0)) for x in (0.18, 0.82))
    stone = asked(land((upright(0.1, 0.3, foot=0.65), DARK), *woods))
    assert stone.answered < 0.1 and stone.elsewhere > 0.8 * stone.stands_out
    assert (house.manner, stone.manner) == ("light", "dark")
    assert middle_thing_fault(house) is not None and middle_thing_fault(stone) is not None


def test_mirrored_it_is_the_same() -> None:
    picture = land((upright(0.12, 0.5, x=0.51), DARK), (upright(0.08, 0.3, x=0.2), (30, 0, 4)))
    one, other = asked(picture), asked(picture_from_srgb(np.ascontiguousarray(picture.srgb[:, ::-1])))
    assert other.stands_out == pytest.approx(one.stands_out, rel=0.05)
    assert other.x == pytest.approx(1 - one.x, abs=0.01)
