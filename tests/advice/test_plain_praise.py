"""What a picture is praised for in which nothing stands out: one modest thing that is there, and none that isn't."""

from dataclasses import replace

import numpy as np
import pytest
from measured import measured
from one_picture import one_of_lab

from critique.advice.judging import Case
from critique.advice.norms import read_norms
from critique.advice.praise_plain import plain_praise, what_is_there
from critique.advice.praise_shapes import is_of_one_colour
from critique.advice.seen import Seen
from critique.advice.value_findings import big_shapes
from critique.advice.verdict import verdict
from tests.advice.test_what_is_said_first import found

HEIGHT, WIDTH = 240, 360  # px
OF_COLOUR = frozenset({"colour_cast", "green_cast"})
OF_RAW = frozenset({"green_strength", "green_evenness"})


def case_of(*bands: tuple[float, tuple[float, float, float]]) -> Case:
    """Bands of one colour from the top down, each a share of the height, with a painter's unevenness."""
    rng = np.random.default_rng(5)
    rows = np.concatenate([np.tile(colour, (round(share * HEIGHT), 1)) for share, colour in bands])
    lab = np.repeat(rows[:, None], WIDTH, axis=1) + rng.normal(0, 1.5, (len(rows), WIDTH, 3))
    picture = one_of_lab(lab)
    return Case.of(picture, measured(picture), read_norms())


def test_a_light_sky_over_darker_land_is_praised_and_over_snow_it_is_not() -> None:
    sky = (0.4, (86.0, -3.0, -10.0))
    assert "sky is its light" in plain_praise(case_of(sky, (0.6, (40.0, -8.0, 22.0))), ())
    assert "sky is its light" not in plain_praise(case_of(sky, (0.6, (88.0, 0.0, 2.0))), ())
    deep = (0.4, (62.0, -3.0, -30.0))
    assert "sky is its light" not in plain_praise(case_of(deep, (0.6, (30.0, -8.0, 22.0))), ())


@pytest.mark.parametrize("warm", [(62.0, 10.0, 45.0), (55.0, 35.0, 30.0)])
def test_a_warm_colour_and_a_cool_one_answer_each_other_and_two_blues_do_not(warm: tuple[float, float, float]) -> None:
    cool = (0.5, (58.0, -6.0, -32.0))
    told = plain_praise(case_of(cool, (0.5, warm)), ())
    assert "a warm colour and a cool one" in told and "blue" in told
    assert "warm" not in plain_praise(case_of(cool, (0.5, warm)), OF_COLOUR)
    assert "warm" not in plain_praise(case_of(cool, (0.5, (40.0, 2.0, -30.0))), ())


def test_reds_and_browns_beside_much_green_are_praised_and_little_of_them_is_not() -> None:
    """A wood of orange between meadows was begun with a list of faults that it hasn't."""
    green = (48.0, -22.0, 30.0)
    told = plain_praise(case_of((0.3, (52.0, -1.0, -5.0)), (0.2, (45.0, 24.0, 32.0)), (0.5, green)), OF_RAW)
    assert told == "its reds and browns relieve the green"
    assert "relieve" not in plain_praise(
        case_of((0.47, (52.0, -1.0, -5.0)), (0.03, (45.0, 24.0, 32.0)), (0.5, green)), OF_RAW
    )


def test_a_big_shape_of_two_colours_is_praised_by_no_one_name() -> None:
    """A pink ruin over a leaf-green lawn was an olive green shape."""
    flat = np.full((100, 3), (50.0, -20.0, 30.0), np.float32)
    other = np.full((100, 3), (50.0, 12.0, 18.0), np.float32)
    assert is_of_one_colour(flat) and is_of_one_colour(np.concatenate([flat, other[:30]]))
    assert not is_of_one_colour(np.concatenate([flat, other]))


def test_a_verdict_never_leaves_what_works_to_the_eye() -> None:
    """A review of a raw meadow began with: what works in it is for the eye to say."""
    case = case_of((0.5, (60.0, -30.0, 45.0)), (0.5, (66.0, -34.0, 52.0)))
    for findings in ((), (found("green_strength", "rework", 0.4), found("value_masses", "watch", 0.5))):
        first = verdict(case, findings, ())[0]
        assert first.startswith(("What works: ", "What there is to build on: "))
    assert "green" in what_is_there(case)


def test_faults_that_are_absent_are_no_praise() -> None:
    """Of 276 pictures 54 began with such as "Its values reach far enough", and readers called it thin."""
    case = case_of((0.5, (60.0, -30.0, 45.0)), (0.5, (66.0, -34.0, 52.0)))
    both = (found("value_range", "holds", 6.0), found("halving", "holds", 0.3))
    assert verdict(case, both, ())[0] == verdict(case, (), ())[0]


def test_darks_and_lights_are_praised_where_each_is_large_and_in_one_place() -> None:
    violet, plum = (75.0, 12.0, -30.0), (25.0, 12.0, -30.0)
    told = plain_praise(case_of((0.3, (50.0, 12.0, -30.0)), (0.4, plum), (0.3, violet)), OF_COLOUR | {"bare_sky"})
    assert "lie well apart" not in told  # of a sky told bare no light is praised
    told = plain_praise(case_of((0.3, (50.0, 12.0, -30.0)), (0.4, plum), (0.3, violet)), OF_COLOUR)
    assert told.startswith("its darks and its lights lie well apart, the ")
    assert "across the middle" in told and "along the bottom" in told
    strewn = (40.0, 12.0, -30.0), plum
    told = plain_praise(case_of(*[(0.05, strewn[row % 2]) for row in range(14)], (0.3, violet)), OF_COLOUR)
    assert told.startswith("its darks stand well apart from the ")  # here and there: no one place is told
    near = case_of((0.3, (50.0, 12.0, -30.0)), (0.4, (40.0, 12.0, -30.0)), (0.3, (60.0, 12.0, -30.0)))
    assert "lie well apart" not in plain_praise(near, OF_COLOUR)


@pytest.mark.parametrize(("grass", "word"), [(True, "yellow-green light"), (False, "yellow light")])
def test_light_grass_is_called_a_green_and_a_sky_of_its_colour_a_yellow(grass: bool, word: str) -> None:
    """Of a wood the yellow light over most of it was praised, and it was grass of hue 122."""
    seen = Seen.of(case_of((0.4, (30.0, -4.0, 6.0)), (0.6, (66.0, -23.0, 36.0))))
    light = seen.value > 5
    assert replace(seen, foliage=light if grass else ~light).a_light(light) == word


def test_one_light_thing_in_a_field_is_praised_as_what_stands_clear() -> None:
    """A white cow in a pasture was passed over for two greens: they were said to carry the picture."""
    rng = np.random.default_rng(5)
    lab = np.tile(np.float32((48.0, -22.0, 34.0)), (HEIGHT, WIDTH, 1)) + rng.normal(0, 1.5, (HEIGHT, WIDTH, 3))
    field = Case.of(one := one_of_lab(lab.copy()), measured(one), read_norms())
    lab[80:150, 155:205] = (88.0, 0.0, 4.0)
    cow = Case.of(one := one_of_lab(lab), measured(one), read_norms())
    assert plain_praise(cow, OF_RAW).startswith("the light thing in the middle stands clear of the ")
    assert "thing" not in plain_praise(field, OF_RAW) and "thing" not in plain_praise(cow, OF_RAW | {"bulls_eye"})


def test_what_is_there_to_build_on_are_the_big_shapes_that_a_squint_shows() -> None:
    case = case_of((0.5, (60.0, -30.0, 45.0)), (0.5, (66.0, -34.0, 52.0)))
    told = what_is_there(case, ["a light one along the top (40 %)", "a middle one in the lower half (35 %)", "a third"])
    assert told.endswith("big shapes form, a light one along the top (40 %) and a middle one in the lower half (35 %).")
    told = what_is_there(case, ["a dark one across the middle (40 %)"])
    assert told.endswith("squint, and one big shape forms, a dark one across the middle (40 %).")
    assert "squint" not in what_is_there(case)


def test_a_colour_that_is_called_too_loud_is_nothing_to_build_on() -> None:
    case = case_of(*[(0.2, colour) for colour in ((60.0, 50.0, 20.0), (50.0, -20.0, 20.0), (60.0, 0.0, -40.0))] * 2)
    names = what_is_there(case).removeprefix("What there is to build on: its ").removesuffix(".").replace(" and ", ", ")
    first, *rest = names.split(", ")
    told = what_is_there(case, too_loud=first)
    assert rest and first not in told and all(name in told for name in rest)


def test_no_shape_to_build_on_is_one_that_is_told_bare_or_closed() -> None:
    case = case_of((0.4, (97.0, 0.0, 1.0)), (0.3, (55.0, 2.0, 8.0)), (0.3, (15.0, 2.0, 6.0)))
    masses = found("value_masses", "holds", 0.9)
    told = {
        kind: " ".join(big_shapes(case, (masses, found(kind, "watch", 0.3)))) for kind in ("bare_sky", "closed_darks")
    }
    assert "a light one" not in told["bare_sky"] and "a dark one" in told["bare_sky"]
    assert "a dark one" not in told["closed_darks"] and "a light one" in told["closed_darks"]


def test_colours_are_kin_about_their_middle_and_not_about_the_largest() -> None:
    """A violet dusk over a rose light has its largest colour at one end of what are a few hues in one key."""
    told = plain_praise(case_of((0.6, (45.0, 17.0, -29.0)), (0.4, (66.0, 26.0, -2.0))), frozenset())
    assert told.startswith("its colours are near of kin, ")


def test_big_shapes_are_taken_only_where_masses_hold() -> None:
    case = case_of((0.5, (85.0, -3.0, -10.0)), (0.5, (30.0, -4.0, 12.0)))
    told = big_shapes(case, (found("value_masses", "holds", 0.9),))
    assert len(told) == 2 and any("light" in one for one in told) and any("dark" in one for one in told)
    assert big_shapes(case, (found("value_masses", "watch", 0.9),)) == [] == big_shapes(case, ())
