"""What a tried change measures is what the changed picture measures, and no more is measured than is asked for."""

import gc
import weakref

import numpy as np
import pytest

from critique.advice import remeasured as module
from critique.advice.change import Change
from critique.advice.change_calm import Calm
from critique.advice.judging import Case
from critique.advice.norms import read_norms
from critique.advice.remeasured import remeasured
from critique.advice.trial import trial_of
from critique.measures.measure import measure_picture
from critique.picture.picture import lab_at, picture_from_lab, without_kept
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
        "middle_thing",
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


def test_the_same_made_of_the_same_is_the_trial_that_was_made_first(before):
    start = trial_of(Case.of(before, measure_picture(before), read_norms()))
    paler = before.lab * np.float32([1.0, 0.8, 0.8])
    first = start.with_lab(paler)
    assert start.with_lab(paler, reached=(first,)) is first
    redrawn = start.with_lab(paler, redrawn=True, reached=(first,))
    assert redrawn is not first and redrawn.case.measures.greens is first.case.measures.greens
    other = start.with_lab(before.lab * np.float32([1.0, 0.7, 0.7]), reached=(first,))
    assert other.case.measures.greens != first.case.measures.greens
    touched = paler.copy()
    touched[70:76, 101:107, 0] -= 20  # a spot that lies between the few places asked first
    assert start.with_lab(touched, reached=(first,)).case.picture is not first.case.picture
    # What was made of other measures is measured from those, though the colours are the same.
    assert first.with_lab(paler, reached=(first,)) is not first


def test_a_picture_to_be_looked_at_holds_on_to_nothing_that_was_measured_of_it(before):
    measured = picture_from_lab(before.lab, before)
    lab_at(measured, 80)
    shown = without_kept(measured)
    assert shown.lab is measured.lab and shown.drawn is measured.drawn
    gone = weakref.ref(measured)
    del measured
    gc.collect()
    assert gone() is None


def test_a_change_that_was_tried_is_not_made_again():
    before = picture_of_lab(np.float32([50, -35, 45]) + bands(160, 240) / 20)  # all of it a strong green
    start = trial_of(Case.of(before, measure_picture(before), read_norms()))
    calm = Change("calm_greens", Calm(0.5))
    first = start.with_change(calm)
    assert start.with_change(calm, tried=(first,)) is first
    assert start.with_change(calm, redrawn=True, tried=(first,)) is not first
    assert start.with_change(calm.scaled(0.5), tried=(first,)) is not first
    assert start.with_change(Change("calm_greens", Calm(0.7)), tried=(first,)) is not first
