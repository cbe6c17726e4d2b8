"""Changes of light that are tried on a picture: each moves its own figure the right way and leaves the rest alone."""

import dataclasses

import numpy as np
import pytest

from critique.advice import light_drafts, shape_drafts
from critique.advice.draft import Figure
from critique.advice.frame import Frame
from critique.advice.judging import Case
from critique.advice.norms import read_norms
from critique.advice.previews import belonging, recede_greens, shift_value, soft_spot, split_light
from critique.advice.recipe_words import recipes_in_words
from critique.advice.trial import trial_of
from critique.measures.families import measure_families
from critique.measures.measure import measure_picture
from critique.perception.cielab import lab_to_lch
from critique.perception.hue import RELIEF
from critique.picture.picture import picture_from_lab, picture_from_srgb

SKY, FIELD, WATER = (76, -4, -14), (52, -16, 28), (52, -8, -22)


def trial_with(*rows, noise=1.5):
    """A trial of level bands, each (share, Lab)."""
    lab = np.concatenate([np.full((round(share * 240), 360, 3), colour, np.float32) for share, colour in rows])
    lab += np.random.default_rng(4).normal(0, noise, lab.shape).astype(np.float32)
    picture = picture_from_lab(lab, picture_from_srgb(np.zeros(lab.shape, np.uint8)))
    return trial_of(Case.of(picture, measure_picture(picture), read_norms()))


def draft_of(make, trial):
    """The only draft that a maker gives."""
    (draft,) = make(trial, False)
    return draft


def tried(trial, draft):
    return trial.with_draft(draft)


def test_far_greens_are_quieter_lighter_and_cooler_and_the_foreground_is_as_it_was():
    trial = trial_with((0.4, SKY), (0.6, FIELD))
    assert trial.level("green_distance") == 1
    draft = draft_of(light_drafts.recede, trial)
    after = tried(trial, draft)
    assert {"quieter", "cooler"} <= set(after.case.measures.green_kinds.recedes)
    assert after.level("green_distance") == 0
    assert np.abs(after.lab[175:] - trial.lab[175:]).max() < 1.5
    assert np.abs(after.lab[:90] - trial.lab[:90]).mean() < 0.1, "the sky is no green"
    told = recipes_in_words(draft.recipes())
    assert told.startswith("Near: ") and " Far: " in told


def test_no_step_appears_where_the_far_greens_begin():
    lab = np.tile(np.array(FIELD, np.float32), (300, 4, 1))
    after = recede_greens(lab, Frame(300, 4), 40 / 300, 260 / 300, 0.6, 5.0, 16.0)
    assert np.abs(np.diff(after[:, 0], axis=0)).max() < 0.25
    L, C, h = (float(part) for part in lab_to_lch(after[0, 0]) - lab_to_lch(lab[0, 0]))
    assert (L, C / lab_to_lch(lab[0, 0])[1], h) == pytest.approx((5, -0.4, 16), abs=0.05)


def test_warm_lights_over_cool_darks_bring_a_second_hue_and_keep_the_values():
    trial = trial_with((0.34, (80, 0, 11)), (0.33, (55, 0, 12)), (0.33, (25, 0, 11)))
    assert trial.level("colour_run") == 1
    draft = draft_of(light_drafts.warm_lights, trial)
    after = tried(trial, draft)
    assert after.case.measures.variety.effective_hues > trial.case.measures.variety.effective_hues + 0.5
    assert draft.figures[0].gain(trial.case, after.case) > 0.1
    assert after.lab[..., 0] == pytest.approx(trial.lab[..., 0], abs=0.8)


def test_white_and_black_take_no_tint():
    lab = np.array([[[100, 0, 0], [0, 0, 0], [80, 0, 0], [20, 0, 0], [50, 0, 0]]], np.float32)
    after = split_light(lab, 40, 60, (-1, -9), (6, 10))[0, :, 1:]
    assert after[0] == pytest.approx([0, 0]) and after[1] == pytest.approx([0, 0])
    assert (
        after[2] == pytest.approx([6, 10]) and after[3] == pytest.approx([-1, -9]) and after[4] == pytest.approx([0, 0])
    )


def test_a_bright_corner_is_darkened_there_and_nowhere_else():
    lab = np.full((240, 360, 3), (45, 2, 6), np.float32)
    lab[:36, :50] = (93, 0, 4)
    lab[130:150, 200:220] = (62, 20, 30)
    lab += np.random.default_rng(1).normal(0, 1, lab.shape).astype(np.float32)
    picture = picture_from_lab(lab, picture_from_srgb(np.zeros(lab.shape, np.uint8)))
    trial = trial_of(Case.of(picture, measure_picture(picture), read_norms()))
    draft = draft_of(light_drafts.darken_edge, trial)
    pull = trial.case.measures.eyepath.strongest_pull
    assert "corner" in pull.place and pull.x < 0.2 and pull.y < 0.25
    moved = draft.change.apply(trial.lab) - trial.lab
    assert moved[:36, :50, 0].mean() < -10 and np.abs(moved[..., 1:]).max() == 0
    assert np.abs(moved[150:, 240:]).max() < 0.5
    assert draft.figures[0].gain(trial.case, tried(trial, draft).case) > 0.05


def test_a_green_that_is_one_value_with_the_water_beside_it_is_parted_from_it():
    trial = trial_with((0.3, SKY), (0.35, WATER), (0.35, FIELD))
    assert trial.level("green_neighbours") == 1
    draft = draft_of(light_drafts.part_values, trial)
    after = tried(trial, draft)
    assert after.level("green_neighbours") == 0
    assert abs(after.case.measures.neighbours.value_difference) == pytest.approx(0.9, abs=0.15)
    assert draft.figures[0].gain(trial.case, after.case) > 0.5
    green = slice(160, None)
    assert lab_to_lch(after.lab[green].mean(axis=(0, 1)))[1:] == pytest.approx(
        lab_to_lch(trial.lab[green].mean(axis=(0, 1)))[1:], abs=1.5
    )
    assert np.abs(after.lab[:150] - trial.lab[:150]).mean() < 0.3
    assert "The green as it is: " in recipes_in_words(draft.recipes())


def test_families_pass_into_each_other_without_a_step():
    picture = picture_from_lab(
        np.concatenate([np.full((40, 60, 3), colour, np.float32) for colour in (SKY, WATER, FIELD)]),
        picture_from_srgb(np.zeros((120, 60, 3), np.uint8)),
    )
    families = measure_families(picture)
    index = max(range(len(families)), key=lambda number: families[number].lab[2])
    way = np.linspace(0, 1, 500)[:, None] * (np.array(FIELD) - WATER) + WATER
    weight = belonging(way.astype(np.float32)[None], [family.lab for family in families], index)[0]
    assert weight[0] < 0.01 < 0.99 < weight[-1] and np.diff(weight).max() < 0.05 and (np.diff(weight) >= -1e-6).all()


def test_the_touch_of_relief_is_the_pictures_own_red_where_it_has_one():
    plain = trial_with((0.4, SKY), (0.6, FIELD))
    assert "that the picture has" not in draft_of(shape_drafts.accent, plain).text
    lab = plain.lab.copy()
    lab[80:96, 20:60] = (48, 34, 30)
    picture = picture_from_lab(lab, plain.case.picture)
    trial = trial_of(Case.of(picture, measure_picture(picture), read_norms()))
    draft = draft_of(shape_drafts.accent, trial)
    assert "reddish" in draft.text and "that the picture has" in draft.text
    after = draft.change.apply(trial.lab)
    stroke = np.abs(after - trial.lab).max(axis=-1) > 5
    assert 0.001 < stroke.mean() < 0.01 and RELIEF.contains(after[stroke]).mean() > 0.5
    assert draft.figures[0].gain(trial.case, tried(trial, draft).case) > 0.05


def test_a_figure_that_goes_the_wrong_way_is_no_gain():
    one, two = trial_with((0.5, SKY), (0.5, FIELD)), trial_with((0.8, SKY), (0.2, FIELD))
    area = Figure("area", lambda case: case.measures.greens.area_share, str)
    assert area.gain(one.case, two.case) == pytest.approx(0.6, abs=0.05)
    assert area.gain(two.case, one.case) == pytest.approx(-0.6, abs=0.05)
    up = dataclasses.replace(area, rises=True)
    assert up.gain(one.case, two.case) == pytest.approx(-0.6, abs=0.05)


def test_values_stay_on_the_scale_and_a_spot_is_one_where_it_lies():
    lab = np.array([[[5, 1, 2], [97, 1, 2]]], np.float32)
    assert shift_value(lab, np.array([[-9.0, 9.0]]))[0, :, 0] == pytest.approx([2, 98])
    spot = soft_spot(Frame(51, 101), 25.5 / 101, 0.5, 0.1)
    assert spot.max() == spot[25, 25] == 1
    assert spot[25, 35] == pytest.approx(np.exp(-((10 / 10.1) ** 2) / 2), rel=1e-5)
