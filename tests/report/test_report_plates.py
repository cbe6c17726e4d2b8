"""Plates show what was measured: known pictures give known pixels."""

import dataclasses
import io

import numpy as np
import pytest
from measured import measured, with_others
from PIL import Image
from skimage.color import deltaE_ciede2000, rgb2lab, rgb2xyz

from critique.advice.change import Change, compose
from critique.advice.change_calm import Calm
from critique.advice.findings import all_findings
from critique.advice.green_strength import BEYOND_WATCH, beyond_any_leaf, strength
from critique.advice.judging import Case
from critique.advice.kinds import kind_named
from critique.advice.norms import read_norms
from critique.advice.where import Spot
from critique.measures.division import measure_division
from critique.measures.eyepath import measure_eyepath
from critique.measures.families import measure_families
from critique.measures.land_greens import MAP_LONG_EDGE
from critique.measures.measure import measure_picture
from critique.measures.values import measure_values
from critique.perception.cielab import lab_to_srgb8
from critique.perception.hue import LIGHT_WHEEL
from critique.picture.picture import lab_at, picture_from_lab, picture_from_srgb
from critique.report.plates import colours, look
from critique.report.plates.beside import aim_plate, preview_plate
from critique.report.plates.colours import STRIP_SIZE, WHEEL_SIZE, strip_plate, wheel_angle, wheel_place, wheel_plate
from critique.report.plates.division import TICK, division_plate
from critique.report.plates.eyepath import eyepath_plate
from critique.report.plates.greens import greens_plate
from critique.report.plates.marks import stroke
from critique.report.plates.png import png_of_photograph
from critique.report.plates.values import histogram_plate, plan_plate
from critique.report.plates.where import where_plate

SKY, QUIET, RAW = (78.0, -4.0, -16.0), (48.0, -10.0, 18.0), (62.0, -46.0, 52.0)  # L*a*b*
WIDTH, HEIGHT = 1000, 636  # px, the size of a photographic plate: nothing is resampled


def painted(*bands):
    """A picture of upright bands of equal width."""
    lab = np.zeros((HEIGHT, WIDTH, 3), dtype=np.float32)
    for index, colour in enumerate(bands):
        lab[:, WIDTH * index // len(bands) :] = colour
    return picture_from_srgb(lab_to_srgb8(lab))


def pixels(plate):
    return np.asarray(plate.image.convert("RGB"))


def lightness(codes):
    return rgb2lab(np.asarray(codes, dtype=np.uint8).reshape(-1, 1, 3))[:, 0, 0]


def test_surround_is_neutral_and_as_light_as_a_judging_surround_may_be():
    # ISO 3664:2009, practical appraisal: a neutral surround of 10 to 60 % luminance; from memory of the standard.
    codes = np.array([int(look.SURROUND[place : place + 2], 16) for place in (1, 3, 5)])
    assert len(set(codes)) == 1
    assert 0.10 <= rgb2xyz(codes.reshape(1, 1, 3) / 255)[0, 0, 1] <= 0.60


def test_what_is_not_green_is_grey_of_its_own_value_and_green_keeps_its_colour():
    picture = painted(SKY, QUIET)
    plate = pixels(greens_plate(picture))
    assert plate.shape == (HEIGHT, WIDTH, 3)
    left, right = plate[:, :495], plate[:, 505:]
    assert (left == left[..., :1]).all()
    assert lightness(left[300, 100]) == pytest.approx(SKY[0], abs=0.5)
    assert (right == picture.drawn[:, 505:]).all()


def test_only_what_is_beyond_the_leaf_limit_is_hatched():
    picture = painted(QUIET, RAW)
    plate = pixels(greens_plate(picture)).astype(int)
    changed = (plate != picture.drawn).any(axis=-1)
    assert not changed[:, :480].any()
    # Lines of 2.2 px every 15, with their soft edges.
    assert 0.10 < changed[:, 520:].mean() < 0.30
    hatched = plate[:, 520:][changed[:, 520:]]
    assert hatched.max() > 245  # light lines on a green of middle value
    for rows in np.array_split(np.arange(HEIGHT), 10):
        assert changed[rows, 520:].any(axis=1).all()


def test_where_nothing_is_said_of_how_strong_the_greens_are_nothing_is_hatched():
    """Raw grass in a deep shade was hatched, and no word told of it."""
    lab = np.full((HEIGHT, WIDTH, 3), SKY, dtype=np.float32)
    lab[300:], lab[440:500, 100:500] = (45, 6, 16), (26, -30, 32)
    picture = picture_from_srgb(lab_to_srgb8(lab))
    measures = measure_picture(picture)
    assert beyond_any_leaf(lab_at(picture, MAP_LONG_EDGE), measures).mean() > BEYOND_WATCH
    case = Case.of(picture, measures, read_norms())
    assert strength(case, kind_named("green_strength")) is None
    plate, bare = greens_plate(picture, measures, all_findings(case)), greens_plate(picture)
    assert "Hatched" not in plate.caption and "hatched" not in plate.alt and "Hatched" in bare.caption
    assert (pixels(plate)[440:500, 100:500] != pixels(bare)[440:500, 100:500]).any()


def test_what_of_grass_and_foliage_is_a_cool_green_is_shown_with_the_greens_and_a_green_sea_is_not():
    """A bank that the page called mostly blue-green stood in greys, under words that all else does."""
    picture = painted(SKY, (42.0, -20.0, -3.0))
    measures = measured(picture)
    for grass in (True, False):
        reads = dataclasses.replace(measures.reads_as_green, chance=np.full((40, 60), float(grass), np.float32))
        plate = pixels(greens_plate(picture, with_others(measures, reads_as_green=reads)))
        assert (plate[:, :495] == plate[:, :495, :1]).all()
        assert (plate[:, 505:] == picture.drawn[:, 505:]).all() == grass


def test_hatch_is_seen_without_colour():
    picture = painted(QUIET, RAW)
    plate = pixels(greens_plate(picture))
    values = lightness(plate[200, 600:700])
    assert values.max() - values.min() > 30  # L*: plain to anyone


def test_picture_without_green_says_so():
    picture = painted(SKY, (50.0, 10.0, 20.0))
    plate = greens_plate(picture)
    assert (pixels(plate) == pixels(plate)[..., :1]).all()
    assert "no yellow-green" in plate.caption and "no yellow-green" in plate.alt


@pytest.mark.parametrize("levels", [2, 3, 5])
def test_value_plan_has_its_masses_in_the_greys_of_their_means(levels):
    picture = painted(*((L, 0.0, 0.0) for L in (10.0, 30.0, 50.0, 70.0, 90.0)))
    values = measure_values(picture)
    codes = np.unique(pixels(plan_plate(picture, values, levels)).reshape(-1, 3), axis=0)
    assert (codes == codes[:, :1]).all()
    assert lightness(codes) == pytest.approx([mean * 10 for mean in values.plan(levels).means], abs=0.5)


def test_histogram_stands_where_the_values_are():
    picture = painted((30.0, 0.0, 0.0), (71.0, 0.0, 0.0))
    plate = pixels(histogram_plate(picture, measure_values(picture)))
    tall = plate[plate.shape[0] // 2]  # a row through the columns, over the scale and under the span
    drawn = np.flatnonzero((tall != tall[0]).any(axis=-1))
    width = plate.shape[1] * 0.93 / 10.1  # px a value
    places = (drawn - plate.shape[1] * 0.035) / width - 0.05
    assert places.min() == pytest.approx(3.0, abs=0.25) and places.max() == pytest.approx(7.2, abs=0.25)
    assert not ((places > 3.4) & (places < 6.8)).any()


def test_strip_is_as_wide_as_the_shares_in_the_colours_of_the_families():
    picture = painted(SKY, SKY, QUIET, RAW)
    families = measure_families(picture)
    strip = pixels(strip_plate(families, ["grey"] * len(families)))[STRIP_SIZE[1] // 2]
    edges = np.concatenate([[0], np.cumsum([family.share for family in families])]) * STRIP_SIZE[0]
    for left, right, family in zip(edges[:-1], edges[1:], families, strict=True):
        part = strip[round(left) + 2 : round(right) - 2]
        assert {"#{:02x}{:02x}{:02x}".format(*codes) for codes in part} == {family.srgb}


def test_stations_of_the_wheel_are_even_from_yellow_at_the_top():
    angles = [float(wheel_angle(station.hue)) for station in LIGHT_WHEEL]
    assert [station.name for station in LIGHT_WHEEL] == ["yellow", "red", "magenta", "blue", "cyan", "green"]
    assert angles == pytest.approx([0, 60, 120, 180, 240, 300])
    x, y = wheel_place(1.0, LIGHT_WHEEL[0].hue)
    assert (float(x), float(y)) == pytest.approx((0, 1), abs=1e-9)


def test_hue_goes_round_the_wheel_once_without_a_jump():
    turns = np.diff(np.unwrap(wheel_angle(np.arange(0, 361.0)), period=360))
    assert (turns < 0).all() and turns.sum() == pytest.approx(-360)
    assert turns.min() > -4  # from blue to magenta, 22° of CIELAB hue take 60° of the wheel


def test_dots_on_the_wheel_lie_at_their_hue_and_chroma_in_their_colour():
    families = measure_families(painted(SKY, QUIET, RAW))
    plate = pixels(wheel_plate(families, ["grey"] * len(families)))
    scale = WHEEL_SIZE[0] / 2 / (colours._reach(families) * 1.3)  # px a unit of chroma
    for family in families:
        x, y = wheel_place(family.lch[1], family.lch[2])
        column, row = round(WHEEL_SIZE[0] / 2 + float(x) * scale), round(WHEEL_SIZE[1] / 2 - float(y) * scale)
        assert "#{:02x}{:02x}{:02x}".format(*plate[row, column]) == family.srgb


def landscape(height):
    lab = np.zeros((HEIGHT, WIDTH, 3), dtype=np.float32)
    lab[: round(HEIGHT * height)] = SKY
    lab[round(HEIGHT * height) :] = QUIET
    return picture_from_srgb(lab_to_srgb8(lab))


@pytest.mark.parametrize("height", [0.3, 0.5, 0.7])
def test_dividing_line_is_drawn_at_its_height(height):
    picture = landscape(height)
    plate = pixels(division_plate(picture, measure_division(picture)))
    assert plate.shape == (HEIGHT, WIDTH, 3)
    column = plate[:, WIDTH // 2].astype(int)
    white = np.flatnonzero((column > 250).all(axis=-1))
    assert white.mean() / HEIGHT == pytest.approx(height, abs=0.01)


@pytest.mark.parametrize("height", [0.60, 0.618, 0.63])
def test_a_label_stands_clear_of_the_line_that_it_would_lie_on(height):
    picture = landscape(height)
    plate = pixels(division_plate(picture, measure_division(picture))).astype(int)
    row = round(height * HEIGHT)
    beside = plate[row - 8 : row + 8, int((1 - 2 * TICK) * WIDTH) : int((1 - TICK) * WIDTH)]
    middle = plate[row - 8 : row + 8, WIDTH // 2 - 20 : WIDTH // 2 + 25]
    assert np.abs(beside.mean(axis=1) - middle.mean(axis=1)).max() < 3  # the line alone
    labels = plate[:, int((1 - 2 * TICK) * WIDTH) : int((1 - TICK) * WIDTH)].max(axis=-1)
    dark = np.flatnonzero((labels < 60).sum(axis=1) > 2) / HEIGHT
    assert ((dark > 0.5) & (np.abs(dark - 0.618) < 0.08)).sum() > 10  # and it is there, near its tick


def test_halved_picture_says_so_and_one_without_a_line_has_none():
    halved = landscape(0.5)
    assert "in half" in division_plate(halved, measure_division(halved)).caption
    weak = dataclasses.replace(measure_division(halved), halved=False, cut=None, strength=0.4, edge_near_middle=0.0)
    assert "isn't plain and straight enough to cut it in half" in division_plate(halved, weak).caption
    well = landscape(0.7)
    assert "half" not in division_plate(well, measure_division(well)).caption
    even = painted(SKY)
    division = dataclasses.replace(measure_division(even), present=False)
    plate = division_plate(even, division)
    assert plate.caption.startswith("No line divides")
    assert not (pixels(plate)[:, WIDTH // 2] > 250).all(axis=-1).any()


@pytest.mark.parametrize("ground", [(8.0, 0.0, 0.0), (97.0, 0.0, 0.0)])
def test_labels_of_the_ticks_read_on_any_ground(ground):
    picture = painted(ground)
    plate = pixels(division_plate(picture, dataclasses.replace(measure_division(picture), present=False)))
    label = plate[:, int(TICK * WIDTH) + 4 : WIDTH // 4].max(axis=-1).astype(int)
    assert (label < 60).sum() > 100 and (label > 240).sum() > 100


def test_thirds_and_golden_sections_are_ticked():
    picture = painted((40.0, 0.0, 0.0))
    plate = pixels(division_plate(picture, dataclasses.replace(measure_division(picture), present=False)))
    strip = plate[:, : int(TICK * WIDTH)].astype(int)
    ticked = np.flatnonzero((strip > 240).all(axis=-1).any(axis=1)) / HEIGHT
    for place in (1 / 3, 0.382, 0.618, 2 / 3):
        assert np.abs(ticked - place).min() < 0.003
    assert all(min(abs(tick - place) for place in (1 / 3, 0.382, 0.618, 2 / 3)) < 0.005 for tick in ticked)


def test_focal_place_is_ringed():
    lab = np.full((HEIGHT, WIDTH, 3), (60, 0, 0), dtype=np.float32)
    lab[400:436, 673:709] = (25, 45, 30)
    picture = picture_from_srgb(lab_to_srgb8(lab))
    eyepath = measure_eyepath(picture)
    plate = pixels(eyepath_plate(picture, eyepath)).astype(int)
    rows, columns = np.nonzero((plate > 248).all(axis=-1))
    assert (columns.min() + columns.max()) / 2 == pytest.approx(691, abs=15)
    assert (rows.min() + rows.max()) / 2 == pytest.approx(418, abs=15)


def test_aim_on_the_page_is_the_change_made_on_what_is_drawn():
    picture = painted(QUIET, RAW)
    made = compose([Change("hold", Calm(1.0))])
    plate = aim_plate(picture, made, "The aim.")
    height, width = round(look.PHOTOGRAPH_LONG_EDGE * HEIGHT / WIDTH), look.PHOTOGRAPH_LONG_EDGE
    assert pixels(plate).shape == (height, width, 3)
    for column, colour in ((width // 4, QUIET), (3 * width // 4, RAW)):
        wanted = made.apply(np.array(colour, dtype=np.float32).reshape(1, 1, 3))
        apart = deltaE_ciede2000(rgb2lab(pixels(plate)[height // 2, column].reshape(1, 1, 3)), wanted)
        assert float(apart.max()) < 1.5  # what a table of colours is read to, and a code's step
    moved = deltaE_ciede2000(rgb2lab(pixels(plate)[height // 2, 3 * width // 4].reshape(1, 1, 3)), [[RAW]])
    assert float(moved.max()) > 5


def test_preview_is_shown_no_larger_than_it_was_measured():
    picture = picture_from_lab(painted(QUIET).lab[:100, :200].copy(), painted(QUIET))
    assert max(pixels(preview_plate(picture, "first_step", "Tried.", "")).shape) <= 640


@pytest.mark.parametrize(
    "where", [Spot(0.25, 0.5), np.repeat(np.arange(40)[None, :] < 12, 30, axis=0)], ids=["spot", "mask"]
)
def test_place_of_a_finding_keeps_its_colour_and_the_rest_is_grey(where):
    plate = pixels(where_plate(painted((50.0, 50.0, 30.0)), where, "where_it", "it")).astype(int)
    height, width = plate.shape[:2]
    spread = plate.max(axis=-1) - plate.min(axis=-1)
    assert spread[height // 2, round(0.22 * width)] > 60
    assert (spread[:, round(0.5 * width) :] <= 1).all()


@pytest.mark.parametrize("size", [(64, 64), (64, 900), (900, 64)])
def test_small_and_narrow_pictures_get_every_plate(size):
    rng = np.random.default_rng(3)
    picture = picture_from_srgb(rng.integers(0, 256, (*size, 3), dtype=np.uint8))
    families = measure_families(picture)
    values = measure_values(picture, families)
    drawn = [
        greens_plate(picture),
        *(plan_plate(picture, values, levels) for levels in (2, 3, 5)),
        histogram_plate(picture, values),
        strip_plate(families, ["grey"] * len(families)),
        wheel_plate(families, ["grey"] * len(families)),
        eyepath_plate(picture, measure_eyepath(picture)),
    ]
    assert all(plate.png.startswith(b"\x89PNG") and plate.alt for plate in drawn)


@pytest.mark.parametrize("size", [(1, 1), (3, 7), (64, 50)])
def test_png_of_a_photograph_reads_back_as_it_was(size):
    codes = np.random.default_rng(5).integers(0, 256, (*size, 3), dtype=np.uint8)
    with Image.open(io.BytesIO(png_of_photograph(codes))) as image:
        image.load()
        assert image.format == "PNG" and image.mode == "RGB"
        assert (np.asarray(image) == codes).all()
    with Image.open(io.BytesIO(png_of_photograph(codes))) as image:
        image.verify()  # every check sum


def test_points_on_a_straight_line_are_drawn_as_the_line_is_and_corners_stay():
    def drawn(points):
        image = Image.new("RGB", (80, 60), "white")
        stroke(image, points, 3.0)
        return np.asarray(image)

    ends = np.array([[5.0, 10.0], [70.0, 45.0]])
    between = ends[0] + np.linspace(0, 1, 40)[:, None] * (ends[1] - ends[0])
    assert (drawn(between) == drawn(ends)).all()
    corner = np.array([[5.0, 10.0], [40.0, 50.0], [70.0, 10.0]])
    assert (drawn(corner) != drawn(corner[[0, 2]])).any()
    there_and_back = np.array([[5.0, 10.0], [60.0, 40.0], [30.0, 23.6]])
    assert (drawn(there_and_back) != drawn(there_and_back[[0, 2]])).any()
