"""One thing of whatever outline hard by a side is looked for in meadows whose trees are known."""

import numpy as np
import pytest

from critique.measures.aside import Aside
from critique.measures.eye_judging import near_edge_fault
from critique.measures.eyepath import measure_eyepath
from critique.measures.side_outline import STANDS_OUT_THERE, outlined_at_a_side, stands_alone
from critique.perception.cielab import lab_to_srgb8
from critique.picture.picture import picture_from_srgb

HEIGHT, WIDTH = 240, 340
TREE = (28.0, -8.0, 12.0)
Lab = tuple[float, float, float]


def meadow(*trees: tuple[float, float], colour: Lab = TREE, cottage: float | None = None) -> np.ndarray:
    """A sky over a meadow, with trees (middle across, size) and a tiny red cottage; L*, a* and b*."""
    y, x = ((np.arange(size) + 0.5) / size for size in (HEIGHT, WIDTH))
    down, across = np.meshgrid(y, x, indexing="ij")
    lab = np.where(down[..., None] < 0.6, (80.0, -3, -10), (58.0, -10, 30)) * np.ones((HEIGHT, WIDTH, 1))
    for middle, size in trees:
        crown = ((across - middle) / (0.5 * size)) ** 2 + ((down - 0.6 + 0.7 * size) / (0.7 * size)) ** 2 < 1
        lab[crown | ((np.abs(across - middle) < 0.08 * size) & (down > 0.5) & (down < 0.8))] = colour
    if cottage is not None:
        lab[(np.abs(across - cottage) < 0.02) & (np.abs(down - 0.62) < 0.02)] = (50, 45, 30)
    lab[..., 0] += 3 * np.sin(11 * across) * np.sin(9 * down)
    return (lab + np.random.default_rng(3).normal(0, 2, (HEIGHT, WIDTH, 1))).astype(np.float32)


def asked(lab: np.ndarray) -> Aside:
    return measure_eyepath(picture_from_srgb(lab_to_srgb8(lab))).aside


@pytest.mark.parametrize("mirrored", [False, True])
@pytest.mark.parametrize(("middle", "cut"), [(0.1, True), (0.23, False)])
def test_a_tree_that_a_side_cuts_and_one_hard_by_it_are_found_with_where_they_are(
    middle: float, cut: bool, mirrored: bool
) -> None:
    lab = meadow((middle, 0.36))
    lab = lab[:, ::-1] if mirrored else lab
    thing = outlined_at_a_side(lab, right=mirrored)
    assert thing is not None and stands_alone(lab, thing)
    assert thing.manner == "dark" and thing.is_cut == cut
    left, _, right, foot = thing.box
    assert (1 - left if mirrored else right) == pytest.approx(middle + 0.18, abs=0.03)
    assert foot == pytest.approx(0.8, abs=0.04)
    assert 25 <= thing.step <= 52  # to the meadow, and to the sky
    assert outlined_at_a_side(lab, right=not mirrored) is None


@pytest.mark.parametrize(
    "trees",
    [
        (),
        ((0.4, 0.36),),  # on a third
        ((0.3, 0.36),),  # with room beside it
        ((0.2, 0.9),),  # over the top edge, and half of the width
    ],
)
def test_farther_in_or_larger_than_a_thing_none_is_found(trees: tuple[tuple[float, float], ...]) -> None:
    assert outlined_at_a_side(meadow(*trees), right=False) is None


def test_one_that_is_hardly_darker_than_what_lies_about_it_is_not_found() -> None:
    assert outlined_at_a_side(meadow((0.1, 0.36), colour=(75, -4, -8)), right=False) is None


def test_a_bank_that_runs_in_from_the_side_is_no_thing() -> None:
    lab = meadow()
    down, across = np.mgrid[0:HEIGHT, 0:WIDTH]
    lab[(down / HEIGHT > 0.55 + 0.5 * across / WIDTH) & (down < 0.9 * HEIGHT)] = TREE
    assert outlined_at_a_side(lab, right=False) is None


@pytest.mark.parametrize(("size", "alone"), [(0.1, True), (0.34, False)])
def test_another_as_large_is_company_and_a_small_one_not(size: float, alone: bool) -> None:
    """Two trees at both sides frame a view."""
    for middle in (0.6, 0.88):
        lab = meadow((0.1, 0.36), (middle, size))
        thing = outlined_at_a_side(lab, right=False)
        assert thing is not None and thing.stands_out >= STANDS_OUT_THERE
        assert stands_alone(lab, thing) == alone


@pytest.mark.parametrize("mirrored", [False, True])
def test_a_tree_cut_by_a_side_is_told_where_a_cottage_has_more_contrast(mirrored: bool) -> None:
    """By contrast alone the red of a cottage farther in answers it."""
    lab = meadow((0.12, 0.4), cottage=0.4)
    eye = measure_eyepath(picture_from_srgb(lab_to_srgb8(np.ascontiguousarray(lab[:, ::-1]) if mirrored else lab)))
    aside = near_edge_fault(eye)
    assert aside is not None and aside.thing is not None and not aside.outdoes_all
    assert (aside.x, aside.y, aside.stands_out) == (aside.thing.x, aside.thing.y, aside.thing.stands_out)
    assert (aside.x > 0.5) == mirrored and aside.thing.is_cut


@pytest.mark.parametrize("trees", [(), ((0.3, 0.4),), ((0.12, 0.4), (0.8, 0.36))])
def test_without_it_or_with_room_or_with_another_nothing_is_told(trees: tuple[tuple[float, float], ...]) -> None:
    aside = asked(meadow(*trees, cottage=0.4))
    assert aside.thing is None and not aside.outdoes_all and aside.stands_out == 0
