"""Parts and what reads as green, on scenes that are known and on photographs that anyone can look at."""

from importlib.resources import files

import numpy as np
import pytest
from demo_pictures import demo_path
from scenes import bands, doubled, mirrored
from scipy.ndimage import gaussian_filter

from critique.measures.greens import measure_greens
from critique.measures.land_bands import FAR, land_bands
from critique.measures.measure import measure_picture
from critique.measures.parts import PART_NAMES, measure_parts
from critique.measures.reads_as_green import measure_reads_as_green
from critique.measures.regions import find_regions
from critique.perception.cielab import lab_to_srgb8
from critique.picture.picture import picture_from_srgb
from critique.picture.read import read_picture
from critique.plain import plain

SKY = (78, -4, -14)


def scene(land, sky=SKY, horizon=0.5, *, level=False, seed=1):
    """A smooth sky over rough land, or over level strokes."""
    rng = np.random.default_rng(seed)
    lab = np.empty((400, 600, 3), dtype=np.float32)
    lab[:] = land
    strokes = gaussian_filter(rng.normal(size=lab.shape[:2]), (1.5, 12) if level else (1.5, 1.5))
    lab[..., 0] += 4 * strokes / strokes.std()
    rows = round(horizon * len(lab))
    if rows:
        lab[:rows] = sky
        lab[:rows, :, 0] += np.linspace(-6, 6, rows)[:, None]
    return picture_from_srgb(lab_to_srgb8(lab))


def green_of(picture):
    return measure_reads_as_green(picture, measure_parts(picture))


def shares(parts):
    return np.array([getattr(parts, f"{name}_share") for name in PART_NAMES])


def test_shares_add_up_and_are_those_of_the_labels():
    parts = measure_parts(scene((45, -12, 24)))
    assert shares(parts).sum() == pytest.approx(1)
    assert shares(parts) == pytest.approx([(parts.labels == index).mean() for index in range(5)])
    assert parts.mask("near", "middle", "far").mean() == pytest.approx(1 - parts.sky_share - parts.water_share)


@pytest.mark.parametrize("horizon", (0.25, 0.4, 0.6))
def test_a_sky_over_land_ends_at_the_horizon(horizon):
    parts = measure_parts(scene((40, 8, 20), horizon=horizon))
    assert parts.sky_share == pytest.approx(horizon, abs=0.03)
    assert parts.horizon == pytest.approx(horizon, abs=0.03)
    assert parts.sky_sureness > 0.5


@pytest.mark.parametrize(("top", "far"), [(120, True), (220, False)])
def test_pale_hills_on_the_horizon_are_far_and_a_pale_beach_in_front_is_not(top, far):
    lab = np.empty((400, 600, 3), dtype=np.float32)
    lab[:120], lab[120:] = SKY, (35, -8, 20)
    lab[top : top + 40, 200:] = (72, -2, -4)
    regions = find_regions(picture_from_srgb(lab_to_srgb8(lab)))
    down = (np.arange(regions.labels.shape[0]) + 0.5) / regions.labels.shape[0] * 400
    bands = land_bands(regions, np.tile(down[:, None] < 120, (1, regions.labels.shape[1])), 0.3)
    pale = bands[(down > top + 10) & (down < top + 30), regions.labels.shape[1] // 2 :]
    assert ((pale == FAR).mean() > 0.9) == far
    assert ((pale == FAR).mean() < 0.1) != far


def test_level_strokes_in_the_colour_of_the_sky_are_water_and_grass_is_none():
    assert measure_parts(scene((58, -6, -12), level=True)).water_share > 0.4
    assert measure_parts(scene((58, -16, 28), level=True)).water_share < 0.02


def test_land_lies_nearer_the_lower_it_stands():
    labels = measure_parts(scene((40, 8, 20), horizon=0.3)).labels
    rows = {name: np.nonzero(labels == PART_NAMES.index(name))[0] for name in ("far", "middle", "near")}
    assert rows["middle"].mean() < rows["near"].mean()
    assert len(rows["far"]) == 0 or rows["far"].mean() < rows["middle"].mean()


@pytest.mark.parametrize("land", [(55, -20, 35), (45, -12, 24), (30, -8, 16), (22, -5, 10)])
def test_meadows_and_dark_woods_read_as_green(land):
    assert green_of(scene(land)).share > 0.38
    assert green_of(scene(land, horizon=0)).share > 0.55


@pytest.mark.parametrize("land", [(45, 12, 22), (58, 8, 28), (66, 6, 22), (40, 20, 20), (55, 0, -15), (75, 0, -4)])
def test_brown_plains_deserts_seas_and_snow_do_not(land):
    assert green_of(scene(land)).share < 0.12


def test_a_cream_sky_is_neither_green_in_the_band_nor_to_the_eye():
    picture = scene((40, 14, 20), sky=(88, -3, 18), horizon=0.7)
    assert green_of(picture).share < 0.12
    assert measure_greens(picture).area_share < 0.02


def test_mirroring_and_doubling_change_little():
    picture = read_picture(demo_path("tolvesk_08_ostermell_second_pass.jpg"))
    parts, green = shares(measure_parts(picture)), green_of(picture).share
    assert shares(measure_parts(mirrored(picture))) == pytest.approx(parts, abs=0.05)
    assert green_of(mirrored(picture)).share == pytest.approx(green, abs=0.03)
    small = picture_from_srgb(np.ascontiguousarray(picture.srgb[::2, ::2]))
    assert green_of(doubled(small)).share == pytest.approx(green_of(small).share, abs=0.05)


def test_a_photograph_of_a_pavilion_over_trees():
    # scikit-learn's china.jpg, looked at: sky and the haze under it are half of it, the trees below about a quarter.
    photograph = read_picture(str(files("sklearn.datasets.images") / "china.jpg"))
    parts = measure_parts(photograph)
    assert parts.sky_share == pytest.approx(0.48, abs=0.07)
    assert 0.18 < measure_reads_as_green(photograph, parts).share < 0.35


@pytest.mark.parametrize(
    ("name", "sky", "green"),
    [  # by looking at the demos
        ("tolvesk_01_ostermell_meadow.jpg", 0.47, (0.45, 0.56)),
        ("tolvesk_08_ostermell_second_pass.jpg", 0.47, (0.38, 0.56)),
        ("tolvesk_03_tussalund_snow.jpg", 0.3, (0.0, 0.05)),  # down to the tops of the far wood
        ("tolvesk_05_orvalden_beeches.jpg", 0.04, (0.0, 0.15)),
    ],
)
def test_the_demos_are_read_as_they_look(name, sky, green):
    picture = read_picture(demo_path(name))
    parts = measure_parts(picture)
    # What is taken for sky between the beeches is a guess, and known for one.
    assert parts.sky_share == pytest.approx(sky, abs=0.07) or parts.sky_sureness < 0.1
    assert green[0] <= measure_reads_as_green(picture, parts).share <= green[1]


@pytest.mark.parametrize("size", [(1, 1), (3, 5), (1, 40), (60, 2), (20, 20)])
def test_tiny_flat_and_grey_pictures_have_parts_too(size):
    for code in (0, 128, 255):
        picture = picture_from_srgb(np.full((*size, 3), code, dtype=np.uint8))
        parts = measure_parts(picture)
        green = measure_reads_as_green(picture, parts)
        assert np.isfinite(shares(parts)).all() and shares(parts).sum() == pytest.approx(1)
        assert np.isfinite([green.share, green.sureness]).all()


def test_the_record_has_shares_and_no_maps():
    measures = measure_picture(bands((0.5, SKY), (0.5, (52, -20, 30))))
    record = plain(measures)
    assert record["greens"]["reads_as_green_share"] == pytest.approx(measures.reads_as_green.share, rel=1e-5)
    assert set(record["reads_as_green"]) == {"share", "sureness"}
    assert "labels" not in record["parts"] and "cues" not in record["parts"]
