"""Are the demonstration pictures what their titles say, and does the script beside them paint them?"""

from __future__ import annotations

import csv
import importlib.util
import sys
from pathlib import Path
from types import ModuleType

import numpy as np
import pytest
from PIL import Image

from critique.perception.cielab import srgb8_to_lab
from critique.perception.difference import delta_e_2000
from critique.perception.hue import YELLOW_GREEN, beyond_leaf

pytestmark = pytest.mark.slow

FOLDER = Path(__file__).resolve().parents[2] / "demo_images"
ORIGINAL = "tolvesk_01_ostermell_meadow.jpg"
REPAINT = "tolvesk_02_ostermell_repaint.jpg"
LARGEST_FILE = 600 * 1024  # bytes; the pictures travel in the wheel
WINTER = "tolvesk_03_tussalund_snow.jpg"  # the scene with the fewest strokes, so the quickest to paint


def titles() -> list[dict[str, str]]:
    with (FOLDER / "titles.csv").open(encoding="utf-8", newline="") as table:
        return list(csv.DictReader(table))


def lab_of(file: str) -> np.ndarray:
    with Image.open(FOLDER / file) as picture:
        return srgb8_to_lab(np.asarray(picture.convert("RGB")))


def greens_of(file: str) -> tuple[float, float, float]:
    """Area share, beyond-leaf share and median chroma of the yellow-green band, counted plainly pixel by pixel."""
    lab = lab_of(file)
    green = YELLOW_GREEN.contains(lab)
    chroma = np.hypot(lab[..., 1], lab[..., 2])
    return float(green.mean()), float((green & beyond_leaf(lab)).mean()), float(np.median(chroma[green]))


@pytest.fixture(scope="module")
def script() -> ModuleType:
    spec = importlib.util.spec_from_file_location("demo_images_paint", FOLDER / "paint.py")
    assert spec is not None and spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules[spec.name] = module  # dataclasses look their module up by name
    before = list(sys.path)
    spec.loader.exec_module(module)
    sys.path[:] = before
    return module


def test_every_title_has_its_picture_and_every_picture_its_title() -> None:
    named = [row["file"] for row in titles()]
    assert sorted(named) == sorted(path.name for path in FOLDER.glob("*.jpg"))
    assert len(set(named)) == len(named) == 8


def test_every_title_is_by_the_invented_painter_and_says_what_it_is() -> None:
    for row in titles():
        assert row["painter"] == "Maren Tolvesk"
        assert row["title"] and row["year"].isdigit() and row["note"].startswith("invented")


def test_the_script_paints_the_pictures_of_the_table(script: ModuleType) -> None:
    assert [scene.file for scene in script.SCENES] == [row["file"] for row in titles()]


@pytest.mark.parametrize("row", titles(), ids=lambda row: row["file"])
def test_pictures_are_of_a_size_to_review_and_to_ship(row: dict[str, str]) -> None:
    with Image.open(FOLDER / row["file"]) as picture:
        assert picture.mode == "RGB"
        assert 1200 <= max(picture.size) <= 1600
    assert (FOLDER / row["file"]).stat().st_size <= LARGEST_FILE


@pytest.mark.parametrize("row", titles(), ids=lambda row: row["file"])
def test_no_picture_has_flat_areas_as_polygons_would(row: dict[str, str]) -> None:
    """A flat fill varies by nothing within 16 × 16 px but JPEG noise; brush marks and canvas vary by far more."""
    lightness = lab_of(row["file"])[..., 0]
    rows, columns = (n // 16 for n in lightness.shape)
    blocks = lightness[: rows * 16, : columns * 16].reshape(rows, 16, columns, 16)
    assert np.mean(blocks.std(axis=(1, 3)) < 0.4) < 0.01


def test_the_original_is_plainly_too_green() -> None:
    area, beyond, chroma = greens_of(ORIGINAL)
    assert 0.45 <= area <= 0.62
    assert beyond >= 0.35
    assert chroma > 44.4  # above the highest leaf limit


def test_the_repaint_is_quieter_than_the_original() -> None:
    area, beyond, chroma = greens_of(REPAINT)
    before = greens_of(ORIGINAL)
    assert 0.08 <= area <= 0.35 and area < 0.6 * before[0]  # olive grass counts as green too
    assert beyond < 0.005
    assert 12 <= chroma <= 20  # painters' greens: median 13, 90th percentile 20 among seventy landscapes


def test_the_repaint_keeps_its_light_inside_darker_corners() -> None:
    lightness = lab_of(REPAINT)[..., 0]
    land = lightness[int(lightness.shape[0] * 0.72) :]
    side = land.shape[1] // 5
    middle = land[: land.shape[0] // 2, 2 * side : 3 * side].mean()
    for corner in (land[land.shape[0] // 2 :, :side], land[land.shape[0] // 2 :, -side:]):
        assert corner.mean() < middle - 10


def test_the_script_paints_the_shipped_picture_and_paints_it_the_same_twice(script: ModuleType) -> None:
    """Small, brush marks fall otherwise than at full size, but the picture is the same: median ΔE00 under 6."""
    scene = next(s for s in script.SCENES if s.file == WINTER)
    first, second = script.paint_scene(scene, 0.08), script.paint_scene(scene, 0.08)
    assert first.dtype == np.uint8 and np.array_equal(first, second)
    with Image.open(FOLDER / WINTER) as picture:
        shipped = np.asarray(picture.resize((first.shape[1], first.shape[0]), Image.Resampling.BOX))
        upside_down = shipped[::-1]
    assert np.median(delta_e_2000(srgb8_to_lab(first), srgb8_to_lab(shipped))) < 6
    assert np.median(delta_e_2000(srgb8_to_lab(first), srgb8_to_lab(upside_down))) > 10
