"""A whole job: a picture, its plan, its states made from the aim by coarser and finer painting, and the comparison."""

import json
import shutil

import numpy as np
import pytest
from PIL import Image
from scipy.ndimage import gaussian_filter

import critique
from critique.errors import CritiqueError
from critique.pair.kept_plan import kept_plan
from critique.pair.toward_aim import toward_aim
from critique.pair.toward_words import THERE, toward_in_words
from critique.perception.cielab import lab_to_srgb8, srgb8_to_lab
from critique.picture.picture import Picture, picture_from_srgb
from critique.report.plan_page import write_plan
from critique.report.printing_compared import passes_summary
from tests.tasks.conftest import green_scene

pytestmark = pytest.mark.slow  # each plan takes seconds of processor time


@pytest.fixture(scope="module")
def kept(plan, tmp_path_factory):
    folder = tmp_path_factory.mktemp("job") / "meadow"
    write_plan(plan, folder)
    return kept_plan(folder), folder


def painted(plan, kind: str) -> Picture:
    """The aim as it stands after a block-in in flat mixtures, a second pass in broad forms, or finished."""
    lab = srgb8_to_lab(plan.aim.picture.srgb)
    labels = np.kron(plan.passages.places.labels, np.ones((2, 2), np.intp))[: lab.shape[0], : lab.shape[1]]
    rows = (np.arange(lab.shape[0]) / lab.shape[0] * plan.passages.places.labels.shape[0]).astype(int)
    columns = (np.arange(lab.shape[1]) / lab.shape[1] * plan.passages.places.labels.shape[1]).astype(int)
    labels = plan.passages.places.labels[rows][:, columns]
    if kind == "block-in":
        colours = np.array([one.recipe.lab for one in plan.passages.passages], np.float32)
        lab = colours[labels] + np.random.default_rng(1).normal(0, 0.4, lab.shape).astype(np.float32)
    elif kind == "second":
        lab = np.stack([gaussian_filter(lab[..., axis], 4) for axis in range(3)], axis=-1)
    return picture_from_srgb(lab_to_srgb8(lab.astype(np.float32)), f"{kind}.png")


def test_the_plan_s_folder_holds_what_the_easel_and_the_passes_need(plan, kept):
    _, folder = kept
    names = {path.relative_to(folder).as_posix() for path in folder.rglob("*") if path.is_file()}
    assert {"plan.html", "sheet.html", "plan.json", "aim.png", "passages.png"} <= names
    record = json.loads((folder / "plan.json").read_text(encoding="utf-8"))
    assert record["aim"]["steps"][0]["parameters"] and len(record["passages"]["passages"]) >= 3
    with Image.open(folder / "passages.png") as key:
        assert np.array_equal(np.asarray(key), plan.passages.places.labels)
        assert np.asarray(key.convert("RGB")).max() > 100, "no black picture: each passage in its colour"
    with Image.open(folder / "aim.png") as aim:
        assert aim.size == (480, 360)


def test_each_pass_from_the_aim_comes_nearer_and_the_finished_one_is_told_to_stop(plan, meadow, kept):
    states = [meadow, *(painted(plan, kind) for kind in ("block-in", "second", "finished"))]
    toward = toward_aim(states, kept[0])
    colours = [state.colour for state in toward.states]
    assert colours[0] > THERE >= max(colours[1:])
    forms = [state.form for state in toward.states[1:]]
    assert forms[0] < 0.3 < forms[1] and forms[2] > 0.95
    assert toward.states[1].finish < 0.3 and toward.states[3].finish > 0.9
    told = toward_in_words(toward)
    assert told.reached and told.stop.startswith("Stop here")
    assert all("moved nothing" not in text for text in told.passes[:2])


def test_a_block_in_is_told_three_things_at_most_and_none_of_them_is_to_stop(plan, kept):
    told = toward_in_words(toward_aim([painted(plan, "block-in")], kept[0]))
    assert 1 <= len(told.next_things) <= 3 and not told.reached


def test_colours_are_not_called_there_while_a_passage_is_named_as_off(plan, kept):
    state = painted(plan, "finished")
    small = next(one for one in plan.passages.passages if 0.02 < one.share < 0.15)
    rows, columns = (
        (np.arange(size) / size * of).astype(int)
        for size, of in zip(state.lab.shape[:2], plan.passages.places.labels.shape, strict=True)
    )
    lab = srgb8_to_lab(state.srgb)
    lab[plan.passages.places.labels[rows][:, columns] == small.number - 1] += np.array([12, 14, 0], np.float32)
    toward = toward_aim([picture_from_srgb(lab_to_srgb8(lab), "off.png")], kept[0])
    told = toward_in_words(toward)
    assert toward.states[0].colour <= THERE and told.next_things[0].startswith(f"{small.number}, ")
    assert f"the colours are there but for {small.number}" in told.standing
    finished = toward_in_words(toward_aim([state], kept[0]))
    assert finished.standing == "Now colours, forms, edges and brushwork are all there."


def test_a_pass_that_leads_away_is_named(plan, meadow, kept):
    told = toward_in_words(toward_aim([painted(plan, "second"), meadow], kept[0]))
    assert "away from it" in told.passes[0] and "away from the aim" in told.stop


def recomposed() -> Picture:
    """The colours of the meadow in another composition: the line high, the tree and the cloud elsewhere."""
    lab = srgb8_to_lab(green_scene(seed=5))
    moved = np.concatenate([lab[:60], lab[151:], lab[260:320], lab[151:182]])[:360, ::-1]
    return picture_from_srgb(lab_to_srgb8(moved.astype(np.float32)), "moved.png")


def wood() -> Picture:
    """Dark trunks before red leaves."""
    rng = np.random.default_rng(4)
    lab = np.full((360, 480, 3), (40, 40, 30), np.float32) + rng.normal(0, 4, (360, 480, 3)).astype(np.float32)
    lab[:, 40:110], lab[:, 300:360] = (12, 4, 4), (15, 4, 6)
    return picture_from_srgb(lab_to_srgb8(lab.astype(np.float32)), "wood.png")


def test_another_picture_is_refused_before_anything_is_told(plan, meadow, kept):
    with pytest.raises(CritiqueError, match=r"wood\.png: another picture than that of the plan in meadow"):
        critique.passes([meadow, wood()], plan=kept[1])
    with pytest.raises(CritiqueError, match="another picture"):
        critique.compare(meadow, wood(), plan=kept[1])


def test_another_composition_is_compared_as_a_whole_and_no_place_of_it_is_to_be_painted_over(plan, meadow, kept):
    toward = toward_aim([meadow, recomposed()], kept[0])
    assert toward.states[-1].laid == "another composition"
    told = toward_in_words(toward)
    assert told.next_things == () and told.stop == "" and not told.reached
    assert "another composition" in told.standing and "of all its colour" in told.standing
    assert told.passes == ("It was composed anew: no place of it is held against the aim's.",)


def test_no_line_is_printed_empty_where_there_is_nothing_to_advise(plan, kept, tmp_path):
    printed = passes_summary(critique.passes([recomposed()], plan=kept[1]), tmp_path / "passes.html")
    assert "another composition" in printed and all(line.strip() for line in printed.splitlines())


def test_a_toned_ground_is_not_taken_for_another_picture(plan, kept):
    ground = picture_from_srgb(np.full((360, 480, 3), (150, 90, 60), np.uint8), "ground.png")
    assert toward_aim([ground], kept[0]).states[0].laid == "by its frame"


def test_with_a_plan_there_is_one_verdict(plan, meadow, kept):
    done = critique.passes([painted(plan, "second"), meadow], plan=kept[1])
    assert done.told is not None and done.advice == done.told.stop


def test_a_comparison_says_first_whether_the_aim_was_reached(plan, meadow, kept):
    done = critique.compare(meadow, painted(plan, "finished"), plan=kept[1])
    assert done.verdict[0].startswith("What was aimed at is reached")
    back = critique.compare(meadow, meadow, plan=kept[1])
    assert back.verdict[0].startswith("It is no nearer")


def test_a_folder_without_a_plan_is_refused_in_one_line(kept, tmp_path):
    with pytest.raises(CritiqueError, match="holds no plan"):
        kept_plan(tmp_path)
    broken = tmp_path / "broken"
    shutil.copytree(kept[1], broken)
    (broken / "plan.json").write_text("{", encoding="utf-8")
    with pytest.raises(CritiqueError, match="can't be read"):
        kept_plan(broken)
