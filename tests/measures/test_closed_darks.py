"""Darks in which nothing is seen: closed ones, near black ones, heavy ones without form, and holes."""

import numpy as np
import pytest
from scenes import grey, rough

from critique.advice.fault_limits import BLACK, CLOSED, HEAVY, darks_seen_as, judge_closed_darks, quite_closed
from critique.advice.kind import Limits
from critique.advice.value_ends import darks_spoken_of
from critique.measures.closed_darks import measure_closed_darks
from critique.perception.cielab import lab_to_srgb8
from critique.picture.areas import same_frame
from critique.picture.picture import picture_from_srgb


def test_a_black_field_is_closed_and_one_with_something_in_it_is_open():
    light = np.full((426, 640), 70.0)
    light[213:, :320] = 8
    shut = measure_closed_darks(grey(light))
    assert shut.share == pytest.approx(0.25, abs=0.02) and shut.largest == pytest.approx(shut.share)
    assert (shut.x, shut.y) == (pytest.approx(0.25, abs=0.02), pytest.approx(0.75, abs=0.02))
    assert judge_closed_darks(shut) == "rework"
    assert shut.mask.mean() == pytest.approx(shut.share, abs=0.01) and light[shut.mask].max() < 20
    light[213:, :320] = np.maximum(rough(np.full((213, 320), 11.0), 3.5), 1)
    open_dark = measure_closed_darks(grey(light))
    assert open_dark.dark_share == pytest.approx(0.25, abs=0.02)
    assert judge_closed_darks(open_dark) == "holds"


def test_few_darks_are_heavy_where_most_of_them_are_filled_in():
    light = np.full((426, 640), 80.0)
    for column in range(40, 600, 110):  # six black trees in snow
        light[200:320, column : column + 42] = 8
    closed = measure_closed_darks(grey(light))
    assert 0.05 < closed.share < 0.1 and closed.largest < 0.03
    assert judge_closed_darks(closed) == "watch"
    light[330:] = np.maximum(rough(np.full((96, 640), 11.0), 3.5), 1)  # the same trees over a bank that one sees into
    among = measure_closed_darks(grey(light))
    assert among.share == pytest.approx(closed.share, abs=0.02)
    assert quite_closed(closed) and not quite_closed(among)
    sooner = Limits("above", 0.01, 0.02).level  # of whoever finds so little closed grave
    assert darks_spoken_of(among, CLOSED.level) is among.depth
    assert np.array_equal(darks_spoken_of(among, sooner) > 0, among.mask)


def test_a_black_is_named_that_a_touch_or_two_leaves_not_quite_closed_and_a_brown_as_dark_is_not():
    light = np.full((426, 640), 70.0)
    light[213:, :256] = rough(np.full((213, 256), 18.0), 0.8)
    lab = np.zeros((426, 640, 3), dtype=np.float32)
    lab[..., 0] = light
    black = measure_closed_darks(picture_from_srgb(lab_to_srgb8(lab)))
    lab[213:, :256, 1:] = (7, 12)
    brown = measure_closed_darks(picture_from_srgb(lab_to_srgb8(lab)))
    assert black.black == pytest.approx(0.2, abs=0.02) and black.share < 0.05
    assert black.black_mask[:213].mean() < 0.01 < 0.3 < black.black_mask[220:, :250].mean()
    assert brown.black < 0.01
    assert (judge_closed_darks(black), darks_seen_as(black)) == ("watch", "near black")
    assert darks_seen_as(brown) == "heavy"


def wooded_bank(form: float, around: float = 70.0):
    """A dark green bank over a sixth of a picture, in the lower left, with so much form in it (L*)."""
    lab = np.zeros((426, 640, 3), dtype=np.float32)
    lab[..., 0] = around
    lab[213:, :213] = (19, -8, 9)
    lab[213:, :213, 0] = np.maximum(rough(np.full((213, 213), 19.0), form), 1)
    return measure_closed_darks(picture_from_srgb(lab_to_srgb8(lab)))


def test_a_dark_bank_without_form_is_heavy_though_it_is_neither_black_nor_quite_closed():
    bank = wooded_bank(0.3)
    assert bank.share < 0.02 and bank.black < 0.02
    assert bank.little == pytest.approx(1 / 6, abs=0.02) and bank.heavy > 0.1
    assert (bank.depth > 0)[220:, :200].mean() > 0.9 > 0.01 > (bank.depth > 0)[:, 220:].mean()
    assert judge_closed_darks(bank) == "watch" and darks_seen_as(bank) == "heavy"


def test_a_dark_bank_with_form_in_it_is_not_heavy():
    bank = wooded_bank(3.5)
    assert bank.heavy < 0.01 and judge_closed_darks(bank) == "holds"


def test_a_large_dark_is_not_heavy_where_most_of_it_has_a_touch_or_two():
    lab = np.zeros((426, 640, 3), dtype=np.float32)
    lab[..., 0] = 70
    lab[200:] = (18, -8, 9)
    lab[200:, :, 0] = np.maximum(rough(np.full((226, 640), 18.0), 1.6), 1)
    lab[200:, :90, 0] = 18
    shaded = measure_closed_darks(picture_from_srgb(lab_to_srgb8(lab)))
    assert shaded.heavy > HEAVY and shaded.little > 2.5 * shaded.heavy
    assert judge_closed_darks(shaded) == "holds"


@pytest.mark.parametrize(("around", "told"), [(45.0, "watch"), (12.0, "holds")])
def test_a_black_blot_is_a_hole_amid_lighter_things_and_not_in_the_dark(around, told):
    """Both readers would first mend such a blot in gorse, a fiftieth of the picture."""
    lab = np.zeros((426, 640, 3), dtype=np.float32)
    lab[..., 0] = 75
    lab[260:] = (around, 2, 9)
    lab[260:, :, 0] = rough(np.full((166, 640), around), 4.0)
    lab[330:380, 150:260] = (3, 0, 0)
    blot = measure_closed_darks(picture_from_srgb(lab_to_srgb8(lab)))
    assert 0.012 < blot.largest < 0.03 and judge_closed_darks(blot) == told
    assert (darks_seen_as(blot) == "heavy") == (told == "holds")  # told as what it is, closed or near black


def test_a_dark_weighs_less_in_a_picture_of_its_own_key():
    by_day, at_dusk = wooded_bank(0.3), wooded_bank(0.3, around=30.0)
    assert at_dusk.little == pytest.approx(by_day.little, abs=0.01)
    assert at_dusk.heavy < 0.75 * by_day.heavy


def fir_wood(within: float, colour: tuple[float, float] = (0.0, 0.0), elsewhere: float = 70.0):
    """A near-black wood of a seventh of a picture, with so much drawn in it (L*)."""
    lab = np.zeros((426, 640, 3), dtype=np.float32)
    lab[..., 0] = elsewhere
    lab[150:330, 160:380] = (11, *colour)
    lab[150:330, 160:380, 0] = np.maximum(rough(np.full((180, 220), 11.0), within), 1)
    return measure_closed_darks(picture_from_srgb(lab_to_srgb8(lab)))


def test_a_wood_that_is_one_black_is_told_though_small_strokes_are_in_it():
    """Both readers called such a clump of firs a shut hole, and would open it first."""
    firs = fir_wood(2.0)
    assert firs.black < BLACK and firs.share < 0.05 and not quite_closed(firs)
    assert firs.one_black == pytest.approx(180 * 220 / (426 * 640), abs=0.02)
    assert (judge_closed_darks(firs), darks_seen_as(firs)) == ("watch", "one black")
    spoken_of = darks_spoken_of(firs, CLOSED.level) > 0
    assert same_frame(spoken_of, (426, 640))[160:320, 170:370].mean() > 0.95
    assert not same_frame(spoken_of, (426, 640))[:130].any()


@pytest.mark.parametrize(
    ("within", "colour", "elsewhere"),
    [
        (4.0, (0.0, 0.0), 70.0),  # seen into
        (2.0, (-9.0, 7.0), 70.0),  # green
        (2.0, (0.0, 0.0), 15.0),  # at night
    ],
)
def test_a_dark_wood_is_no_one_black_where_one_sees_into_it_or_a_colour_in_it_or_all_is_dark(within, colour, elsewhere):
    assert fir_wood(within, colour, elsewhere).one_black < 0.02
