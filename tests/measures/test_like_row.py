"""A row of like things: how like they are, where they stand, and what is none."""

import numpy as np
import pytest
from scipy.ndimage import gaussian_filter, zoom

from critique.advice.kinds import kind_named
from critique.perception.cielab import lab_to_srgb8
from critique.picture.picture import Picture, picture_from_srgb
from tests.measured import measured, said
from tests.measures.scenes import mirrored, rough

HEIGHT, WIDTH, FOOT = 420, 640, 290  # px; where the things stand
SKY, FIELD, LEAVES, STONE = (74.0, -3.0, -14.0), (56.0, -12.0, 28.0), (30.0, -14.0, 16.0), (80.0, 2.0, 8.0)
NAME = "like things in a row"


def ground() -> np.ndarray:
    """A sky over a field, Lab (height, width, 3)."""
    lab = np.empty((HEIGHT, WIDTH, 3), dtype=np.float32)
    lab[:] = SKY
    lab[230:] = FIELD
    return lab


def picture(lab: np.ndarray) -> Picture:
    lab = np.stack([gaussian_filter(plane, 0.7) for plane in lab.transpose(2, 0, 1)], -1)
    lab[..., 0] = rough(lab[..., 0], 1.5)
    return picture_from_srgb(lab_to_srgb8(lab.astype(np.float32)))


def trees(at: list[float], tall: list[float], *, lower: float = 0.0, colour: tuple[float, ...] = LEAVES) -> np.ndarray:
    """Round trees of those heights (px) at those columns (px), standing ``lower`` px a px to the right."""
    lab = ground()
    y, x = np.mgrid[:HEIGHT, :WIDTH]
    for column, high in zip(at, tall, strict=True):
        foot = FOOT + lower * (column - WIDTH / 2)
        crown = np.hypot(y - foot + 0.65 * high, x - column) < 0.35 * high
        stem = (np.abs(x - column) < 0.05 * high) & (y > foot - 0.4 * high) & (y < foot)
        lab[crown | stem] = colour
    return lab


EVEN = [45 + 78 * k for k in range(8)]


@pytest.mark.parametrize("lower", [-0.06, 0.0, 0.06])
def test_trees_like_soldiers_are_found_with_their_number_and_spacing(lower: float) -> None:
    row = measured(picture(trees(EVEN, [70] * 8, lower=lower))).like_row
    assert row.likeness > 0.8
    assert row.spacing == pytest.approx(78 / WIDTH, rel=0.04)
    assert row.things == 8


@pytest.mark.parametrize("number", [6, 8, 10])
def test_each_is_counted_and_has_a_box_with_the_thing_in_its_middle(number: int) -> None:
    apart = WIDTH / number
    at = [apart * (k + 0.5) for k in range(number)]
    row = measured(picture(trees(at, [0.8 * apart] * number))).like_row
    boxes = row.mask[row.mask.any(axis=1)][-2]  # by the foot of the things
    sides = np.flatnonzero(np.diff(np.concatenate([[0], boxes.astype(int), [0]]))) / len(boxes) * WIDTH
    assert row.things == number
    assert (sides[::2] + sides[1::2]) / 2 == pytest.approx(at, abs=0.12 * apart)


@pytest.mark.parametrize("second", [STONE, (72.0, -4.0, 18.0)])
def test_pickets_that_stand_closer_than_is_looked_for_are_counted_too(second: tuple[float, ...]) -> None:
    """Forty, every other one a little darker and yellower, or all alike."""
    lab = ground()
    for k in range(40):
        column = 8 + 16 * k
        lab[330:410, column - 2 : column + 3] = STONE if k % 2 else second
    shown = picture(lab)
    row = measured(shown).like_row
    assert 36 <= row.things <= 40 and row.spacing == pytest.approx(16 / WIDTH, rel=0.04)
    assert "Some 40 things" in said(shown, NAME)[NAME].text


def test_one_hidden_behind_something_is_passed_over_and_the_row_goes_on() -> None:
    lab = trees(EVEN, [70] * 8)
    lab[FOOT - 90 : FOOT + 10, EVEN[1] - 34 : EVEN[1] + 34] = (20.0, 8.0, 12.0)
    assert measured(picture(lab)).like_row.things == 7


def test_they_are_named_shown_where_they_stand_and_told_what_mends_them() -> None:
    shown = picture(trees(EVEN, [70] * 8))
    found = said(shown, NAME)[NAME]
    assert found.level == "watch" and "eight" in found.text and "leave one gap" in found.text
    where = kind_named("like_row").where
    assert where is not None
    mask = np.asarray(where(measured(shown)))
    rows = np.flatnonzero(mask.any(axis=1)) / len(mask) * HEIGHT
    crowns = FOOT - 70, FOOT
    assert rows[0] > crowns[0] - 78 and rows[-1] < crowns[1] + 78  # by less than a spacing
    assert mask.any(axis=0).mean() > 0.4


def test_pale_posts_and_clouds_are_things_too() -> None:
    posts = ground()
    for column in EVEN:
        posts[250:310, column - 6 : column + 6] = STONE
    clouds = ground()
    y, x = np.mgrid[:HEIGHT, :WIDTH]
    for column in EVEN:
        clouds[np.hypot((y - 80) / 16, (x - column) / 28) < 1] = (94, 0, 2)
    assert said(picture(posts), NAME) and said(picture(clouds), NAME)


def test_a_little_unevenness_of_the_hand_is_still_a_row() -> None:
    rng = np.random.default_rng(4)
    at = [column + rng.uniform(-4, 4) for column in EVEN]
    assert said(picture(trees(at, [70 + rng.uniform(-4, 4) for _ in at])), NAME)


@pytest.mark.slow
def test_the_figure_holds_in_a_mirror_and_at_twice_the_size() -> None:
    one = picture(trees(EVEN, [70, 66, 72, 70, 64, 71, 70, 68]))
    doubled = picture_from_srgb(zoom(one.srgb, (2, 2, 1), order=1))
    likeness = [measured(each).like_row.likeness for each in (one, mirrored(one), doubled)]
    assert likeness == pytest.approx([likeness[0]] * 3, abs=0.06)


def test_trees_of_unlike_size_and_spacing_are_no_row() -> None:
    at, tall = [30, 95, 150, 260, 330, 470, 520, 600], [40, 95, 60, 110, 45, 80, 120, 50]
    assert said(picture(trees(at, tall)), NAME) == {}


def test_one_gap_and_two_grown_together_mend_it() -> None:
    """What the finding asks for, done."""
    at, tall = [45, 123, 160, 279, 357, 513, 560, 600], [70, 95, 70, 55, 70, 100, 60, 80]
    before, after = (measured(picture(lab)).like_row for lab in (trees(EVEN, [70] * 8), trees(at, tall)))
    assert said(picture(trees(at, tall)), NAME) == {} and before.likeness > after.likeness + 0.2


@pytest.mark.parametrize("number", [1, 3])
def test_a_few_trees_are_no_row(number: int) -> None:
    assert said(picture(trees(EVEN[2 : 2 + number], [90] * number)), NAME) == {}


def test_neither_is_a_hedge_nor_a_level_horizon() -> None:
    hedge = ground()
    hedge[250:290] = LEAVES
    for lab in (hedge, ground()):
        assert measured(picture(lab)).like_row.likeness < 0.4


def test_an_irregular_wood_is_none() -> None:
    rng = np.random.default_rng(7)
    at = sorted(rng.uniform(0, WIDTH, 26))
    assert said(picture(trees(at, list(rng.uniform(50, 120, 26)))), NAME) == {}


def test_things_too_faint_to_be_seen_are_none() -> None:
    faint = tuple(0.96 * of_field + 0.04 * of_leaves for of_field, of_leaves in zip(FIELD, LEAVES, strict=True))
    lab = trees(EVEN, [30] * 8, colour=faint)
    assert said(picture(lab), NAME) == {}


def test_four_large_things_far_apart_are_a_row_and_four_of_different_shape_or_spacing_are_none() -> None:
    """Readers of three pictures named such a row of trees or clouds; no painting has four so like."""
    limit = kind_named("like_row").limits.watch
    row = measured(picture(trees([80, 240, 400, 560], [130] * 4))).like_row
    assert row.likeness > limit and row.things == 4 and row.spacing == pytest.approx(160 / WIDTH, rel=0.05)
    assert measured(picture(trees([80, 240, 400, 560], [130, 70, 150, 90]))).like_row.likeness < limit
    assert measured(picture(trees([70, 190, 420, 560], [130] * 4))).like_row.likeness < limit
