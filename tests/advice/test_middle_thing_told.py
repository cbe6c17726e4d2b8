"""What stands in the very middle is told by how stark, how large and of what kind it is."""

from dataclasses import replace

import numpy as np
import pytest
from measured import measured, with_others

from critique.advice.eye_findings import bulls_eye, middle_subject
from critique.advice.gravity import MOST, UNMEASURED, beyond, gravest_first
from critique.advice.judging import Case
from critique.advice.kinds import kind_named
from critique.advice.norms import read_norms
from critique.advice.photograph_moves import photographs_away
from critique.measures.eye_judging import bullseye_fault
from critique.measures.focal_places import FocalPlace
from critique.measures.middle_thing import WATCH, MiddleThing
from critique.perception.cielab import lab_to_srgb8
from critique.picture.picture import picture_from_srgb


@pytest.fixture(scope="module")
def field() -> Case:
    """A plain field below a sky, with soft clouds: nothing stands in its middle."""
    y, x = ((np.arange(size) + 0.5) / size for size in (240, 340))
    lab = np.where(y[:, None, None] < 0.62, (76.0, -2, -8), (52.0, -6, 24)) * np.ones((240, 340, 1))
    lab[..., 0] += 4 * np.sin(9 * x) * np.sin(7 * y)[:, None] + np.random.default_rng(8).normal(0, 2, (240, 340))
    picture = picture_from_srgb(lab_to_srgb8(lab.astype(np.float32)))
    case = Case.of(picture, measured(picture), read_norms())
    assert bullseye_fault(case.measures.eyepath) is None and case.measures.middle_thing.stands_out < 1
    return case


def with_thing(case: Case, **thing: object) -> Case:
    mask = np.zeros((90, 128), dtype=np.bool_)
    mask[20:70, 56:72] = True
    stark = MiddleThing(6.0, 0.0, 30.0, 0.04, 0.5, 0.5, "dark", 0.0, False, mask)
    return replace(case, measures=with_others(case.measures, middle_thing=replace(stark, **thing)))  # type: ignore[arg-type]


def test_nothing_in_the_middle_is_not_spoken_of(field: Case) -> None:
    assert bulls_eye(field, kind_named("bulls_eye")) is None


def test_a_light_is_told_from_more_than_a_dark_one(field: Case) -> None:
    """A man in a white shirt, and castles in the sun, are no targets."""
    kind = kind_named("bulls_eye")
    assert bulls_eye(with_thing(field, stands_out=4.6), kind) is not None
    assert bulls_eye(with_thing(field, stands_out=4.6, manner="light"), kind) is None


@pytest.mark.parametrize(("manner", "told"), [("dark", True), ("light", False), ("coloured", False)])
def test_a_light_or_a_colour_among_others_of_its_own_is_not_alone(field: Case, manner: str, told: bool) -> None:
    """A white cow has others in her pasture; a dark thing has all shadows of the picture beside it."""
    for stands_out, kind, judge in ((7.5, "bulls_eye", bulls_eye), (3.0, "middle_subject", middle_subject)):
        thing = {"stands_out": stands_out, "manner": manner}
        among = {**thing, "elsewhere": 0.5 * stands_out, "answered": 0.7}
        assert judge(with_thing(field, **thing), kind_named(kind)) is not None
        assert (judge(with_thing(field, **among), kind_named(kind)) is not None) == told


def test_tulips_among_tulips_are_not_alone(field: Case) -> None:
    """A quarter as strong elsewhere, and a third of their colour: so much is no company for a white house."""
    kind, among = kind_named("bulls_eye"), {"stands_out": 6.5, "elsewhere": 1.6, "answered": 0.36}
    assert bulls_eye(with_thing(field, manner="coloured", **among), kind) is None
    assert bulls_eye(with_thing(field, manner="light", **among), kind) is not None


@pytest.mark.parametrize("manner", ["dark", "light", "coloured"])
@pytest.mark.parametrize("company", [{"answered": 1.0, "elsewhere": 0.5}, {"answered": 0.02, "elsewhere": 9.0}])
def test_a_sky_as_white_or_trees_as_strong_that_are_less_black_leave_it_alone(
    field: Case, manner: str, company: dict[str, float]
) -> None:
    """A white house on a brown moor was let pass for the white of the sky, a black stone for the trees beside it."""
    assert bulls_eye(with_thing(field, manner=manner, **company), kind_named("bulls_eye")) is not None


@pytest.mark.parametrize(
    ("thing", "level", "words", "figure"),
    [
        ({}, "watch", "dark", "3.0 values darker"),
        ({"stands_out": 4.5, "step": 16.0}, "watch", "dark", "1.6 values darker"),  # on dark ground
        ({"stands_out": 13.0, "step": 46.0, "share": 0.08}, "rework", "dark", "on 8.0 % of the picture"),
        ({"manner": "light", "stands_out": 7.5}, "watch", "light", "3.0 values lighter"),
        ({"manner": "coloured", "step": 14.0}, "watch", "nearer in colour", "ΔE 14 or more"),
    ],
)
def test_it_is_told_as_what_it_is_and_shown(
    field: Case, thing: dict[str, object], level: str, words: str, figure: str
) -> None:
    kind, case = kind_named("bulls_eye"), with_thing(field, **thing)
    told = bulls_eye(case, kind)
    assert told is not None and told.level == level
    assert words in told.text and figure in told.figure_text
    assert kind.where is not None
    assert kind.where(case.measures) is case.measures.middle_thing.mask
    assert middle_subject(case, kind_named("middle_subject")) is None  # said once


@pytest.mark.parametrize("thing", [{"elsewhere": 5.0, "answered": 0.6}, {"step": 12.0}, {"stands_out": 2.0}])
def test_one_of_several_one_hardly_darker_and_a_slight_one_are_not_told(field: Case, thing: dict[str, object]) -> None:
    case = with_thing(field, **thing)
    assert bulls_eye(case, kind_named("bulls_eye")) is None
    assert middle_subject(case, kind_named("middle_subject")) is None


def test_a_lone_tree_that_is_less_stark_is_remarked_on(field: Case) -> None:
    case = with_thing(field, stands_out=3.0, step=21.0, share=0.02, x=0.53)
    assert bulls_eye(case, kind_named("bulls_eye")) is None
    remark = middle_subject(case, kind_named("middle_subject"))
    assert remark is not None and remark.level == "holds" and "0.53" in remark.figure_text


def test_the_starker_and_larger_it_is_the_sooner_it_is_mended_first(field: Case) -> None:
    kind, darks = kind_named("bulls_eye"), kind_named("closed_darks")
    slight, stark, gross = (bulls_eye(with_thing(field, stands_out=out), kind) for out in (4.9, 8.8, 13.0))
    closed = darks.finding(level="watch", text="", figure=0.1, figure_text="", norm="")
    assert slight is not None and stark is not None and gross is not None
    assert gravest_first([slight, closed]) == [closed, slight]
    assert gravest_first([closed, stark]) == [stark, closed]
    assert gravest_first([closed, stark, gross])[0] is gross


def test_of_two_that_are_beyond_doubt_the_one_that_teachers_mend_first_comes_first(field: Case) -> None:
    gross = bulls_eye(with_thing(field, stands_out=13.0), kind_named("bulls_eye"))
    assert gross is not None
    alike = replace(gross, said_first=0.2)
    assert gravest_first([alike, gross]) == [gross, alike]


def test_how_far_beyond_is_told_by_the_figure_it_stands_on(field: Case) -> None:
    """It was held to how far another photograph moves a place, so that it always counted as plain."""
    kind = kind_named("bulls_eye")
    slight, stark = (bulls_eye(with_thing(field, stands_out=WATCH["dark"] + past), kind) for past in (0.1, 4.0))
    assert slight is not None and stark is not None and slight.figure == WATCH["dark"] + 0.1
    apart = photographs_away("middle_thing.stands_out", slight.figure, stark.figure)
    assert apart is not None and beyond(stark) - beyond(slight) == pytest.approx(apart)
    assert beyond(slight) < 1 < beyond(stark) < MOST
    light = bulls_eye(with_thing(field, stands_out=WATCH["light"] + 0.1, manner="light"), kind)
    assert light is not None and beyond(light) == pytest.approx(beyond(slight))
    eye = replace(field.measures.eyepath, focus=FocalPlace(0.5, 0.5, 0.9), places=(), dominance=3.0, answered=0.0)
    by_contrast = bulls_eye(replace(field, measures=with_others(field.measures, eyepath=eye)), kind)
    assert by_contrast is not None and by_contrast.level == "rework" and by_contrast.figure == 3.0
    assert beyond(by_contrast) == UNMEASURED  # nobody measured how far a photograph moves that
