"""Places in words, and where a figure stands."""

import dataclasses

import numpy as np
import pytest
from demo_pictures import demo_path
from scipy.stats.mstats import hdquantiles

from critique.advice.judging import Case
from critique.advice.norms import RANKS, Norms, figures_of, norms_of, quantiles_of, read_norms, write_norms
from critique.errors import ReferenceDataError
from critique.measures.measure import measure_picture
from critique.picture.picture import picture_from_srgb
from critique.picture.places import NOWHERE, Place, disc, place_of, spot
from critique.picture.read import read_picture
from critique.words.aloud import sentence, share_words
from critique.words.figures import percent
from critique.words.lists import listed


def mask(rows, columns, shape=(90, 120)):
    weight = np.zeros(shape)
    weight[slice(*rows), slice(*columns)] = 1
    return weight


@pytest.mark.parametrize(
    ("rows", "columns", "words"),
    [
        ((65, 90), (0, 120), "along the bottom"),
        ((0, 25), (0, 120), "along the top"),
        ((0, 28), (0, 38), "in the upper left"),
        ((62, 90), (82, 120), "in the lower right"),
        ((0, 90), (0, 38), "down the left side"),
        ((0, 90), (0, 120), "spread over all of it"),
        ((32, 90), (0, 120), "over the lower two thirds"),
        ((31, 59), (41, 79), "in the middle of the picture"),
        ((0, 25), (48, 118), "along the top on the right"),
        ((36, 54), (10, 70), "at mid-height on the left"),
        ((22, 40), (0, 120), "above the middle"),
        ((50, 76), (0, 120), "below the middle"),
        ((50, 75), (36, 96), "low in the centre"),
        ((55, 75), (48, 118), "low on the right"),
        ((0, 90), (50, 120), "over the right two thirds"),
    ],
)
def test_a_patch_is_named_by_its_thirds(rows, columns, words):
    assert place_of(mask(rows, columns)).words == words


def test_both_sides_and_above_and_below_have_words():
    assert place_of(mask((0, 90), (0, 25)) + mask((0, 90), (95, 120))).words == "down both sides"
    assert place_of(mask((0, 20), (0, 120)) + mask((70, 90), (0, 120))).words == "above and below"
    assert place_of(np.zeros((4, 4))) == NOWHERE and NOWHERE.nowhere and NOWHERE.words == "nowhere"
    assert place_of(np.ones((90, 120))).everywhere and not place_of(mask((0, 25), (0, 120))).everywhere


def test_what_reaches_far_up_does_not_lie_along_the_bottom():
    low_and_high = mask((0, 90), (0, 120)) * np.array([0.35] * 30 + [0.15] * 30 + [1.0] * 30)[:, None]
    assert place_of(low_and_high).words == "above and below"
    assert place_of(low_and_high[::-1]).words == "above and below"


def test_a_mirrored_patch_changes_side_only():
    patch = mask((62, 90), (0, 38))
    assert place_of(patch) == Place("bottom", "left")
    assert place_of(patch[:, ::-1]) == Place("bottom", "right")


def test_a_spot_is_named():
    assert spot(0.5, 0.5).words == "in the middle"
    assert spot(0.1, 0.9).words == "low on the far left"
    assert spot(0.7, 0.1).words == "high on the right"
    assert spot(0.4, 0.1).words == "high to the left of the middle"  # two readers: "just left of the middle"
    assert spot(0.6, 0.5).words == "a little to the right of the middle"
    assert spot(1.0, 1.0).words == "low on the far right"


def test_a_disc_about_a_point_is_as_large_as_it_is_asked_to_be_and_lies_there():
    inside = disc((200, 300), 0.25, 0.75, 0.1)
    rows, columns = np.nonzero(inside)
    assert inside.sum() == pytest.approx(np.pi * 30**2, rel=0.01)
    assert ((rows + 0.5).mean(), (columns + 0.5).mean()) == pytest.approx((150, 75))
    assert disc((200, 300), 1.0, 1.0, 0.0).sum() == 1 and disc((200, 300), 1.0, 1.0, 0.0)[-1, -1]


def test_numbers_are_said_as_people_say_them():
    assert percent(0.004) == "0.4 %" and percent(0.0004) == "under 0.1 %"
    assert percent(0) == "0 %"
    assert percent(0.336) == "34 %"
    assert share_words(0.5) == "half"
    # A fortieth of a picture was told as a twentieth.
    for share, least, most in ((0.016, 1 / 80, 1 / 32), (0.025, 1 / 80, 1 / 32), (0.04, 1 / 30, 1 / 14)):
        part = {"a fiftieth": 1 / 50, "a twentieth": 1 / 20}[share_words(share)]
        assert least <= part <= most and 0.5 <= part / share <= 2
    assert listed(["a", "b", "c"]) == "a, b and c"
    assert sentence("it holds") == "It holds."


def test_percentiles_are_those_of_numpy():
    values = np.random.default_rng(1).gamma(2, 1, 400)
    norms = Norms("test", 400, {"figure": np.percentile(values, RANKS)})
    for probe in (0.3, 1.0, 2.5, 5.0):
        assert norms.percentile("figure", probe) == pytest.approx(100 * (values < probe).mean(), abs=3)
    assert norms.percentile("figure", values.max() + 1) == 100
    assert norms.percentile("unknown", 1) is None
    assert norms.percentile("figure", float("nan")) is None


def test_quantiles_are_harrell_and_davis_as_scipy_has_them():
    values = np.random.default_rng(2).gamma(2, 1, 76)
    found = quantiles_of(values)
    assert found[1:-1] == pytest.approx(np.asarray(hdquantiles(values, np.array(RANKS[1:-1]) / 100)), rel=1e-9)
    assert (found[0], found[-1]) == (values.min(), values.max())


def test_what_many_pictures_share_stays_what_they_share():
    quantiles = quantiles_of(np.concatenate([np.zeros(40), np.linspace(0.1, 1, 36)]))
    assert (quantiles[:11] == 0).all() and quantiles[11] > 0
    norms = Norms("test", 76, {"least": quantiles, "most": 1 - quantiles[::-1]})
    # No place is passed by a hair: just above what is shared stands just above it.
    assert norms.percentile("least", 0) == pytest.approx(norms.percentile("least", 1e-6), abs=0.01) == 50
    assert norms.percentile("most", 1) == pytest.approx(norms.percentile("most", 1 - 1e-6), abs=0.01) == 50


def test_no_two_pictures_that_lie_close_make_a_step_of_the_places():
    even = np.linspace(0, 1, 76)
    paired = even.copy()
    paired[36:40] = even[38] + np.array([-1e-4, -5e-5, 5e-5, 1e-4])  # four of them within a hair
    norms = Norms("test", 76, {"paired": quantiles_of(paired)})
    assert norms.percentile("paired", even[38] + 1e-4) - norms.percentile("paired", even[38] - 1e-4) < 0.1


def test_the_shipped_norms_agree_with_a_measurement_outside_the_program():
    # Measured independently of this program on the landscapes at 640 px: the middle chroma of the green, of those with
    # 8 % or more of it, has its 95th percentile at 27.8, and of all of them its highest at 40.
    norms = read_norms()
    assert norms.number == 76
    # (The table's quantiles take in a little of what lies about them, here of that highest.)
    assert norms.at("greens.median_chroma", 95) == pytest.approx(27.8, abs=1.5)
    assert norms.at("greens.median_chroma", 100) == pytest.approx(40, abs=0.6)
    # A border that rises with lightness takes in olive grass that a fixed one left out (median 0.06 of the area).
    assert norms.at("greens.area_share", 50) > 0.06
    # Values from the 5th to the 95th percentile: the lowest of them has 4.4 by the same outside measurement.
    assert norms.at("values.range", 0) == pytest.approx(4.4, abs=0.2)


@pytest.mark.slow
def test_norms_of_ones_own_pictures_can_be_made_and_read(tmp_path):
    measured = [
        measure_picture(picture_from_srgb(read_picture(demo_path(f"tolvesk_{name}.jpg")).srgb[::4, ::4]))
        for name in ("02_ostermell_repaint", "03_tussalund_snow", "06_skarrvind_ness")
    ]
    path = tmp_path / "mine.csv"
    write_norms(norms_of(measured, "my own best"), path)
    norms = read_norms(path)
    assert (norms.origin, norms.number) == ("my own best", 3)
    areas = np.array([figures_of(one)["greens.area_share"] for one in measured])
    assert norms.at("greens.area_share", 50) == pytest.approx(float(hdquantiles(areas, 0.5)[0]), rel=1e-3)
    assert norms.at("greens.area_share", 100) == pytest.approx(areas.max(), rel=1e-3)


@pytest.mark.parametrize("content", ["", "figure,p0\n", "# origin: x\n# number: y\nfigure\n", "not a table at all"])
def test_a_file_that_is_no_norms_table_is_refused_in_one_line(content, tmp_path):
    path = tmp_path / "bad.csv"
    path.write_text(content)
    with pytest.raises(ReferenceDataError) as refused:
        read_norms(path)
    assert "\n" not in str(refused.value)
    assert "bad.csv" in str(refused.value)


def test_norms_of_ones_own_are_called_so():
    picture = picture_from_srgb(np.full((60, 90, 3), (90, 140, 60), np.uint8))
    measures = measure_picture(picture)
    own = norms_of([measures, measures], "the pictures of my best")
    case = Case.of(picture, measures, own)
    assert "landscape" not in case.standing("greens.area_share") + case.standing("values.range")
    assert own.all_of_them == "your 2 pictures" and read_norms().kind == "landscapes"


@pytest.mark.parametrize(
    ("number", "shipped", "all_of_them"), [(76, True, "the 76 landscapes"), (12, False, "your 12 pictures")]
)
@pytest.mark.parametrize(
    ("rank", "more", "part"), [(99.9, True, 1), (75, True, 0.75), (25, False, 0.75), (0.1, False, 1)]
)
def test_a_standing_counts_no_more_pictures_than_there_are(number, shipped, all_of_them, rank, more, part):
    picture = picture_from_srgb(np.full((60, 90, 3), (90, 140, 60), np.uint8))
    measures = measure_picture(picture)
    share = figures_of(measures)["greens.area_share"]
    norms = Norms("any", number, {"greens.area_share": share + (np.array(RANKS) - rank) / 100}, shipped)
    told = Case.of(picture, measures, norms).standing("greens.area_share")
    fewer = min(round(part * number), number - 1)
    assert told == f"{'more' if more else 'less'} than in {fewer} of {all_of_them}"


def test_norms_are_the_shipped_ones_by_where_they_come_from_and_not_by_their_name(tmp_path):
    path = tmp_path / "mine.csv"
    write_norms(dataclasses.replace(read_norms(), origin="my landscapes"), path)
    assert read_norms().shipped and not read_norms(path).shipped
    assert read_norms(path).all_of_them == "your 76 pictures"
