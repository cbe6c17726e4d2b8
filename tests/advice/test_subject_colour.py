"""The colour of what the eye goes to is told with the main colours, where it is its own."""

import numpy as np
from measured import measured

from critique.advice.subject_colour import subject_colour
from critique.advice.verdict import verdict
from critique.perception.cielab import lab_to_srgb8
from critique.picture.picture import picture_from_srgb
from tests.advice.changes import case_of

SKY, FIELD, CREAM = (84, -4, -16), (36, -6, 22), (84, 0, 22)


def field_with(*barns, colour=CREAM):
    """A sky over a field, 640 px by 420, with barns that have dark doors, each where its top left corner is given."""
    lab = np.empty((420, 640, 3), dtype=np.float32)
    lab[:180], lab[180:] = SKY, FIELD
    for down, across in barns:
        lab[down : down + 60, across : across + 110] = colour
        lab[down + 24 : down + 60, across + 44 : across + 66] = (12, 4, 4)
    lab[..., 0] += np.random.default_rng(1).normal(0, 0.6, (420, 640))
    return picture_from_srgb(lab_to_srgb8(lab))


def found(picture, told=("pale blue", "olive")):
    return subject_colour(picture, measured(picture), list(told))


def test_a_cream_barn_that_leads_is_named_where_it_stands():
    picture = field_with((210, 380))
    assert measured(picture).eyepath.claimed
    its = found(picture)
    assert its is not None and "cream" in its.word and "right" in its.place
    assert abs(its.share - (60 * 110 - 36 * 22) / (420 * 640)) < 0.004


def test_none_is_named_that_is_told_already_or_is_everywhere_or_where_nothing_leads():
    assert found(field_with((210, 380)), told=("pale blue", "olive", "buff")) is None
    assert found(field_with((210, 380), colour=(40, -6, 24))) is None
    assert found(field_with()) is None


def test_the_portrait_names_it_once():
    portrait = verdict(case_of(field_with((210, 380))), (), ())[1]
    assert portrait.count("cream") == 1 and ", and an accent of " in portrait
