"""Names in any script are kept, found again, and lettered where there are letters."""

import unicodedata

import pytest

from critique.errors import PaintError
from critique.paints.box import box_of_text, find_paint, load_box, paints_named
from critique.paints.box_file import OwnPaint, add_own_paint
from critique.paints.catalogue import known_paints
from critique.paints.chart import mixing_chart
from critique.paints.dabs import Dab
from critique.paints.naming import HUES_OF, PIGMENT_STAND_INS, name_key
from critique.report.chart_page import write_chart
from critique.report.plates.lettering import can_letter, faces_for, numbers_for

DABS = (Dab((24, -14, 10)), Dab((66, -22, 14), 10.0))
NAMES = ["охра жёлтая", "Θαλασσί", "草緑", "أخضر", "हरा", "grün", "vert émeraude", "🌿", "№ 7", "Zöld-föld"]


@pytest.mark.parametrize("name", NAMES)
def test_an_own_paint_is_found_by_its_name_in_any_script_however_it_is_typed(name, tmp_path):
    add_own_paint(tmp_path / "mine.toml", OwnPaint(name, DABS))
    box = load_box(tmp_path / "mine.toml")
    for typed in (name, name.upper(), unicodedata.normalize("NFD", name), unicodedata.normalize("NFC", name)):
        assert box.find(typed).name == name
    for again in (name.upper(), unicodedata.normalize("NFD", name)):
        with pytest.raises(PaintError, match="already holds"):
            add_own_paint(tmp_path / "mine.toml", OwnPaint(again, DABS))


def test_a_slip_in_any_script_is_taken_for_what_is_near_it(tmp_path):
    box = add_own_paint(tmp_path / "mine.toml", OwnPaint("охра жёлтая", DABS))
    assert box.find("охра желтая").name == "охра жёлтая"
    with pytest.raises(PaintError, match="no paint is called"):
        box.find("берлинская лазурь")


def test_a_name_that_several_paints_bear_is_told_what_it_was_taken_for():
    # PY35 is sold light and medium: "cadmium yellow" is both. [Colour Index names of reference_data/paint_facts.csv]
    (paint,), (taken,) = paints_named(["cadmium yellow"])
    assert taken.asked == "cadmium yellow" and taken.paint == paint.name == "cadmium yellow medium"
    for plain in ("cadmium yellow medium", "cadmium yellow light", "cobalt blue", "yellow ochre"):
        assert paints_named([plain])[1] == ()


def test_two_spellings_of_one_name_are_one_name(tmp_path):
    own = '[[own]]\nname = "{}"\nmasstone = [24, -14, 10]\ntint = [66, -22, 14]\n'
    text = 'paints = ["PY74", "PB29"]\n' + "".join(
        own.format(unicodedata.normalize(form, "Grün")) for form in ("NFC", "NFD")
    )
    with pytest.raises(PaintError, match="twice"):
        box_of_text(text, tmp_path / "mine.toml")
    assert name_key("STRASSE") == name_key("straße")


def test_a_name_as_long_as_a_book_is_refused_at_once(tmp_path):
    box = add_own_paint(tmp_path / "mine.toml", OwnPaint("old green", DABS))
    with pytest.raises(PaintError, match="no paint has a name of 600,000"):
        box.find("o" * 600_000)


@pytest.mark.slow
def test_letters_that_no_face_has_are_numbered_and_told_on_the_page(tmp_path):
    unknown = "\U0001e900\U0001e901"  # Adlam, written from the right
    assert can_letter("охра жёлтая") and can_letter("grün") and not can_letter(unknown)
    assert faces_for("охра")[:2] == ("STIXGeneral", "DejaVu Sans")
    assert numbers_for(["ultramarine", unknown]) == {unknown: "no. 2"}
    add_own_paint(tmp_path / "mine.toml", OwnPaint(unknown, DABS))
    page = write_chart(mixing_chart(["PB29", unknown], "D65", load_box(tmp_path / "mine.toml")), tmp_path / "chart")
    text = page.read_text(encoding="utf-8")
    assert f"No. 2: {unknown}" in text and "Numbers stand for names" in text


@pytest.mark.filterwarnings("error:Glyph")
def test_the_chart_of_a_russian_name_has_its_letters(tmp_path):
    add_own_paint(tmp_path / "mine.toml", OwnPaint("охра жёлтая", DABS))
    page = write_chart(mixing_chart(["PB29", "охра"], "D65", load_box(tmp_path / "mine.toml")), tmp_path / "chart")
    assert "Охра жёлтая" in page.read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("asked", "hue"), [("Permanent Green Light", "green"), ("Winter Red Deep", "red"), ("Manganese Blue", "blue")]
)
def test_a_name_with_a_hue_in_it_is_sent_to_paints_of_that_hue(asked, hue):
    """A red whose name is spelt much like a green's is no green."""
    with pytest.raises(PaintError, match="nearest") as told:
        paints_named([asked])
    nearest = str(told.value).split("nearest")[1]
    others = {"green", "red", "blue", "yellow"} - {hue}
    assert hue in nearest and not any(f" {other}" in nearest.split("(")[0] for other in others), nearest


@pytest.mark.parametrize(
    ("pigment", "first", "never"),
    [
        ("PR112", "naphthol red light", "quinacridone magenta"),  # naphthol AS-D
        ("PB35", "cerulean blue", "ultramarine blue"),  # cobalt stannate, beside cobalt chromite PB36
        ("PY37", "cadmium yellow medium", "transparent yellow oxide"),  # cadmium sulfide
        ("PBk7", "bone black", "perylene green"),  # carbon black
        ("PV16", "dioxazine purple", "quinacridone red"),  # manganese violet
        ("PR177", "alizarin crimson hue", "perylene maroon"),  # anthraquinone red, a bluish crimson
    ],
)
def test_a_pigment_without_figures_is_answered_by_its_kin_and_not_by_a_near_number(pigment, first, never):
    """What each is: Colour Index generic names, from memory."""
    with pytest.raises(PaintError) as told:
        find_paint(pigment)
    assert f"{first}" in str(told.value) and never not in str(told.value)


def test_every_kin_is_a_paint_of_the_catalogue_and_no_pigment_in_it_is_sent_elsewhere():
    known = {facts.name for facts in known_paints()}
    assert {name for kin in PIGMENT_STAND_INS.values() for name in kin} <= known
    assert not {facts.colour_index.lower() for facts in known_paints()} & set(PIGMENT_STAND_INS)


@pytest.mark.parametrize(
    ("asked", "instead"),
    [
        ("cadmium red hue", "pyrrole red"),
        ("Cadmium Yellow Medium (hue)", "hansa yellow opaque"),
        ("cobalt blue hue", "ultramarine blue"),
        ("cerulean blue hue", "phthalo blue"),
        ("viridian hue", "phthalo green"),
        ("yellow ochre hue", ""),
    ],
)
def test_a_tube_called_a_hue_is_never_taken_for_the_pigment_that_it_is_named_after(asked, instead):
    """By "hue" makers mark that the pigment of the name is not in it: its cautions would be false. [tube labels]"""
    with pytest.raises(PaintError) as refused:
        find_paint(asked)
    told = str(refused.value)
    assert "other pigments" in told and "on its label" in told
    assert instead in told and ("or take" in told) == bool(instead)


def test_what_is_offered_for_a_hue_is_there_and_warns_of_none_of_its_metals():
    for kin in HUES_OF.values():
        assert kin and all(find_paint(name).name == name and not find_paint(name).hazards for name in kin)


def test_a_hue_that_the_program_knows_by_its_pigments_is_still_found():
    assert find_paint("naples yellow hue").colour_index == "PW6+PY83+PBr7"
    assert find_paint("Hooker's Green Hue").name == "hooker's green hue"
