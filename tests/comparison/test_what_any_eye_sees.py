"""What any eye sees first in a repaint, a comparison says first: a figure set in, a tree taken out, another file."""

import sys
from pathlib import Path

import numpy as np
import pytest
from scipy.ndimage import gaussian_filter
from skimage.transform import resize

from critique.advice.kinds import all_kinds
from critique.measures.cast import Lean
from critique.pair.alike import moved_alike
from critique.pair.another_picture import is_another, is_turned_round
from critique.pair.answers import _warmer_or_cooler
from critique.pair.change_maps import ChangedPlace, change_maps, with_parts
from critique.pair.changed_things import changed_things
from critique.pair.changed_words import changes_in_words, group_in_words, things_in_words
from critique.pair.compare import Comparison, compare_passes, compare_pictures
from critique.pair.comparison import compare_figures
from critique.pair.finding_moves import finding_moves
from critique.pair.hold import state_of
from critique.pair.overlay import Overlay
from critique.pair.register import register
from critique.pair.scattered import patches_in_words, share_in_patches
from critique.perception.cielab import lab_to_linear, lab_to_srgb8, linear_to_lab
from critique.picture.picture import Picture, picture_from_srgb

sys.path.insert(0, str(Path(__file__).parent))
from pictures import MEADOW, OTHERS, REPAINT, SECOND_PASS, demo, repainted

NESS = OTHERS[3]


def ground(height: int = 120, width: int = 180) -> np.ndarray:
    """A sky over land, both a little uneven."""
    rng = np.random.default_rng(5)
    lab = np.empty((height, width, 3), np.float32)
    lab[:50], lab[50:] = (80, 0, -8), (45, -4, 18)
    lab[..., 0] += rng.normal(0, 1.5, (height, width))
    return lab


def over(first: np.ndarray, second: np.ndarray) -> Overlay:
    return Overlay(first, second, np.ones(first.shape[:2], bool))


def with_figure(lab: np.ndarray, at: float = 0.6) -> np.ndarray:
    """A red coat over dark trousers, its left side ``at`` a part of the width."""
    lab = lab.copy()
    height, width = lab.shape[:2]
    top, middle, bottom = (round(part * height) for part in (0.62, 0.75, 0.85))
    across = slice(round(at * width), round((at + 0.08) * width))
    lab[top:middle, across], lab[middle:bottom, across] = (38, 55, 35), (12, 2, -4)
    return lab


def compared(first: Picture, second: Picture) -> Comparison:
    return compare_pictures(first, second)


def test_a_figure_set_in_has_come_and_taken_out_again_is_gone() -> None:
    plain, peopled = ground(), with_figure(ground())
    (came,) = changed_things(over(plain, peopled))
    assert came.came and not came.faint
    assert (came.x, came.y) == pytest.approx((0.64, 0.735), abs=0.02)
    assert came.share == pytest.approx(0.23 * 0.08, rel=0.25)
    (gone,) = changed_things(over(peopled, plain))
    assert not gone.came and gone.share == pytest.approx(came.share)


def test_a_figure_that_was_moved_has_moved_and_is_called_by_its_coat() -> None:
    things = changed_things(over(with_figure(ground(), at=0.1), with_figure(ground(), at=0.8)))
    assert {thing.came for thing in things} == {True, False}
    (told,) = things_in_words(things)
    assert "red shape has moved" in told and "low on the far left" in told and "low on the far right" in told


def test_a_corner_or_a_passage_that_keeps_its_drawing_is_no_thing_when_it_is_darkened() -> None:
    plain, corner, patch = ground(), ground(), ground()
    corner[80:, 130:, 0] -= 25
    patch[60:100, 60:120, 0] -= 25
    assert changed_things(over(plain, corner)) == changed_things(over(plain, patch)) == ()


@pytest.mark.parametrize(("shift", "word"), [((2, 14), "warmer"), ((-2, -14), "cooler")])
def test_the_whole_is_called_warmer_or_cooler_by_where_its_mean_went(shift: tuple[int, int], word: str) -> None:
    neutral = Lean(2.0, 2.0, 2.8, 45.0, "orange")
    a, b = neutral.a + shift[0], neutral.b + shift[1]
    moved = Lean(a, b, float(np.hypot(a, b)), float(np.degrees(np.arctan2(b, a)) % 360), "")
    assert _warmer_or_cooler(neutral, moved) == word
    assert _warmer_or_cooler(neutral, Lean(-10.0, 6.0, 11.7, 149.0, "green")) == ""


def test_neither_another_light_nor_a_passage_made_anew_is_a_thing() -> None:
    plain = ground()
    lit = linear_to_lab(lab_to_linear(plain) * np.float32((1.2, 1.0, 0.7)))
    stormy = plain.copy()
    stormy[:50, :, 0] -= 30
    assert changed_things(over(plain, lit)) == changed_things(over(plain, stormy)) == ()


def test_all_of_it_moved_alike_under_another_lamp_and_not_where_the_greens_were_muted() -> None:
    plain = ground()
    warm = moved_alike(over(plain, linear_to_lab(lab_to_linear(plain) * np.float32((1.15, 1.0, 0.75)))))
    assert warm is not None and warm.word == "warmer" and warm.share > 0.9
    assert warm.gains == pytest.approx((1.15, 1.0, 0.75), rel=0.02)
    cool = moved_alike(over(plain, linear_to_lab(lab_to_linear(plain) * np.float32((0.85, 1.0, 1.2)))))
    assert cool is not None and cool.word == "cooler"
    dark = moved_alike(over(plain, linear_to_lab(lab_to_linear(plain) * np.float32(0.7))))
    assert dark is not None and dark.word == "darker"
    muted = plain.copy()
    muted[50:, :, 1:] *= 0.2
    assert moved_alike(over(plain, muted)) is None and moved_alike(over(plain, plain)) is None


@pytest.mark.parametrize(
    ("was", "now", "word"), [((50, -12, 20), (50, -6, 12), ""), ((70, 2, -14), (72, 6, 16), "warmer")]
)
def test_a_green_made_greyer_is_no_cooler_and_a_blue_turned_to_cream_is_warmer(was, now, word) -> None:
    mask = np.ones((12, 12), bool)
    place = ChangedPlace("chroma", np.hypot(*now[1:]) - np.hypot(*was[1:]), 1.0, 0.5, 0.5, 80.0, was, now, mask)
    told = group_in_words((place,))
    assert ("warmer" in told, "cooler" in told) == (word == "warmer", False)


def test_what_changed_at_one_place_in_two_ways_is_told_once() -> None:
    first, second = ground(), ground()
    second[:50] = (55, 12, 30)
    maps = change_maps(over(first, second))
    kinds = {place.kind for place in maps.places}
    assert {"value", "hue"} <= kinds
    (told,) = changes_in_words(maps)
    assert ": from " in told and "darker by 2." in told and told.count("of the picture") == 1


def test_a_sky_made_warmer_is_one_sky_and_has_the_words_of_a_light() -> None:
    first, second = ground(), ground()
    first[:60, :50], first[:60, 50:] = (70, 8, -16), (74, 1, -3)  # violet to the left, greyish to the right
    second[:60, :50], second[:60, 50:] = (70, 20, 16), (74, 14, 22)
    maps = with_parts(
        change_maps(over(first, second)), np.arange(first.shape[0])[:, None] < np.full(first.shape[1], 60)
    )
    assert len({place.kind for place in maps.places}) >= 2
    (told,) = changes_in_words(maps)
    assert told.startswith("In the sky") and "warmer" in told and "brown" not in told


def test_small_patches_all_over_are_told_and_one_large_place_is_not_taken_for_them() -> None:
    """Blotches of a value and a half, as in a picture gone over without stepping back."""
    generator = np.random.default_rng(4)
    spots = gaussian_filter(generator.normal(size=ground().shape[:2]), 3)
    blotched, stormy = ground(), ground()
    blotched[..., 0] += (15 * spots / spots.std()).astype(np.float32)
    stormy[:40, :, 0] -= 20
    share = share_in_patches(change_maps(over(ground(), blotched)))
    assert patches_in_words(share).startswith("All over it small patches") and 0.1 < share <= 1
    assert share_in_patches(change_maps(over(ground(), stormy))) == 0


@pytest.mark.slow
def test_a_horizon_drawn_elsewhere_is_told_first() -> None:
    """The sky stretched and the land squeezed: nothing else is seen before that."""
    picture = demo(NESS)
    was = state_of(picture).measures.division.height
    height = picture.srgb.shape[0]
    line, lower = round(was * height), round((was + 0.18) * height)
    parts = picture.srgb[:line], picture.srgb[line:]
    drawn = [
        resize(part, (rows, part.shape[1], 3), preserve_range=True)
        for part, rows in zip(parts, (lower, height - lower), strict=True)
    ]
    codes = np.rint(np.concatenate(drawn)).astype(picture.srgb.dtype)
    comparison = compared(picture, picture_from_srgb(codes, picture.file))
    assert "its line moved from" in " ".join(comparison.verdict[:2]), comparison.verdict
    assert "part of its drawing" not in " ".join(comparison.verdict)


@pytest.mark.slow
@pytest.mark.parametrize(("by", "word"), [(6.0, "lighter in its darks"), (-4.0, "deeper in its darks")])
def test_darks_that_moved_alone_are_what_is_told_of_the_values(by: float, word: str) -> None:
    picture = demo(REPAINT)
    lab = picture.lab.copy()
    low, middle = np.percentile(lab[..., 0], (5, 50))
    lab[..., 0] += np.clip((middle - lab[..., 0]) / (middle - low), 0, 1) * 2.2 * by
    assert word in " ".join(compared(picture, repainted(picture, lab)).verdict[:2])


@pytest.mark.slow
def test_masses_tell_another_picture_and_a_drawing_one_that_is_turned_round() -> None:
    meadow, ness = demo(MEADOW), demo(NESS)
    registration = register(meadow, ness)
    assert is_another(meadow, ness, registration) and not is_turned_round(meadow, ness, registration)
    round_ = repainted(meadow, np.ascontiguousarray(meadow.lab[:, ::-1]))
    assert is_turned_round(meadow, round_, register(meadow, round_))
    for state in (demo(REPAINT), demo(SECOND_PASS)):
        assert not is_another(meadow, state, register(meadow, state)), state.file
    others = [demo(name) for name in OTHERS]
    found = [is_another(meadow, other, register(meadow, other)) for other in others]
    assert sum(found) >= 3, found


@pytest.mark.slow
def test_a_bold_repaint_without_the_old_drawing_is_asked_about_last_and_the_same_drawing_is_not() -> None:
    """The demo's repaint has its line elsewhere, and none of the meadow's corners."""
    asked = "see whether that is the right file."
    bold = compared(demo(MEADOW), demo(REPAINT))
    assert bold.held.doubtful and bold.verdict[-1].endswith(asked)
    same = compared(demo(MEADOW), demo(SECOND_PASS))
    assert not same.held.doubtful and asked not in " ".join(same.verdict)


@pytest.mark.slow
def test_a_figure_set_in_comes_first_and_is_not_told_as_a_louder_picture() -> None:
    picture = demo(REPAINT)
    comparison = compared(picture, repainted(picture, with_figure(picture.lab)))
    assert "shape has come in" in comparison.verdict[0]
    assert "hold the eye better" not in " ".join(comparison.verdict)
    (quieter,) = (answer for answer in comparison.held.answers if answer.id == "quieter")
    assert quieter.outcome != "louder"


@pytest.mark.slow
def test_a_small_figure_too_is_a_change() -> None:
    picture = demo(REPAINT)
    lab = picture.lab.copy()
    height, width = lab.shape[:2]
    lab[round(0.7 * height) : round(0.78 * height), round(0.4 * width) : round(0.44 * width)] = (38, 55, 35)
    comparison = compared(picture, repainted(picture, lab))
    assert "shape has come in" in comparison.verdict[0]
    assert compare_passes([state_of(picture), state_of(repainted(picture, lab))]).texts[0].startswith("A ")


@pytest.mark.slow
def test_a_mirror_image_is_not_called_no_change() -> None:
    picture = demo(REPAINT)
    comparison = compared(picture, repainted(picture, np.ascontiguousarray(picture.lab[:, ::-1])))
    assert comparison.verdict[0].startswith("The repaint is the original turned round, left for right")
    assert not any(sentence.startswith("No change") for sentence in comparison.verdict)
    assert comparison.as_dict()["drawing"]["turned_round"] is True


@pytest.mark.slow
def test_a_darkened_sky_is_what_changed_most_and_does_not_make_the_picture_louder() -> None:
    picture = demo(REPAINT)
    lab = picture.lab.copy()
    sky = round(0.3 * lab.shape[0])
    lab[:sky, :, 0] -= 25
    comparison = compared(picture, repainted(picture, lab))
    (most,) = [told for told in comparison.verdict if told.startswith("Most of all")]
    assert "darker by" in most and "in the sky" in most
    assert "louder" not in " ".join(comparison.verdict)


@pytest.mark.slow
def test_all_colour_halved_is_quieter_and_not_poorer() -> None:
    picture = demo(MEADOW)
    lab = picture.lab.copy()
    lab[..., 1:] *= 0.5
    comparison = compared(picture, repainted(picture, lab))
    replies = {answer.id: answer.outcome for answer in comparison.held.answers}
    assert replies["quieter"] == "quieter" and replies["richer"] == "quieter"
    assert "poorer" not in " ".join(comparison.verdict)


@pytest.mark.slow
def test_whether_to_stop_is_not_said_by_another_picture() -> None:
    done = compare_passes([state_of(demo(name)) for name in (MEADOW, REPAINT, NESS)])
    assert done.advice.startswith("The last file looks like another picture")
    assert done.texts[1].startswith("These look like two different pictures")


def test_every_kind_of_finding_can_come_and_go_between_two_pictures() -> None:
    """One stands on a figure that is told and not compared: it moved where anything did."""
    state = state_of(picture_from_srgb(lab_to_srgb8(ground())))
    measured = (state.measures, state.measures)
    compared_at_all = compare_figures(measured)
    for kind in all_kinds():
        found = kind.finding(level="watch", text="Said.", figure=1.0, figure_text="", norm="")
        for before, after in (((), (found,)), ((found,), ())):
            for unchanged in (True, False):
                (move,) = finding_moves(before, after, compared_at_all, measured, unchanged=unchanged)
                assert move.kind == kind.id and (move.outcome == "on the edge" or not unchanged)
