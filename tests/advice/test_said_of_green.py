"""What is said of green: nothing of none, one share everywhere, and no fault in what no painter calls one."""

from dataclasses import replace

import numpy as np
import pytest
from measured import measured, with_others

from critique.advice.colour_findings import neighbours
from critique.advice.green_answered import relief
from critique.advice.green_area import area
from critique.advice.green_evenness import evenness
from critique.advice.green_share import told_green
from critique.advice.green_strength import strength
from critique.advice.judging import Case
from critique.advice.kinds import kind_named
from critique.advice.norms import read_norms
from critique.advice.verdict import verdict
from critique.measures.green_places import hue_over_places
from critique.measures.land_greens import land_green_share
from critique.perception.cielab import lab_to_srgb8, lch_to_lab
from critique.picture.picture import picture_from_srgb
from critique.words.aloud import about

SIZE = (240, 360)  # px
GREY_SKY = (84.0, 0.0, -3.0)


def case_of(lab: np.ndarray, reads: float = 0.5) -> Case:
    rng = np.random.default_rng(5)
    picture = picture_from_srgb(lab_to_srgb8(lab + rng.normal(0, 1.2, lab.shape)))
    measures = measured(picture)
    seen = with_others(measures, reads_as_green=replace(measures.reads_as_green, share=reads))
    return Case.of(picture, seen, read_norms())


def land(*colours: tuple[float, float, float]) -> np.ndarray:
    """A grey sky over a quarter, and below it bands of the colours, equally high."""
    lab = np.zeros((*SIZE, 3)) + np.array(GREY_SKY)
    for rows, colour in zip(np.array_split(np.arange(60, SIZE[0]), len(colours)), colours, strict=True):
        lab[rows] = colour
    return lab


def of_hue(hue: float, chroma: float = 48.0, lightness: float = 42.0) -> tuple[float, float, float]:
    L, a, b = lch_to_lab(np.array([lightness, chroma, hue]))
    return float(L), float(a), float(b)


@pytest.mark.parametrize("kind", ["green_strength", "green_evenness", "green_relief", "green_neighbours"])
def test_of_a_picture_without_green_nothing_but_that_is_said(kind) -> None:
    case = case_of(land((45.0, 8.0, 14.0), (30.0, 4.0, -12.0)), reads=0.1)
    assert kind_named(kind).judge(case, kind_named(kind)) is None
    assert area(case, kind_named("green_area")).text == "There is almost no clear green in it."


def test_a_rich_olive_is_no_loud_green_and_a_leaf_green_of_that_strength_is() -> None:
    kind = kind_named("green_strength")
    olive, leaf = (case_of(land(of_hue(hue), (55.0, 3.0, 9.0))) for hue in (101.0, 122.0))
    assert olive.measures.greens.beyond_leaf_share > 0.3  # by its colour alone as far beyond a leaf as the other
    assert strength(olive, kind) is None
    told = strength(leaf, kind)
    assert told is not None and told.level == "rework"


def test_a_lawn_hardly_beyond_a_leaf_is_to_watch_and_a_twentieth_of_the_green_is_nothing() -> None:
    lawn, acid = of_hue(118.0, 50.0, 55.0), of_hue(118.0, 60.0, 55.0)
    told = [strength(case_of(land(green)), kind_named("green_strength")) for green in (lawn, acid)]
    assert [one.level for one in told if one is not None] == ["watch", "rework"]
    lab = land(of_hue(118.0, 24.0, 55.0))
    rows = lab.shape[0] - lab.shape[0] // 25
    lab[rows:] = acid
    few = strength(case_of(lab), kind_named("green_strength"))
    assert few is not None and few.level == "holds" and "so little may sparkle" in few.text


def test_dark_greens_and_the_green_of_a_sky_are_no_loud_leaf() -> None:
    kind = kind_named("green_strength")
    bright, dark = (land((50.0, -9.0, 16.0)) for _ in range(2))
    bright[190:204], dark[190:204] = of_hue(122.0, 54.0, 44.0), of_hue(122.0, 54.0, 30.0)
    in_grass = case_of(bright)
    told = strength(in_grass, kind)
    assert told is not None and told.level == "watch"
    assert strength(case_of(dark), kind) is None
    reads = in_grass.measures.reads_as_green
    in_sky = with_others(in_grass.measures, reads_as_green=replace(reads, chance=np.zeros_like(reads.chance)))
    assert strength(replace(in_grass, measures=in_sky), kind) is None
    partly = reads.chance.copy()
    partly[:, : round(0.3 * partly.shape[1])] = 0  # a green sky of which most passes for leaves
    in_part = with_others(in_grass.measures, reads_as_green=replace(reads, chance=partly))
    assert strength(replace(in_grass, measures=in_part), kind) is None


def test_strong_greens_strewn_over_two_thirds_are_told_as_here_and_there() -> None:
    lab = land((50.0, -9.0, 16.0))
    for number, row in enumerate(range(84, 232, 18)):
        for across in range(0, SIZE[1], 60):
            left = across + 12 * (number % 4)
            lab[row : row + 8, left : left + 14] = of_hue(122.0, 54.0, 46.0)
    told = strength(case_of(lab), kind_named("green_strength"))
    assert told is not None and told.level != "holds" and "here and there over the lower two thirds" in told.text


def test_stalks_among_tulips_are_no_loud_green_and_the_same_stalks_in_grass_are() -> None:
    kind = kind_named("green_strength")
    tulips, grass = land((48.0, 62.0, 40.0)), land((50.0, -9.0, 16.0))
    for lab in (tulips, grass):
        lab[200:216, :] = of_hue(122.0)
    among_reds, in_grass = case_of(tulips), case_of(grass)
    assert strength(among_reds, kind) is None
    told = strength(in_grass, kind)
    assert told is not None and told.level == "watch"


@pytest.mark.parametrize(("chroma", "level"), [(20.0, "holds"), (36.0, "rework")])
def test_a_wood_is_green_and_only_strong_greens_are_too_much(chroma, level) -> None:
    case = case_of(land(of_hue(122.0, chroma), of_hue(132.0, chroma, 34.0)))
    assert area(case, kind_named("green_area")).level == level


def test_the_share_of_green_is_one_and_the_same_in_the_portrait_and_in_the_finding() -> None:
    """With the cool greens counted, and between what reads as green and what is green by its colour."""
    case = case_of(land(of_hue(124.0, 40.0), of_hue(126.0, 36.0), of_hue(162.0, 24.0)), reads=0.3)
    share = land_green_share(case.picture, case.measures.parts)
    told = told_green(case, share)
    assert 0.3 < told < share + 0.25
    said = about(told)
    finding = area(case, kind_named("green_area"))
    assert finding.level != "holds" and said in finding.text
    portrait = " ".join(verdict(case, (finding,), ()))
    assert f"{said} of it reads as green" in portrait or "reads as green" not in portrait


@pytest.mark.parametrize(("reads", "said"), [(0.3, "about a third"), (0.6, "some")])
def test_a_share_that_the_colour_does_not_bear_out_is_not_told(reads, said) -> None:
    """Dark walls and near-blacks may be taken for foliage; how much of them is green, nobody sees."""
    case = case_of(land(of_hue(118.0, 16.0, 30.0), (12.0, 0.0, 1.0), (10.0, 1.0, 1.0), (40.0, 8.0, 12.0)), reads=reads)
    assert 0.15 < case.measures.greens.family.area_share < 0.22
    finding = area(case, kind_named("green_area"))
    assert finding.text.lower().startswith(f"{said} of it reads as green")
    assert f"{said} of it reads as green" in " ".join(verdict(case, (finding,), ()))


@pytest.mark.parametrize(("sea", "told"), [((52.0, -4.5, 4.0), True), ((52.0, -1.0, -3.0), False)])
def test_a_sea_of_greyed_green_is_not_told_as_hardly_any_green(sea, told) -> None:
    text = area(case_of(land(sea), reads=0.01), kind_named("green_area")).text
    assert ("clear green" in text) == told and ("little" in text or "almost no" in text)


@pytest.mark.parametrize(("last", "told"), [(146.0, True), (127.0, False)])
def test_greens_vary_from_warm_to_cool_only_where_some_are_cool(last, told) -> None:
    hues, lights = np.linspace(84.0, last, 12), np.tile((22.0, 30.0, 40.0), 4)
    case = case_of(land(*(of_hue(hue, 26.0, light) for hue, light in zip(hues, lights, strict=False))))
    assert case.measures.greens.evenness < 0.42 and case.measures.greens.hue_spread > 9
    finding = evenness(case, kind_named("green_evenness"))
    assert (finding is not None) == told
    assert finding is None or (finding.level == "holds" and "warm to cool" in finding.text)


@pytest.mark.parametrize(("chroma", "last", "told"), [(40.0, 130.0, True), (40.0, 150.0, False), (22.0, 130.0, False)])
def test_much_strong_green_of_one_hue_is_one_green_however_light_and_dark(chroma, last, told) -> None:
    hues, lights = np.tile(np.linspace(112.0, last, 9), 4), np.tile((26.0, 40.0, 54.0, 34.0), 9)
    case = case_of(land(*(of_hue(hue, chroma, light) for hue, light in zip(hues, lights, strict=True))))
    assert case.measures.greens.evenness < 0.5  # no one tone
    finding = evenness(case, kind_named("green_evenness"))
    assert (finding is not None and finding.level == "watch") == told
    assert not told or "hardly differs in hue" in finding.text


def test_greens_that_turn_from_place_to_place_are_no_one_green_and_the_same_strewn_all_over_are() -> None:
    """The same bands of the same greens: from yellow-green below the sky to leaf green at the feet, or mixed."""
    hues, lights = np.linspace(113.0, 131.0, 18), np.tile((36.0, 46.0, 56.0, 66.0, 41.0, 61.0), 3)
    mixed = np.arange(18) * 7 % 18
    cases = [
        case_of(land(*(of_hue(hue, 34.0, light) for hue, light in zip(order, lights, strict=True))))
        for order in (hues[mixed], hues)
    ]
    spread = [hue_over_places(case.picture, case.measures.parts) for case in cases]
    assert spread[0] < 2.0 and 4.5 < spread[1] < np.std(hues) + 0.3  # a little less: masses reach into each other
    told = [evenness(case, kind_named("green_evenness")) for case in cases]
    assert told[0] is not None and "hardly differs in hue" in told[0].text
    assert told[1] is None
    assert [one is None for one in (strength(case, kind_named("green_strength")) for case in cases)] == [False, True]


def test_a_field_of_one_green_among_others_is_told_with_its_place() -> None:
    hues, lights = np.linspace(100.0, 140.0, 14), np.tile((30.0, 44.0, 56.0, 37.0, 50.0), 3)
    lab = land(*(of_hue(hue, 30.0, light) for hue, light in zip(hues, lights, strict=False)))
    lab[180:] = of_hue(124.0, 30.0, 48.0)
    finding = evenness(case_of(lab), kind_named("green_evenness"))
    assert finding is not None and finding.level == "watch"
    assert finding.text.startswith("About a quarter of the picture, along the bottom, is one and the same green")


@pytest.mark.parametrize(("hue", "told"), [(110.0, False), (122.0, True)])
def test_olives_are_no_loud_green_as_a_whole_nor_too_many(hue, told) -> None:
    """Below any leaf's limit, each as strong as the other."""
    case = case_of(land(of_hue(hue, 34.0, 52.0), of_hue(hue, 33.0, 40.0)))
    loud, much = strength(case, kind_named("green_strength")), area(case, kind_named("green_area"))
    assert (loud is not None and "the whole of it is strong" in loud.text) == told
    assert (much.level != "holds") == told
    assert told or "mostly olive: so near to earth" in much.text


@pytest.mark.parametrize(("hue", "level"), [(110.0, "holds"), (114.0, "watch"), (122.0, "rework")])
def test_greens_that_a_warmer_light_makes_olives_are_no_ground_for_repainting(hue, level) -> None:
    case = case_of(land(of_hue(hue, 34.0, 52.0), of_hue(hue, 33.0, 40.0)))
    assert area(case, kind_named("green_area")).level == level


def test_a_vivid_lawn_under_red_things_is_their_ground_and_asked_less() -> None:
    lab = np.zeros((*SIZE, 3)) + np.array(GREY_SKY)
    lab[100:] = of_hue(120.0, 42.0, 58.0)
    alone = area(case_of(lab), kind_named("green_area"))
    for left in (30, 150, 260):
        lab[120:200, left : left + 30] = of_hue(45.0, 48.0, 42.0)
    under = area(case_of(lab), kind_named("green_area"))
    assert [alone.level, under.level] == ["watch", "watch"]
    assert "Keep that strength for one place" in alone.text and "the ground for its reds" in under.text
    lab[20:90, :] = of_hue(287.0, 30.0, 34.0)
    lab[120:200] = of_hue(120.0, 42.0, 58.0)
    hills = case_of(lab)
    assert hills.measures.greens.relief_share >= 0.1  # violet-blue hills are relief, but no reds
    assert "its reds" not in area(hills, kind_named("green_area")).text


def test_most_of_the_relief_is_placed_only_where_it_is_most_of_it() -> None:
    kind = kind_named("green_relief")
    lab = land(of_hue(122.0, 22.0), of_hue(130.0, 20.0, 34.0))
    lab[100:112, 40:200] = (48.0, 44.0, -12.0)
    one = relief(case_of(lab), kind)
    assert one is not None and "most of it" in one.text
    rows = np.arange(0, SIZE[1], 12)
    for number, column in enumerate(rows):  # twice as much again, of many hues: no one family is most of it
        lab[70 + 4 * number : 84 + 4 * number, column : column + 12] = of_hue(
            285.0 + 4.0 * number, 30.0, 30.0 + 1.5 * number
        )
    many = relief(case_of(lab), kind)
    assert many is not None and "most of it" not in many.text


def test_brown_earth_that_relieves_the_green_stands_in_the_evidence_too() -> None:
    """Its hue is no red, so the figure alone, a hundredth of the colour, would deny the sentence."""
    lab = land(of_hue(122.0, 22.0), of_hue(130.0, 20.0, 34.0))
    lab[110:150, 40:240] = of_hue(70.0, 24.0, 42.0)
    lab[95:105, 40:120] = (48.0, 44.0, -12.0)
    finding = relief(case_of(lab), kind_named("green_relief"))
    assert finding is not None and finding.text.startswith("Reds and browns over")
    assert "reds and browns, however yellow, over" in finding.figure_text and finding.figure < 0.08


@pytest.mark.parametrize(
    ("rest", "told"),
    [(None, True), ((40.0, 0.5, 1.0), False), ((52.0, 5.0, -7.0), False), ((46.0, 2.0, 24.0), False)],
)
def test_crags_lilac_and_a_golden_path_answer_the_green_and_nothing_else_is_asked_for(rest, told) -> None:
    """Crags that measure grey look violet beside green: simultaneous contrast (Chevreul, 1839)."""
    kind = kind_named("green_relief")
    lab = land(of_hue(122.0, 44.0), of_hue(130.0, 36.0, 34.0))
    if rest is not None:
        lab[100:120, 100:200] = rest
    finding = relief(case_of(lab), kind)
    assert (finding is not None and finding.level == "watch") == told
    assert finding is None or finding.level == "holds" or finding.text.startswith("Little answers the green")


@pytest.mark.parametrize(("share", "told"), [(0.0, True), (0.1, True), (0.3, False)])
def test_blue_hills_over_a_fifth_of_it_are_its_second_colour(share, told) -> None:
    lab = land(of_hue(122.0, 44.0), of_hue(130.0, 36.0, 34.0))
    lab[60 : 60 + round(share * SIZE[0])] = of_hue(275.0, 24.0, 45.0)
    finding = relief(case_of(lab), kind_named("green_relief"))
    assert (finding is not None and finding.level == "watch") == told


@pytest.mark.parametrize(("lightness", "told"), [(48.0, True), (78.0, False)])
def test_yellow_flowers_answer_the_green_and_yellow_grass_does_not(lightness, told) -> None:
    """Of one hue: where it is dark, that is an olive."""
    lab = land(of_hue(124.0, 44.0), of_hue(132.0, 36.0, 34.0))
    lab[150:156] = of_hue(103.0, 40.0, lightness)
    finding = relief(case_of(lab), kind_named("green_relief"))
    assert (finding is not None and finding.level == "watch") == told


@pytest.mark.parametrize(("middle", "told"), [(118.0, True), (136.0, False)])
def test_a_path_of_dull_gold_is_ochre_beside_cool_greens_alone(middle, told) -> None:
    """Each colour is shifted toward the opposite of its neighbour: simultaneous contrast (Chevreul, 1839)."""
    lab = land(of_hue(middle, 44.0), of_hue(middle + 6.0, 36.0, 34.0))
    lab[90:240, 100:112] = of_hue(97.0, 28.0, 40.0)
    finding = relief(case_of(lab), kind_named("green_relief"))
    assert (finding is not None and finding.level == "watch") == told


def test_a_path_that_is_tan_beside_a_loud_green_and_a_small_roof_are_told_as_the_little_that_rests_the_eye() -> None:
    kind = kind_named("green_relief")
    lab = land(of_hue(128.0, 56.0, 60.0), of_hue(132.0, 48.0, 45.0))
    bare = relief(case_of(lab), kind)
    assert bare is not None and bare.text.startswith("Little answers the green")
    lab[120:200, 150:180] = of_hue(112.0, 32.0, 62.0)
    lab[100:110, 60:75] = of_hue(62.0, 26.0, 50.0)  # terracotta, not plainly red
    little = relief(case_of(lab), kind)
    assert little is not None and little.text.startswith("Little rests the eye from the green")
    assert "yellower passage" in little.text and "warm note" in little.text


def test_greens_that_touch_a_colour_in_places_only_are_not_set_against_it() -> None:
    kind = kind_named("green_neighbours")
    case = case_of(land(of_hue(122.0, 26.0), (70.0, 4.0, -24.0)))
    near = case.measures.neighbours
    assert near.contact is not None and neighbours(case, kind) is not None
    little = with_others(case.measures, neighbours=replace(near, contact=0.15))
    assert neighbours(replace(case, measures=little), kind) is None


@pytest.mark.parametrize(("green", "whole"), [((50.0, -9.0, 16.0), False), (of_hue(118.0, 36.0), True)])
@pytest.mark.parametrize(("beyond", "words"), [(0.0003, "is stronger"), (0.048, "is much stronger")])
def test_none_is_said_to_be_stronger_than_a_leaf_only_where_next_to_none_passes_its_limit(beyond, words, green, whole):
    """Of a valley the page said none, beside 4.0 % beyond one leaf's limit; of a meadow, beside 4.8 %."""
    case = case_of(land(green))
    greens = replace(case.measures.greens, beyond_leaf_share=beyond)
    told = strength(replace(case, measures=with_others(case.measures, greens=greens)), kind_named("green_strength"))
    assert told is not None and f"{words} than a leaf lit from the front" in told.text
    assert ("the whole of it is strong" in told.text) == whole


@pytest.mark.parametrize(
    ("reads", "says"),
    [
        (0.03, "There is little green in it."),
        (0.1, "There is almost no clear green in it."),
        (0.21, "What grass and foliage it has is mostly too dark, brown or grey to be called a clear green."),
    ],
)
def test_almost_no_green_is_said_only_where_both_figures_are_small(reads, says) -> None:
    """Of an olive slope that two readings noted as a quarter green "almost no clear green" was said, and no more."""
    case = case_of(land((45.0, 8.0, 14.0), (30.0, 4.0, -12.0)), reads=reads)
    assert land_green_share(case.picture, case.measures.parts) < 0.02
    assert area(case, kind_named("green_area")).text == says


def test_a_dark_wood_that_reads_as_green_is_not_said_to_read_as_a_grey_and_a_haze_that_does_not_is() -> None:
    """Of a wood that the page called green in one sentence, it said in the next that it reads as a grey."""
    lab = land(of_hue(125.0, 10.5, 26.0))
    wood, haze = (area(case_of(lab, reads), kind_named("green_area")) for reads in (0.8, 0.3))
    assert wood.level == haze.level and "reads as a grey" in haze.text and "leans to yellow-green" in haze.text
    assert "reads as green" in wood.text and "as a grey" not in wood.text


def test_a_little_green_in_no_meadow_is_left_to_be_grass_in_the_light() -> None:
    """Of a strip of sunlit grass and of leaves against the sun it was said that they are none; readers denied both."""
    text = area(
        case_of(land(of_hue(122.0, 24.0, 70.0), *[(45.0, 8.0, 14.0)] * 4), reads=0.03), kind_named("green_area")
    ).text
    assert "has a yellow-green colour" in text and text.endswith(
        "grass or leaves in the light, or a light on earth or water."
    )


def test_a_colour_that_reads_as_hardly_any_green_is_told_by_how_much_there_is_of_the_colour() -> None:
    """A lamp or a field: that green covers hardly any of it, and is vivid, would be told of a fault of area."""
    finding = area(case_of(land(of_hue(118.0, 50.0, 60.0)), reads=0.01), kind_named("green_area"))
    assert finding.level != "holds" and "ellow-green" in finding.text and "hardly any" not in finding.text


@pytest.mark.parametrize(("slope", "told"), [((45.0, 3.0, 24.0), True), ((45.0, 1.0, 7.0), False)])
def test_an_olive_slope_that_is_seen_is_named_and_a_grey_one_is_little_clear_green(slope, told) -> None:
    """A reader denied that there is almost no clear green where a seventh of it was an olive slope."""
    case = case_of(land((40.0, 2.0, -14.0), slope), reads=0.14)
    leaves = np.zeros(SIZE, dtype=np.float32)
    leaves[150:] = 1
    seen = replace(case.measures.reads_as_green, chance=leaves)
    case = replace(case, measures=with_others(case.measures, reads_as_green=seen))
    text = area(case, kind_named("green_area")).text
    assert ("olive" in text) == told and ("clear green" in text) != told
