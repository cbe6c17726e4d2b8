"""Of a blank nothing is said, of a picture in greys nothing of its colour; a small figure on a ground is a picture."""

import json

import numpy as np
import pytest
from demo_pictures import demo_path
from PIL import Image

from critique.advice import hints
from critique.advice.judging import Case
from critique.advice.norms import read_norms
from critique.advice.something_there import in_greys, one_colour
from critique.advice.verdict import portrait_in
from critique.measures.measure import measure_picture
from critique.paints.box import default_box
from critique.photograph.fitness import fitness_of
from critique.picture.picture import picture_from_srgb
from critique.picture.read import read_picture
from critique.report.page import page_html
from critique.report.plates.review_plates import draw_plates
from critique.tasks.review import review_picture

COLOURLESS = {"green", "colour", "cast", "hue", "dead", "loud"}


def flat(colour, noise=0, width=120, height=90):
    rng = np.random.default_rng(5)
    codes = np.full((height, width, 3), colour, float) + rng.normal(0, noise, (height, width, 1))
    return np.clip(codes, 0, 255).round().astype(np.uint8)


@pytest.mark.parametrize("colour", [(255, 255, 255), (0, 0, 0), (128, 128, 128), (120, 130, 70), (0, 160, 40)])
@pytest.mark.parametrize("noise", [0, 1.5])
def test_of_one_colour_nothing_is_said_but_that(colour, noise):
    review = review_picture(picture_from_srgb(flat(colour, noise)), aim=True)
    assert review.advice.findings == () and review.advice.suggestions == ()
    (only,) = review.advice.verdict
    assert "One colour" in only and "nothing here to judge" in only
    json.loads(review.as_line(), parse_constant=lambda word: 1 / 0)
    page = page_html(review, draw_plates(review))
    assert "One colour from edge to edge" in page and "What to look at" not in page


def test_a_small_dark_figure_is_a_picture():
    codes = flat((250, 250, 250))
    codes[50:60, 40:46] = 20
    picture = picture_from_srgb(codes)
    assert not one_colour(picture) and in_greys(picture)
    assert review_picture(picture).advice.findings


@pytest.mark.slow
def test_a_photograph_without_colour_is_judged_by_its_values_alone(tmp_path):
    with Image.open(demo_path("tolvesk_01_ostermell_meadow.jpg")) as image:
        image.convert("L").save(tmp_path / "grey.jpg")
    review = review_picture(read_picture(tmp_path / "grey.jpg"))
    kinds = {finding.kind for finding in review.advice.findings}
    assert {"value_range", "halving"} <= kinds
    assert not [
        kind for kind in kinds if COLOURLESS & set(kind.split("_"))
    ]  # a drawing, or a photograph: it can't know
    assert "in greys" in portrait_in(review.advice.verdict) and "green" not in " ".join(review.advice.verdict)


def test_a_drawing_is_not_asked_for_colour_in_its_darks():
    codes = flat((235, 235, 235), 3)
    codes[20:80, 10:70] = flat((25, 25, 25), 3)[20:80, 10:70]
    grey, ochre = (picture_from_srgb(np.clip(codes + np.array(lean), 0, 255)) for lean in ((0, 0, 0), (20, 0, -25)))
    said = [hints.told(Case.of(each, measure_picture(each), read_norms(), default_box()), ()) for each in (grey, ochre)]
    assert in_greys(grey) and "a little light into the darks" in said[0]
    assert not in_greys(ochre) and "a little light and colour into the darks" in said[1]


def test_a_white_ground_is_no_glare():
    white = np.ones((400, 400, 3), np.float32)
    y, x = np.mgrid[:400, :400]
    lobe = 3 * np.exp(-((x - 130) ** 2 + (y - 130) ** 2) / (2 * 40**2))  # a shine fades out over the paint
    shine = np.minimum(0.2 + lobe[..., None].repeat(3, axis=2), 1).astype(np.float32)
    level = {
        name: next(one.level for one in fitness_of(light, long_edge=400) if one.subject == "glare")
        for name, light in (("white", white), ("shine", shine))
    }
    assert level == {"white": "holds", "shine": "rework"}
