"""A still WebP is decoded past Pillow's canvases, to the pixels that Pillow gives; the rest is left to Pillow."""

import numpy as np
import pytest
from PIL import Image

from critique.errors import UnreadablePicture
from critique.photograph.files import open_image
from critique.photograph.source import source_of_file
from critique.photograph.webp import still_webp_samples
from critique.picture.read import read_picture


def scene(channels):
    rng = np.random.default_rng(4)
    smooth = np.linspace(0, 255, 90)[:, None, None] + np.linspace(0, 90, 130)[None, :, None]
    return np.clip(smooth + rng.normal(0, 20, (90, 130, channels)), 0, 255).astype(np.uint8)


def samples_of(path):
    source = source_of_file(path)
    with open_image(source) as image:
        return still_webp_samples(image, source)


@pytest.mark.parametrize("lossless", [False, True], ids=["lossy", "lossless"])
@pytest.mark.parametrize("channels", [3, 4], ids=["colour", "with alpha"])
def test_pixels_are_those_that_pillow_decodes(tmp_path, channels, lossless):
    path = tmp_path / "a.webp"
    Image.fromarray(scene(channels)).save(path, lossless=lossless, quality=80, exact=True)
    found = samples_of(path)
    assert found is not None and (found.width, found.height, found.kind, found.bits) == (130, 90, "RGB", 8)
    colour, alpha = found.rows(10, 50)
    decoded = np.asarray(Image.open(path))[10:50]
    assert np.array_equal(colour, decoded[..., :3])
    assert alpha is None if channels == 3 else np.array_equal(alpha, decoded[..., 3])


def test_a_film_is_left_to_pillow_and_its_first_picture_read(tmp_path):
    path = tmp_path / "a.webp"
    first, second = (Image.fromarray(scene(3)[::way].copy()) for way in (1, -1))
    first.save(path, save_all=True, append_images=[second], lossless=True)
    assert samples_of(path) is None
    picture = read_picture(path)
    assert np.array_equal(picture.srgb, np.asarray(first))
    assert any("first of several" in note for note in picture.notes)


def test_a_file_cut_short_is_refused_in_pillows_way(tmp_path):
    path = tmp_path / "a.webp"
    Image.fromarray(scene(3)).save(path, quality=80)
    data = path.read_bytes()
    path.write_bytes(data[: len(data) // 2])
    with pytest.raises(UnreadablePicture):
        read_picture(path)
