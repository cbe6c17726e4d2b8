"""One thing of whatever outline in the very middle is looked for in scenes whose middle is known."""

from dataclasses import replace

import numpy as np
import pytest

from critique.measures.middle_outline import LEAST_STEP, ON_DARK, STANDS_OUT
from critique.measures.middle_thing import (
    SPOKEN_OF,
    MiddleThing,
    in_the_very_middle,
    measure_middle_thing,
    middle_thing_fault,
    watched_from,
)
from critique.perception.cielab import lab_to_srgb8
from critique.picture.picture import Picture, picture_from_srgb

HEIGHT, WIDTH = 300, 420
Lab = tuple[float, float, float]
BROWN: Lab = (30, 10, 14)


def meadow(*beasts: tuple[float, float, float], colour: Lab = BROWN, ground: Lab = (60, -18, 30)) -> Picture:
    """A plain meadow with beasts (middle across and down, length): a body, a head before it and four legs."""
    rng = np.random.default_rng(8)
    y, x = ((np.arange(size) + 0.5) / size for size in (HEIGHT, WIDTH))
    down, across = np.meshgrid(y, x, indexing="ij")
    lab = np.ones((HEIGHT, WIDTH, 1)) * np.array(ground)
    for middle, height, length in beasts:
        there = ((across - middle) / (length / 2)) ** 2 + ((down - height) / (0.3 * length)) ** 2 < 1
        there |= ((across - middle + 0.42 * length) / 0.08) ** 2 + ((down - height - 0.1) / 0.1) ** 2 < 1
        legs = np.isin(np.floor((across - middle + length / 2) / (length / 10)), (1, 3, 6, 8))
        there |= legs & (down > height) & (down < height + 0.3) & (np.abs(across - middle) < length / 2)
        lab[there] = colour
    lab[..., 0] += rng.normal(0, 2.0, (HEIGHT, WIDTH))
    return picture_from_srgb(lab_to_srgb8(lab.astype(np.float32)))


def asked(*beasts: tuple[float, float, float], **scene: Lab) -> MiddleThing:
    return measure_middle_thing(meadow(*beasts, **scene))


@pytest.mark.parametrize("length", [0.42, 0.5, 0.6])
def test_a_beast_wider_than_any_trunk_is_told_by_its_outline(length: float) -> None:
    """A bison that filled the middle of its meadow wasn't: row by row its legs and its back have no one middle."""
    thing = asked((0.5, 0.42, length))
    assert thing.outlined and middle_thing_fault(thing) == "watch"
    assert thing.manner == "dark" and watched_from(thing) == STANDS_OUT
    assert thing.x == pytest.approx(0.5, abs=0.03) and thing.elsewhere == 0
    assert 15 <= thing.step <= 31  # to the meadow, melted
    body = np.pi * 0.3 * length**2 / 2
    assert 0.9 * body <= thing.share <= 2 * body
    assert thing.stands_out == pytest.approx(thing.step * thing.share**0.5)


@pytest.mark.parametrize(
    "beasts",
    [
        (),
        ((0.36, 0.42, 0.5),),
        ((0.5, 0.2, 0.5),),  # high up
        ((0.5, 0.8, 0.5),),  # over the foot
        ((0.5, 0.42, 0.95),),  # from side to side
        ((0.26, 0.42, 0.42), (0.74, 0.42, 0.42)),  # two, with the meadow in the middle
    ],
)
def test_to_one_side_high_up_from_side_to_side_and_two_are_not(beasts: tuple) -> None:
    assert middle_thing_fault(asked(*beasts)) is None


def test_one_that_is_hardly_darker_is_not() -> None:
    assert middle_thing_fault(asked((0.5, 0.42, 0.5), colour=(54, -10, 24))) is None


def test_with_another_half_as_large_it_has_company_and_with_a_small_one_not() -> None:
    """Half of what it stands out by is company; a calf of a sixth of its size is not."""
    herd, calf = (meadow((0.5, 0.5, 0.44), (0.14, 0.5, 0.26)), meadow((0.5, 0.5, 0.44), (0.14, 0.24, 0.1)))
    assert not measure_middle_thing(herd).outlined
    thing = measure_middle_thing(calf)
    assert thing.outlined and 0 < thing.elsewhere <= 0.5 * thing.stands_out


def test_what_is_outlined_is_to_watch_however_stark_and_not_if_slight() -> None:
    thing = replace(asked((0.5, 0.42, 0.5)), stands_out=30.0)
    assert middle_thing_fault(thing) == "watch"
    slight = replace(thing, stands_out=STANDS_OUT - 0.1)
    assert middle_thing_fault(slight) is None and in_the_very_middle(slight, stands_out=SPOKEN_OF)
    assert middle_thing_fault(replace(thing, step=10.0)) is None


def test_mirrored_it_is_the_same() -> None:
    picture = meadow((0.51, 0.42, 0.5), (0.12, 0.25, 0.1))
    one = measure_middle_thing(picture)
    other = measure_middle_thing(picture_from_srgb(np.ascontiguousarray(picture.srgb[:, ::-1])))
    assert one.outlined and other.outlined
    assert other.stands_out == pytest.approx(one.stands_out, rel=0.05)
    assert other.x == pytest.approx(1 - one.x, abs=0.01)


def patch(*boxes: tuple[float, float, float, float], colour: Lab, ground: Lab) -> MiddleThing:
    """A plain ground, and on it one thing of boxes (left, top, right, foot; 0–1)."""
    rng = np.random.default_rng(8)
    lab = np.ones((HEIGHT, WIDTH, 1)) * np.array(ground)
    for left, top, right, foot in boxes:
        lab[round(top * HEIGHT) : round(foot * HEIGHT), round(left * WIDTH) : round(right * WIDTH)] = colour
    lab[..., 0] += rng.normal(0, 2.0, (HEIGHT, WIDTH))
    return measure_middle_thing(picture_from_srgb(lab_to_srgb8(lab.astype(np.float32))))


DEER: Lab = (50, 24, 30)
WOOD: Lab = (34, 2, 12)


@pytest.mark.parametrize(("colour", "manner"), [(DEER, "light"), ((34, 26, 12), "coloured")])
def test_a_light_or_a_colour_is_told_up_to_a_quarter_of_the_picture(colour: Lab, manner: str) -> None:
    """A deer that filled the middle of a dark wood wasn't; what is larger is a clearing, or sky between trees."""
    deer = patch((0.27, 0.25, 0.73, 0.75), colour=colour, ground=WOOD)
    assert deer.outlined and middle_thing_fault(deer) == "watch" and deer.manner in (manner, "coloured")
    assert deer.share == pytest.approx(0.46 * 0.5, abs=0.03)
    assert middle_thing_fault(patch((0.2, 0.2, 0.8, 0.8), colour=colour, ground=WOOD)) is None


def test_a_dark_thing_may_be_larger() -> None:
    dark = patch((0.2, 0.2, 0.8, 0.8), colour=(20, 2, 12), ground=(60, 2, 12))
    assert dark.outlined and dark.manner == "dark" and middle_thing_fault(dark) == "watch"


def test_a_light_that_leaves_over_the_top_edge_is_sky_and_a_dark_thing_is_not() -> None:
    sky, wood = (74, 0, -6), (30, 0, -6)
    assert middle_thing_fault(patch((0.34, 0.0, 0.66, 0.7), colour=sky, ground=wood)) is None
    hangs = patch((0.27, 0.0, 0.73, 0.7), colour=wood, ground=sky)
    assert hangs.outlined and hangs.manner == "dark" and middle_thing_fault(hangs) == "watch"


@pytest.mark.parametrize(("end", "told"), [(0.73, True), (0.8, True), (0.95, False)])
def test_a_bowsprit_may_move_its_box_a_little_off_the_middle(end: float, told: bool) -> None:
    """A brig with the middle of its sails in the very middle wasn't told, for its bowsprit reaches out to one side."""
    thing = patch((0.27, 0.25, 0.71, 0.75), (0.71, 0.45, end, 0.55), colour=(20, 2, 12), ground=(60, 2, 12))
    assert (middle_thing_fault(thing) is not None) == told


@pytest.mark.parametrize(("below", "told"), [(14.5, True), (10.0, False)])
def test_the_step_of_an_outline_is_its_least_and_may_be_smaller_than_a_rows(below: float, told: bool) -> None:
    thing = patch((0.25, 0.25, 0.75, 0.75), colour=(60 - below, 2, 12), ground=(60, 2, 12))
    assert (middle_thing_fault(thing) == "watch") == told
    if told:
        assert thing.outlined and LEAST_STEP <= thing.step <= below + 1


GROUND = (0.0, 0.66, 1.0, 1.0)
TREE = (0.28, 0.2, 0.72, 0.66)


@pytest.mark.parametrize(
    ("boxes", "dark", "told"),
    [
        ((TREE, GROUND), 24.0, True),
        ((TREE,), 24.0, True),
        ((GROUND,), 24.0, False),
        ((TREE, GROUND), 46.0, False),  # parted all round so much would do
        ((TREE,), 46.0, True),
        ((TREE, GROUND, (0.8, 0.26, 0.94, 0.66)), 24.0, False),  # company on the same ground
        (((0.38, 0.2, 0.82, 0.66), GROUND), 24.0, False),  # to one side
    ],
)
def test_what_stands_dark_on_a_ground_as_dark_is_looked_at_above_it(boxes: tuple, dark: float, told: bool) -> None:
    """A tree before the sky whose foot is one with a dark field wasn't told, for its outline isn't closed below."""
    thing = patch(*boxes, colour=(dark, 2, 12), ground=(66, 2, 12))
    assert (middle_thing_fault(thing) == "watch") == told
    if told:
        assert thing.outlined and thing.manner == "dark" and thing.share == pytest.approx(0.44 * 0.46, abs=0.02)
        assert ON_DARK <= thing.stands_out or GROUND not in boxes
        assert not thing.mask[round(0.7 * len(thing.mask)) :].any()
