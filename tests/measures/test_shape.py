"""What must not change: a mirrored picture, a picture twice as large."""

import dataclasses
import math

import pytest
from scenes import doubled, mirrored, painted

from critique.advice.norms import figures_of, read_norms
from critique.measures.measure import measure_picture

NORMS = read_norms()


@pytest.fixture(scope="module")
def scene():
    return painted()


@pytest.fixture(scope="module")
def measured(scene):
    return measure_picture(scene)


# Of the area: blotches that may be sky or not are cut otherwise in a mirror; of a figure of the bands of land below it.
REGIONS_LIE_OTHERWISE, BANDS_LIE_OTHERWISE = 0.04, 0.08


def close(figure, other, name=""):
    if name.startswith(("parts.", "greens.reads_as_green")):
        return abs(figure - other) <= REGIONS_LIE_OTHERWISE
    if name.startswith("land_distance."):
        return abs(figure - other) <= BANDS_LIE_OTHERWISE * max(1.0, abs(figure))
    if math.isnan(figure) and math.isnan(other):
        return True
    # Shares to a hundredth; chroma, hues, areas and counts, whose scales are larger, to a hundredth of themselves.
    return abs(figure - other) <= 0.01 * max(1.0, abs(figure))


def test_mirrored_left_to_right_only_places_change(scene, measured):
    other = figures_of(measure_picture(mirrored(scene)))
    for name, figure in figures_of(measured).items():
        assert close(figure, other[name], name), (name, figure, other[name])


def test_mirrored_the_families_and_plans_are_the_same(scene, measured):
    other = measure_picture(mirrored(scene))
    assert [family.munsell for family in other.families] == [family.munsell for family in measured.families]
    for plan, twin in zip(measured.values.plans, other.values.plans, strict=True):
        assert plan.shares == pytest.approx(twin.shares, abs=0.01)
    assert other.division.vertical.position == pytest.approx(1 - measured.division.vertical.position, abs=0.01)
    assert dataclasses.asdict(other.cast)["mean"] == pytest.approx(dataclasses.asdict(measured.cast)["mean"], abs=0.01)


NEEDS_ITS_SIZE = frozenset({"crispness.found"})  # nothing is said of how crisp a file below the viewing size was


def alike(name, figure, other):
    """Close, or within two places among landscapes; or not measured in the smaller."""
    if name in NEEDS_ITS_SIZE and math.isnan(figure):
        return True
    ranks = [NORMS.percentile(name, value) for value in (figure, other)]
    touch = name.startswith("detail.") and abs(figure - other) < 0.02  # the finest of all, and the first to soften
    return touch or close(figure, other, name) or (None not in ranks and abs(ranks[0] - ranks[1]) <= 2)


@pytest.mark.slow
@pytest.mark.parametrize(("width", "height"), [(480, 320), (640, 428)])  # up to the viewing size, and beyond it
def test_twice_as_large_nothing_changes(width, height):
    small = painted(width=width, height=height)
    other = figures_of(measure_picture(doubled(small)))
    for name, figure in figures_of(measure_picture(small)).items():
        assert alike(name, figure, other[name]), (name, figure, other[name])
