"""What was found false when whole comparisons were read beside the two pictures, each on a pair of known change."""

import sys
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from scipy.ndimage import gaussian_filter

from critique.advice.advise import judge
from critique.advice.kinds import kind_named
from critique.advice.standing_still import level_reached
from critique.measures.eye_judging import settles_to_say
from critique.measures.measure import measure_picture
from critique.paints.box import box_of
from critique.pair.answer import Answer
from critique.pair.answers import _division, _values
from critique.pair.change_maps import change_maps, with_parts
from critique.pair.changed_things import changed_things
from critique.pair.changed_words import changes_in_words, things_in_words
from critique.pair.compare import Comparison, compare_pictures
from critique.pair.comparison import Changes, compare_figures
from critique.pair.crop_words import crop_in_words
from critique.pair.eye_answer import FOCUS, PULL, eye_answer, pull_repainted
from critique.pair.finding_moves import finding_moves
from critique.pair.frame import Frame
from critique.pair.overlay import Overlay
from critique.perception.cielab import lab_to_srgb8
from critique.picture.picture import Picture, picture_from_srgb

sys.path.insert(0, str(Path(__file__).parent))
from pictures import MEADOW, demo

HEIGHT, WIDTH = 400, 600
FEW = box_of(["hansa yellow opaque", "pyrrole red", "ultramarine blue"])  # its mixtures are searched in no time


def scene() -> np.ndarray:
    """A light sky over a violet hill, an olive meadow and dark bushes, with strokes: (height, width, 3) Lab."""
    rng = np.random.default_rng(3)
    lab = np.empty((HEIGHT, WIDTH, 3), np.float32)
    down, across = np.mgrid[0:HEIGHT, 0:WIDTH] / np.array([HEIGHT, WIDTH]).reshape(2, 1, 1)
    lab[:] = (82, -2, -10)
    lab[down > 0.33 + 0.08 * np.sin(5 * across)] = (58, 8, -14)
    lab[down > 0.42] = (56, -9, 30)
    for x, y in rng.uniform((0.05, 0.5), (0.95, 0.92), (40, 2)):
        lab[np.hypot(down - y, (across - x) * 1.5) < 0.022] = (30, -6, 14)
    strokes = gaussian_filter(rng.normal(0, 1, (HEIGHT, WIDTH)), (1, 3))
    lab[..., 0] += 2.5 * strokes / strokes.std()
    return lab


def picture(lab: np.ndarray, name: str = "scene.jpg") -> Picture:
    return picture_from_srgb(lab_to_srgb8(lab.astype(np.float32)), name)


def compared(first: Picture, second: Picture) -> Comparison:
    return compare_pictures(first, second, box=FEW)


def answers(comparison: Comparison) -> dict[str, Answer]:
    return {answer.id: answer for answer in comparison.held.answers}


def hill(lab: np.ndarray) -> np.ndarray:
    return np.asarray((lab[..., 1] > 3) & (lab[..., 2] < -5))


@pytest.mark.slow
def test_an_orange_hill_made_violet_is_poorer_and_not_merely_quieter() -> None:
    """The picture had one warm colour, and it is gone: its colours are fewer."""
    violet, orange = scene(), scene()
    orange[hill(violet)] += (0, 30, 62)
    richer = answers(compared(picture(orange), picture(violet)))["richer"]
    assert richer.outcome == "poorer"
    assert "not fewer" not in richer.text


@pytest.mark.slow
def test_one_loud_green_over_many_hues_is_stronger_in_fewer_colours_and_back_again() -> None:
    quiet, loud = scene(), scene()
    for at, hue in enumerate(np.radians((20, 65, 100, 140, 200, 300))):  # a land of many quiet colours
        quiet[180:, at * 100 : at * 100 + 100, 1:] = 18 * np.cos(hue), 18 * np.sin(hue)
    loud[180:, :, 1:] = (-52, 52)
    there, back = (
        answers(compared(picture(first), picture(second)))["richer"] for first, second in ((quiet, loud), (loud, quiet))
    )
    assert (there.outcome, there.direction) == ("fewer_colours", "down")
    assert (back.outcome, back.direction) == ("more_colours", "up")


@pytest.mark.slow
def test_a_sky_lightened_all_along_the_top_is_no_fault_of_its_corners() -> None:
    """The corners went with their whole edge; corners lightened alone are told."""
    grey, light, corners = scene(), scene(), scene()
    for lab in (grey, light, corners):
        lab[:130, :, 0] -= 22
    light[:130, :, 0] += 30
    corners[:110, :130, 0] += 30
    corners[:110, -130:, 0] += 30
    of_sky, of_corners = (answers(compared(picture(grey), picture(other)))["edges"] for other in (light, corners))
    assert of_sky.outcome != "less"
    assert of_corners.outcome == "less"


@pytest.mark.slow
def test_a_pull_that_was_itself_painted_over_is_no_hair_s_doing() -> None:
    """A hair cut off may make another place the strongest; that the one which pulled was repainted is seen."""
    plain, tent, elsewhere = scene(), scene(), scene()
    tent[300:350, 520:] = (62, 50, 60)
    elsewhere[300:350, 20:120] = (62, 50, 60)
    there, gone = (measure_picture(picture(lab)) for lab in (tent, plain))
    assert there.eyepath.strongest_pull.x > 0.85
    changes = compare_figures((there, gone))
    assert changes[PULL].status == "less"
    covered = np.ones(plain.shape[:2], bool)

    def told(first: np.ndarray, second: np.ndarray) -> frozenset[str]:
        maps = change_maps(Overlay(first, second, covered))
        return pull_repainted(changes, there.eyepath, gone.eyepath, maps)

    assert told(tent, plain) == {PULL}
    assert told(elsewhere, plain) == frozenset()
    assert pull_repainted(changes, there.eyepath, gone.eyepath, None) == frozenset()


def test_a_house_of_several_colours_is_called_by_none_of_them() -> None:
    """The mean of a white wall, a red roof and its shadow is a brown that it has nowhere."""
    first, second = scene(), scene()
    second[240:262, 380:440] = (45, 45, 35)
    second[262:300, 385:410] = (92, 0, 6)
    second[262:300, 410:435] = (25, 2, -20)
    (thing,) = changed_things(Overlay(first, second, np.ones(first.shape[:2], bool)))
    assert thing.mixed
    assert "shape of several colours" in things_in_words([thing])[0]
    plain = scene()
    plain[240:300, 385:435] = (45, 45, 35)
    (red,) = changed_things(Overlay(first, plain, np.ones(first.shape[:2], bool)))
    assert not red.mixed and "several" not in things_in_words([red])[0]


def test_a_little_cut_on_every_side_is_told_as_no_side_s() -> None:
    cut = (0.008, 0.013, 0.99, 0.989)
    area = 1 - (cut[2] - cut[0]) * (cut[3] - cut[1])
    told = crop_in_words(Frame(cut, (0.0, 0.0, 1.0, 1.0), area, 0.0))
    assert told == "The repaint shows 96 % of the original"
    lower = crop_in_words(Frame((0.0, 0.1, 1.0, 1.0), (0.0, 0.0, 1.0, 1.0), 0.1, 0.0))
    assert lower == "The repaint shows the lower 90 % of the original"


@pytest.mark.slow
def test_what_was_found_in_the_original_alone_says_what_that_was() -> None:
    violet, orange = scene(), scene()
    orange[hill(violet)] += (0, 60, 80)
    for move in compared(picture(orange), picture(violet)).held.moves:
        assert move.told
        if move.outcome == "fixed" and not move.text_after:
            assert move.text_before in move.told


@pytest.mark.slow
def test_as_much_green_made_quieter_is_eased_and_still_to_watch() -> None:
    """What it weighs fell, how much there is of it didn't: two thirds of green are two thirds of green."""
    kind = kind_named("green_area")
    green = judge(demo(MEADOW), measure_picture(demo(MEADOW)))
    much = replace(next(one for one in green if one.kind == kind.id), level="rework", figure=0.7)
    quieter = replace(much, level="holds", figure=0.68)
    assert level_reached(much, quieter) == "watch"
    assert level_reached(much, replace(quieter, figure=0.1)) == "holds"
    assert level_reached(much, None) == "holds" and level_reached(None, much) == "rework"


def test_values_are_called_wider_only_where_an_end_of_them_moved() -> None:
    """Two hairs, one at either end, add up to a reach that moved; no eye sees them."""
    measured = measure_picture(demo(MEADOW))
    still = compare_figures((measured, measured))

    def with_moved(*names: str) -> Changes:
        return Changes(tuple(replace(one, status="more") if one.figure in names else one for one in still.figures))

    reach, lights = "values.range", "values.percentiles.p95"
    assert _values(with_moved(), measured, measured).outcome == "no_change"
    assert _values(with_moved(reach), measured, measured).outcome in ("hardly", "no_change")
    wider = replace(measured, values=replace(measured.values, range=measured.values.range + 0.3))
    told = compare_figures((measured, wider))
    alone = Changes(tuple(replace(one, status="more") if one.figure == reach else one for one in told.figures))
    assert _values(alone, measured, wider).outcome == "hardly"
    both = Changes(tuple(replace(one, status="more") if one.figure in (reach, lights) else one for one in told.figures))
    assert _values(both, measured, wider).outcome == "wider"


@pytest.mark.slow
def test_a_black_bush_made_a_dull_green_makes_no_part_of_the_picture_quieter() -> None:
    """One more green of low chroma lowers the middle of the greens, and none of those that were there was touched."""
    black, dull = scene(), scene()
    black[300:350, 250:350] = (4, 0, 1)
    dull[300:350, 250:350] = (28, -7, 13)
    quieter = answers(compared(picture(black), picture(dull)))["quieter"]
    assert quieter.outcome in ("in_places", "no_change")


def test_where_the_eye_settles_is_told_only_where_the_review_is_sure_of_it() -> None:
    """A guess that moved to another guess is no news."""
    measured = measure_picture(demo(MEADOW))
    still = compare_figures((measured, measured))
    moved = Changes(tuple(replace(one, status="more") if one.figure in FOCUS else one for one in still.figures))
    eye = measured.eyepath
    weak = replace(eye.focus, strength=0.0)
    unsure = replace(eye, places=(weak,), focus=weak, dominance=0.0)
    assert settles_to_say(unsure) is None
    told = eye_answer(moved, None, eye, unsure)
    assert (told.outcome, told.aside) == ("unsure", "")
    assert eye_answer(still, None, eye, unsure).outcome == "no_change"


def test_what_no_figure_tells_of_both_moved_only_where_much_was_repainted() -> None:
    """A warm ridge made cool: whether the far land lies back is judged by what both pictures can't be compared in."""
    kind = kind_named("land_distance")
    measured = measure_picture(demo(MEADOW))
    still = compare_figures((measured, measured))
    unknown = Changes(
        tuple(replace(one, status="not compared") if one.figure in kind.figures else one for one in still.figures)
    )
    (found, *_) = judge(demo(MEADOW), measured)
    before = replace(found, kind=kind.id, level="watch", figure=30.0)
    for part, outcome in ((0.07, "fixed"), (0.02, "on the edge")):
        (move,) = finding_moves((before,), (), unknown, (measured, measured), repainted=part)
        assert move.outcome == outcome


def test_a_foreground_pressed_together_is_not_called_better_for_its_evenness() -> None:
    """It is no longer named, for the whole has no more contrast than it; what it stands on got worse."""
    kind = kind_named("even_foreground")
    measured = measure_picture(demo(MEADOW))
    spread = measured.even_foreground.spread
    found = kind.finding(level="watch", text="Said.", figure=spread, figure_text="", norm="")
    still = compare_figures((measured, measured))
    for status, outcome in (("less", "on the edge"), ("more", "fixed")):
        changes = Changes(
            tuple(replace(one, status=status) if one.figure in kind.figures else one for one in still.figures)
        )
        (move,) = finding_moves((found,), (), changes, (measured, measured))
        assert move.outcome == outcome


@pytest.mark.slow
def test_a_red_sail_set_into_a_grey_lake_makes_it_richer() -> None:
    """It had no red; what came in is one colour more, and not the old ones made stronger."""
    grey, sail = scene(), scene()
    for lab in (grey, sail):
        lab[..., 1:] *= 0.15
    sail[260:330, 150:185] = (50, 52, 38)
    richer = answers(compared(picture(grey), picture(sail)))["richer"]
    assert richer.outcome == "richer"


def test_where_one_picture_lies_on_the_other_no_line_moved_and_another_is_the_plainest() -> None:
    measured = measure_picture(demo(MEADOW))
    still = compare_figures((measured, measured))
    was = replace(measured.division, present=True, height=0.74, halved=False, nearly_halved=False, cut=None)
    now = replace(was, height=0.68)
    on_it, beside_it = (_division(still, was, now, mapped=mapped) for mapped in (True, False))
    assert on_it.outcome == beside_it.outcome == "another_line"
    assert on_it.text.startswith("Nothing of the drawing moved.")
    assert "another photograph could take one line" in beside_it.text


@pytest.mark.slow
def test_a_sky_painted_anew_from_side_to_side_is_told_as_the_sky() -> None:
    """It lay "over the upper two thirds" of pictures of which it is the upper half."""
    before, after = scene(), scene()
    sky = np.zeros(before.shape[:2], bool)
    sky[: round(0.46 * HEIGHT)] = True
    after[sky, 0] -= 20
    maps = with_parts(change_maps(Overlay(before, after, np.ones(sky.shape, bool))), sky)
    assert changes_in_words(maps)[0].startswith("In the sky (4")
    strip = scene()
    strip[: round(0.15 * HEIGHT), :, 0] -= 20
    maps = with_parts(change_maps(Overlay(before, strip, np.ones(sky.shape, bool))), sky)
    assert changes_in_words(maps)[0].startswith("In the sky, along the top (1")
