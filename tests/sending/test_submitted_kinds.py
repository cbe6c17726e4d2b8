"""Every kind of file goes out as sRGB, held to Pillow's own conversion of the same picture."""

import numpy as np
import pytest
from PIL import Image
from submitting import MEADOW, told

from critique.perception.srgb import srgb8_to_linear


def saved(kind, to):
    with Image.open(MEADOW) as image:
        image = image.resize((240, 180))
        if kind in ("16 bit", "floating point"):
            import tifffile

            codes = np.asarray(image)
            deep = (
                codes.astype(np.uint16) * 257 if kind == "16 bit" else srgb8_to_linear(codes)
            )  # floating-point TIFFs hold light
            tifffile.imwrite(to.with_suffix(".tif"), deep, photometric="rgb")
            return to.with_suffix(".tif")
        made = {"grey": image.convert("L"), "CMYK": image.convert("CMYK"), "alpha": image.convert("RGBA"),
                "palette": image.quantize(64), "tiny": image.resize((64, 80))}[kind]  # fmt: skip
        path = to.with_suffix({"CMYK": ".tif", "grey": ".jpg"}.get(kind, ".png"))
        made.save(path)
        return path


@pytest.mark.parametrize("kind", ["grey", "CMYK", "alpha", "palette", "16 bit", "floating point", "tiny"])
def test_every_kind_of_file_comes_out_as_srgb(tmp_path, kind):
    source = saved(kind, tmp_path / "odd")
    (line,) = told(source, "--out", tmp_path / "out", "--whole")
    with Image.open(line["picture"]) as image, Image.open(MEADOW) as meadow:
        assert image.mode == "RGB" and image.info["icc_profile"]
        was = np.asarray(meadow.convert("L" if kind == "grey" else "RGB").convert("RGB").resize(image.size), int)
        assert np.abs(np.asarray(image, int) - was).mean() < 14


@pytest.mark.slow
def test_a_huge_picture_is_sent_at_the_size_asked_for(tmp_path):
    rows = np.linspace(0, 255, 6000).astype(np.uint8)
    Image.fromarray(np.broadcast_to(rows[:, None], (6000, 9000))).save(tmp_path / "huge.jpg", quality=80)
    (line,) = told(tmp_path / "huge.jpg", "--out", tmp_path / "out", "--whole")
    assert (line["width"], line["height"]) == (1920, 1280)
