"""What tells the height of the dividing line, and that its table is the one that the script made."""

import numpy as np
import pytest

from critique.measures.division import cues_of
from critique.measures.division_path import separating_path
from critique.measures.division_row import dividing_row, heights, likeliest
from critique.perception.reference import read_table
from critique.picture.picture import picture_from_srgb


def test_every_weight_has_a_cue_and_every_cue_a_weight():
    rng = np.random.default_rng(0)
    cues = cues_of(picture_from_srgb(rng.integers(0, 256, (120, 160, 3), dtype=np.uint8)))
    assert [row["cue"] for row in read_table("division_weights.csv")] == sorted(cues)
    assert {cue.shape for cue in cues.values()} == {heights().shape}


def test_the_table_is_the_one_that_was_fitted():
    # Sums as printed after make_division_weights.py had run: a changed cell, or two swapped rows, miss them.
    weights = np.array([float(row["weight"]) for row in read_table("division_weights.csv")])
    places = np.arange(1, len(weights) + 1)
    assert np.abs(weights).sum() == pytest.approx(33.014183, abs=1e-5)
    assert (places * weights).sum() == pytest.approx(40.362619, abs=1e-4)


def test_the_likeliest_height_is_where_most_chance_lies_and_not_the_highest_peak():
    leaning = np.full(heights().shape, -9.0, dtype=np.float32)
    leaning[10], leaning[50:55] = 1.0, 0.5
    assert likeliest(leaning) == pytest.approx(heights()[52], abs=0.005)


@pytest.mark.parametrize("shape", [(8, 200), (200, 8), (17, 23)])
def test_pictures_of_any_shape_and_of_one_colour_have_a_height(shape):
    for colour in (0, 128, 255):
        cues = cues_of(picture_from_srgb(np.full((*shape, 3), colour, dtype=np.uint8)))
        assert all(np.isfinite(cue).all() for cue in cues.values())
        assert 0 < dividing_row(cues) < 1


def test_the_foot_of_a_wood_is_the_line_and_not_its_top():
    # A bright sky over upright trunks over level strokes: where the ground begins, a person draws the line.
    rng = np.random.default_rng(4)
    scene = np.empty((400, 600, 3))
    scene[:120] = (196, 208, 220)
    trunks = np.kron(rng.normal(0, 16, (1, 120)), np.ones((150, 5)))
    scene[120:270] = (52, 58, 44) + trunks[..., None]
    strokes = np.kron(rng.normal(0, 10, (65, 6)), np.ones((2, 100)))
    scene[270:] = (96, 96, 70) + strokes[..., None]
    picture = picture_from_srgb(np.clip(scene, 0, 255).astype(np.uint8))
    assert dividing_row(cues_of(picture)) == pytest.approx(270 / 400, abs=0.05)


def test_a_path_sought_near_a_height_stays_on_the_edge_there_beside_a_plainer_one():
    # A pale sky, a sea of nearly its value, and sand: the eye calls the sea's horizon the line, though sand is plainer.
    scene = np.empty((400, 600, 3), dtype=np.float32)
    scene[:224], scene[224:248], scene[248:] = (74, -4, -16), (71, -14, -16), (92, 1, 8)
    path = separating_path(scene, near=0.555)
    assert path.level / 400 == pytest.approx(0.56, abs=0.02)
    assert separating_path(scene).level / 400 == pytest.approx(0.62, abs=0.02)
