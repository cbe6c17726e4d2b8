"""What tells the kinds of a picture's regions, and that its table is the one that the script made."""

import numpy as np
import pytest
from scenes import bands

from critique.measures.part_chances import KINDS, chances_of, region_cues
from critique.measures.regions import block_means, find_regions
from critique.perception.reference import read_table
from critique.picture.picture import picture_from_srgb


def test_every_weight_has_a_cue_and_every_cue_a_weight():
    rng = np.random.default_rng(0)
    picture = picture_from_srgb(rng.integers(0, 256, (120, 160, 3), dtype=np.uint8))
    cues = region_cues(picture, find_regions(picture))
    rows = read_table("part_weights.csv")
    mixtures = {column for column in rows[0] if column.startswith("mixture")}
    assert len(mixtures) >= 1
    assert {row["cue"] for row in rows} == set(cues) | {"start"} | mixtures


def test_the_tables_are_those_that_were_fitted():
    # Sums as printed after make_part_weights.py had run: a changed cell, or two swapped rows, miss them.
    rows = [{**row} for row in read_table("part_weights.csv")]
    weights = np.array([[float(number) for name, number in row.items() if name != "cue"] for row in rows])
    places = np.arange(1, len(weights) + 1)[:, None]
    assert np.abs(weights).sum(0) == pytest.approx(
        [
            27.46683,
            25.53235,
            28.46308,
            15.59451,
            12.08051,
            16.91502,
            5.27156,
            6.20127,
            11.39588,
            13.84211,
            6.63886,
            15.07194,
            13.76742,
            18.48979,
            4.6513,
        ],
        abs=1e-4,
    )
    assert (places * weights).sum(0) == pytest.approx(
        [
            26.3569,
            133.1809,
            33.9591,
            28.9337,
            1.6383,
            52.9297,
            33.6586,
            48.0489,
            9.5069,
            -23.2949,
            6.128,
            -5.6368,
            -15.3476,
            -99.8294,
            29.4385,
        ],
        abs=1e-3,
    )
    corners = [[float(number) for number in row["corners"].split()] for row in read_table("part_outlines.csv")]
    assert min(map(min, corners)) >= 0
    assert max(map(max, corners)) <= 1
    assert sum((place + 1) * sum(outline) for place, outline in enumerate(corners)) == pytest.approx(712309.46)


@pytest.mark.parametrize("shape", [(1, 1), (3, 200), (200, 3), (17, 23)])
def test_chances_add_up_in_pictures_of_any_shape_and_of_one_colour(shape):
    for colour in (0, 128, 255):
        picture = picture_from_srgb(np.full((*shape, 3), colour, dtype=np.uint8))
        chance = chances_of(picture, find_regions(picture))
        assert np.isfinite(chance).all()
        assert chance.sum(axis=1) == pytest.approx(1, abs=1e-4)
        assert chance.min() >= -1e-6


def test_block_means_are_means_of_blocks():
    values = np.arange(24, dtype=np.float32).reshape(4, 6)
    assert block_means(values, (2, 3)) == pytest.approx(values.reshape(2, 2, 3, 2).mean((1, 3)))
    assert block_means(values, (4, 6)) == pytest.approx(values)


def test_sky_over_grass_is_likelier_sky_above_than_below():
    picture = bands((0.5, (80, -4, -14)), (0.5, (45, -14, 26)))
    regions = find_regions(picture)
    chance = chances_of(picture, regions)
    upper = regions.y < 0.4
    assert chance[upper, KINDS.index("sky")].min() > chance[~upper & (regions.y > 0.6), KINDS.index("sky")].max()
