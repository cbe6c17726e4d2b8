"""What stands too near a side is told by what it is, whether the side cuts it, and what is left farther in."""

from dataclasses import replace

import numpy as np
import pytest
from measured import measured, with_others

from critique.advice.judging import Case
from critique.advice.kinds import kind_named
from critique.advice.norms import read_norms
from critique.advice.where import of_near_edge
from critique.measures.outlined import Outlined
from critique.perception.cielab import lab_to_srgb8
from critique.picture.picture import picture_from_srgb

KIND = kind_named("near_edge")


@pytest.fixture(scope="module")
def field() -> Case:
    """A plain field below a sky."""
    lab = np.where(np.arange(200)[:, None, None] < 120, (76.0, -2, -8), (52.0, -6, 24)) * np.ones((200, 300, 1))
    lab[..., 0] += np.random.default_rng(8).normal(0, 2, (200, 300))
    picture = picture_from_srgb(lab_to_srgb8(lab.astype(np.float32)))
    return Case.of(picture, measured(picture), read_norms())


def with_thing(case: Case, left: int, **aside: float) -> Case:
    mask = np.zeros((43, 64), dtype=np.bool_)
    mask[10:30, left : left + 12] = True
    x = (left + 6) / 64
    thing = Outlined(
        "dark", 24.0, float(mask.mean()), x, 20 / 43, (left / 64, 10 / 43, (left + 12) / 64, 30 / 43), mask
    )
    eye = case.measures.eyepath
    beside = replace(eye.aside, x=x, y=thing.y, stands_out=thing.stands_out, thing=thing, **aside)
    return replace(case, measures=with_others(case.measures, eyepath=replace(eye, aside=beside)))


@pytest.mark.parametrize(
    ("left", "stands", "side"),
    [
        (0, "is cut by", "left"),
        (1, "stands hard by", "left"),
        (51, "stands hard by", "right"),
        (52, "is cut by", "right"),
    ],
)
def test_it_is_said_whether_the_side_cuts_it_and_its_outline_is_shown(
    field: Case, left: int, stands: str, side: str
) -> None:
    case = with_thing(field, left, beyond=0.4)
    finding = KIND.judge(case, KIND)
    assert finding is not None and finding.level == "watch"
    assert finding.text.startswith(
        f"Something dark {stands} the {side} edge, and nothing farther in stands out as much"
    )
    assert finding.figure == case.measures.eyepath.aside.stands_out and "2.4 values darker" in finding.figure_text
    assert of_near_edge(case.measures) is case.measures.eyepath.aside.thing.mask  # type: ignore[union-attr]


def test_where_next_to_nothing_lies_beyond_that_is_said(field: Case) -> None:
    finding = KIND.judge(with_thing(field, 0, beyond=0.01), KIND)
    assert finding is not None and "hardly anything farther in holds the eye, which may leave" in finding.text


def test_nothing_is_said_of_a_plain_field(field: Case) -> None:
    assert KIND.judge(field, KIND) is None and of_near_edge(field.measures) is None
