"""What a tried change measures is what the changed picture measures, and no more is measured than is asked for."""

import numpy as np
import pytest

from critique.advice import remeasured as module
from critique.advice.remeasured import remeasured
from critique.measures.measure import measure_picture
from critique.picture.picture import picture_from_lab
from tests.advice.changes import bands, picture_of_lab


@pytest.fixture(scope="module")
def before():
    return picture_of_lab(bands(160, 240))


@pytest.fixture(scope="module")
def after(before):
    return picture_from_lab(before.lab * np.float32([0.8, 0.7, 0.7]), before)


@pytest.mark.slow
def test_what_was_redrawn_is_measured_as_a_new_picture_is(before, after):
    made = remeasured(after, measure_picture(before), moved=20.0, redrawn=True, regrouped=True)
    anew = measure_picture(after)
    for name in (
        "values",
        "edges",
        "detail",
        "division",
        "eyepath",
        "two_lights",
        "families",
        "harmony",
        "variety",
        "cast",
    ):
        assert getattr(made, name) == getattr(anew, name), name


def test_masses_are_told_anew_but_their_regions_are_those_of_the_picture(before, after):
    measures = measure_picture(before)
    made, anew = remeasured(after, measures, moved=20.0, redrawn=True).masses, measure_picture(after).masses
    assert (made.kept, made.scraps, made.scraps_everywhere) == (anew.kept, anew.scraps, anew.scraps_everywhere)
    assert made.scraps != measures.masses.scraps
    assert made.map is measures.masses.map and made.largest == measures.masses.largest


def test_a_change_of_colour_leaves_the_drawing_as_it_was(before, after):
    measures = measure_picture(before)
    made = remeasured(after, measures, moved=0.0)
    for name in ("masses", "edges", "detail", "division", "eyepath", "families", "parts", "outlines"):
        assert getattr(made, name) is getattr(measures, name), name


def test_nothing_is_measured_before_it_is_asked_for_nor_twice(before, after, monkeypatch):
    asked = []

    def counted(picture):
        asked.append(picture)
        return measure(picture)

    measure = module.measure_loudest
    monkeypatch.setattr(module, "measure_loudest", counted)
    made = remeasured(after, measure_picture(before), moved=20.0)
    assert asked == []
    assert made.loudest is made.loudest
    assert asked == [after]
