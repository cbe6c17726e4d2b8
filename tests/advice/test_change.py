"""A change is one function: at any size, in strips, turned up or down, one after another, and added by one entry."""

import json
import pickle
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import pytest

from critique.advice.change import Change, Parameters, compose
from critique.advice.change_green import Mute
from critique.advice.change_kind import ChangeKind
from critique.advice.change_kinds import CHANGE_KINDS, registered
from critique.advice.change_light import DarkenPlace
from critique.advice.change_shape import Crop, Touch
from critique.advice.draft import Draft, Figure
from critique.errors import CritiqueError
from critique.perception.cielab import lab_to_lch, lab_to_linear, linear_to_lab
from critique.perception.difference import delta_e_2000
from critique.photograph.scale import area_average
from critique.plain import plain
from critique.report.page import page_html
from critique.report.plates.review_plates import draw_plates
from critique.tasks.review import review_picture
from tests.advice.changes import bands, drafts_of, picture_of_lab, trial_with


@pytest.fixture(scope="module")
def trial():
    return trial_with(bands(240, 360))


@pytest.fixture(scope="module")
def drafts(trial):
    return drafts_of(trial)


def test_the_picture_gives_cause_for_every_kind_there_is(drafts):
    assert {draft.change.kind for draft in drafts} == {kind.id for kind in CHANGE_KINDS}


def smaller(lab, long_edge):
    return linear_to_lab(area_average(lab_to_linear(lab), long_edge))


def test_a_change_made_large_and_seen_small_is_the_change_made_small(drafts):
    """At 2000 px and at 640 px of one picture; apart by less than is seen between two dabs side by side."""
    large = bands(1333, 2000, noise=0)
    small = smaller(large, 640)
    for draft in drafts:
        after, other = smaller(draft.change.apply(large), 640), draft.change.apply(small)
        if draft.change.kind == "move_division":
            assert abs(after.shape[0] - other.shape[0]) <= 1
            rows = min(len(after), len(other))
            after, other = after[:rows], other[:rows]
        assert delta_e_2000(after, other).mean() < 0.3, draft.change.kind
        if draft.change.kind != "move_division":
            assert np.abs(other - small).max() > 1, "it does change something"


def test_strips_of_a_picture_change_as_the_whole_does(drafts, trial):
    lab = trial.lab
    height, width = lab.shape[:2]
    for draft in drafts:
        whole = draft.change.apply(lab)
        for down, across in (([0, 50, 51, 240], [0, width]), ([0, height], [0, 17, 200, width])):
            rows = [
                np.concatenate(
                    [
                        draft.change.apply(
                            lab[top:bottom, left:right],
                            box=(top / height, left / width, bottom / height, right / width),
                        )
                        for left, right in pairwise(across)
                    ],
                    axis=1,
                )
                for top, bottom in pairwise(down)
            ]
            assert np.concatenate(rows) == pytest.approx(whole, abs=0.01), draft.change.kind


def test_a_change_leaves_its_argument_alone_and_is_the_same_each_time(drafts, trial):
    before = trial.lab.copy()
    for draft in drafts:
        assert (draft.change.apply(trial.lab) == draft.change.apply(trial.lab)).all()
        assert (trial.lab == before).all() and draft.change.apply(trial.lab).dtype == np.float32


def test_none_of_a_change_is_the_picture_and_more_of_it_goes_farther(drafts, trial):
    for draft in drafts:
        change = draft.change
        assert (change.scaled(0).apply(trial.lab) == trial.lab).all()
        if change.kind == "move_division":
            heights = [len(change.scaled(by).apply(trial.lab)) for by in (0, 0.5, 1, 1.5)]
            assert heights == sorted(heights, reverse=True) and len(set(heights)) == 4
            continue
        moved = [np.abs(change.scaled(by).apply(trial.lab) - trial.lab).mean() for by in (0.5, 1, 1.5)]
        assert 0 < moved[0] < moved[1] < moved[2] or moved == [0, 0, 0], change.kind
        half, full = change.scaled(0.5), change.scaled(0.5).scaled(2)
        assert half.strength == 0.5 and (full.apply(trial.lab) == change.apply(trial.lab)).all()


def test_a_green_turned_down_too_far_is_still_no_red():
    green = np.array([[[58, -34, 46]]], np.float32)
    mute = Change("mute_greens", Mute(12.0, (((58.0, 57.0, 126.5), (52.0, 16.0, 110.0)),)))
    L, C, h = lab_to_lch(mute.scaled(1.5).apply(green))[0, 0]
    assert 0 < C < 16 and 95 < h < 112 and 48 < L < 52


@pytest.mark.parametrize("by", [-0.1, 1.6, float("nan")])
def test_a_strength_out_of_range_is_refused_in_a_line(by):
    with pytest.raises(CritiqueError, match="times as strong"):
        Change("move_division", Crop(0.1, 0, 1, 1)).scaled(by)


def test_changes_compose_in_order(trial):
    dark = Change("darken_edge", DarkenPlace(0.1, 0.9, 0.2, 16.0))
    touch = Change("add_relief", Touch(0.1, 0.9, 0.1, 2.0, (46.0, 30.0, 24.0)))
    one_by_one = touch.apply(dark.apply(trial.lab))
    assert (compose([dark, touch]).apply(trial.lab) == one_by_one).all()
    assert np.abs(compose([touch, dark]).apply(trial.lab) - one_by_one).max() > 1
    assert (compose([]).apply(trial.lab) == trial.lab).all()


def test_a_place_stays_where_it_is_when_the_picture_is_cropped_before(trial):
    dark, crop = Change("darken_edge", DarkenPlace(0.3, 0.8, 0.1, 16.0)), Change("move_division", Crop(0.25, 0, 1, 0.9))
    late, early = compose([dark, crop]).apply(trial.lab), compose([crop, dark]).apply(trial.lab)
    assert late.shape == early.shape == (180, 324, 3)
    assert early == pytest.approx(late, abs=0.01)


def test_a_crop_turned_up_leaves_something():
    lab = np.zeros((100, 10, 3), np.float32)
    assert len(Change("move_division", Crop(0.0, 0, 0.2, 1)).scaled(1.5).apply(lab)) == 10


def test_a_change_travels_between_processes_and_into_the_record(drafts, trial):
    for draft in drafts:
        again = pickle.loads(pickle.dumps(draft.with_recipes()))
        assert (again.apply(trial.lab) == draft.change.apply(trial.lab)).all()
        json.dumps(again.as_dict(), allow_nan=False)


def test_muting_carries_its_recipes_as_data(drafts):
    (mute, *_) = [draft for draft in drafts if draft.change.kind == "mute_greens"]
    change = mute.with_recipes()
    assert change.recipes and all(one.adds is not None and one.recipe.parts for one in change.recipes)
    for one, (source, made) in zip(change.recipes, change.parameters.mixtures, strict=True):
        assert lab_to_lch(np.array(one.lab)) == pytest.approx(made, abs=1e-6)
        assert one.recipe.target_lab[0] == pytest.approx(source[0], abs=1e-6)


@dataclass(frozen=True, slots=True)
class Brighten(Parameters):
    """All of it lighter by so many L*."""

    by: float

    def on(self, lab, frame):
        return np.clip(lab + np.float32([self.by, 0, 0]), 0, 100)


def brighten(trial, quieted):
    yield Draft.of(
        "brighten",
        Brighten(12.0),
        "Scrape the whole back and lay it in again on a white ground.",
        (Figure("middle value", lambda case: case.measures.values.percentiles["p50"], "{:.1f}".format, rises=True),),
        "The same picture on a white ground.",
    )


def test_a_kind_of_change_is_added_by_one_entry_and_stands_on_the_page_and_in_the_record():
    picture = picture_of_lab(np.concatenate([bands(240, 360)[180:] * np.float32([0.5, 1, 1])] * 2))
    entry = ChangeKind(
        "brighten", "begin on a white ground", ("green_strength", "value_range"), brighten, eager=lambda _: True
    )
    assert "brighten" not in json.dumps(review_picture(picture).as_dict())
    with registered(entry):
        review = review_picture(picture)
        html = page_html(review, draw_plates(review))
    (offer,) = [one for one in review.as_dict()["suggestions"] if one["kind"] == "brighten"]
    assert offer["subject"] == "begin on a white ground" and offer["parameters"] == {"by": 12.0}
    assert offer["before"]["middle value"] < offer["after"]["middle value"]
    assert "Begin on a white ground" in html and "lay it in again on a white ground" in html
    (made,) = [one for one in review.advice.suggestions if one.kind == "brighten"]
    assert plain(made.change.parameters) == {"by": 12.0} and made.preview.lab.mean() > picture.lab.mean()


def test_no_second_kind_of_one_id():
    with pytest.raises(ValueError, match="already"), registered(CHANGE_KINDS[0]):
        pass
