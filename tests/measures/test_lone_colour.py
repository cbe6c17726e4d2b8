"""A small thing of a colour that nothing else in the picture has, on scenes whose figure is known."""

from dataclasses import replace

import numpy as np
import pytest
from scenes import doubled, mirrored

from critique.advice.fault_limits import is_loud_all_over, judge_loudest, stands_alone
from critique.measures.lone_colour import STANDS_ALONE
from critique.measures.loudest import Loudest, measure_loudest
from critique.perception.cielab import lab_to_srgb8, lch_to_lab
from critique.picture.picture import Picture, picture_from_srgb

GREY_SKY, GREY_GREEN = (72.0, 1.0, 3.0), (44.0, -8.0, 14.0)


def meadow(*things: tuple[tuple[float, float, float], tuple[float, float], tuple[float, float]]) -> Picture:
    """A grey-green meadow under a grey sky, with things in it: L*, C*ab, h°, and where they lie, as fractions."""
    lab = np.empty((426, 640, 3), dtype=np.float32)
    lab[:230], lab[230:] = GREY_SKY, GREY_GREEN
    for colour, x, y in things:
        lab[round(y[0] * 426) : round(y[1] * 426), round(x[0] * 640) : round(x[1] * 640)] = lch_to_lab(np.array(colour))
    return picture_from_srgb(lab_to_srgb8(lab))


STRIP = ((0.1, 0.32), (0.75, 0.79))  # less than a hundredth of the picture
TREE = ((0.86, 1.0), (0.4, 0.66))
SHRUBS = ((0.3, 0.4), (0.6, 0.85))


@pytest.mark.parametrize(
    ("colour", "place"),
    [((58, 38, 258), STRIP), ((46, 52, 62), TREE), ((60, 54, 98), SHRUBS), ((50, 30, 330), STRIP)],
)
def test_a_strip_or_a_tree_that_nothing_is_like_is_found_where_it_lies(colour, place):
    loud = measure_loudest(meadow((colour, *place)))
    (left, right), (top, bottom) = place
    assert stands_alone(loud) and loud.alone >= STANDS_ALONE
    assert loud.hue == pytest.approx(colour[2], abs=4) and loud.chroma == pytest.approx(colour[1], rel=0.15)
    assert 0.5 < loud.share / ((right - left) * (bottom - top)) < 1.1  # the border of a strip is soft
    assert (loud.x, loud.y) == (
        pytest.approx((left + right) / 2, abs=0.02),
        pytest.approx((top + bottom) / 2, abs=0.02),
    )
    assert judge_loudest(loud) == "watch"


def alone(*things) -> Loudest:
    return measure_loudest(meadow(*things))


@pytest.mark.parametrize("chroma", [14, 20])
def test_grey_water_in_a_grey_green_meadow_is_not(chroma):
    loud = alone(((58, chroma, 258), *STRIP))
    assert loud.alone == 0 and judge_loudest(loud) == "holds"


def test_one_that_has_its_hue_again_elsewhere_or_around_it_is_not():
    """An autumn tree among brown ones, and azure water under a blue sky."""
    tree, brown = ((46, 52, 62), *TREE), ((44, 34, 62), (0.6, 1.0), (0.3, 0.8))
    water, sky = ((58, 36, 258), *STRIP), ((68, 30, 258), (0.0, 1.0), (0.0, 0.5))
    assert alone(tree).alone > 0 and alone(brown, tree).alone == 0
    assert alone(water).alone > 0 and alone(sky, water).alone == 0


def test_what_is_half_as_strong_again_as_its_hue_elsewhere_does_not_stand_alone():
    """Bushes in the sun were said to be alone, with more of them in the shade; the loudest colour they may still be."""
    loud = replace(alone(((60, 60, 98), *SHRUBS)), excess=1.14, alone=1.14 * 1.9**0.5)
    assert stands_alone(loud)
    duller = replace(loud, alone=1.14 * 1.5**0.5)
    assert duller.alone > STANDS_ALONE and not stands_alone(duller)
    assert judge_loudest(duller) == "watch"


def test_a_field_and_a_touch_are_not_and_a_green_is_told_of_the_greens():
    field, touch = ((58, 34, 258), (0.0, 1.0), (0.7, 0.85)), ((58, 38, 258), (0.2, 0.24), (0.75, 0.78))
    green = ((60, 50, 128), *SHRUBS)
    assert [alone(thing).alone for thing in (field, touch, green)] == [0, 0, 0]


def test_it_is_not_the_loudest_where_another_colour_is_far_stronger():
    """Blue hills over a meadow of raw green."""
    hills = ((42, 30, 268), (0.0, 0.3), (0.1, 0.25))
    raw = ((55, 70, 118), (0.0, 1.0), (0.6, 1.0))
    assert judge_loudest(alone(hills)) == "watch" and judge_loudest(alone(raw, hills)) == "holds"


def test_beside_a_raw_green_another_hue_that_no_landscape_has_so_strong_is_the_loudest():
    raw, orange = ((55, 78, 120), (0.0, 1.0), (0.6, 1.0)), ((60, 78, 60), (0.0, 0.6), (0.35, 0.6))
    loud = alone(raw, orange)
    assert loud.hue == pytest.approx(60, abs=4) and judge_loudest(loud) == "rework"
    assert alone(raw).hue == pytest.approx(120, abs=4)


def test_it_holds_still_mirrored_and_doubled():
    picture = meadow(((58, 38, 258), *STRIP))
    loud = measure_loudest(picture)
    again, twice = measure_loudest(mirrored(picture)), measure_loudest(doubled(picture))
    assert again.x == pytest.approx(1 - loud.x, abs=0.01) and again.alone == pytest.approx(loud.alone, rel=0.05)
    assert twice.alone == pytest.approx(loud.alone, rel=0.1) and twice.share == pytest.approx(loud.share, rel=0.1)


def test_where_the_eye_settles_it_may_be():
    loud = alone(((58, 38, 258), *STRIP))
    assert judge_loudest(loud, focus=(0.25, 0.7)) == "holds" and judge_loudest(loud, focus=(0.8, 0.3)) == "watch"


def test_where_all_of_it_is_loud_no_colour_is_excused_by_a_louder_one():
    """A raw blue sky over a meadow of acid green was told of its green alone."""
    sky, pale = ((62, 46, 262), (0.0, 1.0), (0.0, 0.3)), ((80, 8, 262), (0.0, 1.0), (0.0, 0.54))
    raw, dull = ((60, 74, 115), (0.0, 1.0), (0.3, 1.0)), ((60, 74, 115), (0.0, 1.0), (0.85, 1.0))
    everywhere, part = alone(raw, sky), alone(pale, sky, dull)
    assert everywhere.hue == pytest.approx(262, abs=4) and everywhere.chroma < everywhere.strongest - 20
    assert is_loud_all_over(everywhere) and judge_loudest(everywhere) != "holds"
    assert not is_loud_all_over(part) and judge_loudest(part) == "holds"
    assert not is_loud_all_over(alone(raw))
