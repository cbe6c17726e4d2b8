"""Paints by name, and the painter's own box."""

import pytest

from critique.errors import PaintError
from critique.paints.box import box_of, default_box, find_paint, load_box, measured_box, whole_box
from critique.paints.catalogue import known_paints, tube_of
from critique.paints.fading import LET_DOWN
from critique.paints.kubelka_munk import mixture_lab, paint_lab
from critique.paints.paint import OPACITIES
from critique.perception.difference import delta_e_2000


@pytest.mark.parametrize(
    ("query", "name"),
    [
        ("phthalo green", "phthalo green (blue shade)"),
        ("PG7", "phthalo green (blue shade)"),
        ("pg 7", "phthalo green (blue shade)"),
        ("  Thalo  GREEN ", "phthalo green (blue shade)"),
        ("phthalo green yellow shade", "phthalo green (yellow shade)"),
        ("PB15:3", "phthalo blue (green shade)"),
        ("burnt sienna", "burnt sienna"),
        ("sienna, burnt", "burnt sienna"),
        ("ultramarin blue", "ultramarine blue"),
        ("yellow ocher", "yellow ochre"),
        ("dioxazine", "dioxazine purple"),
        ("cad red", "cadmium red light"),
        ("red earth", "red oxide"),
        ("White", "titanium white"),
        ("PW6", "titanium white"),
        ("PW6:1", "unbleached titanium"),
        ("PB15:1", "phthalo blue (red shade)"),
        ("sap green", "sap green hue"),
        ("alizarin", "alizarin crimson"),
        ("permanent alizarin", "alizarin crimson hue"),
        ("turquoise", "turquoise"),
        ("cobalt teal", "cobalt teal"),
        ("Payne's gray", "payne's grey"),
        ("lemon", "lemon yellow"),
        ("indian yellow", "indian yellow hue"),
        ("ochre", "yellow oxide"),
        ("transparent red iron oxide", "transparent red oxide"),
        ("perylene maroon", "perylene maroon"),
        ("green gold", "green gold"),
        ("mixing white", "zinc white"),
    ],
)
def test_a_paint_is_found_by_pigment_or_colour_index_name_forgivingly(query, name):
    assert find_paint(query).name == name


@pytest.mark.parametrize(
    ("query", "hints"),
    [
        ("umbra", "raw umber"),
        ("PB15", "phthalo blue \\(red shade\\) or phthalo blue \\(green shade\\): say which"),
        ("PB15:4", "nearest are phthalo blue"),
        ("PY7", "no paint is called 'PY7'"),
        ("PY43:1", "no paint is called"),
        ("PY999", "nearest are bismuth vanadate yellow"),
        ("PR88", "nearest are alizarin crimson"),
        ("carmine", "nearest are quinacridone red, quinacridone magenta or pyrrole red"),
        ("PBr7", "raw sienna, burnt sienna, burnt umber or raw umber"),
        ("umber", "burnt umber or raw umber"),
        ("", "PG7"),
    ],
)
def test_a_wrong_name_gets_the_nearest_names_in_one_line(query, hints):
    with pytest.raises(PaintError, match=hints) as caught:
        find_paint(query)
    assert "\n" not in str(caught.value)


def test_every_paint_of_both_tables_has_its_facts():
    assert len(measured_box().paints) == 18 and len(whole_box().paints) == 61
    for paint in whole_box().with_white:
        assert paint.pigment and paint.colour_index.startswith("P") and paint.opacity in OPACITIES
        assert (paint.K >= 0).all() and (paint.S > 0).all()
        assert paint.origin in ("measured", "typical, not measured", "tube of several pigments")
        assert (paint.origin in paint.label) == (paint.origin != "measured")
        assert (len(paint.made_of) > 1) == (paint.origin == "tube of several pigments") == ("+" in paint.colour_index)
        assert paint.lightfastness in ("I", "II", "III") and 1.0 < paint.density < 2.0
    assert len({facts.name for facts in known_paints()}) == 62


def test_a_tube_of_several_pigments_lasts_no_longer_than_the_least_of_them_does_in_it():
    """Naples yellow hue is a pale tint of PY83 itself, which is II there. [paint_tubes.csv; ASTM D4303]"""
    for tube in (paint for paint in whole_box().paints if paint.made_of):
        held = [find_paint(name) for name in tube.made_of]
        shares = dict(tube_of(tube.name))
        white = sum(shares[one.name] for one in held if one.is_white) / sum(shares.values())
        alone = [one.pale_lightfastness if white >= LET_DOWN else one.lightfastness for one in held]
        assert tube.lightfastness >= max(alone), tube.name  # I is less than II, and II than III, as letters too
        assert tube.pale_lightfastness >= max(one.pale_lightfastness for one in held), tube.name


@pytest.mark.parametrize("metal", ["cadmium", "cobalt", "nickel", "manganese", "vanadium", "chromium"])
def test_hazardous_pigments_carry_the_usual_caution(metal):
    cautioned = [paint for paint in whole_box().paints if metal in paint.caution]
    assert cautioned
    for paint in cautioned:
        assert "don't sand, spray or eat" in paint.caution and "safety data sheet" in paint.caution
    assert not find_paint("ultramarine").caution
    for paint in whole_box().paints:
        assert paint.caution or not paint.name.startswith(("cadmium", "cobalt", "cerulean"))


def test_titanium_white_has_unit_scattering_and_the_default_box_is_for_landscape():
    assert (default_box().white.S == 1).all()
    names = [paint.name for paint in default_box().paints]
    assert 10 <= len(names) <= 16
    for needed in ("yellow oxide", "burnt sienna", "ultramarine blue", "phthalo green (blue shade)"):
        assert needed in names


BOX = """
name = "field box"
paints = ["PY74", "yellow ochre", "red oxide", "ultramarine", "white"]

[[own]]
name = "old green tube"
masstone = [24, -14, 10]
tint = "#7aa482"
white_parts = 8
third = [49, -25, 15]
third_white_parts = 2
hazard = "chromium"
"""


def test_a_box_is_read_from_a_toml_file_with_own_paints(tmp_path):
    file = tmp_path / "box.toml"
    file.write_text(BOX, encoding="utf-8")
    box = load_box(file)
    assert [paint.name for paint in box.paints] == [
        "hansa yellow opaque", "yellow ochre", "red oxide", "ultramarine blue", "old green tube",
    ]  # fmt: skip
    own = box.find("old green")
    assert own.origin == "own dabs" and "chromium" in own.caution
    assert own.opacity == "" and own.opacity_told == "opacity not told", "its label's word was not given"
    assert paint_lab(own) == pytest.approx([24, -14, 10], abs=1.5)
    with pytest.raises(PaintError, match="no paint is called 'viridian'"):
        box.find("viridian")


BAD_BOXES = [
    ("", "empty"),
    ("   \n", "empty"),
    ('paints = ["PG7"]', "at least 2"),
    ('paints = ["PG7", "white"]', "at least 2"),
    ('paints = ["PG7", "phthalo green"]', "twice"),
    ('paints = ["PG7", "unobtainium"]', "unobtainium"),
    ("paints = [1, 2]", "list of names"),
    ('paints = "PG7"', "list of names"),
    ("paints = [", "line 1 can't be read"),
    ('colours = ["PG7", "PY74"]', "'colours'"),
    ('paints = ["PG7", "PY74"]\nname = 3', "in quotes"),
    ('paints = ["PG7", "PY74"]\n[[own]]\nmasstone = [1, 2, 3]', "no name"),
    ('paints = ["PG7", "PY74"]\n[[own]]\nname = "x"\nmasstone = [20, 2, 3]', "tint is missing"),
    ('paints = ["PG7", "PY74"]\n[[own]]\nname = "x"\nmasstone = [20, 2]\ntint = [60, 1, 1]', "no colour"),
    ('paints = ["PG7", "PY74"]\n[[own]]\nname = "x"\nmasstone = "#12345"\ntint = [60, 1, 1]', "no colour"),
    (
        'paints = ["PG7", "PY74"]\n[[own]]\nname = "x"\nmasstone = [60, 1, 1]\ntint = [20, 1, 1]',
        "darker than its masstone",
    ),
    (
        'paints = ["PG7", "PY74"]\n[[own]]\nname = "x"\nmasstone = [20, 1, 1]\ntint = [60, 1, 1]\nwhite_parts = "ten"',
        "number",
    ),
    (
        'paints = ["PG7", "PY74"]\n[[own]]\nname = "x"\nmasstone = [20, 1, 1]\ntint = [60, 1, 1]\nthird = [50, 1, 1]',
        "third",
    ),
    (
        'paints = ["PG7", "PY74"]\n[[own]]\nname = "x"\nmasstone = [20, 1, 1]\ntint = [60, 1, 1]\nopacity = "thin"',
        "opacity",
    ),
]


@pytest.mark.parametrize(("text", "words"), BAD_BOXES)
def test_a_bad_box_is_refused_in_one_line_that_names_the_file(tmp_path, text, words):
    file = tmp_path / "mine.toml"
    file.write_text(text, encoding="utf-8")
    with pytest.raises(PaintError, match=words) as caught:
        load_box(file)
    assert "\n" not in str(caught.value) and "mine.toml" in str(caught.value)


def test_a_missing_or_binary_box_file_is_refused(tmp_path):
    with pytest.raises(PaintError, match="can't read"):
        load_box(tmp_path / "nowhere.toml")
    (tmp_path / "picture.toml").write_bytes(b"\xff\xd8\xff\xe0")
    with pytest.raises(PaintError, match=r"not a text file|older encoding"):
        load_box(tmp_path / "picture.toml")


def test_a_box_of_one_paint_is_refused():
    with pytest.raises(PaintError, match="at least 2"):
        box_of(["PG7"])


def test_every_name_that_is_not_known_is_told_in_one_error():
    with pytest.raises(PaintError) as caught:
        box_of(["unobtainium", "PY74", "PB15", "blurple", "PB29"])
    assert all(name in str(caught.value) for name in ("'unobtainium'", "'PB15'", "'blurple'"))
    assert "\n" not in str(caught.value)


def test_what_was_guessed_is_said():
    """A slip of the keyboard, and a pigment of several paints of which the trade means one."""
    box = box_of(["ultramarin bleu", "PR101", "PY74", "sap green"])
    assert [(one.asked, one.paint) for one in box.taken] == [
        ("ultramarin bleu", "ultramarine blue"),
        ("PR101", "red oxide"),
    ]
    assert box.taken[0].text == "'ultramarin bleu' was taken for ultramarine blue."


def test_a_tube_of_several_pigments_is_mixed_from_them():
    tube = find_paint("turquoise")
    parts = dict(tube_of("turquoise"))
    assert tube.colour_index == "PB15:3+PG7" and set(tube.made_of) == set(parts)
    mixed = mixture_lab(list(parts.values()), [find_paint(name) for name in parts])
    assert paint_lab(tube) == pytest.approx(mixed, abs=1e-6)
    for facts in known_paints():
        pigments = {find_paint(name).colour_index for name, _ in tube_of(facts.name)}
        if len(pigments) > 1:
            assert pigments == set(facts.colour_index.split("+")), facts.name


OWN = """
paints = ["PY74", "PB29"]
[[own]]
name = "old green"
masstone = [24, -14, 10]
tint = [66, -22, 14]
{more}
"""


def test_a_box_file_takes_mixtures_that_the_painter_made_and_dabs_in_place_of_weight(tmp_path):
    file = tmp_path / "own.toml"

    def own(more):
        file.write_text(OWN.format(more=more), encoding="utf-8")
        return load_box(file).find("old green")

    plain, by_dabs = own(""), own('measured_by = "dabs"')
    assert by_dabs.K.mean() > 1.2 * plain.K.mean(), "ten dabs of white weigh more than ten of paint: it is stronger"
    mixed = own('[[own.mixed]]\nparts = 3\nwith = "white"\nwith_parts = 1\ncolour = [36, -24, 15]')
    made, before = (mixture_lab([3, 1], [paint, find_paint("PW6")]) for paint in (mixed, plain))
    assert delta_e_2000(made, [36, -24, 15]) < delta_e_2000(before, [36, -24, 15])
    with pytest.raises(PaintError, match="lacks colour"):
        own('[[own.mixed]]\nparts = 3\nwith = "white"\nwith_parts = 1')
    with pytest.raises(PaintError, match="neither weight nor dabs"):
        own('measured_by = "spoon"')
