"""Trees painted out in one green, among other greens that vary."""

import numpy as np
import pytest
from measured import measured, said
from scipy.ndimage import gaussian_filter

from critique.measures.flat_green import flat_greens
from critique.picture.picture import Picture, picture_from_lab, picture_from_srgb

HIGH, WIDE = 400, 600  # px


def park(*, flat: bool, tree: tuple[float, float, float] = (44.0, -18.0, 24.0)) -> Picture:
    """Two trees under a pale sky, over grass of many greens: brushed out in one tone, or with light and shade."""
    rng = np.random.default_rng(3)
    soft = [gaussian_filter(rng.normal(0, 1, (HIGH, WIDE)), 3) for _ in range(3)]
    vary = np.stack([field / field.std() for field in soft], axis=-1)
    lab = np.empty((HIGH, WIDE, 3))
    lab[:] = (80.0, -2.0, -7.0)
    lab[240:] = (46.0, -9.0, 24.0) + vary[240:] * (7.0, 5.0, 6.0)
    for left in (60, 360):
        spread = 0.3 if flat else 7.0
        lab[110:250, left : left + 150] = tree + vary[110:250, left : left + 150] * (spread, spread / 3, spread / 3)
    return picture_from_lab(lab.astype(np.float32), picture_from_srgb(np.zeros((HIGH, WIDE, 3), np.uint8)))


@pytest.mark.parametrize("flat", [True, False])
def test_trees_brushed_out_in_one_green_are_named_though_the_grass_varies(flat) -> None:
    picture = park(flat=flat)
    finding = said(picture, "evenness of greens").get("evenness of greens")
    assert (finding is not None and finding.level == "watch") == flat
    if flat:
        assert finding is not None and "laid on flat" in finding.text


def test_what_is_flat_is_the_trees_and_neither_the_grass_nor_an_olive_haze() -> None:
    def found(picture: Picture) -> np.ndarray:
        measures = measured(picture)
        return flat_greens(picture, measures.parts, measures.reads_as_green)

    mask = found(park(flat=True))
    below = round(255 / HIGH * mask.shape[0])
    assert 0.05 < mask.mean() <= 2 * 140 * 150 / (HIGH * WIDE) and mask[below:].sum() < 0.02 * mask.sum()
    assert not found(park(flat=True, tree=(52.0, -3.0, 26.0))).any()


@pytest.mark.parametrize(("turn", "told"), [(0.0, True), (9.0, False)])
def test_strokes_that_are_flat_each_and_differ_in_hue_are_not_laid_on_flat(turn, told) -> None:
    """Each stroke a patch of one tone, 30 px a side: of one mixture, or of greens that differ by that many degrees."""
    picture = park(flat=True)
    lab = picture.lab.copy()
    hues = np.random.default_rng(4).uniform(123.0 - turn, 123.0 + turn, (HIGH // 30 + 1, WIDE // 30 + 1))
    hue = np.radians(np.repeat(np.repeat(hues, 30, axis=0), 30, axis=1)[:HIGH, :WIDE])
    for left in (60, 360):
        tree = np.s_[110:250, left : left + 150]
        lab[tree] = np.stack([np.full_like(hue, 44.0), 30 * np.cos(hue), 30 * np.sin(hue)], axis=-1)[tree]
    picture = picture_from_lab(lab, picture)
    measures = measured(picture)
    assert bool(flat_greens(picture, measures.parts, measures.reads_as_green).any()) == told
