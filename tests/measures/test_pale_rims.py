"""A pale rim round what stands against the sky: how long it is, and what is none."""

import numpy as np
import pytest
from scipy.ndimage import distance_transform_edt, gaussian_filter

from critique.advice.fault_limits import RIMS
from critique.advice.findings import finding_of
from critique.advice.judging import Case
from critique.advice.kinds import kind_named
from critique.advice.norms import read_norms
from critique.advice.praise import virtues
from critique.perception.cielab import lab_to_srgb8
from critique.picture.picture import Picture, picture_from_srgb
from tests.measured import measured, said
from tests.measures.scenes import mirrored, rough

HEIGHT, WIDTH = 420, 640
TREES = ((240, 190, 75), (250, 470, 60))  # row, column and radius, px
SKY, FIELD, LEAVES = (68.0, -3.0, -20.0), (48.0, -14.0, 26.0), (17.0, -8.0, 10.0)


def scene(rim: float = 0.0, *, wide: float = 6.0, whole: bool = True) -> tuple[np.ndarray, np.ndarray]:
    """Lab of two round trees over a field, with a rim so much lighter than the sky; and px from them to each place.

    Where it isn't ``whole`` the rim runs down their right flanks alone, as the light of a low sun does.
    """
    y, x = np.mgrid[:HEIGHT, :WIDTH].astype(np.float32)
    trees = np.any([np.hypot(y - row, x - column) < radius for row, column, radius in TREES], axis=0)
    ground = y > 0.68 * HEIGHT
    lab = np.empty((HEIGHT, WIDTH, 3), dtype=np.float32)
    lab[:] = SKY
    lab[ground] = FIELD
    away = distance_transform_edt(~(trees | ground))
    band = (away > 0) & (away <= wide)
    if not whole:
        band &= np.any([x > column for _, column, _ in TREES[1:]], axis=0)
    lab[band, 0] += rim
    lab[band, 1:] *= 0.5 if rim else 1
    lab[trees] = LEAVES
    lab = np.stack([gaussian_filter(plane, 0.7) for plane in lab.transpose(2, 0, 1)], -1)
    lab[..., 0] = rough(lab[..., 0], 0.8)
    return lab, away


def picture(lab: np.ndarray) -> Picture:
    return picture_from_srgb(lab_to_srgb8(lab.astype(np.float32)))


def test_a_rim_is_as_long_as_the_flanks_that_it_runs_down() -> None:
    rims = measured(picture(scene(16)[0])).pale_rims
    # Each tree is a circle down to the field: its left flank and its right, as high as it rises over the horizon.
    flanks = sum(2 * (min(row + radius, 0.68 * HEIGHT) - (row - radius)) for row, _, radius in TREES) / WIDTH
    assert rims.length == pytest.approx(flanks, rel=0.3)
    assert rims.share > 0.7


def test_a_broad_rim_is_as_long_as_a_narrow_one() -> None:
    """Left by a broad brush it fades out farther from the tree than a narrow one is looked for."""
    narrow, broad = (measured(picture(scene(16, wide=wide)[0])).pale_rims for wide in (6.0, 22.0))
    assert broad.length == pytest.approx(narrow.length, rel=0.25) and broad.share > 0.6


def test_a_rim_is_named_where_it_is_and_with_what_mends_it() -> None:
    lab, away = scene(16)
    shown = picture(lab)
    found = said(shown, "pale rims")["pale rims"]
    assert found.level == "rework" and "sky's own colour" in found.text
    where = kind_named("pale_rims").where
    assert where is not None
    mask = where(measured(shown))
    assert isinstance(mask, np.ndarray) and mask.shape == away.shape
    assert away[mask].max() < 20 and mask.mean() > 0.005


def test_a_faint_rim_is_to_watch_at_most_and_the_same_in_a_mirror() -> None:
    faint = picture(scene(5.5)[0])
    lengths = [measured(one).pale_rims.length for one in (faint, mirrored(faint))]
    assert lengths[0] == pytest.approx(lengths[1], rel=0.15)
    assert measured(picture(scene(16)[0])).pale_rims.length > lengths[0] > 0


@pytest.mark.parametrize("wide", [1.0, 1.5])
def test_the_thin_line_that_sharpening_leaves_is_no_rim(wide: float) -> None:
    assert said(picture(scene(16, wide=wide)[0]), "pale rims") == {}


def test_trees_against_an_even_sky_have_none() -> None:
    assert measured(picture(scene()[0])).pale_rims.length < 0.01


def test_a_rim_down_one_side_alone_is_a_rim_and_the_light_of_a_low_sun_there_is_none() -> None:
    """A tree at the side of a picture has the sky on one flank alone; light fades out far from a hill."""
    lab, away = scene()
    right = np.any([np.mgrid[:HEIGHT, :WIDTH][1] > column for _, column, _ in TREES[1:]], axis=0)
    lit = lab.copy()
    lit[..., 0] += np.where(right & (away > 0), 14 * np.exp(-away / 100), 0)
    assert said(picture(lit), "pale rims") == {}
    assert "pale rims" in said(picture(scene(16, whole=False)[0]), "pale rims")


def test_snow_on_one_of_many_tops_is_no_rim() -> None:
    """One small top with a rim on both flanks, beside two trees without: nobody's habit."""
    lab, _ = scene()
    y, x = np.mgrid[:HEIGHT, :WIDTH].astype(np.float32)
    away = np.hypot(y - 262, x - 360) - 26
    sky = lab[..., 0] > 60
    lab[(away <= 0) & sky] = LEAVES
    lab[(away > 0) & (away <= 6) & sky, 0] += 16
    rims = measured(picture(lab)).pale_rims
    assert rims.length == 0
    assert said(picture(lab), "pale rims") == {}


def test_a_band_of_light_over_the_horizon_is_no_rim() -> None:
    lab, _ = scene()
    y = np.arange(HEIGHT)[:, None]
    band = (y > 0.655 * HEIGHT) & (y <= 0.68 * HEIGHT) & (lab[..., 0] > 60)
    lab[band, 0] += 16
    assert said(picture(lab), "pale rims") == {}


@pytest.mark.slow
def test_an_edge_with_a_rim_is_not_praised() -> None:
    """The same trees, which stand clear against their sky without one."""
    praised = []
    for rim in (0.0, 16.0):
        shown = picture(scene(rim)[0])
        case = Case.of(shown, measured(shown), read_norms())
        found = finding_of(case, kind_named("pale_rims"))
        praised.append({kind.id for kind, _ in virtues(case, {found.kind} if found else set())})
    assert "silhouette" in praised[0] and "silhouette" not in praised[1]


@pytest.mark.parametrize("what", ["glow", "sharpened"])
def test_light_that_is_brightest_at_the_border_is_no_painted_rim(what: str) -> None:
    """Of 40 photographs three were told a rim: the light over far hills, and stone that its camera had sharpened."""
    lab, away = scene()
    if what == "glow":
        lab[..., 0] += np.where(away > 0, 18 * np.exp(-away / 5.0), 0)
    else:
        lab[..., 0] += 0.9 * (lab[..., 0] - gaussian_filter(lab[..., 0], 4.0))
    assert RIMS.level(measured(picture(lab)).pale_rims.length) == "holds"


def test_a_white_wall_beside_a_dark_tower_is_no_rim() -> None:
    """It has a width of its own where it comes down in front of the land, and the rims of the trees remain."""
    lab, _ = scene()
    top, foot = 100, round(0.68 * HEIGHT)
    for left in (255, 560):
        lab[top:foot, left : left + 50] = LEAVES
        lab[top - 4 : foot, left + 50 : left + 59] = (92.0, 0.0, 4.0)
        lab[foot : foot + 60, left + 30 : left + 75] = (92.0, 0.0, 4.0)
    walled = measured(picture(lab)).pale_rims
    assert RIMS.level(walled.length) == "holds"
    cut_off = lab.copy()
    cut_off[foot : foot + 60][cut_off[foot : foot + 60, :, 0] > 85] = FIELD
    assert RIMS.level(measured(picture(cut_off)).pale_rims.length) != "holds", "without the wall below they are rims"


def test_a_sky_that_goes_on_darkening_over_a_ridge_has_no_rim() -> None:
    """The light of dusk ends as slowly as it began; a rim, brighter than that sky, ends."""
    y, x = np.mgrid[:HEIGHT, :WIDTH].astype(np.float32)
    crest = 260 + 40 * np.sin(x / 40) + 12 * np.sin(x / 13)
    over = np.maximum(crest - y, 0)
    told = []
    for rim in (0.0, 14.0):
        lab = np.zeros((HEIGHT, WIDTH, 3), dtype=np.float32)
        lab[..., 0] = np.maximum(74 - 0.45 * over, 25) + np.where(over <= 12, rim, 0)
        lab[..., 0][over <= 0] = 15
        lab[..., 0] = rough(gaussian_filter(lab[..., 0], 0.7), 0.5)
        told.append(RIMS.level(measured(picture(lab)).pale_rims.length))
    assert told[0] == "holds" and told[1] != "holds"
