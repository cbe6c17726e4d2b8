"""A figure is declared once; the record, the norms, the page, the comparison and the portfolio read that."""

import json
import math
import subprocess
import sys

import numpy as np
import pytest
from scenes import painted

from critique.advice.judging import Case
from critique.advice.norms import figures_of, norms_of, read_norms
from critique.measures.figure import Figure, rounded
from critique.measures.figures import all_figures, compared_figures, measures_record, page_parts, with_figure
from critique.measures.measure import measure_picture
from critique.pair.compare import compare_pictures
from critique.pair.comparison import compare_figures
from critique.pair.photograph_spread import read_spreads
from critique.picture.picture import picture_from_srgb
from critique.plain import plain
from critique.portfolio.columns import columns_of, record_of
from critique.portfolio.ledger import File
from critique.portfolio.ranking import Standing
from critique.portfolio.row import row_of
from critique.report.comparison_page import comparison_html, draw_comparison
from critique.report.page import page_html
from critique.report.plates.review_plates import draw_plates
from critique.tasks.review import review_picture

REACH = Figure(
    name="values.reach_of_masses",
    label="Reach of the three masses",
    meaning="how far the lightest mass lies from the darkest",
    definition="Mean value of the lightest mass of three less that of the darkest.",
    source="common practice, no source",
    unit="value",
    show=rounded(2),
    read=lambda measures: measures.values.plan(3).means[2] - measures.values.plan(3).means[0],
    norm=True,
    column="from the darkest of three masses to the lightest, in values",
    worth=0.2,
)


@pytest.fixture(scope="module")
def scene():
    return painted()


@pytest.fixture(scope="module")
def measured(scene):
    return measure_picture(scene)


def reach(measures) -> float:
    means = measures.values.plans[1].means
    return means[2] - means[0]


@pytest.mark.slow
def test_a_figure_added_once_is_in_the_norms_the_record_the_page_the_comparison_and_the_portfolio(scene, measured):
    darker = picture_from_srgb((scene.srgb * 0.6).astype(np.uint8), "darker")
    told = f"{reach(measured):.2f}"
    with with_figure(REACH):
        norms = norms_of([measured, measured, measure_picture(darker)], "three pictures")
        assert norms.at(REACH.name, 100) == pytest.approx(reach(measured))
        assert Case.of(scene, measured, norms).percentile(REACH.name) == 50  # of what most share, the first of them

        review = review_picture(scene, norms)
        assert json.loads(review.as_line())["values"]["reach_of_masses"] == pytest.approx(reach(measured), rel=1e-5)
        page = page_html(review, draw_plates(review))
        assert "Reach of the three masses" in page and f"<td>{told}</td>" in page

        row = row_of(review)
        assert "values.reach_of_masses" in [column.name for column in columns_of({})]
        cells = record_of(1, file_of(), "a", "b", Standing({}, 0.0), row, {})
        assert cells["values.reach_of_masses"] == pytest.approx(reach(measured), rel=1e-5)

        changes = compare_figures((measured, measure_picture(darker)))
        assert changes[REACH.name].before == pytest.approx(reach(measured))
        assert changes[REACH.name].status == "not compared"  # nobody measured what another photograph does to it
        both = compare_pictures(scene, darker)
        assert REACH.name in [figure["figure"] for figure in both.as_dict()["figures"]]
        assert "Reach of the three masses" in comparison_html(both, draw_comparison(both))
    assert REACH.name not in figures_of(measured)
    assert "reach_of_masses" not in measures_record(measured)["values"]


def file_of() -> File:
    return File("a", "c", "f", "n", "present", "", None)


def test_no_two_figures_share_a_name_or_a_label(measured):
    names = [figure.name for figure in all_figures()]
    assert len(set(names)) == len(names)
    rows = [entry for entries in page_parts().values() for entry in entries]
    assert len({entry.label for entry in rows}) == len(rows)
    with pytest.raises(ValueError, match="already"), with_figure(all_figures()[0]):
        pass


def test_every_figure_stands_in_the_record_under_its_name(measured):
    record = measures_record(measured)
    for figure in all_figures():
        found = record
        for step in figure.name.split("."):
            found = found[int(step)] if isinstance(found, list) else found[step]
        assert found == plain(figure.value(measured)), figure.name


def test_the_tables_that_ship_hold_every_figure_that_needs_a_row():
    norms, spreads = read_norms(), read_spreads()
    assert {figure.name for figure in all_figures() if figure.norm} == set(norms.quantiles)
    assert {figure.name for figure in compared_figures()} == set(spreads)


def test_rows_stand_on_figures_that_are():
    names = {figure.name for figure in all_figures()}
    for entries in page_parts().values():
        for entry in entries:
            assert set(entry.stands_on) <= names, entry.label


def test_what_a_picture_has_not_is_none_on_paper_and_null_in_the_record():
    grey = measure_picture(picture_from_srgb(np.full((80, 120, 3), 128, np.uint8)))
    without = [figure for figure in all_figures() if math.isnan(figure.value(grey))]
    assert {"greens.evenness", "greens.mean_hue", "greens.median_chroma"} <= {figure.name for figure in without}
    for figure in without:
        not_judged = figure.group == "land_distance"  # nobody may read that there is no distance in it
        assert figure.on_paper(grey) == ("not judged" if not_judged else "none"), figure.name
    record = measures_record(grey)
    assert record["greens"]["evenness"] is None and record["green_kinds"]["chroma_fall"] is None
    json.dumps(record, allow_nan=False)


@pytest.mark.slow
def test_two_measurings_of_one_picture_are_equal_and_of_two_are_not(scene, measured):
    again = measure_picture(scene)
    assert measured == again and hash(measured) == hash(again)
    grey = picture_from_srgb(np.full((80, 120, 3), 128, np.uint8))
    assert measure_picture(grey) == measure_picture(grey)  # with figures that it has not
    assert measured != measure_picture(grey)
    nudged = scene.srgb.copy()
    nudged[: len(nudged) // 8] += 1
    assert measured != measure_picture(picture_from_srgb(nudged))


def test_declaring_figures_loads_no_heavy_library():
    heavy = "{'scipy', 'sklearn', 'matplotlib', 'skimage', 'PIL.Image'}"
    asked = f"import sys, critique.measures.figures; print(sorted({heavy} & set(sys.modules)))"
    done = subprocess.run([sys.executable, "-c", asked], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
