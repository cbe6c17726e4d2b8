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
from critique.advice.change_shape import MoveLine
from critique.advice.draft import Draft, Figure
from critique.advice.frame import Frame
from critique.errors import CritiqueError
from critique.perception.cielab import lab_to_lch, lab_to_linear, linear_to_lab
from critique.perception.difference import delta_e_2000
from critique.perception.green_weight import green_weight, may_be_green
from critique.photograph.scale import area_average
from critique.plain import plain
from critique.report.page import page_html
from critique.report.plates.review_plates import draw_plates
from critique.tasks.review import review_picture
from tests.advice.changes import bands, drafts_of, dusk, moor, picture_of_lab, trial_with, two_trees, warm_hills

# Together they give cause for every kind of change.
SCENES = {"bands": bands, "dusk": dusk, "two trees": two_trees, "warm hills": warm_hills, "moor": moor}


@dataclass(frozen=True, slots=True)
class Lift(Parameters):
    """The place at height ``y`` lighter by ``by`` L*, fading out over a tenth of the height."""

    y: float
    by: float

    def on(self, lab, frame):
        changed = lab.copy()
        changed[..., 0] += np.float32(self.by) * np.exp(-(((frame.down - self.y) / 0.1) ** 2))
        return changed


@pytest.fixture(scope="module", params=SCENES)
def scene(request):
    return SCENES[request.param]


@pytest.fixture(scope="module")
def trial(scene):
    return trial_with(scene(240, 360))


@pytest.fixture(scope="module")
def drafts(trial):
    return drafts_of(trial)


@pytest.mark.slow
def test_the_pictures_give_cause_for_every_kind_there_is():
    given = {draft.change.kind for make in SCENES.values() for draft in drafts_of(trial_with(make(240, 360)))}
    assert given == {kind.id for kind in CHANGE_KINDS}


def smaller(lab, long_edge):
    return linear_to_lab(area_average(lab_to_linear(lab), long_edge))


@pytest.mark.slow
def test_a_change_made_large_and_seen_small_is_the_change_made_small(drafts, scene):
    """At 2000 px and at 640 px of one picture; apart by less than is seen between two dabs side by side."""
    large = scene(1333, 2000, noise=0)
    small = smaller(large, 640)
    for draft in drafts:
        after, other = smaller(draft.change.apply(large), 640), draft.change.apply(small)
        assert after.shape == other.shape == small.shape
        assert delta_e_2000(after, other).mean() < 0.3, draft.change.kind


@pytest.mark.slow
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
            made = np.concatenate(rows)
            apart = np.abs(made - whole).max(axis=(1, 2)) > 0.01
            # A row that is stretched between four of the picture's lacks some of them where a strip ends.
            seams = 4 * (len(rows) - 1) if draft.change.kind == "move_division" else 0
            assert made.shape == whole.shape and apart.sum() <= seams, draft.change.kind


def test_a_change_leaves_its_argument_alone_and_is_the_same_each_time(drafts, trial):
    before = trial.lab.copy()
    for draft in drafts:
        assert (draft.change.apply(trial.lab) == draft.change.apply(trial.lab)).all()
        assert (trial.lab == before).all() and draft.change.apply(trial.lab).dtype == np.float32


def test_none_of_a_change_is_the_picture_and_more_of_it_goes_farther(drafts, trial):
    for draft in drafts:
        change = draft.change
        assert (change.scaled(0).apply(trial.lab) == trial.lab).all()
        moved = [np.abs(change.scaled(by).apply(trial.lab) - trial.lab).mean() for by in (0.5, 1, 1.5)]
        assert 0 < moved[0] < moved[1] < moved[2], change.kind
        half, full = change.scaled(0.5), change.scaled(0.5).scaled(2)
        assert half.strength == 0.5 and (full.apply(trial.lab) == change.apply(trial.lab)).all()


def test_a_green_turned_down_too_far_is_still_no_red():
    green = np.array([[[58, -34, 46]]], np.float32)
    mute = Change("mute_greens", Mute(12.0, (((58.0, 57.0, 126.5), (52.0, 16.0, 110.0)),)))
    L, C, h = lab_to_lch(mute.scaled(1.5).apply(green))[0, 0]
    assert 0 < C < 16 and 95 < h < 112 and abs(L - 58) < 1e-3, "values stay"


@pytest.mark.parametrize("by", [-0.1, 1.6, float("nan")])
def test_a_strength_out_of_range_is_refused_in_a_line(by):
    with pytest.raises(CritiqueError, match="times as strong"):
        Change("move_division", MoveLine(0.5, 0.4)).scaled(by)


def test_changes_compose_in_order():
    lab = np.full((200, 30, 3), 50, np.float32)
    lift, double = Change("lift", Lift(0.5, 20.0)), Change("double", Double())
    assert (compose([lift, double]).apply(lab) == double.apply(lift.apply(lab))).all()
    assert np.abs(compose([double, lift]).apply(lab) - compose([lift, double]).apply(lab)).max() > 1
    assert (compose([]).apply(lab) == lab).all()


@dataclass(frozen=True, slots=True)
class Double(Parameters):
    """Contrast about L* 50 doubled."""

    def on(self, lab, frame):
        return (lab - 50) * 2 + 50


def test_the_line_is_moved_in_the_same_format_and_what_stands_on_it_keeps_its_size():
    lab = np.full((400, 8, 3), (70, 0, -10), np.float32)
    lab[200:] = (50, -10, 20)
    lab[180:210] = (30, 0, 0)  # thirty rows high, across the line
    after = Change("move_division", MoveLine(0.5, 0.382)).apply(lab)
    rows = np.flatnonzero(after[:, 0, 0] < 40)
    assert after.shape == lab.shape and abs(len(rows) - 30) <= 2
    assert (rows[0] + 20 - 0.5) / 400 == pytest.approx(0.382, abs=0.01)
    assert np.abs(after[[0, -1]] - lab[[0, -1]]).max() < 1e-3


def test_a_place_stays_where_it_is_when_the_line_is_moved_before():
    lab = np.full((400, 30, 3), 50, np.float32)
    lift, move = Change("lift", Lift(0.6, 20.0)), Change("move_division", MoveLine(0.5, 0.4))
    late, early = compose([lift, move]).apply(lab), compose([move, lift]).apply(lab)
    assert early == pytest.approx(late, abs=0.05) and early[200].max() > 65


def test_a_change_travels_between_processes_and_into_the_record(drafts, trial):
    for draft in drafts:
        made = draft.with_recipes()
        again = pickle.loads(pickle.dumps(made))
        assert again.parameters == made.parameters and hash(again.parameters) == hash(made.parameters)
        assert (again.apply(trial.lab) == draft.change.apply(trial.lab)).all()
        assert len(json.dumps(again.as_dict(), allow_nan=False)) < 20_000, "maps are for drawing, not for the record"


def test_muting_carries_its_recipes_as_data():
    (mute, *_) = [draft for draft in drafts_of(trial_with(bands(240, 360))) if draft.change.kind == "mute_greens"]
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


@pytest.mark.slow
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


def test_the_quick_test_for_greens_misses_none_and_greens_alone_are_muted():
    rng = np.random.default_rng(7)
    lab = rng.uniform((0, -90, -90), (100, 90, 90), (200, 300, 3)).astype(np.float32)
    may = may_be_green(lab)
    assert (green_weight(lab)[~may] == 0).all()
    assert may.mean() < 0.4  # of all colours; it is worth asking
    muted = Mute(20.0, (((55.0, 60.0, 125.0), (50.0, 30.0, 110.0)), ((40.0, 50.0, 140.0), (40.0, 20.0, 120.0))))
    changed = muted.on(lab, Frame(200, 300))
    assert (changed[~may] == lab[~may]).all() and (changed[..., 0] == lab[..., 0]).all()
    strong = green_weight(lab) * (np.hypot(lab[..., 1], lab[..., 2]) > 60) == 1
    assert (np.hypot(changed[..., 1], changed[..., 2])[strong] < np.hypot(lab[..., 1], lab[..., 2])[strong] - 1).all()
