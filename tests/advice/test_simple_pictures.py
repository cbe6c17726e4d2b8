"""Flat, striped, tiny and extreme pictures: every change of every one of them, reviewed and compared, without a NaN."""

import json

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from critique.advice.change_kinds import all_change_kinds
from critique.advice.trial import trial_of
from critique.pair.compare import compare_pictures
from critique.perception.cielab import lab_to_srgb8, lch_to_lab
from critique.photograph.limits import LEAST_SIDE
from critique.picture.picture import picture_from_srgb
from critique.report.page import page_html
from critique.report.plates.review_plates import draw_plates
from critique.tasks.review import review_picture
from tests.advice.changes import case_of, drafts_of

# Seeded, so that a failure is the same on every machine; a review takes tenths of a second, so no deadline.
SEEDED = settings(derandomize=True, deadline=None, suppress_health_check=list(HealthCheck), database=None)

codes = st.tuples(*[st.integers(0, 255)] * 3)
yellowish = st.builds(
    lambda L, C, h: tuple(int(code) for code in lab_to_srgb8(lch_to_lab(np.array([L, C, h])))),
    st.floats(30, 90),
    st.floats(10, 80),
    st.floats(90, 120),
)
extremes = st.sampled_from([(0, 0, 0), (255, 255, 255), (0, 255, 0), (255, 255, 0), (128, 128, 128), (255, 0, 255)])
colours = st.lists(st.one_of(codes, yellowish, extremes), min_size=1, max_size=5)


@st.composite
def simple_pictures(draw):
    """Bands, stripes or one flat colour, upright or level, as small and as long as a picture may be."""
    drawn = np.array(draw(colours), np.uint8)
    least = LEAST_SIDE
    height, width = draw(st.sampled_from([(least, least), (least, 96), (96, least), (least, 10 * least), (81, 67)]))
    times = draw(st.sampled_from([1, 1, 1, 7]))
    owner = (np.arange(height) * len(drawn) * times // height) % len(drawn)
    picture = np.repeat(drawn[owner][:, None], width, axis=1)
    return picture_from_srgb(np.ascontiguousarray(np.swapaxes(picture, 0, 1) if draw(st.booleans()) else picture))


def finite(picture):
    return np.isfinite(picture.lab).all()


@pytest.mark.slow
@settings(SEEDED, max_examples=25)
@given(simple_pictures())
def test_a_review_of_any_simple_picture_is_whole(picture):
    review = review_picture(picture)
    json.loads(review.as_line(), parse_constant=lambda word: 1 / 0)
    for offer in review.advice.suggestions:
        assert finite(offer.preview) and np.isfinite(offer.change.apply(picture.lab)).all()
    words = " ".join(
        [
            *review.advice.verdict,
            *(finding.text + finding.figure_text + finding.norm for finding in review.advice.findings),
            *(offer.text + offer.effect + (offer.recipe or "") for offer in review.advice.suggestions),
            *(moved.before_text + moved.after_text for offer in review.advice.suggestions for moved in offer.changes),
        ]
    )
    assert "nan" not in words.replace("nance", "") and "inf " not in words and "nowhere" not in words


@pytest.mark.slow
@settings(SEEDED, max_examples=10)
@given(simple_pictures(), st.floats(0, 1.5))
def test_every_change_of_any_simple_picture_can_be_made_and_measured(picture, strength):
    trial = trial_of(case_of(picture))
    for draft in drafts_of(trial):
        assert np.isfinite(draft.change.scaled(strength).apply(trial.lab)).all(), draft.change.kind
        after = trial.with_draft(draft)
        assert np.isfinite(after.lab).all() and "nan" not in draft.text
        for kind in all_change_kinds():  # a change upon a change, where nothing may be left to change
            if kind.quieted_first:
                for next_draft in kind.make(after, True):
                    assert np.isfinite(next_draft.change.apply(after.lab)).all(), (draft.change.kind, kind.id)
                    assert "nan" not in next_draft.text


@pytest.mark.slow
@settings(SEEDED, max_examples=8)
@given(simple_pictures(), simple_pictures())
def test_two_simple_pictures_can_be_compared(first, second):
    line = compare_pictures(first, second).as_line()
    json.loads(line, parse_constant=lambda word: 1 / 0)
    assert " nan" not in line


@pytest.mark.slow
def test_the_page_of_a_block_in_whose_green_goes_is_whole():
    lime, grey = lab_to_srgb8(lch_to_lab(np.array([[62.0, 55.0, 109.5], [70.0, 2.0, 60.0]])))
    picture = np.repeat(np.repeat([grey, lime, grey], 32, axis=0)[:, None], 144, axis=1).astype(np.uint8)
    review = review_picture(picture_from_srgb(picture))
    assert "mute_greens" in [offer.kind for offer in review.advice.suggestions]
    assert "nan" not in page_html(review, draw_plates(review)).split("<main>")[1].split("src=")[0]
