"""Recipes as a studio would mix them, and what they promise. Facts of the trade: common practice, no source."""

import ast
from functools import cache
from pathlib import Path

import numpy as np
import pytest

import critique.paints
from critique.paints.box import box_of, default_box, find_paint, whole_box
from critique.paints.expected import MISSED_BY_TINTS, expected_error, strays_in_words, trust_in_words
from critique.paints.kubelka_munk import mixture_lab
from critique.paints.paint import OWN_DABS, Paint
from critique.paints.recipes import BY_WEIGHT, CLOSE, _kept, recipe, recipe_of, recipes
from critique.paints.studio import strength_of
from critique.paints.whole_parts import MOST_PART, told_unit

EARTHS = {"burnt sienna", "red oxide", "yellow oxide", "quinacridone burnt orange"}
# L*a*b* of things in a landscape, judged by eye; invented.
COLOURS = {
    "straw": (78, 5, 38), "wheat": (65, 14, 50), "dry sand": (78, 5, 20), "wet sand": (58, 7, 20),
    "warm grey rock": (55, 3, 8), "cool grey rock": (55, -1, -4), "storm grey": (50, 0, -5), "neutral": (60, 0, 0),
    "warm cloud": (72, 3, 8), "dark neutral": (25, 0, 0), "snow shadow": (80, -1, -12), "blue hills": (58, -3, -14),
    "sage": (62, -8, 12), "olive": (40, -6, 26), "forest": (25, -12, 10), "meadow": (50, -20, 38),
    "red roof": (45, 28, 26), "bark": (30, 8, 12), "lavender": (58, 16, -24), "pale sky": (85, -3, -10),
}  # fmt: skip


@cache
def mixed():
    return dict(zip(COLOURS, recipes(np.array(list(COLOURS.values()), dtype=float), default_box()), strict=True))


def names(found):
    return [part.paint for part in found.parts]


@pytest.mark.parametrize("colour", ["straw", "wheat", "wet sand"])
def test_straw_and_sand_begin_with_ochre(colour):
    assert names(mixed()[colour])[0] == "yellow oxide"


@pytest.mark.parametrize("colour", ["warm grey rock", "cool grey rock", "storm grey", "neutral", "warm cloud", "bark"])
def test_greys_are_made_of_an_earth_and_its_opposite_and_of_no_magenta(colour):
    held = set(names(mixed()[colour]))
    assert held & EARTHS and not held & {"quinacridone magenta", "dioxazine purple"}


def test_the_greys_that_studios_know_are_found():
    """Burnt sienna and ultramarine: a pair that every landscape painter greys with."""
    box = box_of(["burnt sienna", "PB29", "PR122", "PG7", "PY74", "PV23"])
    for grey in ((55, 1, 0), (62, 1, -3), (45, 2, 1)):
        held = set(names(recipe(grey, box)))
        assert {"burnt sienna", "ultramarine blue"} <= held and not held & {"quinacridone magenta", "dioxazine purple"}


def test_parts_are_few_and_go_to_about_eight():
    most = [max(one.amounts) / told_unit(one.amounts) for one in mixed().values()]
    assert np.median(most) <= MOST_PART and np.mean(np.array(most) <= MOST_PART) >= 0.8
    assert np.median([len(one.parts) for one in mixed().values()]) <= 4


def test_a_recipe_begins_with_its_bulk_and_never_with_a_strong_tinter_that_is_little_of_it():
    """Whoever begins with a phthalo drowns all else in it. Common practice, no source."""
    for one in mixed().values():
        if len(one.parts) == 1:
            continue
        strength = {paint.name: strength_of(paint) for paint in one.paints}
        first, *others = one.parts
        assert one.order.startswith(f"Begin with {first.paint}") and not first.touch
        assert strength[first.paint] < max(strength.values()) or first.share > 0.5
        assert [strength[part.paint] for part in others] == sorted(strength[part.paint] for part in others)
        said = "it is the strongest" in one.order
        assert not said or strength[one.parts[-1].paint] == max(strength.values())


def test_a_phthalo_is_told_as_stronger_than_the_yellow_or_the_red_beside_it():
    """A dark green of five parts diarylide yellow to one of phthalo blue, and a grey of pyrrole orange and PG36."""
    green = recipe_of([0, 5, 1], [default_box().white, find_paint("PY83"), find_paint("PB15:3")], (36, -27, 24))
    assert green.order == "Begin with diarylide yellow and add phthalo blue (green shade) little by little."
    paints = [default_box().white, find_paint("PO73"), find_paint("PG36"), find_paint("PB29")]
    assert recipe_of([3, 4, 1, 2], paints, (50, 10, 5)).order.endswith(
        "and phthalo green (yellow shade) last, little by little: it is the strongest."
    )


def test_a_phthalo_is_added_to_the_yellow_though_a_red_oxide_beside_it_is_stronger_still():
    """Dark green of three parts hansa yellow, two PG7 and one red oxide: it was told to begin with the phthalo."""
    paints = [default_box().white, find_paint("PY74"), find_paint("PG7"), find_paint("PR101")]
    green = recipe_of([0, 3, 2, 1], paints, (25, -10, 14))
    assert green.parts[0].paint == "hansa yellow opaque"
    mostly = recipe_of([0, 1, 5, 1], paints, (13, -10, 1))  # most of the mixture: there is nothing else to begin with
    assert mostly.parts[0].paint == "phthalo green (blue shade)"


def test_strong_and_weak_tinters_stand_as_painters_know_them():
    """Phthalos and dioxazine before the reds, these before ultramarine and yellows; white last. Common practice.

    The order within them is that of the lightness of one part in ten of white, in tint_lightness.csv, where the
    published tints tell it: phthalo blue 71.2, pyrrole red 73.4, ultramarine 79.9, cobalt blue 83.7, cerulean 87.8.
    """
    order = ["PB15:3", "PG7", "PR254", "PB29", "PB28", "PB36", "PW6"]
    found = [strength_of(find_paint(name)) for name in order]
    assert found == sorted(found, reverse=True)
    assert strength_of(find_paint("PG36")) > strength_of(find_paint("PO73"))


def test_every_recipe_tells_what_to_expect_and_never_the_rest_of_the_search_alone():
    for one in mixed().values():
        expected = one.expected
        assert one.error < expected.as_calculated <= expected.with_care <= expected.by_eye
        assert expected.as_calculated >= np.hypot(one.error, MISSED_BY_TINTS) - 1e-6
        assert expected.nine_in_ten < 2 * expected.with_care  # what the box doesn't reach isn't doubled
        assert "hardly tell" not in one.verdict and "Real paint strays" in one.verdict
        assert all(words in one.verdict for words in ("weighed exactly", "with care", "dabs by eye"))


def test_paints_that_were_not_measured_want_a_swatch_first():
    one = recipe((30, 4, 8), box_of(["burnt umber", "PB29"]))
    assert one.expected.unmeasured == ("burnt umber",) and "mix a swatch first" in one.verdict
    sure = expected_error([1, 1], default_box().paints[:2], [False, False], 0.5)
    assert not sure.unmeasured and sure.as_calculated < one.expected.as_calculated


def test_what_several_recipes_promise_is_told_once_and_each_keeps_what_is_its_own():
    told = list(mixed().values())
    once = strays_in_words([one.expected for one in told])
    care = np.mean([one.expected.with_care for one in told])
    assert f"about {care:.0f} steps" in once and strays_in_words([]) == ""
    for one in told:
        assert (
            one.near.split(" Dioxazine")[0] in one.verdict
            and "Real paint strays" not in one.near
            and ("steps" in one.near or one.error <= CLOSE)
        )
    umber = recipe((30, 4, 8), box_of(["burnt umber", "PB29"]))
    assert umber.near.endswith("Burnt umber was not measured: mix a swatch first.")


def test_a_strong_tinter_strays_more_by_eye_than_an_earth():
    box = default_box()
    strong = expected_error([16, 1], [box.white, box.find("PB15:3")], [False, True], 0.0)
    weak = expected_error([2, 1], [box.white, box.find("burnt sienna")], [False, False], 0.0)
    assert strong.by_eye > weak.by_eye > weak.with_care


def test_what_fades_in_pale_tints_is_told():
    pale = recipe(mixture_lab([1, 40], [default_box().find("PV23"), default_box().white]), box_of(["PV23", "PY74"]))
    assert any("Dioxazine purple fades in tints such as this one" in note for note in pale.notes)
    lake = recipe((20, 30, 8), box_of(["alizarin crimson", "PY74"]))
    assert any("keep it out of what must last" in note for note in lake.notes)


def test_three_dabs_of_a_heavy_paint_weigh_about_as_much_as_four_of_another():
    """Densities are estimated from pigment and binder. [paint_facts.csv, sources.md]"""
    heavy = [
        find_paint(name).density
        for name in ("PW6", "PO20", "PR108", "red oxide", "PG17", "PB28", "PB36", "PG50", "PY184")
    ]
    light = [find_paint(name).density for name in ("PB15:3", "PV23", "PY83", "PR254", "PG7")]
    for one in heavy:
        assert 0.68 <= float(np.mean(light)) / one <= 0.79
    assert "three of white, cadmiums, cobalts, bismuth yellow and opaque oxides where four" in BY_WEIGHT


def test_out_of_reach_a_plainer_mixture_keeps_the_value_of_the_nearest():
    """Of colours that blacks can't mix the value is what is left to get right. Common practice, no source."""
    blacks = box_of(["PBk9", "mars black", "payne's grey"])
    colours = [(60, 10, 22), (70, 8, 30), (45, 20, 12), (65, 25, 15), (55, 4, -28), (75, 12, 26)]
    for colour, one in zip(colours, recipes(np.array(colours, float), blacks), strict=True):
        assert one.error > 5 and abs(one.lab[0] - colour[0]) < 4, one.text


def test_paint_knows_no_pictures():
    """No module of the paint room imports from the rooms to its right, and none imports in a ring."""
    folder = Path(critique.paints.__file__).parent
    needs = {file.stem: imported(file) for file in folder.glob("*.py")}
    for module, names_ in needs.items():
        rooms = {name.split(".")[1] for name in names_ if name.startswith("critique.") and "." in name}
        assert not rooms & {"picture", "measures", "advice", "report", "photograph", "tasks"}, module
    inner = {
        module: {name.split(".")[2] for name in names_ if name.startswith("critique.paints.")}
        for module, names_ in needs.items()
    }
    while inner:
        free = [module for module, wants in inner.items() if not wants & set(inner)]
        assert free, f"a ring among {sorted(inner)}"
        for module in free:
            del inner[module]


def imported(file):
    """Every module that a file imports from, inside functions too."""
    found = set()
    for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
        if isinstance(node, ast.ImportFrom) and node.module:
            found.add(node.module)
        elif isinstance(node, ast.Import):
            found |= {name.name for name in node.names}
    return found


@pytest.mark.slow
def test_the_lattices_of_a_very_large_box_are_not_kept():
    kept = _kept.cache_info().currsize
    assert recipe((60, 5, 10), whole_box()).error < 2 and _kept.cache_info().currsize == kept
    assert _kept.cache_info().maxsize == 2


def test_how_far_a_paint_is_to_be_trusted_goes_by_how_it_is_known():
    known = find_paint("ultramarine")
    own = Paint("own blue", "", "", "", "", OWN_DABS, known.K, known.S)
    told = [trust_in_words(paint) for paint in (known, own, find_paint("burnt umber"), find_paint("sap green"))]
    assert "it was measured" in told[0] and "corrects it" in told[1]
    assert all("Swatch it first" in words for words in told[2:])
    box = default_box()
    errors = [
        expected_error([1, 1], [box.white, paint], [False, False], 0.0).as_calculated
        for paint in (known, own, find_paint("burnt umber"))
    ]
    assert errors == sorted(errors) and errors[0] < errors[1] < errors[2]


def test_the_same_colour_in_dabs_of_one_size_takes_fewer_of_heavy_paints():
    one = mixed()["straw"]
    density = np.array([paint.density for paint in one.paints])
    weighed = np.array([part.dabs for part in one.parts]) * density
    assert mixture_lab(weighed, one.paints) == pytest.approx(np.array(one.lab), abs=1e-6)
    white = next(part for part in one.parts if part.paint == "titanium white")
    assert white.dabs < white.parts / told_unit(one.amounts)
