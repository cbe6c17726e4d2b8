"""Paints by name, and the painter's own box."""

import pytest

from critique.errors import PaintError
from critique.paints.box import box_of, default_box, find_paint, load_box, measured_box, whole_box
from critique.paints.catalogue import known_paints
from critique.paints.kubelka_munk import paint_lab
from critique.paints.paint import OPACITIES


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
    ],
)
def test_a_paint_is_found_by_pigment_or_colour_index_name_forgivingly(query, name):
    assert find_paint(query).name == name


@pytest.mark.parametrize(
    ("query", "hints"),
    [
        ("cobalt teal", "cobalt blue"),
        ("umbra", "raw umber"),
        ("PY999", "nearest are bismuth vanadate yellow"),
        ("PR83", "nearest are quinacridone red"),
        ("alizarin", "nearest are quinacridone red, quinacridone magenta or pyrrole red"),
        ("PBr7", "raw sienna, burnt sienna, raw umber or burnt umber"),
        ("umber", "raw umber or burnt umber"),
        ("", "PG7"),
    ],
)
def test_a_wrong_name_gets_the_nearest_names_in_one_line(query, hints):
    with pytest.raises(PaintError, match=hints) as caught:
        find_paint(query)
    assert "\n" not in str(caught.value)


def test_every_paint_of_both_tables_has_its_facts():
    assert len(measured_box().paints) == 18 and len(whole_box().paints) == 30
    for paint in whole_box().with_white:
        assert paint.pigment and paint.colour_index.startswith("P") and paint.opacity in OPACITIES
        assert (paint.K >= 0).all() and (paint.S > 0).all()
        assert paint.origin in ("measured", "typical, from memory")
        assert ("from memory" in paint.label) == (paint.origin != "measured")
    assert len({facts.name for facts in known_paints()}) == 31


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
    for needed in ("yellow ochre", "burnt sienna", "ultramarine blue", "phthalo green (blue shade)"):
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
    with pytest.raises(PaintError, match="not a text file"):
        load_box(tmp_path / "picture.toml")


def test_a_box_of_one_paint_is_refused():
    with pytest.raises(PaintError, match="at least 2"):
        box_of(["PG7"])
