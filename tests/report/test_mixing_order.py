"""In what order the heaps of a plan are told to be mixed."""

import numpy as np
import pytest

from critique.paints.box import box_of
from critique.perception.cielab import lab_to_srgb8
from critique.picture.picture import picture_from_srgb
from critique.report.plan_words import mixing_order
from critique.tasks.canvas_size import canvas_size
from critique.tasks.passages import passages_of
from tests.tasks.conftest import FOUR


@pytest.mark.slow
def test_the_heaps_are_told_from_the_one_that_most_is_mixed_of_to_the_least():
    lab = np.full((240, 320, 3), (60.0, -20.0, 30.0), np.float32)
    lab[:90, :80] = lab[130:, 120:] = (30.0, 4.0, 6.0)  # two places of one heap, the smaller met first
    lab[40:130, 200:] = (85.0, 0.0, 3.0)  # a heap larger than the first place of the other, smaller than both
    picture = picture_from_srgb(lab_to_srgb8(lab), "heaps.png")
    told = passages_of(picture, None, box_of(FOUR, "four"), canvas_size(None, 320, 240)).passages
    heap = {one.number: one.heap for one in told}
    dark, light = (next(one for one in told if test(one.value)) for test in (lambda v: v < 4, lambda v: v > 7))
    assert dark.share < light.share and heap[dark.number] > heap[light.number]
    afresh = [number for number in mixing_order(told) if told[number - 1].mother is None]
    assert [heap[number] for number in afresh] == sorted((heap[number] for number in afresh), reverse=True)
