"""The page is whole, closed to the outside, safe with any name, and reads for everyone."""

import base64
import dataclasses
import io
import re
import shlex
from html import unescape
from itertools import pairwise

import pytest
from PIL import Image

from critique.advice.change import Change
from critique.advice.change_light import Widen
from critique.advice.colour_words import family_words
from critique.advice.main_colours import main_colours
from critique.advice.muting import pair_of_recipes
from critique.advice.standing_still import stands_still
from critique.advice.suggestion import Suggestion
from critique.cli.main import main
from critique.paints.box import box_of
from critique.report.aim_words import not_asked
from critique.report.page import page_html
from critique.report.plates.review_plates import draw_plates
from critique.report.templating import environment


@pytest.fixture(scope="module")
def plates(review):
    return draw_plates(review)


@pytest.fixture(scope="module")
def html(review, plates):
    return page_html(review, plates)


@pytest.fixture(scope="module")
def page(html, parsed):
    return parsed(html)


def named(review, name):
    return dataclasses.replace(review, picture=dataclasses.replace(review.picture, file=name))


def test_every_element_is_closed_in_its_order(page):
    assert page.open == [] and page.strays == []


def test_every_picture_has_a_text_alternative(page):
    images = page.all("img")
    assert len(images) >= 9
    assert all(image["alt"].strip() for image in images)
    for drawing in page.all("svg"):
        assert drawing.get("aria-hidden") == "true" or drawing.get("aria-label", "").strip()


def test_pictures_on_the_page_decode_at_the_size_that_they_claim(page):
    for image in page.all("img"):
        kind, _, data = image["src"].partition(";base64,")
        with Image.open(io.BytesIO(base64.b64decode(data, validate=True))) as decoded:
            assert kind == f"data:image/{decoded.format.lower()}"
            assert decoded.size == (int(image["width"]), int(image["height"]))


def test_page_fetches_nothing_and_runs_nothing(html, page):
    for tag, attributes in page.elements:
        assert tag not in ("script", "link", "iframe", "object", "embed", "base", "form")
        assert not [name for name in attributes if name.startswith("on")]
        for name in ("src", "href", "srcset", "xlink:href", "action", "data", "poster"):
            assert attributes.get(name, "#").startswith(("data:image/", "#"))
    assert "url(" not in html and "@import" not in html


def test_every_picture_stands_once(page):
    sources = [image["src"] for image in page.all("img")]
    assert len(set(sources)) == len(sources)


def test_first_comes_the_picture_with_its_aim_and_the_commands_that_go_on_from_it(review, html, page):
    head = html[html.index("<header") : html.index("</header>")]
    steps = [step.title for step in review.aim.steps]
    assert steps and head.count("<img") == 2
    caption = "The aim: " + ", then ".join(steps)
    assert caption in head and any(image["alt"].startswith(caption) for image in page.all("img"))
    assert page.texts["code"] == ["critique plan 'meadow at noon.jpg'", "critique gallery 'meadow at noon.jpg'"]
    for words, command in zip(page.texts["code"], ("plan", "gallery"), strict=True):
        assert shlex.split(words) == ["critique", command, review.picture.file] and command in main.commands


def test_a_finding_tells_where_the_aim_brings_it(review, page):
    after = {finding.kind: finding.level for finding in review.aim.after.findings}
    moved = [
        one
        for one in review.advice.findings
        if one.level != "holds"
        and after.get(one.kind, "holds") != one.level
        and not stands_still(one.kind, review.measures, review.aim.after.case.measures)
    ]
    told = [" ".join(text.split()) for text in page.texts["article"] if "in the aim" in text]
    assert moved and len(told) == len(moved)
    for finding in moved:
        (text,) = [text for text in told if text.startswith(finding.subject.capitalize())]
        words = {"holds": "mended", "watch": "to watch", "rework": "to rework"}[after.get(finding.kind, "holds")]
        words = "no longer asked for" if finding.kind in not_asked(review.aim) else words
        assert f"in the aim {words}" in text


def test_signs_that_painters_do_not_use_stay_in_the_folded_figures(html):
    seen = re.sub(r"<details.*</details>|<[^>]*>", " ", html[html.index("<body") :], flags=re.DOTALL)
    assert not re.search(r"C\*|ΔE|[Lab]\*|hue \d", seen)
    assert len(seen.split()) < 700


def test_what_holds_and_all_figures_are_folded_away_unless_all_holds(review, plates, parsed, page):
    folds = {fold["id"]: "open" in fold for fold in page.all("details") if "id" in fold}
    assert folds == {"paint": False, "holds": False, "figures": False}
    holding = tuple(finding for finding in review.advice.findings if finding.level == "holds")
    quiet = dataclasses.replace(review.advice, findings=holding, suggestions=())
    calm = parsed(page_html(dataclasses.replace(review, advice=quiet, aim=None), dataclasses.replace(plates, aim=None)))
    assert {fold["id"]: "open" in fold for fold in calm.all("details") if "id" in fold} == {
        "holds": True,
        "figures": False,
    }
    assert calm.texts["code"] == ["critique gallery 'meadow at noon.jpg'"]  # nothing asks to be planned


def test_review_without_an_aim_shows_its_first_step_tried(review, parsed):
    bare = dataclasses.replace(review, aim=None)
    html = page_html(bare, draw_plates(bare))
    first = review.advice.suggestions[0]
    assert f"The first step, tried: {first.subject}." in html and "The aim" not in parsed(html).texts["h2"]


def test_headings_go_down_one_step_at_a_time(page):
    levels = [int(tag[1]) for tag, _ in page.elements if re.fullmatch("h[1-6]", tag)]
    assert levels[0] == 1 and levels.count(1) == 1
    assert all(lower - higher <= 1 for higher, lower in pairwise(levels))


def test_page_says_its_language_and_fits_a_phone(page):
    assert page.all("html")[0]["lang"] == "en"
    assert any("width=device-width" in meta.get("content", "") for meta in page.all("meta"))


def test_every_finding_stands_on_the_page_with_its_level_in_words(review, page):
    articles = [" ".join(text.split()) for text in page.texts["article"]]
    words = {"holds": "holds", "watch": "to watch", "rework": "to rework"}
    for finding in review.advice.findings:
        text = " ".join(finding.text.replace("'", "’").split())
        matching = [article for article in articles if text in article.replace("\u00a0", " ")]
        assert len(matching) == 1 and words[finding.level] in matching[0]


def test_levels_differ_by_the_shape_of_their_marks(html):
    marks = set(re.findall(r'<svg class="mark".*?</svg>', html, re.DOTALL))
    assert len(marks) == len(set(re.findall(r'class="finding (\w+)"', html))) >= 2
    assert not [mark for mark in marks if "fill=" in mark or "stroke=" in mark]


def test_dot_of_a_scale_stands_at_its_percentile(review, html):
    rows = [row for row in re.findall(r"<tr>.*?</tr>", html, re.DOTALL) if 'class="scale"' in row]
    scaled = [finding for finding in review.advice.findings if finding.percentile is not None]
    assert scaled and len(rows) == len(scaled)
    for finding in scaled:
        (row,) = [text for text in rows if f'<th scope="row">{finding.subject.capitalize()}</th>' in text]
        (x,) = re.findall(r'<circle cx="([\d.]+)" cy="12"', row)
        assert float(x) / 220 * 100 == pytest.approx(finding.percentile, abs=0.05)  # the line is 220 long


def test_suggestions_show_figures_before_and_after(review, page):
    rows = ["".join(row.split()) for row in page.texts["tr"]]
    changes = [change for suggestion in review.advice.suggestions for change in suggestion.changes]
    assert changes
    for change in changes:
        assert any(f"{change.before_text}→{change.after_text}".replace(" ", "") in row for row in rows)


def test_page_says_that_rules_are_made_to_be_broken_and_how_the_picture_was_read(review, page):
    foot = " ".join(page.texts["footer"][0].split())
    assert "one reader’s eye among others" in foot.replace("'", "’")
    assert "made to be broken on purpose" in foot
    assert review.picture.profile in foot and review.as_dict()["version"] in foot


HOSTILE = (
    "<script>alert(1)<\\script>.jpg",
    "\"quoted\" & 'single'.png",
    "a&amp;b &lt;i&gt;.jpg",
    "moss 🌿 and 日本.jpg",
    "two\nlines.jpg",
    "{{ 7 * 7 }}{% raw %}.jpg",
    "]]>--><style>.jpg",
    ".hidden",
    "x" * 250 + ".jpg",
)


@pytest.mark.parametrize("name", HOSTILE)
def test_any_file_name_shows_as_it_is_and_does_nothing(review, plates, parsed, name):
    page = parsed(page_html(named(review, name), plates))
    stem = name.rpartition(".")[0] or name.lstrip(".")
    assert page.texts["h1"] == [stem]
    assert stem in page.texts["title"][0]
    assert not page.all("script", "i-do-not-exist") and len(page.all("style")) == 1
    assert page.open == [] and page.strays == []


def test_text_of_a_finding_is_text_and_not_markup(review, plates, parsed):
    evil = '<img src=x onerror="alert(1)">'
    findings = tuple(
        dataclasses.replace(finding, text=evil, norm=evil, figure_text=evil, subject=evil)
        for finding in review.advice.findings
    )
    changed = dataclasses.replace(review, advice=dataclasses.replace(review.advice, findings=findings, verdict=(evil,)))
    page = parsed(page_html(changed, plates))
    assert not [image for image in page.all("img") if "onerror" in image]
    assert sum(evil in text for text in page.texts["article"]) == len(findings)


def test_recipe_with_a_hazardous_pigment_carries_a_caution_and_others_do_not(review, plates, parsed):
    def paragraphs(paint, colour):
        recipes = pair_of_recipes(("The roof", colour), ("Its shade", colour), box_of([paint, "PB29"]))
        change = Change("widen_values", Widen(30.0, 70.0, 20.0, 80.0), recipes)
        offers = (Suggestion("widen the values", "A roof.", (), change=change),)
        changed = dataclasses.replace(review, advice=dataclasses.replace(review.advice, suggestions=offers))
        cautions = [text for text in parsed(page_html(changed, plates)).texts["p"] if "spray" in text]
        return [text for text in cautions if not text.startswith("Titanium white")]

    cautioned = paragraphs("PO20", (60.0, 45.0, 65.0))
    assert len(cautioned) == 1 and cautioned[0].startswith("Cadmium orange contains cadmium")
    assert "safety data sheet" in cautioned[0]
    assert paragraphs("PR101", (40.0, 35.0, 30.0)) == []


def test_page_without_findings_and_suggestions_is_still_whole(review, plates, parsed):
    bare = dataclasses.replace(review.advice, verdict=(), findings=(), suggestions=())
    shown = dataclasses.replace(plates, aim=None, places={})
    page = parsed(page_html(dataclasses.replace(review, advice=bare, aim=None), shown))
    assert page.open == [] and len(page.all("img")) == 10


def test_a_command_breaks_into_lines_in_its_paths_and_is_pasted_as_it_stands():
    command = "critique plan 'a & b/my_meadow.jpg' --out /home/studio"
    broken = str(environment().filters["pasteable"](command))
    assert broken.count("<wbr>") == 4 and "<span>--out</span>" in broken
    assert unescape(re.sub("<[^>]*>", "", broken)) == command


def test_the_palette_calls_a_colour_what_the_verdict_calls_it(review, plates, html):
    """A cloud was white in the verdict and very pale blue in the strip."""
    words = family_words(review.picture, review.measures)
    key = html[html.index('<ol class="key">') :].split("</ol>")[0]
    texts = [re.sub("<[^>]*>| +", " ", line).split("%")[1].split() for line in key.split("<li>")[1:]]
    told = [f"{word} {family.munsell}" for word, family in zip(words, review.measures.families, strict=True)]
    assert [" ".join(text) for text in texts] == told
    listed = plates.strip.alt.removeprefix("Strip of the dominant colours: ").split("; ")
    assert [part.split(",")[0] for part in listed] == words
    assert any(f"strongest is {word} at chroma" in plates.wheel.alt for word in words)
    named = [name for name, _ in main_colours(review.picture, review.measures)]
    assert named and all(any(name in word for word in words) for name in named if name != "greys")
