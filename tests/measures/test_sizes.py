"""The same picture in a larger file: every figure stands where it stood, and every finding is the same."""

import numpy as np
import pytest
from demo_pictures import demo_path
from PIL import Image

from critique.advice.advise import judge
from critique.advice.norms import figures_of, read_norms
from critique.measures.measure import measure_picture
from critique.picture.picture import picture_from_srgb
from critique.picture.read import read_picture

PLACES = 2.0  # percentiles among landscapes


def looked_at(codes):
    picture = picture_from_srgb(codes)
    measures, norms = measure_picture(picture), read_norms()
    levels = {finding.subject: finding.level for finding in judge(picture, measures)}
    return levels, {name: norms.percentile(name, value) for name, value in figures_of(measures).items()}


@pytest.mark.slow
@pytest.mark.parametrize("name", ["tolvesk_01_ostermell_meadow.jpg", "tolvesk_05_orvalden_beeches.jpg"])
def test_a_larger_file_moves_no_figure_by_two_places_and_no_finding(name):
    codes = read_picture(demo_path(name)).srgb
    # Lanczos' filter, as most programs enlarge: it takes a little of the finest detail.
    larger = Image.fromarray(codes).resize(
        (1600, round(1600 * codes.shape[0] / codes.shape[1])), Image.Resampling.LANCZOS
    )
    (levels, places), (levels_larger, places_larger) = looked_at(codes), looked_at(np.asarray(larger))
    assert levels_larger == levels
    assert len(places) > 40
    for figure, place in places.items():
        assert (place is None) == (places_larger[figure] is None), figure
        if place is not None:
            assert places_larger[figure] == pytest.approx(place, abs=PLACES), figure
