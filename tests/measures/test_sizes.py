"""The same picture in a larger file: what counts single px beyond a limit stands where it stood."""

import numpy as np
import pytest
from demo_pictures import demo_path
from PIL import Image

from critique.advice.norms import figures_of, read_norms
from critique.measures.measure import measure_picture
from critique.picture.picture import picture_from_srgb
from critique.picture.read import read_picture

PLACES = 2.0  # percentiles among landscapes


STEADY = (
    "greens.beyond_leaf_share",
    "greens.p95_chroma",
    "greens.value_spread",
    "greens.evenness",
    "green_kinds.chroma_fall",
    "closed_darks.share",
    "detail.evenness",
    "detail.foreground",
    "edges.softness",
    "masses.kept",
    "values.percentiles.p2",
    "values.range",
    "harmony.pair_harmony",
    "variety.hull_area",
    "variety.names",
    "cast.most_neutral.chroma",
    "loudest.excess",
    "parts.sky_share",
)


def figures(picture):
    measured = figures_of(measure_picture(picture))
    return {name: measured[name] for name in STEADY}


@pytest.mark.parametrize("name", ["tolvesk_01_ostermell_meadow.jpg", "tolvesk_05_orvalden_beeches.jpg"])
def test_a_larger_file_moves_no_figure_by_two_places(name):
    codes = read_picture(demo_path(name)).srgb
    # Lanczos' filter, as most programs enlarge: it takes a little of the finest detail.
    larger = Image.fromarray(codes).resize(
        (1600, round(1600 * codes.shape[0] / codes.shape[1])), Image.Resampling.LANCZOS
    )
    once, again = figures(picture_from_srgb(codes)), figures(picture_from_srgb(np.asarray(larger)))
    norms = read_norms()
    for figure, value in once.items():
        assert norms.percentile(figure, again[figure]) == pytest.approx(norms.percentile(figure, value), abs=PLACES), (
            figure
        )
