"""What a body of work has in common, and which few would hang well together."""

import numpy as np
import pytest
from scipy.stats import energy_distance

from critique.advice.cast_findings import GREENNESS_WATCH
from critique.advice.finding import LEVELS
from critique.advice.kinds import KINDS
from critique.portfolio.body import ABSENT, KEYS, Body, body_of
from critique.portfolio.common import common_traits
from critique.portfolio.ranking import Standing
from critique.portfolio.together import MOST_GROUPS, Hanging, hangings, palette_distances
from critique.portfolio.walls import shared_colours, wall_order, why_together

SUBJECTS = {kind.id: kind.title for kind in KINDS}
PLACES = {kind.id: place for place, kind in enumerate(KINDS)}


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
        "line": np.full(number, np.nan, np.float32),
        "green": np.full((number, 3), np.nan, np.float32),
        "green_share": np.zeros(number, np.float32),
        "cast": np.zeros((number, 2), np.float32),
        "families": families,
        "shares": shares,
        "uncropped": np.zeros(number, dtype=bool),
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


def test_a_dark_green_that_is_shared_is_no_brown():
    dark = np.tile(np.float32((22, -0.5, 9)), (6, 1))
    found = trait("green", green=dark, green_share=np.full(6, 0.3, np.float32))
    assert found is not None and "olive" in found.text and "brown" not in found.text


def test_greens_that_differ_are_not_called_one():
    differing = np.array([[30 + 8 * place, -12 * (place % 3) - 4, 20 + 6 * place] for place in range(6)], np.float32)
    found = trait("green", green=differing, green_share=np.full(6, 0.3, np.float32))
    assert found is not None and "not one and the same green" in found.text and found.srgb is None


def test_a_green_that_is_an_accent_is_not_counted():
    found = trait("green", green=np.full((6, 3), 40, np.float32), green_share=np.full(6, 0.02, np.float32))
    assert found.text == "Green is enough to matter in none of the 6 pictures." and found.srgb is None


def test_green_in_too_few_pictures_is_not_compared():
    found = trait("green", green=np.full((6, 3), 40, np.float32), green_share=np.float32([0.3, 0.3, 0, 0, 0, 0]))
    assert found.text == "Green is enough to matter in only 2 of 6 pictures, too few to compare."


def test_halved_lines_come_before_a_common_height():
    line = np.array([0.5, 0.5, 0.49, 0.2, 0.8, 0.3], np.float32)
    levels = np.zeros((6, len(SUBJECTS)), np.int8)
    levels[:3, PLACES["halving"]] = LEVELS.index("rework")
    found = trait("division", line=line, levels=levels)
    assert found is not None and "3 of 6 pictures are cut in half" in found.text
    found = trait("division", line=np.array([0.33, 0.34, 0.32, 0.35, 0.36, 0.8], np.float32))
    assert found is not None and "5 of 6" in found.text and found.pictures == 5


def test_lines_at_differing_heights_are_told_with_the_commonest():
    assert trait("division") is None
    found = trait("division", line=np.array([0.2, 0.35, 0.5, 0.65, 0.8, np.nan], np.float32))
    assert found.text == "5 of 6 pictures are plainly divided by a line, and at differing heights."
    found = trait("division", line=np.array([0.3, 0.3, 0.5, 0.65, 0.8, np.nan], np.float32))
    assert "no more than 2 of them" in found.text and found.pictures == 2
    found = trait("division", line=np.array([0.3, 0.3, 0.3, np.nan, np.nan, np.nan], np.float32))
    assert found.text.startswith("3 of 6 pictures are plainly divided by a line, all of them about ")


def test_where_halving_does_not_matter_nothing_is_said_of_it():
    levels = np.full((6, len(SUBJECTS)), ABSENT, np.int8)
    found = trait("division", line=np.full(6, 0.5, np.float32), levels=levels)
    assert "in half" not in found.text and "one horizon" in found.text


def test_one_key_throughout_or_several():
    assert trait("key").text == "One key throughout: all 6 pictures are in the middle key."
    mixed = trait("key", key=np.array([0, 1, 2, 1, 1, 1], np.int8)).text
    assert mixed == "One key in most: 4 of 6 pictures are in the middle key, beside 1 low and 1 high."
    assert "The keys vary: 2 low, 2 middle and 2 high" in trait("key", key=np.array([0, 0, 1, 1, 2, 2], np.int8)).text


def test_a_finding_that_recurs_is_named_with_how_often():
    levels = np.full((6, len(SUBJECTS)), ABSENT, np.int8)
    levels[:4, PLACES["halving"]] = LEVELS.index("rework")
    levels[:2, PLACES["green_area"]] = LEVELS.index("watch")
    levels[0, PLACES["green_cast"]] = LEVELS.index("watch")
    found = trait("findings", levels=levels)
    assert found is not None and "halving (in 4 of 6) and green area (in 2 of 6)" in found.text
    assert trait("findings") is None
    once = np.zeros((9, len(SUBJECTS)), np.int8)
    once[:2, PLACES["halving"]] = LEVELS.index("watch")
    assert "most often is halving, in 2 of 9." in next(iter(common_traits(body(9, levels=once)))).text


def test_a_colour_that_runs_through_most_is_told():
    found = trait("colour")
    assert found is not None and (found.pictures, found.srgb) == (6, "#777777")  # L* 50 in sRGB


def test_a_lean_is_told_only_when_most_share_it():
    toward = np.tile(np.array([[0, 20]], np.float32), (6, 1))
    assert "toward yellow" in trait("cast", cast=toward).text
    assert trait("cast", cast=toward * 0.2) is None  # C* 4 is nothing to speak of
    assert trait("cast", cast=np.concatenate([toward[:3] * 3, toward[3:] * 0.1])) is None
    assert trait("cast", cast=toward * np.array([[1], [-1], [1], [-1], [1], [-1]], np.float32)) is None


def test_a_lean_that_landscapes_have_is_left_and_another_is_asked_about():
    toward = np.tile(np.array([[0, 10]], np.float32), (6, 1))
    assert "no further than landscapes mostly do" in trait("cast", cast=toward).text
    assert "grey card" not in trait("cast", cast=toward).text
    assert "further than landscapes mostly do" in trait("cast", cast=-toward).text
    assert "grey card" in trait("cast", cast=-toward).text


def test_a_lean_to_green_is_a_cast_only_where_the_reviews_find_one():
    """The reviews judge it by −a* of the mean colour, from 6 on: norms.csv has nine in ten landscapes below 4."""
    assert GREENNESS_WATCH == 6.0
    levels = np.zeros((6, len(SUBJECTS)), np.int8)
    toward = np.tile(np.array([[-4, 9]], np.float32), (6, 1))
    assert trait("cast", cast=toward, levels=levels).text.endswith("none of them so far that it is a green cast.")
    levels[:2, PLACES["green_cast"]] = LEVELS.index("watch")
    assert "yellow-green, 2 of them so far" in trait("cast", cast=toward, levels=levels).text
    levels[:, PLACES["green_cast"]] = LEVELS.index("rework")
    assert "all of them so far that it is a green cast" in trait("cast", cast=toward, levels=levels).text
    levels[:] = ABSENT  # an evening in gold leans far, and its review finds no green in that
    assert "none of them" in trait("cast", cast=toward * 2, levels=levels).text
    assert "green" not in trait("cast", cast=np.tile(np.array([[-4, 17]], np.float32), (6, 1)), levels=levels).text


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


def test_states_of_one_painting_hang_once_and_what_shows_its_wall_does_not_hang():
    pictures = clusters((0, 4), number=12)
    assert any({0, 1} <= set(group.ranks) for group in hangings(pictures))
    assert all(len({0, 1} & set(group.ranks)) < 2 for group in hangings(pictures, ((0, 1),)))
    pictures.uncropped[2] = True
    assert all(2 not in group.ranks for group in hangings(pictures))


def test_a_line_that_is_not_plain_divides_nothing_in_common():
    row = {
        "crop": "unsure",
        "key": "low",
        "line": {"present": True, "height": 0.55, "halved": False, "plain": False},
        "green": {"lab": [None, None, None], "area_share": 0.0},
        "cast": {"a": 0.0, "b": 0.0},
        "families": [],
    }
    plain = {**row, "crop": "found", "line": {**row["line"], "plain": True}}
    pictures = body_of([("1", Standing({}, 0.0), row), ("2", Standing({}, 0.0), plain)], 2, {})
    assert np.isnan(pictures.line[0]) and pictures.line[1] == np.float32(0.55)
    assert pictures.uncropped.tolist() == [True, False]


def test_two_pictures_are_no_show():
    assert hangings(body(2)) == ()


def test_the_picture_that_the_others_are_nearest_to_hangs_in_the_middle():
    assert wall_order((7, 3, 9, 1, 4)) == [1, 3, 7, 9, 4]
    assert wall_order((7, 3, 9)) == [3, 7, 9]


def row(key: str, median: float, *families: tuple[str, float, tuple[float, float, float]]) -> dict:
    return {
        "key": key,
        "figures": {"values.percentiles.p50": median},
        "families": [{"name": name, "share": share, "lab": lab} for name, share, lab in families],
    }


def test_what_a_group_shares_is_told_in_key_colours_and_distance():
    rows = [
        row("low", 3.0, ("medium gray", 0.5, (50, 0, 0)), ("dark red", 0.2, (30, 40, 20))),
        row("low", 3.4, ("medium gray", 0.3, (50, 0, 0)), ("dark red", 0.4, (30, 40, 20))),
        row("middle", 5.0, ("medium gray", 0.4, (50, 0, 0)), ("pale blue", 0.6, (80, -5, -20))),
    ]
    words = shared_colours(rows)
    assert [told for told, _ in words] == ["grey, in all three", "dark red, in two of three"]
    assert words[0][1] == "#777777"  # L* 50 in sRGB
    text = why_together(rows, Hanging((0, 1, 2), 4.0, 10.0))
    assert text.startswith("In the middle and low keys: middle values from 3.0 to 5.0")
    assert "less than half as far apart" in text
