"""What a body of work has in common, and which few would hang well together."""

import numpy as np
import pytest
from scipy.stats import energy_distance

from critique.advice.finding import LEVELS
from critique.portfolio.body import ABSENT, KEYS, Body
from critique.portfolio.common import common_traits
from critique.portfolio.rules import SUBJECTS
from critique.portfolio.together import MOST_GROUPS, hangings, palette_distances


def body(number: int = 6, **figures) -> Body:
    """Pictures of one middle grey with nothing remarkable in them, but for what is given."""
    families = np.zeros((number, 9, 3), np.float32)
    families[:, 0] = (50, 0, 0)
    shares = np.zeros((number, 9), np.float32)
    shares[:, 0] = 1
    given = {
        "content": tuple(str(place) for place in range(number)),
        "subjects": SUBJECTS,
        "levels": np.zeros((number, len(SUBJECTS)), np.int8),
        "key": np.full(number, KEYS.index("middle"), np.int8),
        "median_value": np.full(number, 5, np.float32),
        "line": np.full(number, np.nan, np.float32),
        "halved": np.zeros(number, bool),
        "green": np.full((number, 3), np.nan, np.float32),
        "green_share": np.zeros(number, np.float32),
        "cast": np.zeros((number, 2), np.float32),
        "families": families,
        "shares": shares,
    }
    return Body(**(given | figures))


def trait(subject: str, **figures):
    return next((trait for trait in common_traits(body(**figures)) if trait.subject == subject), None)


def test_one_green_in_all_is_told_with_its_colour():
    rng = np.random.default_rng(1)
    same = np.array([45, -30, 35]) + rng.normal(0, 0.5, (6, 3))
    found = trait("green", green=same.astype(np.float32), green_share=np.full(6, 0.3, np.float32))
    assert found is not None and (found.pictures, found.of) == (6, 6)
    assert found.text.startswith("The same green in 6 of the 6") and found.srgb is not None
    green = tuple(int(found.srgb[place : place + 2], 16) for place in (1, 3, 5))
    assert green[1] > max(green[0], green[2])


def test_greens_that_differ_are_not_called_one():
    differing = np.array([[30 + 8 * place, -12 * (place % 3) - 4, 20 + 6 * place] for place in range(6)], np.float32)
    found = trait("green", green=differing, green_share=np.full(6, 0.3, np.float32))
    assert found is not None and "not one and the same green" in found.text and found.srgb is None


def test_a_green_that_is_an_accent_is_not_counted():
    assert trait("green", green=np.full((6, 3), 40, np.float32), green_share=np.full(6, 0.02, np.float32)) is None


def test_halved_lines_come_before_a_common_height():
    line = np.array([0.5, 0.5, 0.49, 0.2, 0.8, 0.3], np.float32)
    found = trait("division", line=line, halved=np.array([1, 1, 1, 0, 0, 0], bool))
    assert found is not None and "3 of 6 pictures are cut in half" in found.text
    found = trait("division", line=np.array([0.33, 0.34, 0.32, 0.35, 0.36, 0.8], np.float32))
    assert found is not None and "5 of 6" in found.text and found.pictures == 5
    assert trait("division", line=np.array([0.2, 0.35, 0.5, 0.65, 0.8, 0.9], np.float32)) is None


def test_one_key_throughout_or_several():
    assert "One key in most: 6 of 6" in trait("key").text
    assert "The keys vary: 2 low, 2 middle and 2 high" in trait("key", key=np.array([0, 0, 1, 1, 2, 2], np.int8)).text


def test_a_finding_that_recurs_is_named_with_how_often():
    levels = np.full((6, len(SUBJECTS)), ABSENT, np.int8)
    levels[:4, SUBJECTS.index("halving")] = LEVELS.index("rework")
    levels[:2, SUBJECTS.index("green area")] = LEVELS.index("watch")
    levels[0, SUBJECTS.index("green cast")] = LEVELS.index("watch")
    found = trait("findings", levels=levels)
    assert found is not None and "halving (4) and green area (2)" in found.text
    assert trait("findings") is None


def test_a_colour_that_runs_through_most_is_told():
    found = trait("colour")
    assert found is not None and (found.pictures, found.srgb) == (6, "#777777")  # L* 50 in sRGB


def test_a_lean_is_told_only_when_most_share_it():
    toward = np.tile(np.array([[0, 20]], np.float32), (6, 1))
    assert "toward yellow" in trait("cast", cast=toward).text
    assert trait("cast", cast=toward * np.array([[1], [-1], [1], [-1], [1], [-1]], np.float32)) is None


def test_two_pictures_have_nothing_in_common():
    assert common_traits(body(2)) == ()


def test_palette_distance_is_the_energy_distance():
    # scipy's is of one dimension, and the root: colours that differ in L* alone.
    rng = np.random.default_rng(4)
    families = np.zeros((2, 9, 3), np.float32)
    families[..., 0] = rng.uniform(0, 100, (2, 9))
    shares = rng.dirichlet(np.ones(9), 2).astype(np.float32)
    expected = energy_distance(families[0, :, 0], families[1, :, 0], shares[0], shares[1]) ** 2
    assert palette_distances(families, shares)[0, 1] == pytest.approx(expected, rel=1e-4)
    assert palette_distances(families, shares)[0, 0] == 0


def clusters(*places: tuple[int, int], number: int) -> Body:
    """Pictures whose one colour lies in clusters: each (first, last) in a colour of its own, the rest far apart."""
    rng = np.random.default_rng(2)
    families = np.zeros((number, 9, 3), np.float32)
    families[:, 0] = rng.uniform((5, -60, -60), (95, 60, 60), (number, 3))
    for index, (first, last) in enumerate(places):
        step = np.arange(last - first)[:, None] * np.array([[2.0, 0, 0]])
        families[first:last, 0] = np.array([20 + 50 * index, 30 - 60 * index, 0]) + step
    shares = np.zeros((number, 9), np.float32)
    shares[:, 0] = 1
    return body(number, families=families, shares=shares)


def test_pictures_that_are_alike_are_hung_together():
    groups = hangings(clusters((2, 6), (9, 13), number=16))
    members = [set(group.ranks) for group in groups]
    assert any(members_of <= {2, 3, 4, 5} or len(members_of & {2, 3, 4, 5}) >= 4 for members_of in members)
    assert any(len(members_of & {9, 10, 11, 12}) >= 4 for members_of in members)


def test_no_picture_hangs_twice_and_every_group_is_closer_than_usual():
    groups = hangings(clusters((0, 5), (5, 10), (10, 15), (15, 20), number=24))
    ranks = [rank for group in groups for rank in group.ranks]
    assert 1 <= len(groups) <= MOST_GROUPS and len(ranks) == len(set(ranks))
    assert all(3 <= len(group.ranks) <= 5 and group.apart < group.usual for group in groups)


def test_the_same_picture_twice_and_pictures_that_need_rework_are_not_hung():
    pictures = clusters((0, 4), number=12)
    doubled = Body(**{name: getattr(pictures, name) for name in Body.__slots__} | {"content": ("same",) * 12})
    assert hangings(doubled) == ()
    pictures.levels[0, 0] = LEVELS.index("rework")
    assert all(0 not in group.ranks for group in hangings(pictures))


def test_two_pictures_are_no_show():
    assert hangings(body(2)) == ()
