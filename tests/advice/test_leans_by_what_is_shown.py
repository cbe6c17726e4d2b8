"""A lean is told only where nothing in the picture shows that it is the subject's own colour."""

import numpy as np
import pytest
from measured import measured

from critique.advice.cast_findings import colour_cast, green_cast
from critique.advice.colour_findings import dead_colour
from critique.advice.judging import Case
from critique.advice.kinds import kind_named
from critique.advice.norms import read_norms
from critique.advice.praise import virtues
from critique.advice.praise_light import glow
from critique.advice.seen import Seen
from critique.advice.verdict import verdict
from critique.perception.cielab import lab_to_srgb8
from critique.picture.picture import picture_from_srgb

SIZE = (240, 360)  # px
WHITE, VIOLET, GREENISH = (88.0, 0.0, 2.0), (78.0, 12.0, -10.0), (88.0, -9.0, 8.0)


def case_of(lab: np.ndarray) -> Case:
    rng = np.random.default_rng(5)
    picture = picture_from_srgb(lab_to_srgb8(lab + rng.normal(0, 1.2, lab.shape)))
    return Case.of(picture, measured(picture), read_norms())


def glade(light: tuple[float, float, float]) -> np.ndarray:
    """Dark green ground under a pale greenish sky, and one broad light of another colour."""
    lab = np.zeros((*SIZE, 3)) + np.array([32.0, -8.0, 9.0])
    lab[:70] = (72.0, -10.0, 6.0)
    lab[150:190, 90:180] = light
    return lab


@pytest.mark.parametrize(("light", "told"), [(GREENISH, True), (WHITE, False), (VIOLET, False)])
def test_greens_beside_a_light_that_is_free_of_them_are_no_cast(light, told) -> None:
    case = case_of(glade(light))
    assert -case.measures.cast.mean.a > 6
    assert (green_cast(case, kind_named("green_cast")) is not None) == told


def test_a_white_wall_shows_that_a_turquoise_sky_is_no_lean() -> None:
    lab = glade((88.0, -9.0, -4.0))
    tinted = case_of(lab)
    lab[196:220, 250:280] = (90.0, 0.0, 3.0)
    white = case_of(lab)
    assert min(-case.measures.cast.mean.a for case in (tinted, white)) > 6
    told = [green_cast(case, kind_named("green_cast")) for case in (tinted, white)]
    assert told[0] is not None and told[1] is None


@pytest.mark.parametrize(("lights", "told"), [((80.0, 20.0, -34.0), True), ((80.0, 24.0, -3.0), False)])
def test_a_dusk_that_is_pink_in_its_lights_and_blue_in_its_darks_is_no_cast(lights, told) -> None:
    """Of violets about a rose light a reader said: the pinks are there already, a violet dusk is meant."""
    lab = np.zeros((*SIZE, 3)) + np.array([38.0, 20.0, -34.0])
    lab[60:170] = lights
    case = case_of(lab)
    assert case.measures.cast.mean.chroma > 18
    assert (colour_cast(case, kind_named("colour_cast")) is not None) == told


def at_sea(sails: tuple[float, float, float]) -> np.ndarray:
    """A ship under a blue sky on a blue sea: all of it blue but for the sails, a twelfth of the picture."""
    lab = np.zeros((*SIZE, 3)) + np.array([60.0, -4.0, -34.0])
    lab[170:] = (34.0, -2.0, -26.0)
    lab[40:180, 120:172] = sails
    return lab


@pytest.mark.parametrize(("sails", "told"), [((74.0, 1.0, 5.0), False), ((74.0, -3.0, -20.0), True)])
def test_grey_sails_show_that_a_blue_sea_under_a_blue_sky_is_no_cast(sails, told) -> None:
    case = case_of(at_sea(sails))
    assert case.measures.cast.one_sided > 0.7 and case.measures.cast.mean.chroma > 18
    finding = colour_cast(case, kind_named("colour_cast"))
    assert (finding is not None) == told


@pytest.mark.parametrize("red", [-4.0, -9.0])
def test_a_lean_to_blue_is_told_as_one_however_little_red_is_in_it(red) -> None:
    lab = at_sea((74.0, -3.0, -20.0))
    lab[..., 1] += red
    case = case_of(lab)
    assert -case.measures.cast.mean.a > 6 and green_cast(case, kind_named("green_cast")) is None
    assert colour_cast(case, kind_named("colour_cast")) is not None


def golden_evening(toned: bool) -> np.ndarray:
    """A low sun over dark land, and far hills: grey ones, or as golden as all else, as under a varnish."""
    rows, columns = np.mgrid[: SIZE[0], : SIZE[1]]
    near = np.exp(-np.hypot(rows - 70, columns - 200) / 60)
    lab = np.stack([62 + 32 * near, 4 + 4 * near, 20 + 22 * near], axis=-1)
    lab[120:160] = (55.0, 4.0, 16.0) if toned else (55.0, 1.0, 1.0)
    lab[160:] = (26.0, 5.0, 11.0)
    return lab


@pytest.mark.parametrize("toned", [True, False])
def test_a_golden_evening_is_a_lean_only_where_nothing_is_free_of_the_gold(toned) -> None:
    case = case_of(golden_evening(toned))
    assert glow(Seen.of(case)) is not None and case.measures.cast.mean.chroma > 12
    finding = colour_cast(case, kind_named("colour_cast"))
    assert (finding is not None) == toned
    if finding is not None:
        assert finding.level == "watch" and "glow" not in {kind.id for kind, _ in virtues(case, {"colour_cast"})}


def test_a_picture_toned_red_through_and_through_is_first_asked_about_that() -> None:
    """Of a meadow all in pink and orange it was said that nothing weighs much."""
    lab = np.zeros((*SIZE, 3)) + np.array([74.0, 22.0, 18.0])
    lab[100:] = (34.0, 20.0, 26.0)
    case = case_of(lab)
    finding = colour_cast(case, kind_named("colour_cast"))
    assert finding is not None and "Everything in it" in finding.text
    assert "Look once more at the lean of its colours" in verdict(case, (finding,), ())[0]


def test_what_lies_off_the_neutral_is_told_by_its_least_coloured_part_beyond_a_warm_day() -> None:
    violet = np.zeros((*SIZE, 3)) + np.array([60.0, 30.0, -30.0])
    violet[:24] = (60.0, 10.0, -10.0)  # a tenth of it
    violet[-6:] = (60.0, -20.0, 20.0)  # and a fortieth
    warm = violet * np.array([1, 0, -1])
    assert case_of(violet).measures.cast.off_neutral == pytest.approx(np.hypot(10, 10), abs=1.5)
    assert case_of(warm).measures.cast.off_neutral == pytest.approx(10 - 6, abs=1.5)


@pytest.mark.parametrize(("ground", "told"), [((66.0, 14.0, 44.0), True), ((66.0, -16.0, 44.0), False)])
def test_an_orange_wood_over_a_ground_of_another_yellow_is_no_warm_light(ground, told) -> None:
    lab = np.zeros((*SIZE, 3)) + np.array([60.0, 16.0, 44.0])
    lab[60:120] = (45.0, 20.0, 36.0)
    lab[200:] = ground
    finding = colour_cast(case_of(lab), kind_named("colour_cast"))
    assert (finding is not None) == told


def test_a_flag_relieves_a_grey_day_and_without_it_the_day_is_grey_all_over() -> None:
    grey = np.zeros((*SIZE, 3)) + np.array([80.0, 0.5, 4.0])
    grey[150:] = (45.0, -4.0, 3.0)
    flagged = grey.copy()
    flagged[100:112, 60:90] = (50.0, 14.0, 9.0)
    kind = kind_named("dead_colour")
    assert dead_colour(case_of(grey), kind) is not None and dead_colour(case_of(flagged), kind) is None
