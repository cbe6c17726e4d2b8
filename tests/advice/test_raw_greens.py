"""Greens that are bluer than any leaf, as phthalo green and viridian are from the tube."""

import numpy as np
import pytest
from measured import measured, said

from critique.advice.change_green import Mute
from critique.advice.frame import Frame
from critique.advice.small_map import SmallMap
from critique.measures.land_greens import BLUER, BLUEST_LEAF, RAW, bluer_than_leaves
from critique.perception.cielab import lab_to_lch, lch_to_lab
from critique.perception.hue import leaf_limit
from critique.perception.reference import read_table
from critique.picture.picture import Picture, picture_from_lab, picture_from_srgb
from critique.report.plates.greens import greens_plate
from critique.tasks.review import review_picture


def test_no_leaf_is_so_blue_a_green_and_strong() -> None:
    """PROSPECT-D (Féret et al., 2017), by the table that stands beside its source in sources.md."""
    leaves = np.array([[float(row[name]) for name in ("L", "a", "b")] for row in read_table("leaf_colours.csv")])
    assert len(leaves) > 20
    assert not bluer_than_leaves(leaves).any()
    strong = leaves[np.hypot(leaves[:, 1], leaves[:, 2]) >= RAW * leaf_limit(leaves[:, 0])]
    assert len(strong) > 8
    bluest = np.degrees(np.arctan2(strong[:, 2], strong[:, 1])).max()
    assert bluest < BLUER[0] - 8 and bluest == pytest.approx(BLUEST_LEAF, abs=1)


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


@pytest.mark.parametrize(
    ("green", "told"),
    [
        ((42, -36, 21), True),
        ((44, -30, 9), True),
        ((48, -38, -7), True),
        ((42, -25, 9), True),
        ((42, -20, 12), False),
        ((45, -18, 34), False),
        ((48, -20, -28), False),
    ],
)
def test_a_raw_field_of_phthalo_green_is_named_and_a_dull_a_leafy_or_a_blue_one_is_not(
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


@pytest.mark.slow
def test_it_comes_among_the_leaves_by_a_green_mixed_afresh() -> None:
    """A touch of red earth left it as blue as it was, four units of chroma quieter, and the finding gone."""
    offers = {offer.kind: offer for offer in review_picture(meadow((42, -36, 21))).advice.suggestions}
    (green,) = offers["mute_greens"].greens
    assert green.source.hue > BLUER[0] and green.paint is not None and green.paint.adds is None
    L, C, h = lab_to_lch(np.array(green.paint.recipe.lab))
    assert h < BLUEST_LEAF and leaf_limit(L) > C > 12
    assert "mix a leaf's green afresh" in offers["mute_greens"].text
    preview = offers["mute_greens"].preview
    assert preview is not None and not bluer_than_leaves(preview.lab).any()


def test_a_sea_so_blue_stays_and_the_shade_of_a_tree_on_land_goes_along() -> None:
    blue, shade = lch_to_lab(np.array([[45.0, 38.0, 168.0], [30.0, 26.0, 193.0]])).astype(np.float32)
    lab = np.empty((40, 60, 3), np.float32)
    lab[:, :30], lab[:, 30:] = blue, shade
    land = np.zeros((40, 60), np.float32)
    land[20:] = 1
    pairs = (((45.0, 38.0, 168.0), (45.0, 28.0, 124.0)),)
    after = Mute(12.0, pairs, land=SmallMap.of(land)).on(lab, Frame(40, 60))
    assert np.abs(after[:15] - lab[:15]).max() < 1e-3
    hue = lab_to_lch(after[25:].astype(np.float64))[..., 2]
    assert hue[:, :30].max() < BLUEST_LEAF and hue[:, 30:].max() < 170
