"""One aim: what is taken, left and turned, greens brought down, and colours led toward another picture."""

import dataclasses

import numpy as np
import pytest
from demo_pictures import demo_path
from measured import measured

from critique.advice.change import Change, compose
from critique.advice.change_calm import Calm
from critique.advice.change_kinds import all_change_kinds
from critique.advice.change_light import Widen
from critique.advice.frame import WHOLE, Frame
from critique.advice.green_drafts import mute
from critique.advice.judging import Case
from critique.advice.leading import lead_toward, monge_map, parts_in_words
from critique.advice.norms import read_norms
from critique.advice.trial import trial_of
from critique.errors import CritiqueError, WrongUsage
from critique.measures.greens import measure_greens
from critique.measures.measure import measure_picture
from critique.paints.box import box_of, default_box
from critique.perception.cielab import lab_to_linear, lab_to_srgb8, linear_to_lab, srgb8_to_lab
from critique.perception.difference import delta_e_2000
from critique.perception.green_weight import green_weight
from critique.perception.hue import beyond_leaf, leaf_limit
from critique.picture.picture import Picture, picture_from_lab, picture_from_srgb
from critique.picture.read import read_picture
from critique.report.quick_change import QuickChange
from critique.tasks.aim import Wanted, asked_of
from critique.tasks.greens_reached import bring_down, eased_in_words, is_seen, is_too_green
from critique.tasks.plan import plan_repaint


@pytest.mark.slow
def test_the_aim_of_too_green_a_picture_is_within_the_leaf_limit_and_has_half_the_green(plan):
    greens = plan.aim.after.case.measures.greens
    before = plan.aim.before.case.measures.greens
    assert before.beyond_leaf_share > 0.3
    assert greens.beyond_leaf_share <= 0.005
    assert greens.chroma_share <= 0.51 * before.chroma_share or plan.aim.greens.reached == "not halved"


@pytest.mark.slow
def test_the_aim_is_its_changes_made_in_order_on_the_picture(plan, meadow):
    composed = compose([step.change for step in plan.aim.steps])
    again = picture_from_lab(composed.apply(plan.aim.before.lab), meadow)
    assert np.abs(again.lab - plan.aim.picture.lab).max() < 0.05


@pytest.mark.slow
def test_a_change_that_is_left_is_not_made_and_says_so(meadow, four_tubes, plan):
    first = plan.aim.steps[0].kind
    other = plan_repaint(meadow, box=four_tubes, leave=[first.replace("_", " ")])
    assert first not in [step.kind for step in other.aim.steps]
    assert [one.reason for one in other.aim.left_out if one.kind == first] == ["you left it"]


@pytest.mark.slow
def test_a_change_can_not_be_taken_and_left_at_once(meadow, four_tubes):
    kind = all_change_kinds()[0].id
    with pytest.raises(CritiqueError, match="both taken and left"):
        plan_repaint(meadow, box=four_tubes, take=[kind], leave=[kind])


@pytest.mark.slow
def test_a_change_is_turned_by_its_title(meadow, four_tubes, plan):
    step = next(step for step in plan.aim.steps if step.kind == "mute_greens")
    other = plan_repaint(meadow, box=four_tubes, turned={step.title: 0.5})
    assert next(one for one in other.aim.steps if one.kind == "mute_greens").turned == 0.5


def test_what_is_turned_to_nothing_is_left():
    assert asked_of(Wanted(turned={"mute greens": 0})) == asked_of(Wanted(leave=("mute_greens",)))


@pytest.mark.slow
def test_the_aim_without_what_is_turned_to_nothing_tells_of_no_such_step(meadow, four_tubes, plan):
    first = plan.aim.steps[0].kind
    turned, left = (
        plan_repaint(meadow, box=four_tubes, **asked) for asked in ({"turned": {first: 0}}, {"leave": [first]})
    )
    assert turned.as_dict() == left.as_dict() and first not in [step.kind for step in turned.aim.steps]


@pytest.mark.parametrize("by", ["x", None, -0.1, 1.51, float("nan"), float("inf")])
def test_what_no_change_can_be_turned_by_is_refused_before_anything_is_measured(by):
    with pytest.raises(WrongUsage, match="times as strong"):
        plan_repaint(None, turned={"mute_greens": by})


@pytest.mark.slow
def test_a_box_that_quiets_no_green_leaves_the_aim_a_meadow_and_says_what_it_lacks():
    demo = read_picture(demo_path("tolvesk_01_ostermell_meadow.jpg"))
    measures = measure_picture(demo)
    small = box_of(["PG7", "PY74", "chromium oxide green"])
    made = {}
    for name, box in (("small", small), ("set", default_box())):
        (draft,) = mute(trial_of(Case.of(demo, measures, read_norms(), box)), False)
        made[name] = draft
        for green in draft.greens:
            assert green.target.hue > 110, "straw begins below: a green stays one"
    assert "No one paint of this box quiets them and leaves a green: mix the quiet green afresh" in made["small"].text
    assert "this box" not in made["set"].text
    labs = [draft.change.apply(demo.lab) for draft in made.values()]
    assert delta_e_2000(*labs).mean() < 3, "the same sentences make the same meadow"


@pytest.mark.slow
def test_muting_keeps_every_value(plan):
    step = next(step for step in plan.aim.steps if step.kind == "mute_greens")
    before = plan.aim.before.lab
    assert np.array_equal(step.change.apply(before)[..., 0], before[..., 0])


def test_quiet_greens_are_not_quieted_by_what_nobody_would_see_and_nothing_is_said_of_grey_grass():
    quiet = np.full((180, 240, 3), (45, -9, 14), np.float32)
    quiet[:60] = (80, 0, 6)
    quiet += np.random.default_rng(6).normal(0, 2, (180, 240, 1)).astype(np.float32)
    scene = picture_from_srgb(lab_to_srgb8(quiet), "quiet.png")
    case = Case.of(scene, measured(scene), read_norms())
    assert is_too_green(case.measures.greens)
    reached = bring_down(trial_of(case), trial_of(case))
    assert reached.changes == () and reached.text == ""


@pytest.mark.slow
def test_a_crop_is_taken_only_on_purpose(plan):
    whole = Frame(90, 120)
    for step in plan.aim.steps:
        assert step.change.parameters.frame_left(whole, 1.0) == whole


@pytest.mark.slow
@pytest.mark.parametrize("given", [{"take": ["fly"]}, {"leave": ["fly"]}, {"turned": {"fly": 1.0}}])
def test_a_change_that_there_is_not_is_refused_in_one_line(meadow, four_tubes, given):
    with pytest.raises(CritiqueError, match="no change called 'fly'"):
        plan_repaint(meadow, box=four_tubes, **given)


def test_calming_keeps_values_and_hues_and_brings_every_green_under_the_limit():
    rng = np.random.default_rng(1)
    L, C, h = rng.uniform(20, 90, 4000), rng.uniform(12, 110, 4000), rng.uniform(115, 175, 4000)
    lab = np.stack([L, C * np.cos(np.radians(h)), C * np.sin(np.radians(h))], axis=-1).astype(np.float32)[None]
    calm = Calm(1.0).on(lab, Frame(1, 4000))
    assert np.array_equal(calm[..., 0], lab[..., 0])
    turned = np.degrees(np.arctan2(calm[..., 2], calm[..., 1])) - h
    assert np.abs(turned).max() < 0.01
    whole = green_weight(lab) > 0.999
    assert (np.hypot(calm[..., 1], calm[..., 2])[whole] <= leaf_limit(L)[whole[0]] + 1e-3).all()


def test_the_map_between_two_spreads_is_that_of_olkin_and_pukelsheim():
    # Linear Algebra Appl. 48, 1982: T is symmetric and T S T = W, which for commuting matrices is (W/S)^½.
    first, second = np.diag([4.0, 9.0]), np.diag([1.0, 16.0])
    assert np.allclose(monge_map(first, second), np.diag([0.5, 4 / 3]))
    rng = np.random.default_rng(2)
    one = rng.normal(size=(2, 2))
    other = rng.normal(size=(2, 2))
    S, W = one @ one.T + 3 * np.eye(2), 0.3 * (other @ other.T) + np.eye(2)
    T = monge_map(S, W)
    assert np.allclose(T, T.T) and np.allclose(T @ S @ T, W)


def test_greens_led_toward_another_picture_come_to_lie_where_its_greens_lie(meadow):
    quiet = srgb8_to_lab(meadow.srgb)
    weight = green_weight(quiet)[..., None]
    quiet[..., 1:] += weight * (np.array([-10.0, 16.0]) + 0.2 * (quiet[..., 1:] - np.array([-46, 50])) - quiet[..., 1:])
    other = picture_from_lab(quiet.astype(np.float32), meadow)
    led = lead_toward(meadow, other).apply(meadow.lab)
    assert np.array_equal(led[..., 0], meadow.lab[..., 0])
    green = green_weight(meadow.lab) > 0.9
    assert np.abs(led[green].mean(axis=0)[1:] - other.lab[green].mean(axis=0)[1:]).max() < 2.5
    grey = green_weight(meadow.lab) == 0
    assert np.allclose(led[grey], meadow.lab[grey], atol=1e-4)


def parted(sky, far, near, *, size=(240, 320)):
    """A sky with clouds over two bands of land, all a little uneven, so that parts are surely found."""
    rng = np.random.default_rng(3)
    lab = np.zeros((*size, 3), np.float32)
    lab[:110], lab[110:150], lab[150:] = sky, far, near
    lab[20:45, 60:140] = (92, 0, 3)
    lab[110:] += rng.normal(0, 3, (size[0] - 110, size[1], 1)).astype(np.float32) * (1, 0.3, 0.3)
    from critique.picture.picture import picture_from_srgb

    return picture_from_srgb(lab_to_srgb8(lab))


def test_sky_is_led_to_sky_and_land_to_land():
    own = parted((75, -6, -20), (50, -14, 20), (45, -20, 30))
    other = parted((70, 14, 6), (50, 6, 18), (40, 10, 24))
    change = lead_toward(own, other, everything=True)
    assert {"sky", "near"} <= {one.part for one in change.parameters.within}
    assert "sky to sky" in parts_in_words(change) and "near land to near land" in parts_in_words(change)
    led = change.apply(own.lab)
    for rows in (slice(60, 100), slice(170, 230)):
        wanted, made = (lab[rows, 180:300].mean(axis=(0, 1))[1:] for lab in (other.lab, led))
        assert np.abs(made - wanted).max() < 4, rows
    assert np.array_equal(led[..., 0], own.lab[..., 0])
    # Led as one, a green meadow has no green to go to, and the sky is pulled toward the earth of the land.
    whole = dataclasses.replace(change.parameters, within=()).on(own.lab, Frame(*own.lab.shape[:2]))
    off = [np.abs(lab[170:230, 180:300].mean(axis=(0, 1)) - other.lab[170:230, 180:300].mean(axis=(0, 1)))[1:].max()
           for lab in (led, whole)]  # fmt: skip
    assert off[0] < off[1] / 2


def test_greens_alone_leave_the_sky_and_strips_of_it_are_led_as_the_whole():
    own = parted((75, -6, -20), (50, -14, 20), (45, -30, 38))
    other = parted((70, 14, 6), (50, -8, 12), (45, -10, 16))
    change = lead_toward(own, other)
    assert {one.part for one in change.parameters.within} <= {"far", "middle", "near"}
    led = change.apply(own.lab)
    assert np.abs(led[60:100, 180:300] - own.lab[60:100, 180:300]).max() < 1
    height = own.lab.shape[0]
    strips = [
        change.apply(own.lab[top : top + 60], box=(top / height, 0.0, (top + 60) / height, 1.0))
        for top in range(0, height, 60)
    ]
    assert np.abs(np.concatenate(strips) - led).max() < 0.05


@pytest.mark.slow
def test_a_plan_can_be_led_and_then_leaves_the_quieting(meadow, four_tubes):
    other = picture_from_lab(meadow.lab * np.array([1, 0.3, 0.3], np.float32), meadow)
    led = plan_repaint(meadow, box=four_tubes, like=other)
    assert led.aim.steps[0].kind == "lead_toward" and "mute_greens" not in [step.kind for step in led.aim.steps]


def test_a_picture_without_green_can_not_be_led_to():
    grey = np.full((120, 160, 3), (60, 0, 0), np.float32)
    from critique.picture.picture import picture_from_srgb

    plain = picture_from_srgb(np.full((120, 160, 3), 128, np.uint8), "grey.png")
    with pytest.raises(CritiqueError, match=r"grey\.png has hardly any green"):
        lead_toward(plain, picture_from_lab(grey, plain))


def test_tables_make_the_same_change_as_every_pixel_does(meadow):
    composed = compose(
        [
            Change("hold_within_leaf", Calm(0.8)),
            Change("hold_within_leaf", Calm(0.75)),
            Change("widen_values", Widen(20.0, 80.0, 10.0, 90.0)),
        ]
    )
    exact = composed.apply(srgb8_to_lab(meadow.drawn))
    made = QuickChange(composed).on(meadow.drawn, Frame(*meadow.drawn.shape[:2], WHOLE))
    shown = linear_to_lab(np.clip(lab_to_linear(exact), 0, 1))
    assert made.shape == shown.shape
    assert delta_e_2000(srgb8_to_lab(made), shown).mean() < 0.6


def test_every_change_that_can_be_named_is_named_in_the_command_s_help():
    from critique.cli.plan import plan as command

    told = set(command.help.replace(",", " ").split())
    assert {kind.id for kind in all_change_kinds()} | {"hold_within_leaf"} <= told


@pytest.mark.parametrize(
    ("side", "moved", "seen"),
    [(20, 30.0, True), (20, 6.0, False), (8, 30.0, False), (60, 6.0, True)],  # px of a spot, and what of its b* goes
)
def test_a_small_place_is_seen_when_it_moves_far_and_a_large_one_when_it_moves_a_little(side, moved, seen):
    """Of 240 × 360 px: a red spot of 0.5 % at an edge, quieted, was called hardly seen."""
    before = np.full((240, 360, 3), (60.0, 0.0, 30.0), dtype=np.float32)
    after = before.copy()
    after[50 : 50 + side, 70 : 70 + side, 2] -= moved
    assert is_seen(before, after) is seen


def grass(*, sunlit: float) -> Picture:
    """Grey sky over quiet grass of all chromas from 18 to 38, so much of the picture in one that no leaf reaches."""
    lab = np.full((240, 320, 3), (80, 0, 0), np.float32)
    chroma = np.linspace(18, 38, 320, dtype=np.float32)
    hue = np.radians(120)
    lab[100:] = np.stack([np.full(320, 55, np.float32), chroma * np.cos(hue), chroma * np.sin(hue)], axis=-1)
    rows = round(sunlit * 240)
    lab[100 : 100 + rows] = (60, 60 * np.cos(hue), 60 * np.sin(hue))
    return picture_from_srgb(lab_to_srgb8(lab), "grass.png")


def test_a_step_that_greys_all_greens_speaks_of_no_leaf():
    """ "Ease the greens that are still stronger than a leaf": none was, and their middle went from chroma 37 to 27."""
    before = grass(sunlit=0.0)
    after = picture_from_lab(Change("hold_within_leaf", Calm(0.7)).apply(before.lab), before)
    middle = [round(float(np.median(np.hypot(*np.moveaxis(one.lab[100:, :, 1:], -1, 0))))) for one in (before, after)]
    assert middle[1] < middle[0] and float(beyond_leaf(before.lab).mean()) == 0
    for quieted, further in ((True, " a little further"), (False, "")):
        told = eased_in_words(measure_greens(before), measure_greens(after), quieted=quieted)
        assert f"Grey the greens{further}, " in told and "leaf" not in told
        assert f"from chroma {middle[0]} to {middle[1]} at the middle" in told


def test_a_step_that_holds_what_no_leaf_reaches_and_leaves_the_rest_says_so():
    before = grass(sunlit=0.03)
    after = picture_from_lab(Change("hold_within_leaf", Calm(1.0)).apply(before.lab), before)
    assert float(beyond_leaf(before.lab).mean()) == pytest.approx(0.03, abs=0.005)
    greens = measure_greens(before), measure_greens(after)
    assert "are still stronger than a leaf" in eased_in_words(*greens, quieted=True)
    assert "are stronger than a leaf" in eased_in_words(*greens, quieted=False)


def test_a_picture_that_is_green_all_over_is_greyed_though_its_colour_stays_all_green():
    """Its greens' part of the colour can't fall: left as it was, though its middle would go from chroma 37 to 27."""
    hue = np.radians(124)
    chroma = np.linspace(30, 42, 240, dtype=np.float32) + np.zeros((180, 1), np.float32)
    lab = np.stack([np.full_like(chroma, 58), chroma * np.cos(hue), chroma * np.sin(hue)], axis=-1)
    lab[..., 0] += np.random.default_rng(6).normal(0, 4, (180, 240))
    meadow = picture_from_srgb(lab_to_srgb8(lab), "all_green.png")
    trial = trial_of(Case.of(meadow, measured(meadow), read_norms()))
    reached = bring_down(trial, trial)
    assert reached.chroma_share_before - reached.chroma_share_after < 0.03 and reached.beyond_leaf_before < 0.015
    (change,) = reached.changes
    before, after = (
        np.median(np.hypot(*np.moveaxis(one[..., 1:], -1, 0))) for one in (trial.lab, change.apply(trial.lab))
    )
    assert before - after > 5
