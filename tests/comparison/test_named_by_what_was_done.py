"""That a comparison names what a repaint did, where a finding's own figure hardly tells it."""

import sys
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from PIL import Image
from scipy.ndimage import gaussian_filter

from critique.advice.kinds import kind_named
from critique.advice.standing_still import moved_otherwise
from critique.measures.measure import measure_picture
from critique.paints.box import box_of
from critique.pair.answers import answers
from critique.pair.compare import _verdict, compare_passes, compare_pictures
from critique.pair.comparison import Changes, compare_figures
from critique.pair.comparison_words import NO_CHANGE, _still_open, asides_of
from critique.pair.definition import definition_moved
from critique.pair.finding_moves import finding_moves
from critique.pair.hold import state_of
from critique.pair.register import register
from critique.picture.picture import Picture, picture_from_srgb
from critique.words.figures import percent

sys.path.insert(0, str(Path(__file__).parent))
from pictures import MEADOW, OTHERS, another_photograph, demo, greens_muted, repainted

FEW = box_of(["hansa yellow opaque", "pyrrole red", "ultramarine blue"])  # its mixtures are searched in no time


@pytest.mark.slow
def test_as_many_greens_that_grew_quieter_are_called_better_for_that():
    """ "Better: green area" was said of half a picture in green that stayed half a picture."""
    comparison = compare_pictures(demo(MEADOW), greens_muted(demo(MEADOW), 0.4), box=FEW)
    moves = {move.kind: move for move in comparison.held.moves}
    share = [side.measures.greens.area_share for side in (comparison.first, comparison.second)]
    assert moves["green_area"].outcome == "fixed" and abs(share[0] - share[1]) < 0.02
    (judged,) = (told for told in comparison.verdict if told.startswith("Better: "))
    assert "green area (no less of it, but quieter, chroma" in judged
    assert moves["green_area"].told.startswith("No less of it, but quieter")
    assert "green strength" in judged and "green strength (" not in judged  # its own figure tells that
    # Nothing red came in: what quiet greens ask no answer for wasn't answered.
    relief = [side.measures.greens.relief_share for side in (comparison.first, comparison.second)]
    assert max(relief) < 0.01 and moves["green_relief"].outcome == "no longer matters"
    assert "relief" not in judged.split("No longer matters")[0]


def smoothed(name: str, spread: float, below: float = 0.0) -> Picture:
    """A demo picture without its strokes and crisp edges, from so far down: a state before the last pass."""
    picture = demo(name)
    lab = np.stack([gaussian_filter(picture.lab[..., each], spread) for each in range(3)], axis=-1)
    top = round(below * lab.shape[0])
    return repainted(picture, np.concatenate([picture.lab[:top], lab[top:]]))


@pytest.mark.parametrize("name", [MEADOW, pytest.param(OTHERS[2], marks=pytest.mark.slow)])
@pytest.mark.slow
def test_a_pass_that_only_sharpens_is_told_as_that(name: str) -> None:
    """ "This pass hardly moved anything", where a meadow had got its blades of grass."""
    before, after = state_of(smoothed(name, 1.6)), state_of(demo(name))
    passes = compare_passes([before, after])
    assert "edges and strokes are crisper all over" in passes.texts[0]
    assert "hardly moved" not in passes.texts[0] and "moved nothing" not in passes.texts[0]
    (back,) = compare_passes([after, before]).texts
    assert "edges and strokes are softer all over: brushwork, or only a photograph out of focus" in back
    told = _verdict(passes.steps[0])
    assert any("edges and strokes are crisper" in sentence for sentence in told) and NO_CHANGE not in told


@pytest.mark.slow
def test_what_was_sharpened_in_one_part_is_told_there() -> None:
    passes = compare_passes([state_of(smoothed(MEADOW, 2.0, below=0.6)), state_of(demo(MEADOW))])
    definition = passes.steps[0].definition
    assert definition is not None and not definition.all_over and definition.share == pytest.approx(0.4, abs=0.1)
    assert definition.mask[9:].all() and not definition.mask[:6].any()
    assert "crisper along the bottom" in passes.texts[0] or "crisper in the lower" in passes.texts[0]
    assert "photograph" not in passes.texts[0].split("crisper")[1].split(".")[0]


@pytest.mark.parametrize("name", [MEADOW, pytest.param(OTHERS[0], marks=pytest.mark.slow)])
@pytest.mark.slow
def test_another_photograph_sharpens_nothing(name: str) -> None:
    """Saved with loss, cropped by 2 %, in another light; and a small file, which shows strokes softer."""
    first, second = demo(name), another_photograph(demo(name))
    small = picture_from_srgb(np.asarray(Image.fromarray(first.srgb).resize((480, 360))), name)
    for pair in ((first, second), (second, first), (small, first)):
        assert definition_moved(*pair, register(*pair)) is None


def darks_moved(values: float) -> Picture:
    """The meadow with its darkest fifth so many values lighter."""
    lab = demo(MEADOW).lab.copy()
    lab[..., 0] += 10 * values * (lab[..., 0] <= np.quantile(lab[..., 0], 0.2))
    return repainted(demo(MEADOW), lab)


@pytest.mark.parametrize(
    ("values", "told", "short"),
    [
        (-0.38, "it is deeper in its darks (value ", "deeper darks"),
        (0.38, "it is lighter in its darks", "lighter darks"),
    ],
)
def test_a_picture_of_which_the_darks_alone_moved_is_not_called_darker(values: float, told: str, short: str) -> None:
    """ "It is darker" was said of a pass that deepened its darks, and left its middle and its lights."""
    was, now = measure_picture(demo(MEADOW)), measure_picture(darks_moved(values))
    for end, moved in (("p5", values), ("p50", 0), ("p95", 0)):
        assert now.values.percentiles[end] - was.values.percentiles[end] == pytest.approx(moved, abs=0.05)
    changes = compare_figures((was, now))
    replies = answers(changes, was, now)
    assert [one.short for one in replies if one.id == "values"] == [short]
    aside = asides_of(replies, changes)
    assert any(each.startswith(told) for each in aside) and not {"it is darker", "it is lighter"} & set(aside)


def bared(part: float) -> Picture:
    """The meadow with so much of its sky, from the left, as white as paint."""
    lab = demo(MEADOW).lab.copy()
    lab[: round(0.4 * lab.shape[0]), : round(part * lab.shape[1])] = (98, 0, 0.8)
    return repainted(demo(MEADOW), lab)


@pytest.mark.slow
def test_a_sky_that_a_pass_made_bare_is_not_still_open() -> None:
    """A cloud in it was bare already, so that the finding was there before."""
    little, most = state_of(bared(0.3)), state_of(bared(1.0))
    levels = [one.level for state in (little, most) for one in state.findings if one.kind == "bare_sky"]
    assert levels == ["watch", "watch"]
    there, back = compare_passes([little, most, little]).texts
    shares = [percent(state.measures.bare_sky.share) for state in (little, most)]
    assert f"Worse: bare white sky ({shares[0]} of the picture, now {shares[1]})." in there
    assert "bare white sky" not in there.split("Still open")[1]
    assert f"Better, not yet done: bare white sky ({shares[1]} of the picture, now {shares[0]})." in back
    (same,) = compare_passes([most, state_of(bared(0.92))]).texts
    assert "bare white sky" in same.split("Still open")[1] and "Worse" not in same


def test_a_colour_that_others_outdo_is_not_on_the_edge() -> None:
    """A blue as strong as ever, among greens made stronger: "it moved by so little that another photograph decides"."""
    measured = (measure_picture(demo(MEADOW)),) * 2
    kind = kind_named("loudest_colour")
    found = kind.finding(level="watch", text="Said.", figure=measured[0].loudest.excess, figure_text="", norm="")
    still = compare_figures(measured)
    louder = Changes(
        tuple(replace(one, status="more") if one.figure == "loudest.strong" else one for one in still.figures)
    )
    assert still.knows("loudest.excess", "loudest.strong") and not louder["loudest.excess"].changed
    for changes, outcome in ((still, "on the edge"), (louder, "as it was")):
        for before, after in (((found,), ()), ((), (found,))):
            (move,) = finding_moves(before, after, changes, measured)
            assert move.outcome == outcome
            told = " ".join(_still_open((move,)))
            assert ("another photograph" in told) == (outcome == "on the edge" and bool(after))
            assert ("by what changed around it: loudest colour" in told) == (outcome == "as it was" and bool(after))
    assert "so little" not in move.told and move.told.endswith("Said.")


def test_greens_as_alike_as_they_were_are_called_worse_for_how_much_of_it_is_green() -> None:
    """ "Evenness of greens, worse" stood beside 44 % and 44 %: more of the picture was one flat green than had been."""
    kind, measured = kind_named("green_evenness"), measure_picture(demo(MEADOW))
    even = measured.greens.evenness
    assert kind.by_limits(even) == "holds"
    before = replace(measured, greens=replace(measured.greens, area_share=0.2))
    after = replace(measured, greens=replace(measured.greens, area_share=0.5))
    found = kind.finding(level="watch", text="Said.", figure=even, figure_text="", norm="")
    changes = compare_figures((before, after), light_is_known=True)
    (move,) = finding_moves((), (found,), changes, (before, after))
    assert move.outcome == "broke" and move.named.endswith("(with 50 % of the picture in green instead of 20 %)")
    beyond = replace(found, figure=0.7)
    (told_by_it,) = finding_moves((), (beyond,), changes, (before, after))
    assert told_by_it.outcome == "broke" and "(" not in told_by_it.named  # its own figure tells it
    rivals = kind_named("competing_lights").finding(
        level="watch", text="Said.", figure=0.9, figure_text="", norm="", stands_on="eyepath.rivalry"
    )
    assert moved_otherwise(None, rivals, before, after) == ""  # that figure is in the record, and in no table
