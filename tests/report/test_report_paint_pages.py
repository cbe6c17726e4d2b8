"""Pages of palettes and charts, and their plates."""

import io
import json

import numpy as np
import pytest
from PIL import Image

from critique.paints.box import box_of
from critique.paints.chart import mixing_chart
from critique.picture.picture import picture_from_srgb
from critique.report.chart_page import write_chart
from critique.report.palette_page import write_palette
from critique.report.plates.gamut import gamut_plate
from critique.report.plates.mixing_chart import chart_plate, narrow_chart_plate
from critique.report.printing_paints import chart_text
from critique.tasks.palette import plan_palette

NAMES = ("yellow ochre", "red oxide", "PB29", "PG7")
HOSTILE = "<b>meadow</b> & 'noon'.jpg"


@pytest.fixture(scope="module")
def plan(review):
    return plan_palette(picture_from_srgb(review.picture.srgb, HOSTILE), box_of([*NAMES, "cadmium orange"]), 3, "A")


@pytest.fixture(scope="module")
def palette_folder(plan, tmp_path_factory):
    folder = tmp_path_factory.mktemp("palette") / "meadow"
    write_palette(plan, folder)
    return folder


@pytest.fixture(scope="module")
def chart_folder(tmp_path_factory):
    folder = tmp_path_factory.mktemp("chart") / "earths"
    write_chart(mixing_chart(NAMES), folder)
    return folder


@pytest.fixture(scope="module")
def palette_page(palette_folder, parsed):
    return parsed((palette_folder / "palette.html").read_text(encoding="utf-8"))


@pytest.fixture(scope="module")
def chart_page(chart_folder, parsed):
    return parsed((chart_folder / "chart.html").read_text(encoding="utf-8"))


def test_both_pages_are_well_formed_and_fetch_nothing(palette_page, chart_page):
    for page in (palette_page, chart_page):
        assert not page.open and not page.strays
        for _, attributes in page.elements:
            for name in ("src", "href"):
                assert attributes.get(name, "#").startswith(("data:image/", "#"))
        policy = [attributes["content"] for tag, attributes in page.elements if attributes.get("http-equiv")]
        assert policy == ["default-src 'none'; img-src data:; style-src 'unsafe-inline'"]


def test_a_hostile_name_stays_a_name(palette_folder, palette_page):
    assert "<b>meadow" not in (palette_folder / "palette.html").read_text(encoding="utf-8")
    assert any("<b>meadow</b> & 'noon'" in text.replace("’", "'") for text in palette_page.texts["title"])


def test_the_palette_page_says_what_each_palette_is_gives_up_and_mixes(plan, palette_folder):
    html = palette_folder.joinpath("palette.html").read_text(encoding="utf-8")
    for offer in plan.offers:
        assert f'id="{offer.proposal.kind.replace(" ", "-")}"' in html
        for row in offer.recipes:
            assert f"background:{row.srgb}" in html and f"background:{row.recipe.srgb}" in html
            assert f"background:{row.lamp_srgb}" in html
    assert "test swatch" in html and "measured matte acrylics" in html and "by weight" in html
    assert ("contains cadmium" in html) == any("cadmium orange" in offer.proposal.paints for offer in plan.offers)
    assert "don’t sand" in html and "under the light A" in html


def test_studies_are_written_at_full_size_and_shown_beside_the_original(plan, palette_folder, palette_page):
    names = sorted(path.name for path in (palette_folder / "plates").iterdir())
    assert names == sorted(f"study_{offer.proposal.kind.replace(' ', '_')}.png" for offer in plan.offers)
    for offer in plan.offers:
        image = Image.open(palette_folder / "plates" / f"study_{offer.proposal.kind.replace(' ', '_')}.png")
        assert np.array_equal(np.asarray(image), offer.study.picture.srgb)
    pictures = [tag for tag, _ in palette_page.elements if tag in ("img", "image")]
    assert len(pictures) == 2 + 2 * len(plan.offers), "the original twice, small and full; each study the same"


def test_records_beside_the_pages_are_those_of_the_results(plan, palette_folder, chart_folder):
    assert json.loads((palette_folder / "palette.json").read_text(encoding="utf-8")) == plan.as_dict()
    chart = json.loads((chart_folder / "chart.json").read_text(encoding="utf-8"))
    assert chart == json.loads(mixing_chart(NAMES).as_line())


def test_every_picture_has_words_for_who_cannot_see_it(palette_page, chart_page):
    for page in (palette_page, chart_page):
        assert all(attributes["alt"].strip() for tag, attributes in page.elements if tag == "img")


def test_the_chart_page_shows_every_pair_with_its_parts(chart_folder):
    html = (chart_folder / "chart.html").read_text(encoding="utf-8")
    chart = mixing_chart(NAMES)
    for pair in chart.pairs:
        for step, tint in zip(pair.steps, pair.tints, strict=True):
            assert f"<span>{step.first} : {step.second}</span>" in html
            assert f"+ {tint.white // (tint.first + tint.second)} white</span>" in html
            assert f"background:{step.srgb}" in html and f"background:{tint.srgb}" in html
    assert "does not neutralise" not in html
    assert "test swatch" in html and "a thin coat over white" in html


def test_the_chart_says_of_every_paint_that_fades_that_it_does(tmp_path):
    """PR83 is III by ASTM D4303, PV23 III in pale tints. [paint_facts.csv]"""
    chart = mixing_chart(("alizarin crimson", "dioxazine purple", "PG7"))
    html = write_chart(chart, tmp_path / "fading").read_text(encoding="utf-8")
    printed = " ".join(chart_text(chart, tmp_path).split())
    for told in ("lizarin crimson fades: keep it out of what must last", "ioxazine purple fades in pale tints"):
        assert told in html and told in printed
    assert "green (blue shade) fades" not in html


def colours_of(plate):
    codes = np.asarray(Image.open(io.BytesIO(plate.png)).convert("RGB")).astype(np.int32)
    packed = (codes[..., 0] << 16) + (codes[..., 1] << 8) + codes[..., 2]
    return {f"#{code:06x}" for code in np.flatnonzero(np.bincount(packed.ravel(), minlength=1 << 24))}


EIGHT = ("PY74", "PY83", "PR254", "PV19", "PV23", "PB29", "PG7", "PBk9")


@pytest.mark.slow
@pytest.mark.parametrize("draw", [chart_plate, narrow_chart_plate], ids=["broad", "narrow"])
@pytest.mark.parametrize("names", [NAMES[:2], NAMES, pytest.param(EIGHT, marks=pytest.mark.slow)])
def test_every_dab_of_the_chart_is_on_the_plate(names, draw):
    chart = mixing_chart(names)
    plate = draw(chart)
    drawn = colours_of(plate)
    wanted = {dab.srgb for pair in chart.pairs for dab in (*pair.steps, *pair.tints)}
    wanted |= {card.masstone for card in chart.cards} | {card.tint for card in chart.cards}
    assert wanted <= drawn
    assert (np.asarray(plate.image)[[0, -1]] == np.asarray(plate.image)[0, 0]).all(), (
        "nothing is cut off above or below"
    )
    assert (np.asarray(plate.image)[:, [0, -1]] == np.asarray(plate.image)[0, 0]).all(), "nor to the sides"


@pytest.mark.slow
def test_plates_are_the_same_on_every_run():
    chart = mixing_chart(NAMES)
    assert chart_plate(chart).png == chart_plate(chart).png
    assert gamut_plate(chart.slices).png == gamut_plate(chart.slices).png


def test_the_reach_is_coloured_where_the_palette_mixes_and_bare_elsewhere():
    chart = mixing_chart(("PY74", "PR254", "PB29", "PG7"))
    image = np.asarray(gamut_plate(chart.slices).image).astype(int)
    coloured = np.ptp(image, axis=2) > 12
    planes = np.array_split(coloured, 3, axis=1)
    areas = [one.area for one in chart.slices]
    shares = [plane.mean() for plane in planes]
    assert np.argsort(areas).tolist() == np.argsort(shares).tolist()
