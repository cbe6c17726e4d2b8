"""Greens that are bluer than any leaf, as phthalo green and viridian are from the tube."""

import numpy as np
import pytest
from measured import measured, said

from critique.measures.land_greens import BLUER, RAW, bluer_than_leaves
from critique.perception.hue import leaf_limit
from critique.perception.reference import read_table
from critique.picture.picture import Picture, picture_from_lab, picture_from_srgb
from critique.report.plates.greens import greens_plate


def test_no_leaf_is_so_blue_a_green_and_strong() -> None:
    """PROSPECT-D (Féret et al., 2017), by the table that stands beside its source in sources.md."""
    leaves = np.array([[float(row[name]) for name in ("L", "a", "b")] for row in read_table("leaf_colours.csv")])
    assert len(leaves) > 20
    assert not bluer_than_leaves(leaves).any()
    strong = leaves[np.hypot(leaves[:, 1], leaves[:, 2]) >= RAW * leaf_limit(leaves[:, 0])]
    assert len(strong) > 8
    assert np.degrees(np.arctan2(strong[:, 2], strong[:, 1])).max() < BLUER[0] - 8


def meadow(green: tuple[float, float, float], *, part: float = 0.5) -> Picture:
    """A pale sky over hills and a green field that fills so much of the picture."""
    rng = np.random.default_rng(7)
    lab = np.empty((400, 600, 3), np.float32)
    lab[:] = (80, -3, -8)
    top = round(400 * (1 - part))
    lab[top - 60 : top] = (45, 3, 12)
    lab[top:] = green
    lab[top - 60 :, :, 0] += np.repeat(np.repeat(rng.normal(0, 4, (230, 300)), 2, axis=0), 2, axis=1)[: 460 - top]
    return picture_from_lab(lab, picture_from_srgb(np.zeros((*lab.shape[:2], 3), np.uint8)))


@pytest.mark.parametrize(("green", "told"), [((42, -36, 21), True), ((42, -20, 12), False), ((45, -18, 34), False)])
def test_a_raw_field_of_phthalo_green_is_named_and_a_dull_or_a_leafy_one_is_not(
    green: tuple[float, float, float], told: bool
) -> None:
    finding = said(meadow(green), "green strength").get("green strength")
    assert (finding is not None and "bluer than any leaf" in finding.text) is told
    if told:
        assert finding is not None and finding.level == "rework" and "PG7" in finding.text


@pytest.mark.parametrize(("part", "told"), [(0.07, True), (0.025, False)])
def test_a_strip_of_it_is_seen_and_a_touch_may_be(part: float, told: bool) -> None:
    """A wood along a lake in raw blue-green is loud to anybody; little of it was to no reader."""
    finding = said(meadow((42, -36, 21), part=part), "green strength").get("green strength")
    assert (finding is not None and finding.level == "watch" and "bluer than any leaf" in finding.text) is told


def test_the_plate_of_the_greens_shows_and_hatches_it() -> None:
    """A raw lawn stood in greys, beside the sentence that named it."""
    picture = meadow((42, -36, 21))
    plate = greens_plate(picture, measured(picture))
    shown = np.asarray(plate.image.convert("RGB")).astype(int)
    lawn = shown[round(0.55 * shown.shape[0]) :]
    green = lawn[..., 1] - lawn[..., 0] > 40
    white = lawn.min(axis=-1) > 240
    assert green.mean() > 0.6 and white.mean() > 0.05
    assert "bluer than any leaf" in plate.caption
