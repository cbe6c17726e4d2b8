"""Faults of the eye's path, put into the demo scenes and quiet grounds on purpose, are named; their sources are not."""

from dataclasses import replace

import numpy as np
import pytest
from scenes import painted
from test_eyepath import HEIGHT, WIDTH, ground, measured, spotted

from critique.measures.cut_off import CutOff, cut_off
from critique.measures.eye_judging import (
    PULL_REWORK,
    PULL_WATCH,
    bullseye_fault,
    corners_keep_it_in,
    in_the_middle,
    near_edge_fault,
    pull_fault,
    rivals_fault,
    settles_to_say,
)
from critique.measures.focal_places import FocalPlace
from critique.measures.pulls import RARE_MOST, SMALL_CUT, Pull, _by_cut, border_pulls, plain_contrast
from critique.measures.rivals import RIVALS, Standing, answered, rivals_of

RED, WHITE = (205, 40, 30), (240, 238, 228)


def scene(seed: int) -> np.ndarray:
    return painted(seed=seed).srgb.astype(float)


def quiet(seed: int = 1) -> np.ndarray:
    """A sky over a ground with soft forms, and one red figure off the middle."""
    made = ground(amount=8, seed=seed)
    made[:150] = (188, 198, 208)
    return spotted(0.36, 0.6, RED, scene=made)


def test_a_quiet_picture_has_none_of_the_faults() -> None:
    eye = measured(quiet())
    assert eye.claimed and eye.focus.x == pytest.approx(0.36, abs=0.02)
    assert pull_fault(eye) is None and bullseye_fault(eye) is None
    assert near_edge_fault(eye) is None and rivals_fault(eye) is None and in_the_middle(eye) is None


@pytest.mark.parametrize(("x", "y", "side"), [(0.97, 0.6, "right"), (0.03, 0.5, "left"), (0.4, 0.96, "bottom")])
def test_a_loud_thing_at_the_edge_pulls_and_the_louder_the_more(x: float, y: float, side: str) -> None:
    dull = spotted(0.36, 0.6, (140, 110, 98), size=0.03, scene=ground(amount=8))
    found = pull_fault(measured(spotted(x, y, RED, size=0.03, scene=dull)))
    assert found is not None and found[0] == "rework" and side in found[1].place
    assert pull_fault(measured(spotted(x, y, (150, 120, 104), size=0.03, scene=dull))) is None


def test_the_same_loud_thing_inside_pulls_nowhere() -> None:
    assert pull_fault(measured(spotted(0.6, 0.6, RED, size=0.03, scene=ground(amount=8)))) is None


@pytest.mark.slow
@pytest.mark.parametrize("seed", [1, 2, 3])
def test_a_lone_red_sun_dead_centre_is_a_bullseye_and_off_centre_is_none(seed: int) -> None:
    assert bullseye_fault(measured(spotted(0.5, 0.5, RED, size=0.045, scene=ground(seed=seed)))) == "rework"
    assert bullseye_fault(measured(spotted(0.33, 0.6, RED, size=0.045, scene=ground(seed=seed)))) is None
    assert bullseye_fault(measured(scene(seed))) is None


def test_a_lone_subject_against_the_edge_is_too_near_it() -> None:
    assert near_edge_fault(measured(spotted(0.08, 0.6, RED))) is not None
    assert near_edge_fault(measured(spotted(0.25, 0.6, RED))) is None


@pytest.mark.parametrize("side", ["left", "right", "bottom"])
def test_a_light_strip_along_a_whole_side_pulls_and_a_dark_one_frames(side: str) -> None:
    def striped(colour: tuple[int, int, int]) -> np.ndarray:
        made = quiet()
        wide = round(0.05 * WIDTH)
        part = {"left": np.s_[:, :wide], "right": np.s_[:, -wide:], "bottom": np.s_[-wide:]}[side]
        made[part] = colour
        return made

    found = pull_fault(measured(striped((246, 244, 238))))
    assert found is not None and side in found[1].place
    dark = measured(striped((30, 32, 28))).strongest_pull
    assert dark.kind != "light"


def test_a_place_farther_in_is_not_too_near_the_edge_however_strong() -> None:
    for x in (0.2, 0.3, 0.8):
        assert near_edge_fault(measured(spotted(x, 0.6, RED, size=0.045))) is None


def test_a_third_thing_as_strong_keeps_two_from_competing() -> None:
    two = spotted(0.7, 0.55, WHITE, scene=spotted(0.3, 0.55, WHITE))
    three = measured(spotted(0.5, 0.15, WHITE, scene=two))
    assert rivals_fault(measured(two)) is not None and rivals_fault(three) is None


def test_two_equal_lights_compete_and_a_light_beside_a_dim_one_does_not() -> None:
    one = spotted(0.3, 0.55, WHITE)
    assert rivals_fault(measured(spotted(0.7, 0.55, WHITE, scene=one))) is not None
    assert rivals_fault(measured(spotted(0.7, 0.55, (134, 143, 120), scene=one))) is None


def test_a_light_and_a_dark_thing_compete_where_nothing_else_comes_near_them() -> None:
    one = spotted(0.3, 0.55, WHITE, size=0.04)
    assert rivals_fault(measured(spotted(0.7, 0.5, (12, 10, 10), size=0.04, scene=one))) is not None


def test_two_of_one_colour_compete_by_their_contrast_where_a_third_is_as_rare() -> None:
    def peaks(third: float) -> np.ndarray:
        field = np.zeros((120, 200), dtype=np.float32)
        for x, strength in ((50, 3.0), (150, 2.8), (100, third)):
            field[55:65, x - 5 : x + 5] = strength
        return field

    lab = np.full((120, 200, 3), (90.0, 0.0, 8.0), dtype=np.float32)
    other = lab.copy()
    other[:, 100:] = (40, 20, 20)
    assert rivals_of(peaks(2.8), peaks(1.8), lab)[0].strength > RIVALS
    assert rivals_of(peaks(2.8), peaks(1.8), other)[0].strength <= RIVALS
    assert rivals_of(peaks(2.8), peaks(1.2), other)[0].strength > RIVALS  # nothing else comes near them
    assert rivals_of(peaks(2.8), peaks(2.6), lab)[0].strength <= RIVALS


@pytest.mark.parametrize(
    ("ground", "second", "compete"),
    [(50, 92, True), (50, 82, True), (50, 72, False), (50, 20, False), (90, 92, False)],
)
def test_two_lights_that_are_as_light_compete_sooner(ground: float, second: float, compete: bool) -> None:
    """Two suns in one sky were let pass; a sun and a lit statue are none, nor two dabs of white in a white sky."""
    contrast, lab = np.zeros((120, 200), dtype=np.float32), np.full((120, 200, 3), (ground, 0, 8), dtype=np.float32)
    for x, strength, light in ((50, 3.0, 92), (150, 2.8, second), (100, 2.2, ground)):
        contrast[55:65, x - 5 : x + 5], lab[55:65, x - 5 : x + 5, 0] = strength, light
    for field in (slice(None), slice(None, None, -1)):
        strength = rivals_of(contrast[:, field], contrast[:, field], lab[:, field])[0].strength
        assert (strength > RIVALS) == compete and strength >= 2.8 / 2.2 - 1e-3


@pytest.mark.parametrize("side", ["left", "right"])
def test_a_fence_of_thin_bars_pulls_at_its_side_and_farther_in_it_does_not(side: str) -> None:
    def fenced(first: int, colour: tuple[int, int, int] = WHITE) -> np.ndarray:
        made = quiet()
        for x in range(first, first + round(0.06 * WIDTH), 9):
            made[round(0.35 * HEIGHT) : round(0.85 * HEIGHT), x : x + 2] = colour
        return made if side == "left" else made[:, ::-1]

    fault = pull_fault(measured(fenced(5)))
    assert fault is not None and side in fault[1].sides
    dim = pull_fault(
        measured(fenced(5, (215, 215, 215)))
    )  # a pole before woods has no more: readers would mend it first
    assert dim is not None and dim[1].kind == "bars"
    assert pull_fault(measured(fenced(5, (195, 195, 195)))) is None
    rim = quiet()
    rim[:, :2] = rim[:, -2:] = WHITE  # as a scan may have it
    assert pull_fault(measured(rim)) is None
    assert pull_fault(measured(fenced(round(0.4 * WIDTH)))) is None


def test_corners_keep_the_eye_in_only_where_all_four_are_dark() -> None:
    down, across = np.mgrid[0:HEIGHT, 0:WIDTH]
    off = np.hypot((across + 0.5) / WIDTH - 0.5, (down + 0.5) / HEIGHT - 0.5)[..., None]
    vignette = ground() * (1 - 0.8 * off**2)
    assert corners_keep_it_in(measured(vignette))
    opened = vignette.copy()
    opened[: HEIGHT // 4, : WIDTH // 4] = (170, 176, 160)
    assert not corners_keep_it_in(measured(opened))


def test_nothing_is_claimed_of_a_flat_picture_or_of_mere_texture() -> None:
    assert measured(np.full((300, 400, 3), 128.0)).claimed == ()
    assert bullseye_fault(measured(ground(amount=30))) is None
    assert rivals_fault(measured(np.full((300, 400, 3), 128.0))) is None


def disc(x: float, y: float, reach: float, colour: tuple[int, int, int], scene: np.ndarray) -> np.ndarray:
    """A scene with a round thing; ``reach`` is its radius, of the width."""
    down, across = np.mgrid[0 : scene.shape[0], 0 : scene.shape[1]] + 0.5
    inside = np.hypot(across - x * scene.shape[1], down - y * scene.shape[0]) < reach * scene.shape[1]
    made = scene.copy()
    made[inside] = colour
    return made


@pytest.mark.parametrize("reach", [0.04, 0.07, 0.1])
def test_a_thing_as_large_as_a_setting_sun_is_a_bullseye_in_the_middle_alone(reach: float) -> None:
    assert bullseye_fault(measured(disc(0.5, 0.5, reach, (250, 240, 190), ground(amount=8)))) is not None
    assert bullseye_fault(measured(disc(0.3, 0.6, reach, (250, 240, 190), ground(amount=8)))) is None


@pytest.mark.slow
@pytest.mark.parametrize(
    "colour",
    [(244, 240, 226), (20, 22, 18), (90, 40, 150)],
)
def test_what_is_cut_by_an_edge_in_a_colour_of_its_own_pulls_though_the_inside_has_contrast(
    colour: tuple[int, int, int],
) -> None:
    inside = spotted(0.4, 0.6, (190, 196, 170), size=0.03, scene=ground(amount=14))
    assert pull_fault(measured(inside)) is None
    found = pull_fault(measured(disc(0.99, 0.6, 0.035, colour, inside)))
    assert found is not None and "right" in found[1].place
    near = measured(disc(0.1, 0.6, 0.035, colour, inside))
    assert pull_fault(near) is None and near_edge_fault(near) is not None


@pytest.mark.slow
@pytest.mark.parametrize(
    ("rows", "columns", "place"),
    [
        (np.s_[60:240], np.s_[:14], "left edge"),
        (np.s_[:], np.s_[-20:], "right edge"),
        (np.s_[:16], np.s_[150:260], "top edge"),
        (np.s_[-34:], np.s_[-34:], "bottom right corner"),
    ],
)
def test_a_flat_bar_cut_off_by_an_edge_pulls_beside_much_contrast_inside_too(
    rows: slice, columns: slice, place: str
) -> None:
    busy = spotted(0.36, 0.6, RED, scene=ground(amount=8))
    for x in (0.3, 0.5, 0.7):
        busy = spotted(x, 0.4, WHITE, size=0.03, scene=spotted(x + 0.05, 0.4, (10, 10, 10), size=0.03, scene=busy))
    assert pull_fault(measured(busy)) is None
    busy[rows, columns] = (0, 150, 200)
    found = pull_fault(measured(busy))
    assert found is not None and found[1].place == place


def test_a_gap_in_a_hedge_pulls_nobody_out_and_a_thing_of_its_own_colour_does_no_more_than_watch() -> None:
    """A small shape of the sky's colour, cut off by the left edge under a sky; and the same in red."""
    lab = np.zeros((266, 400, 3), dtype=np.float32) + np.array([34.0, -12.0, 18.0], dtype=np.float32)
    lab[:100] = (80.0, -2.0, -10.0)
    for colour, seen in (((80.0, -2.0, -10.0), False), ((55.0, 60.0, 40.0), True)):
        scene = lab.copy()
        scene[150:166, :12] = colour
        found = cut_off(scene)
        assert (found is not None and found.y > 0.5) == seen
    assert found is not None and 0.001 < found.share < SMALL_CUT
    quiet_edge = Pull("left edge", 0.02, 0.6, 0.5, "value", ("left",))
    assert _by_cut(quiet_edge, replace(found, apart=80.0)).strength <= RARE_MOST
    assert _by_cut(quiet_edge, replace(found, apart=80.0, share=0.05)).strength > PULL_REWORK


def test_a_stone_that_the_foot_cuts_off_must_be_stranger_than_one_at_a_side() -> None:
    lab = np.zeros((266, 400, 3), dtype=np.float32) + np.array([34.0, -12.0, 18.0], dtype=np.float32)
    lab[120:180, 150:160] = (90.0, 0.0, 0.0)  # birches, which hold the eye
    contrast = plain_contrast(lab)

    def pulled(cut: CutOff) -> bool:
        return any(pull.kind == "cut off" for pull in border_pulls(lab, contrast, 4.0, cut))

    at_side = CutOff(0.01, 0.6, apart=33.0, strength=1.1, share=0.001, sides=("left",))
    at_foot = replace(at_side, x=0.6, y=0.99, sides=("bottom",))
    assert pulled(at_side) and not pulled(at_foot)
    assert pulled(replace(at_foot, apart=45.0, strength=1.5))


@pytest.mark.parametrize(
    ("focus", "dominance", "odd", "named"),
    [
        ((0.5, 0.51, 0.9), 1.1, (0.2, 0.6, 1.0), True),  # hardly anything else holds the eye, and it outdoes the rest
        ((0.5, 0.51, 0.9), 0.95, (0.5, 0.5, 1.2), True),  # or its colour is rare
        ((0.5, 0.51, 0.6), 1.1, (0.2, 0.6, 1.0), False),
        ((0.5, 0.51, 0.9), 0.95, (0.2, 0.6, 1.2), False),
        ((0.35, 0.51, 0.9), 1.1, (0.5, 0.5, 1.2), False),
    ],
)
def test_what_alone_holds_the_eye_in_the_middle_needs_less_contrast_to_be_a_bullseye(
    focus: tuple[float, float, float], dominance: float, odd: tuple[float, float, float], named: bool
) -> None:
    eye = replace(
        measured(quiet()),
        focus=FocalPlace(*focus),
        places=(FocalPlace(*focus),),
        dominance=dominance,
        odd=Standing(*odd),
        large=Standing(0.1, 0.1, 1.0),
    )
    assert (bullseye_fault(eye) == "watch") is named


def test_what_is_answered_in_its_own_colour_elsewhere_is_no_bullseye() -> None:
    """A castle whose lights run down to its village was told to be a target."""
    lab = np.full((140, 200, 3), (40.0, -8, 14), dtype=np.float32)
    lab[60:80, 90:110] = (85, 2, 8)
    assert answered(lab, 0.5, 0.5) == 0
    lab[100:105, 20:60] = (83, 0, 12)  # roofs, half as much as the castle
    assert answered(lab, 0.5, 0.5) == pytest.approx(1 / 3)
    eye = measured(spotted(0.5, 0.5, RED, size=0.045, scene=ground()))
    assert eye.answered < 0.05 and bullseye_fault(eye) == "rework"
    assert bullseye_fault(replace(eye, answered=0.34)) is None


def test_a_dull_spot_in_a_corner_pulls_nobody_out_of_a_wood_with_a_bright_glade() -> None:
    y, x = np.mgrid[0:266, 0:400]

    def pulling(value: float) -> float:
        lab = np.zeros((266, 400, 3), dtype=np.float32) + np.array([22.0, -3.0, 5.0], dtype=np.float32)
        lab[..., 0] += 72 * np.exp(-(np.square(x - 250) + np.square(y - 110)) / (2 * 60**2))  # the glade, soft
        lab[np.hypot(y - 250, x - 3) < 9, 0] = value
        pulls = border_pulls(lab, plain_contrast(lab), float(lab[..., 0].mean()) / 10)
        return next(pull.strength for pull in pulls if pull.place == "bottom left corner")

    assert pulling(66.0) < PULL_WATCH < pulling(97.0)


@pytest.mark.parametrize(
    ("change", "told"),
    [
        ({}, True),
        ({"rivalry": 1.05, "rivals": (Standing(0.1, 0.2, 1.05), Standing(0.9, 0.8, 1.05))}, False),  # both elsewhere
        ({"rivalry": 1.05, "rivals": (Standing(0.38, 0.6, 1.05), Standing(0.9, 0.8, 1.05))}, True),  # one is the place
        ({"focus": FocalPlace(0.5, 0.06, 0.9)}, False),  # chinks of sky at the rim
        ({"focus": FocalPlace(0.4, 0.6, 0.76)}, False),
        ({"dominance": 0.63}, False),  # lights glint all over: elsewhere one has half as much contrast again
        ({"focus": FocalPlace(0.4, 0.6, 0.76), "dominance": 1.2}, True),  # less of the eye, but nothing outdoes it
    ],
)
def test_a_place_is_given_a_sentence_where_nothing_speaks_for_another(change: dict[str, object], told: bool) -> None:
    eye = replace(measured(quiet()), focus=FocalPlace(0.4, 0.6, 0.9), dominance=0.9, rivalry=0.0)
    assert (settles_to_say(replace(eye, **change)) is not None) == told


@pytest.mark.parametrize(("dominance", "told"), [(1.07, False), (1.15, True)])
def test_a_subject_stands_in_the_middle_only_where_nothing_elsewhere_comes_near_it(
    dominance: float, told: bool
) -> None:
    """A castle right of the middle, a peak and a ship with a wreck have up to 1.07: both readers of each denied it."""
    eye = replace(measured(quiet()), focus=FocalPlace(0.5, 0.6, 0.9), dominance=dominance, rivalry=0.0)
    assert (in_the_middle(eye) is not None) == told


def boat(across: float, scene: np.ndarray) -> np.ndarray:
    """A white sail on a dark hull, a fifth of the height high, its middle ``across`` of the width."""
    scene = scene.copy()
    down, along = np.mgrid[0:HEIGHT, 0:WIDTH] + 0.5
    over, beside = 0.6 * HEIGHT - down, np.abs(along - across * WIDTH)
    scene[(over > 0) & (over < 0.2 * HEIGHT) & (beside < 0.35 * (0.2 * HEIGHT - over))] = (236, 232, 220)
    scene[(over <= 0) & (over > -0.03 * HEIGHT) & (beside < 0.06 * WIDTH + over)] = (70, 40, 34)
    return scene


@pytest.mark.parametrize("mirrored", [False, True])
def test_a_boat_close_to_a_side_is_told_and_one_on_a_third_is_not(mirrored: bool) -> None:
    for across, told in ((0.05, True), (0.12, True), (0.33, False), (0.5, False)):
        made = boat(across, quiet())
        eye = measured(made[:, ::-1] if mirrored else made)
        assert eye.aside.x == pytest.approx(1 - across if mirrored else across, abs=0.06)
        assert near_edge_fault(eye) == (eye.aside if told else None)


@pytest.mark.parametrize("farther_in", [0.45, 0.9])
def test_another_boat_farther_in_answers_it(farther_in: float) -> None:
    assert near_edge_fault(measured(boat(0.1, boat(farther_in, quiet())))) is None


@pytest.mark.parametrize(
    ("change", "told"),
    [
        ({"half": 0.12, "most": 0.15, "beyond": 0.005, "dominance": 0.8, "opposite": 0.5}, True),
        ({"half": 0.12, "most": 0.15, "beyond": 0.023, "dominance": 0.8, "opposite": 0.5}, False),
        ({"tall": 0.35, "half": 0.12, "most": 0.15, "beyond": 0.012, "dominance": 1.0, "opposite": 0.5}, False),
        ({"half": 0.12, "most": 0.15, "beyond": 0.005, "dominance": 0.6, "opposite": 0.5}, False),  # gaps in a hedge
        ({"first": 0.16, "half": 0.17, "most": 0.2, "beyond": 0.005, "dominance": 0.8, "opposite": 0.1}, False),
        ({"half": 0.27, "most": 0.29, "beyond": 0.005, "dominance": 0.8, "opposite": 0.5}, False),
        ({"half": 0.2, "most": 0.33, "beyond": 0.2, "dominance": 0.6, "opposite": 0.1}, True),  # a sheep in a meadow
        ({"half": 0.2, "most": 0.33, "beyond": 0.2, "dominance": 0.6, "opposite": 0.2}, False),
        ({"half": 0.1, "most": 0.2, "beyond": 0.05, "dominance": 1.6, "opposite": 0.5}, True),  # the darkest by far
        ({"half": 0.1, "most": 0.2, "beyond": 0.05, "dominance": 1.2, "opposite": 0.5}, False),
        ({"half": 0.2, "most": 0.4, "beyond": 0.2, "dominance": 0.6, "opposite": 0.1}, False),
        ({"half": 0.15, "most": 0.5, "beyond": 0.15, "dominance": 1.12, "opposite": 0.4}, True),  # a girl by a meadow
        ({"half": 0.15, "most": 0.5, "beyond": 0.15, "dominance": 1.08, "opposite": 0.4}, False),  # a headland of a bay
        ({"half": 0.15, "most": 0.5, "beyond": 0.15, "dominance": 1.12, "opposite": 0.5}, False),
        ({"first": 0.13, "half": 0.15, "most": 0.5, "beyond": 0.15, "dominance": 1.12, "opposite": 0.4}, False),
    ],
)
def test_what_stands_at_a_side_needs_the_rest_of_the_picture_to_be_empty(change: dict[str, float], told: bool) -> None:
    eye = measured(quiet())
    assert (
        near_edge_fault(replace(eye, aside=replace(eye.aside, **{"first": 0.1, "tall": 0.1} | change))) is not None
    ) == told


def test_what_only_outdoes_the_rest_is_not_said_to_leave_it_empty() -> None:
    aside = replace(measured(quiet()).aside, beyond=0.15, opposite=0.4, dominance=1.12)
    assert not aside.is_left_alone and replace(aside, beyond=0.01).is_left_alone
    assert replace(aside, opposite=0.1).is_left_alone and replace(aside, dominance=1.6).is_left_alone


def test_the_eye_is_not_said_to_settle_elsewhere_than_at_what_stands_too_near_a_side() -> None:
    place = FocalPlace(0.6, 0.5, 0.9)
    eye = replace(measured(boat(0.05, quiet())), focus=place, places=(place,), dominance=1.3, rivalry=0.0)
    assert settles_to_say(eye) is None
    assert settles_to_say(replace(eye, aside=replace(eye.aside, half=0.6))) is place


def test_where_nothing_stands_out_nothing_would_hold_the_eye_at_a_side() -> None:
    eye = measured(np.full((HEIGHT, WIDTH, 3), 128.0))
    assert (eye.aside.half, eye.aside.beyond, near_edge_fault(eye)) == (0.5, 1.0, None)
