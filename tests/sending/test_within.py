"""A JPEG within a limit is as good as the limit allows: held to Pillow's own files, one quality after another."""

import numpy as np
import pytest
from PIL import Image

from critique.errors import CritiqueError
from critique.perception.srgb import srgb8_to_linear
from critique.sending.within import FLOOR, QUALITY, jpeg_of_codes, jpeg_within


@pytest.fixture(scope="module")
def codes():
    noise = np.random.default_rng(3).integers(0, 256, (40, 60, 3)).astype(np.uint8)
    return np.asarray(Image.fromarray(noise).resize((240, 160), Image.Resampling.BILINEAR))


def sizes_of(codes):
    return {q: len(jpeg_of_codes(codes, quality=q, exif=None, dpi=300)) for q in range(FLOOR, QUALITY + 1)}


@pytest.mark.parametrize("quality", [FLOOR, 76, 84, 90, 94, QUALITY])
def test_the_best_quality_that_keeps_within_the_limit_is_taken(codes, quality):
    sizes = sizes_of(codes)
    for spare in (0, 1):
        best = max(q for q, size in sizes.items() if size <= sizes[quality] + spare)
        packed = jpeg_within(srgb8_to_linear(codes), sizes[quality] + spare, "noise", dpi=300, exif=None)
        assert (packed.quality, len(packed.data)) == (best, sizes[best])


def test_a_limit_below_the_least_quality_is_refused(codes):
    with pytest.raises(CritiqueError, match="noise: 240 px"):
        jpeg_within(srgb8_to_linear(codes), sizes_of(codes)[FLOOR] - 1, "noise", dpi=300, exif=None)
