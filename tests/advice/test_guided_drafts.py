"""Changes that follow the masses: each moves its own figure the right way, where it should, and nothing else."""

import dataclasses

import numpy as np
import pytest

from critique.advice import green_drafts, guided_drafts, shape_drafts
from critique.advice.colour_findings import loudest_colour, loudest_told
from critique.advice.draft import Figure
from critique.advice.fault_limits import ONE_BLACK, is_raw_spot
from critique.advice.frame import Frame
from critique.advice.guiding import guide, guided
from critique.advice.kinds import kind_named
from critique.advice.photograph_moves import beyond_photograph
from critique.advice.small_map import SmallMap
from critique.advice.surroundings import surroundings
from critique.advice.verdict import verdict
from critique.perception.cielab import lab_to_lch, lch_to_lab
from tests.advice.changes import bands, dusk, trial_with, two_trees

SKY, FIELD = (76, -4, -14), (52, -16, 28)


@pytest.fixture(scope="module")
def evening():
    return trial_with(dusk(240, 360))


def only(make, trial):
    (draft,) = make(trial, False)
    return draft


def gain(trial, draft):
    return draft.figures[0].gain(trial.case, trial.with_draft(draft).case)


def test_a_small_map_is_the_same_in_strips_and_holds_a_ramp():
    ramp = np.linspace(0, 1, 300)[:, None] * np.ones(200)
    small = SmallMap.of(ramp)
    whole = small.on(Frame(90, 60))
    strip = small.on(Frame(30, 60, (1 / 3, 0, 2 / 3, 1)))
    assert strip == pytest.approx(whole[30:60], abs=1e-5)
    assert whole[5:-5, 30, 0] == pytest.approx((np.arange(90)[5:-5] + 0.5) / 90, abs=0.006)
    assert max(small.rows, small.columns) == 64 and small == SmallMap.of(ramp)


def test_a_guided_mask_ends_where_the_colour_ends_at_any_size():
    """The mask is told on 160 px; at 800 px its border lies on the border of the colours, and not cells away."""
    lab = np.full((120, 160, 3), SKY, np.float32)
    lab[60:] = FIELD
    small = guide(lab, (np.arange(120) >= 60)[:, None] * np.ones(160), 0.05, (5, 5, 5))
    large = np.repeat(np.repeat(lab, 5, axis=0), 5, axis=1)
    mask = guided(small, large, Frame(600, 800))
    assert mask[:299].max() < 0.15 and mask[301:].min() > 0.85


def test_what_lies_around_a_thing_flows_into_its_place():
    lab = np.full((100, 100, 3), SKY, np.float32)
    thing = np.zeros((100, 100), np.float32)
    lab[40:60, 40:60], thing[40:60, 40:60] = (20, 30, 30), 1
    assert surroundings(lab, thing)[50, 50] == pytest.approx(SKY, abs=0.5)
    assert np.isfinite(surroundings(lab, np.ones((100, 100)))).all()


@pytest.mark.slow
def test_confetti_is_gathered_and_the_masses_stay_apart():
    lab = np.full((240, 360, 3), SKY, np.float32)
    lab[120:] = FIELD
    steps = np.random.default_rng(2).choice([-18.0, 18.0], (20, 30))
    lab[..., 0] += np.repeat(np.repeat(steps, 12, axis=0), 12, axis=1)
    trial = trial_with(lab)
    after = trial.with_draft(only(guided_drafts.gather, trial)).lab
    assert gain(trial, only(guided_drafts.gather, trial)) > 0.3
    assert after[:120, :, 0].std() < 0.6 * trial.lab[:120, :, 0].std()
    apart = [one[:120, :, 0].mean() - one[120:, :, 0].mean() for one in (trial.lab, after)]
    assert apart[1] > 0.9 * apart[0] and np.abs(after[..., 1:] - trial.lab[..., 1:]).max() < 0.01


def test_closed_darks_open_and_lights_stay(evening):
    draft = only(guided_drafts.open_darks, evening)
    moved = draft.change.apply(evening.lab) - evening.lab
    dark, light = evening.lab[..., 0] < 12, evening.lab[..., 0] > 45
    assert moved[dark, 0].mean() > 5 and np.abs(moved[light]).max() < 0.01
    assert gain(evening, draft) > 0.5


def a_black_wood():
    """One near-black wood of a sixth of the picture, in which small lights lie."""
    rng = np.random.default_rng(4)
    lab = np.full((240, 360, 3), (55.0, -8.0, 24.0), dtype=np.float32)
    lab[60:180, 20:140] = (12, 0, 0)
    lab[..., 0] += rng.normal(0, 2.5, (240, 360))
    return trial_with(np.maximum(lab, (1, -99, -99)).astype(np.float32))


def test_one_black_mass_is_opened_and_what_is_won_is_measured_on_it():
    """Of a wood of a seventh of the picture it was told that its closed darks went from 2.2 to 1.4 %."""
    trial = a_black_wood()
    draft = only(guided_drafts.open_darks, trial)
    assert draft.figures == (guided_drafts.ONE_BLACK,) and gain(trial, draft) > 0.3


def test_of_one_black_mass_the_finding_its_change_and_the_verdict_tell_the_same():
    trial = a_black_wood()
    (black,) = [finding for finding in trial.findings if finding.kind == "closed_darks"]
    covered, darks = only(guided_drafts.open_darks, trial).figures[0], trial.case.measures.closed_darks
    assert covered.read(trial.case) == pytest.approx(120 * 120 / (240 * 360), abs=0.02)
    assert black.figure_text.startswith(f"{covered.text(covered.read(trial.case))} of the picture")
    assert black.limit == ONE_BLACK < black.figure == darks.one_black
    told = verdict(trial.case, (black,), ())[0]
    assert "its near-black mass (" in told and "closed" not in told


def test_dead_colour_wakes_and_values_stay(evening):
    draft = only(guided_drafts.wake_colour, evening)
    assert gain(evening, draft) > 0.3
    assert (draft.change.apply(evening.lab)[..., 0] == evening.lab[..., 0]).all()


def test_a_garish_field_is_quieted_and_its_neighbours_are_not():
    lab = np.full((240, 360, 3), SKY, np.float32)
    lab[120:] = (50, 2, 14)
    lab[150:200, 100:220] = (52, 70, -14)
    trial = trial_with(lab + np.random.default_rng(1).normal(0, 1, lab.shape).astype(np.float32))
    draft = only(guided_drafts.quiet_loudest, trial)
    after = draft.change.apply(trial.lab)
    assert lab_to_lch(after[160:190, 110:210].mean(axis=(0, 1)))[1] < 40
    assert np.abs(after[:100] - trial.lab[:100]).max() < 0.01 and gain(trial, draft) > 0.3


@pytest.mark.parametrize(("chroma", "least", "most"), [(72, 0.2, 0.45), (41, 0.7, 0.98)])
def test_the_farther_a_field_shouts_the_nearer_it_comes_to_what_fields_have(chroma, least, most):
    """A raw pink third of a picture stayed at nearly what one part in a hundred of any landscape reaches at most."""
    lab = np.full((240, 360, 3), SKY, np.float32)
    lab[120:] = (50, 2, 14)
    lab[160:] = lch_to_lab(np.array([52.0, chroma, 20.0]))
    trial = trial_with(lab + np.random.default_rng(1).normal(0, 1, lab.shape).astype(np.float32))
    after = only(guided_drafts.quiet_loudest, trial).change.apply(trial.lab)
    left = lab_to_lch(after[170:230].mean(axis=(0, 1)))[1]
    assert least < left / chroma < most


def test_a_small_raw_thing_is_quieted_and_warm_rocks_that_are_not_loud_stay():
    """Beside a raw red roof the golden rocks on a beach went grey with it."""
    lab = np.full((240, 360, 3), SKY, np.float32)
    lab[120:] = (50, 2, 14)
    lab[180:220, 200:340] = (56, 24, 38)
    lab[100:116, 150:174] = (55, 72, 56)
    trial = trial_with(lab + np.random.default_rng(1).normal(0, 1, lab.shape).astype(np.float32))
    assert is_raw_spot(trial.case.measures.loudest)
    after = only(guided_drafts.quiet_loudest, trial).change.apply(trial.lab)
    assert np.abs(after[190:210, 220:320].mean(axis=(0, 1)) - trial.lab[190:210, 220:320].mean(axis=(0, 1))).max() < 0.5
    assert lab_to_lch(after[104:110, 156:165].mean(axis=(0, 1)))[1] < 72


def test_a_strip_of_azure_in_a_grey_meadow_is_quieted_and_no_other_blue_is():
    """It is no louder than a sky may be, and yet nothing in the picture is like it."""
    lab = np.full((240, 360, 3), (70, 0, 3), np.float32)
    lab[130:] = (44, -6, 14)
    lab[175:184, 40:130] = lch_to_lab(np.array([58.0, 38.0, 258.0]))
    lab[20:80, 200:300] = lch_to_lab(np.array([66.0, 12.0, 262.0]))
    trial = trial_with(lab + np.random.default_rng(1).normal(0, 1, lab.shape).astype(np.float32))
    assert trial.case.measures.loudest.excess < 1.0
    draft = only(guided_drafts.quiet_loudest, trial)
    after = draft.change.apply(trial.lab)
    assert lab_to_lch(after[178:181, 60:110].mean(axis=(0, 1)))[1] < 30 and gain(trial, draft) > 0.5
    assert np.abs(after[20:80, 200:300].mean(axis=(0, 1)) - trial.lab[20:80, 200:300].mean(axis=(0, 1))).max() < 0.5


def test_the_loudest_colour_has_one_name_and_place_in_the_finding_and_in_the_change():
    lab = np.full((240, 360, 3), SKY, np.float32)
    lab[150:] = (24, 24, -54)
    trial = trial_with(lab + np.random.default_rng(1).normal(0, 1, lab.shape).astype(np.float32))
    name, where = loudest_told(trial.case.measures.loudest)
    found = loudest_colour(trial.case, kind_named("loudest_colour"))
    assert found is not None and f"{name} {where}" in found.text
    assert only(guided_drafts.quiet_loudest, trial).text.startswith(f"Quiet the {name} {where}.")


def test_of_two_trees_one_is_quieted():
    trial = trial_with(two_trees(240, 360))
    draft = only(guided_drafts.quiet_second, trial)
    moved = np.abs(draft.change.apply(trial.lab) - trial.lab)[..., 0]
    sides = sorted([moved[:, :180].max(), moved[:, 180:].max()])
    assert sides[0] < 1 and sides[1] > 15


def test_a_bright_corner_is_quieted_there_and_nowhere_else():
    trial = trial_with(bands(240, 360))
    draft = only(guided_drafts.quiet_edge, trial)
    moved = np.abs(draft.change.apply(trial.lab) - trial.lab).max(axis=-1)
    assert moved[215:, :30].mean() > 15 and moved[:, 150:].max() < 0.5
    assert gain(trial, draft) > 0.1


@pytest.mark.slow
def test_a_thing_cut_off_by_an_edge_is_quieted_whole_or_not_at_all():
    for high, offered in ((0.12, True), (0.8, False)):
        lab = np.full((240, 360, 3), (60, 2, 12), np.float32)
        lab += np.random.default_rng(4).normal(0, 1, lab.shape).astype(np.float32)
        for x in (120, 200, 280):
            lab[100:130, x : x + 12], lab[100:130, x + 12 : x + 24] = (92, 0, 8), (12, 0, 0)
        lab[round(240 * (0.5 - high / 2)) : round(240 * (0.5 + high / 2)), :14] = (58, -6, -40)
        trial = trial_with(lab)
        assert trial.case.measures.eyepath.strongest_pull.place == "left edge"
        assert bool(list(guided_drafts.quiet_edge(trial, False))) == offered


def test_one_flat_green_becomes_several_and_the_sky_stays():
    lab = np.full((240, 360, 3), SKY, np.float32)
    lab[100:] = (52, -22, 30)
    trial = trial_with(lab + np.random.default_rng(3).normal(0, 1, lab.shape).astype(np.float32))
    draft = only(green_drafts.vary, trial)
    after = draft.change.apply(trial.lab)
    assert np.abs(after[:90] - trial.lab[:90]).max() < 0.5
    hues = lab_to_lch(after[105:].mean(axis=1))[:, 2]
    assert hues.max() - hues.min() > 10 and after[225:, :, 0].mean() < after[150:160, :, 0].mean() - 5
    assert draft.figures[0].moves(trial.case, trial.with_draft(draft).case)


def test_green_that_is_yellow_already_is_not_turned_brown():
    lab = np.full((240, 360, 3), SKY, np.float32)
    lab[100:] = (55, -7, 34)
    trial = trial_with(lab + np.random.default_rng(3).normal(0, 1, lab.shape).astype(np.float32))
    after = only(green_drafts.vary, trial).change.apply(trial.lab)
    assert lab_to_lch(after[105:].mean(axis=1))[:, 2].min() > 96


def test_a_range_is_widened_as_far_as_three_in_four_landscapes():
    trial = trial_with(bands(240, 360) * np.float32([0.3, 1, 1]) + np.float32([35, 0, 0]))
    draft = only(shape_drafts.widen, trial)
    after = trial.with_draft(draft).case
    assert after.measures.values.range == pytest.approx(trial.case.norms.at("values.range", 25), abs=0.4)
    assert draft.figures[0].moves(trial.case, after)


@pytest.mark.slow
def test_an_end_of_the_values_that_stays_is_not_told_to_move():
    """Where the darks are as dark as paint goes there is only room above, and the other way round."""
    for lift, moved, kept in ((-40, "lights", "darks"), (36, "darks", "lights")):
        lab = bands(240, 360) * np.float32([0.3, 1, 1]) + np.float32([35 + lift, 0, 0])
        text = only(shape_drafts.widen, trial_with(lab)).text
        assert text.startswith(f"Push the {moved} to about") and f"the {kept} may stay" in text
    middle = trial_with(bands(240, 360) * np.float32([0.3, 1, 1]) + np.float32([35, 0, 0]))
    assert "and the lights to" in only(shape_drafts.widen, middle).text


@pytest.mark.slow
def test_a_figure_that_goes_the_wrong_way_or_less_far_than_another_photograph_takes_it_is_no_gain():
    def trial(share):
        lab = np.full((240, 360, 3), SKY, np.float32)
        lab[round(240 * share) :] = FIELD
        return trial_with(lab + np.random.default_rng(4).normal(0, 1.5, lab.shape).astype(np.float32)).case

    one, two, near = trial(0.5), trial(0.8), trial(0.52)
    area = Figure("area", lambda case: case.measures.greens.area_share, str, record="greens.area_share")
    assert area.gain(one, two) == pytest.approx(0.6, abs=0.05)
    assert area.gain(two, one) == pytest.approx(-0.6, abs=0.05)
    up = dataclasses.replace(area, rises=True)
    assert up.gain(one, two) == pytest.approx(-0.6, abs=0.05)
    assert area.moves(one, two) and not area.moves(one, near) and not area.moves(two, one)
    assert beyond_photograph("values.range", 4.0, 4.2) is False and beyond_photograph("values.range", 4.0, 5.0)
    assert beyond_photograph("no such figure", 0, 1) is None


def test_what_a_change_moved_is_said_in_a_painters_words():
    """A first step ended with: light and dark scraps within the masses (L*), from 6.9 to 5.2."""
    figures = [
        one
        for module in (green_drafts, guided_drafts, shape_drafts)
        for one in vars(module).values()
        if isinstance(one, Figure)
    ]
    names = [one.name for one in figures]
    assert len(names) >= 10 and not any("scraps" in name or "L*" in name or " against " in name for name in names)
    assert all("(1 is" in one.name for one in figures if one in (guided_drafts.LOUDNESS, guided_drafts.PULL))
    assert guided_drafts.SCRAPS.text(6.9) == "0.69"  # of a value, as its name says


def test_strokes_in_an_opened_dark_stand_apart_more_and_its_rim_is_no_darker_for_the_light_beside_it():
    rng = np.random.default_rng(5)
    lab = np.full((240, 360, 3), (70.0, -4.0, 20.0), dtype=np.float32)
    lab[60:180, 60:300] = (9.0, 1.0, 2.0)
    lab[60:180, 60:300, 0] += np.repeat(np.repeat(rng.normal(0, 1.5, (20, 40)), 6, axis=0), 6, axis=1)
    trial = trial_with(lab)
    moved = only(guided_drafts.open_darks, trial).change.apply(trial.lab)[..., 0] - trial.lab[..., 0]
    dark = trial.lab[..., 0] < 20
    assert np.corrcoef(moved[dark], trial.lab[..., 0][dark])[0, 1] > 0.5
    rim, inside = moved[64:176, 62:66].mean(), moved[100:140, 120:240].mean()
    assert abs(rim - inside) < 0.2 * inside
