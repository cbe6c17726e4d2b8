"""What is praised of a picture: the light, the shapes and the colours that were put into it, where they were put."""

import numpy as np
import pytest
from demo_pictures import demo_path
from measured import measured

from critique.advice.colour_words import family_words, word_of
from critique.advice.judging import Case
from critique.advice.norms import read_norms
from critique.advice.praise import PRAISED, chosen, virtues, what_works
from critique.advice.seen import Seen
from critique.advice.virtue import Virtue
from critique.measures.eye_judging import near_edge_fault
from critique.measures.families import assign_families
from critique.measures.two_lights import lights_compete
from critique.perception.cielab import lab_to_srgb8
from critique.perception.hue import turn_of_one
from critique.picture.areas import MOST_OF_IT, areas_apart
from critique.picture.picture import lab_at, picture_from_srgb
from critique.picture.read import read_picture
from critique.words.painters import light_word

HEIGHT, WIDTH = 240, 360  # px


def case_of(lab: np.ndarray) -> Case:
    """A picture in CIELAB (height, width, 3), with a little of a painter's unevenness."""
    rng = np.random.default_rng(5)
    picture = picture_from_srgb(lab_to_srgb8(lab + rng.normal(0, 1.2, lab.shape)))
    return Case.of(picture, measured(picture), read_norms())


def found(lab: np.ndarray) -> dict[str, Virtue]:
    """The virtues of such a picture, by id."""
    return {kind.id: virtue for kind, virtue in virtues(case_of(lab))}


def flat(L: float, a: float, b: float) -> np.ndarray:
    return np.tile(np.array([L, a, b], dtype=np.float64), (HEIGHT, WIDTH, 1))


def disc(x: float, y: float, radius: float) -> np.ndarray:
    down, across = np.ogrid[:HEIGHT, :WIDTH]
    return np.asarray(np.hypot(down - y * HEIGHT, across - x * WIDTH) <= radius * WIDTH)


@pytest.mark.parametrize(("x", "words"), [(0.3, "on the left"), (0.7, "on the right")])
def test_a_light_in_the_dark_is_praised_where_it_shines(x: float, words: str) -> None:
    lab = flat(18, 4, 10)
    lab[disc(x, 0.7, 0.04)] = (85, 3, 30)
    virtue = found(lab)["lit_place"]
    assert words in virtue.text and " light " in virtue.text and "out of the dark around it" in virtue.text
    assert virtue.at is not None and abs(virtue.at[0] - x) < 0.04


def test_without_a_light_none_is_praised() -> None:
    assert not {"lit_place", "opening", "glow"} & found(flat(30, 4, 10)).keys()


def test_a_warm_light_is_praised_and_the_same_in_grey_is_not() -> None:
    lab = flat(40, 8, 25)
    down, across = np.ogrid[:HEIGHT, :WIDTH]
    away = np.hypot(down - 0.3 * HEIGHT, across - 0.5 * WIDTH) / WIDTH
    lab[..., 0] = 35 + 55 * np.exp(-((away / 0.25) ** 2))
    assert "warms it" in found(lab)["glow"].text
    lab[..., 1:] = 0
    assert "glow" not in found(lab)


@pytest.mark.slow
def test_a_light_between_two_darks_is_praised_as_what_they_open_on() -> None:
    lab = flat(22, 3, 8)
    lab[20:180, 120:240] = (80, -2, -12)
    assert "opening" not in found(lab)  # a light thing that darks lie all round: nothing opens on it
    lab[:20, 120:240] = (80, -2, -12)
    assert "on both sides opens on the pale blue light" in found(lab)["opening"].text
    lab[:, 240:] = (80, -2, -12)
    assert "both sides" not in getattr(found(lab).get("opening"), "text", "")


def test_a_dark_tree_against_the_sky_is_praised_where_it_stands_and_a_bare_sky_is_not() -> None:
    lab = flat(82, -3, -10)
    lab[160:] = (30, -6, 15)
    assert "silhouette" not in found(lab)
    lab[40:170, 250:310] = (20, -3, 8)
    virtue = found(lab)["silhouette"]
    assert "right" in virtue.text and "sky" in virtue.text
    assert virtue.at is not None and abs(virtue.at[0] - 280 / WIDTH) < 0.04


@pytest.mark.slow
def test_two_strong_colours_make_a_chord_and_one_does_not() -> None:
    lab = flat(60, 35, 20)
    lab[:, 180:] = (50, -30, 12)
    text = found(lab)["chord"].text
    assert "red in the left half" in text and "green in the right half" in text
    assert "chord" not in found(flat(60, 35, 20))
    browns = flat(28, 22, 12)  # a reddish brown, and one nearer to yellow: one colour to the eye
    browns[:, WIDTH // 2 :] = (30, 4, 22)
    assert "chord" not in found(browns)


def test_a_mauve_and_a_violet_make_no_chord() -> None:
    lab = flat(60, 17, -7)  # hues of 338 and 291 degrees, and a grey between
    lab[:, 120:240] = (60, 0, 0)
    lab[:, 240:] = (60, 7, -18)
    assert "chord" not in found(lab)


def test_a_loud_colour_that_is_criticised_is_not_praised_in_a_chord_and_another_is() -> None:
    lab = flat(62, 10, 60)
    lab[:, 180:] = (40, 12, -50)
    case = case_of(lab)
    loud = case.measures.loudest.hue
    chord = next(virtue for kind, virtue in virtues(case) if kind.id == "chord")
    assert any(abs(turn_of_one(hue, loud)) < 20 for hue in chord.hues)
    assert any("chord" in reason for reason in what_works(case, frozenset()))
    assert not any("chord" in reason for reason in what_works(case, {"loudest_colour"}))


def test_what_stands_too_near_an_edge_is_not_praised_there() -> None:
    lab = flat(18, 4, 10)
    lab[disc(0.12, 0.7, 0.035)] = (85, 3, 30)
    case = case_of(lab)
    assert near_edge_fault(case.measures.eyepath) is not None
    kinds = [(kind.id, virtue) for kind, virtue in virtues(case) if virtue.at and virtue.at[0] < 0.3]
    assert kinds
    praised = what_works(case, {"near_edge"})
    assert not any(virtue.text in praised for _, virtue in kinds)


def test_a_field_of_hot_colour_is_no_glow() -> None:
    lab = flat(40, 45, 35)  # a field of red flowers, its lights no lighter than a middle value
    down, across = np.ogrid[:HEIGHT, :WIDTH]
    away = np.hypot(down - 0.4 * HEIGHT, across - 0.5 * WIDTH) / WIDTH
    lab[..., 0] = 38 + 20 * np.exp(-((away / 0.25) ** 2))
    assert "glow" not in found(lab)
    lab[..., 0] = 38 + 45 * np.exp(-((away / 0.25) ** 2))
    assert "glow" in found(lab)


def test_a_dark_shape_that_hardly_parts_from_the_sky_does_not_stand_clear() -> None:
    lab = flat(82, -3, -10)
    lab[160:] = (30, -6, 15)
    lab[40:170, 250:310] = (45, -3, 8)
    assert "silhouette" not in found(lab)


@pytest.mark.slow
def test_land_that_runs_across_the_whole_sky_is_no_shape_that_stands_on_it() -> None:
    lab = flat(85, -3, -10)
    lab[170:] = (30, -6, 15)
    lab[120:170, :335] = (15, -3, 8)
    assert "silhouette" not in found(lab)
    lab[120:170, 120:] = (85, -3, -10)
    assert "silhouette" not in found(lab)  # a piece that runs out at the side is none either
    lab[120:170, :5] = (85, -3, -10)
    assert "silhouette" in found(lab)


def test_a_dark_under_a_light_is_no_praise_and_one_round_a_corner_is() -> None:
    lab = flat(82, -2, -12)
    lab[130:] = (22, 3, 8)
    lab[60:130, :110] = (22, 3, 8)
    lab[60:200, 300:] = (82, -2, -12)
    under = found(lab).get("opening")
    assert under is None
    lab[:, :110] = (22, 3, 8)
    lab[170:] = (22, 3, 8)
    assert "on the left and along the bottom opens on the" in found(lab)["opening"].text


def test_a_dark_that_is_told_to_be_closed_is_not_praised_for_where_it_lies() -> None:
    lab = flat(76, -2, -10)
    lab[:, :110] = lab[190:] = (14, 1, 2)
    case = case_of(lab)
    told, blamed = ({kind.id for kind, _ in virtues(case, against)} for against in ((), ("closed_darks",)))
    assert told & {"opening", "tones", "silhouette"} and not blamed & {"opening", "tones", "silhouette"}


def test_a_light_is_not_praised_as_what_shines_where_others_outshine_it() -> None:
    lab = flat(18, 4, 10)
    lab[disc(0.2, 0.5, 0.035)] = (50, 40, 40)
    assert "on the left" in found(lab)["lit_place"].text
    for x in (0.45, 0.67, 0.9):
        for y in (0.2, 0.8):
            lab[disc(x, y, 0.025)] = (92, 0, 0)  # whites, all alike: the eye still goes to the one red
    assert "lit_place" not in found(lab)


def test_one_of_two_lights_that_compete_is_not_praised() -> None:
    lab = flat(18, 4, 10)
    for x in (0.25, 0.75):
        lab[disc(x, 0.7, 0.06)] = (92, 3, 20)
    case = case_of(lab)
    assert lights_compete(case.measures.two_lights)
    assert "lit_place" in {kind.id for kind, _ in virtues(case)}
    assert "lit_place" not in {kind.id for kind, _ in virtues(case, {"two_lights"})}


def test_a_line_far_below_the_sky_is_not_its_low_line() -> None:
    """Trees between the sky and a road: a reader who is told of a low line looks for the lower end of the sky."""
    low = flat(80, -2, -10)
    low[170:] = (25, 4, 12)
    assert "over a low line" in found(low)["wide_sky"].text
    between = flat(80, -2, -10)
    between[125:185] = (45, -14, 20)
    between[185:] = (12, 2, 4)
    assert "low line" not in getattr(found(between).get("wide_sky"), "text", "")


def test_one_place_that_leads_is_praised_where_it_is_and_only_beside_or_for_want_of_another() -> None:
    lab = flat(30, 3, 8)
    lab[disc(0.7, 0.65, 0.03)] = (60, 3, 12)
    virtue = found(lab)["one_leads"]
    assert virtue.text.endswith("on the right")
    kinds = {kind.id: kind for kind in PRAISED}
    sky = Virtue("a sky", (0.5, 0.5), None)
    told = chosen([(kinds["one_leads"], virtue), (kinds["wide_sky"], sky)])
    assert told[0][1] is sky


def test_close_light_values_are_praised_as_haze_and_wide_ones_are_not() -> None:
    lab = flat(82, -1, -6)
    lab[120:] = (68, 0, 2)
    assert "keep close" in found(lab)["haze"].text
    lab[200:] = (15, 0, 2)
    assert "haze" not in found(lab)


def test_shapes_that_no_word_tells_apart_are_not_listed() -> None:
    lab = flat(80, 0, 0)
    lab[:, 170:190] = (20, 0, 0)
    assert "shapes" not in found(lab)


def test_one_small_red_is_praised_and_reds_strewn_about_are_not() -> None:
    lab = flat(50, 2, 12)
    lab[disc(0.7, 0.7, 0.02)] = (45, 50, 30)
    assert "low on the right" in found(lab)["accent"].text
    for x, y in ((0.1, 0.2), (0.5, 0.5), (0.9, 0.3)):
        lab[disc(x, y, 0.02)] = (45, 50, 30)
    assert "accent" not in found(lab)


def test_the_likelier_virtue_is_told_first_and_one_place_once() -> None:
    kinds = {kind.id: kind for kind in PRAISED}
    light = Virtue("a light", (8.0, 1.0, 0.5), (0.5, 0.5))
    opening = Virtue("an opening", (0.9, 2.0), (0.52, 0.5))
    sky = Virtue("a sky", (0.6, 0.6), None)
    told = chosen([(kinds["lit_place"], light), (kinds["opening"], opening), (kinds["wide_sky"], sky)])
    assert [virtue.text for _, virtue in told] == ["a light", "a sky"]


def test_every_virtue_has_a_weight_for_each_of_its_signs() -> None:
    lab = flat(82, -3, -10)
    lab[100:] = (20, 4, 10)
    lab[40:170, 250:310] = (15, 3, 8)
    lab[disc(0.3, 0.75, 0.04)] = (85, 3, 30)
    rng = np.random.default_rng(5)
    picture = picture_from_srgb(lab_to_srgb8(lab + rng.normal(0, 1.2, lab.shape)))
    for kind, virtue in virtues(Case.of(picture, measured(picture), read_norms())):
        assert 0 < kind.chance(virtue) < 1
        assert len(kind.weights) == len(virtue.signs)


def test_a_broken_grey_is_not_praised_as_a_wide_sky() -> None:
    smooth = flat(80, -2, -10)
    smooth[170:] = (25, 4, 12)
    assert "wide" in found(smooth)["wide_sky"].text
    rocks = smooth.copy()
    rng = np.random.default_rng(4)
    rocks[100:170] += np.kron(rng.choice([-28.0, 0.0, 12.0], (14, 72)), np.ones((5, 5)))[..., None] * (1, 0, 0)
    assert "wide_sky" not in found(rocks)


@pytest.mark.parametrize(
    ("lch", "word"),
    [
        ((85, 10, 260), "pale blue"),
        ((85, 35, 85), "golden"),
        ((85, 12, 85), "cream"),
        ((60, 45, 60), "orange"),
        ((50, 9, 140), "grey-green"),
        ((50, 20, 140), "green"),
        ((30, 20, 270), "dark grey-blue"),
        ((95, 2, 100), "white"),
        ((90, 7.5, 260), "pale blue"),
    ],
)
def test_a_light_is_named_as_a_painter_would_name_it(lch: tuple[float, float, float], word: str) -> None:
    assert light_word(*lch) == word


@pytest.mark.parametrize(
    ("lch", "foliage", "sky", "word"),
    [
        ((15, 12, 83), 0.9, 0.0, "dark olive"),  # readers' word for dark foliage that its colour alone calls brown
        ((15, 12, 70), 0.1, 0.0, "dark brown"),
        ((30, 22, 45), 0.9, 0.0, "dark reddish brown"),  # autumn's
        ((60, 18, 82), 0.0, 0.9, "warm grey"),  # an overcast sky is no ochre
        ((86, 11, 217), 0.0, 0.9, "pale blue"),
    ],
)
def test_a_colour_is_named_by_what_it_is_the_colour_of(
    lch: tuple[float, float, float], foliage: float, sky: float, word: str
) -> None:
    assert word_of(lch, in_foliage=foliage, in_sky=sky) == word


def test_areas_that_lie_in_one_another_are_not_set_against_each_other() -> None:
    assert areas_apart("in the lower half", "along the top")
    assert not areas_apart("in the lower half", "over the lower two thirds")
    assert areas_apart(MOST_OF_IT, "in the upper left") and not areas_apart("in the upper left", MOST_OF_IT)


@pytest.mark.slow
def test_one_warm_light_in_a_cool_picture_is_praised_and_not_where_all_is_warm_or_it_is_strewn() -> None:
    lab = flat(50, 0, -14)
    lab[140:] = (32, -4, -4)
    lit = lab.copy()
    lit[disc(0.3, 0.45, 0.07)] = (70, 16, 44)
    virtue = found(lit)["warm_among_cool"]
    assert "on the left" in virtue.text and "glows among cool colours" in virtue.text
    assert "warm_among_cool" not in found(lab)
    warm = flat(50, 6, 20)
    warm[disc(0.3, 0.45, 0.07)] = (70, 16, 44)
    assert "warm_among_cool" not in found(warm)
    for x in (0.15, 0.4, 0.65, 0.9):
        lab[disc(x, 0.45, 0.04)] = (70, 16, 44)
    assert "warm_among_cool" not in found(lab)


def test_a_place_is_called_what_the_main_colour_that_fills_it_is_called() -> None:
    """One verdict had "greyish white in the upper half" in a sentence and "light grey (42 %)" in the next."""
    picture = read_picture(demo_path("tolvesk_06_skarrvind_ness.jpg"))
    seen = Seen.of(Case.of(picture, measured(picture), read_norms()))
    words = family_words(picture, seen.case.measures)
    labels = assign_families(lab_at(picture, max(seen.value.shape)), seen.case.measures.families)
    assert [seen.colour(labels == number) for number in range(len(words))] == words
