"""Sheets to paint from: as many values as they say, squares that are square, paper in true size."""

import html
import re
import subprocess
import sys

import numpy as np
import pytest
from click.testing import CliRunner
from demo_pictures import demo_path
from PIL import Image

from critique.cli.main import main
from critique.errors import CritiqueError
from critique.perception.cielab import lab_to_srgb8
from critique.photograph.proportions import Size
from critique.picture.picture import picture_from_srgb
from critique.picture.read import read_picture
from critique.report.study_page import cut_told, study_html
from critique.tasks.study_sheet import cells, fit_on, grid_lines, letter, study_sheets, true_size_pdf, with_grid

MEADOW = demo_path("tolvesk_01_ostermell_meadow.jpg")


@pytest.mark.slow
@pytest.mark.parametrize("levels", [2, 3, 5])
def test_a_plan_has_as_many_greys_as_it_says(levels):
    made = study_sheets(read_picture(MEADOW))
    plan = made.sheets[f"values_{levels}"]
    assert len(np.unique(plan.reshape(-1, 3), axis=0)) == levels
    assert (plan.max(axis=2).astype(int) - plan.min(axis=2) <= 1).all()


def test_grey_keeps_the_lightness_of_a_colour():
    # The green (0, 128, 0) has L* 46.2, and so has the grey of code 110. [IEC 61966-2-1; CIE 15]
    made = study_sheets(picture_from_srgb(np.full((120, 160, 3), (0, 128, 0), np.uint8)))
    assert abs(int(made.sheets["greyscale"][60, 80, 0]) - 110) <= 1


def test_half_closed_eyes_lose_a_rail_and_keep_the_masses():
    picture = np.full((300, 600, 3), 200, np.uint8)
    picture[150:] = 60
    picture[:, 299:301] = 0  # as dark as can be, and two px wide
    seen = study_sheets(picture_from_srgb(picture)).sheets["squint"][..., 0].astype(int)
    assert seen[75, 300] > 120 and seen[75, 100] - seen[225, 100] > 120


@pytest.mark.parametrize("proportion", [0.5, 0.8, 1.0, 4 / 3, 2.1])
def test_squares_are_square(proportion):
    lines = grid_lines("squares", proportion, 6)
    across = [start[0] for start, end in lines if start[0] == end[0]]
    down = [start[1] for start, end in lines if start[1] == end[1]]
    side = (min(down, default=1.0), min(across, default=1.0) * proportion)
    assert side[0] == pytest.approx(side[1])
    assert side[0] == pytest.approx(max(proportion, 1) / 6)
    assert all(0 < place < 1 for place in across + down)


@pytest.mark.slow
def test_a_canvas_of_another_proportion_cuts_and_says_how_much():
    fit = fit_on(4 / 3, Size(30, 30), 0)
    assert fit.across and fit.lost == pytest.approx(0.25)
    made = study_sheets(read_picture(MEADOW), size=Size(30, 30))
    height, width, _ = made.sheets["reference"].shape
    assert width == pytest.approx(height, abs=2)
    assert fit_on(4 / 3, Size(30, 40), 0).lost == 0  # turned as the picture is


@pytest.mark.slow
def test_what_is_cut_off_is_said_and_drawn_on_the_page_and_how_to_keep_it():
    picture = read_picture(MEADOW)
    made = study_sheets(picture, size=Size(30, 30))
    assert made.whole is not None and made.whole.shape == picture.drawn.shape
    high, wide, _ = made.whole.shape
    assert (made.whole[:, wide // 2] == picture.drawn[:, wide // 2]).all()
    assert (made.whole[:, 2] >= picture.drawn[:, 2]).all() and made.whole[:, 2].mean() > picture.drawn[:, 2].mean() + 20
    page = html.unescape(study_html(picture, made, {}))
    words = cut_told(made, wide / high)
    # 4 : 3 on 30 × 30 cm loses a quarter of its width, or is 30 × 22.5 cm with 3.75 bare above and below.
    assert words in page.replace("\u00a0", " ").replace("\u202f", " ").replace("’", "'")
    assert "25 % of the picture's width" in words and "30 × 22.5 cm" in words and "3.8 cm bare above and below" in words
    assert "11.8 × 8.86 in" in cut_told(made, wide / high, True)
    assert cut_told(study_sheets(picture, size=Size(40, 30)), wide / high) == ""


@pytest.mark.slow
def test_the_grid_has_letters_numbers_and_the_side_of_its_square():
    picture = read_picture(MEADOW)
    made = study_sheets(picture, size=Size(40, 30))
    assert made.square == pytest.approx(40 / 6)
    page = study_html(picture, made, {})
    assert "6.67" in page and "2.62" in study_html(picture, made, {}, inches=True)
    columns, rows = cells(made.grid)
    assert len(columns) == 6 and len(rows) == 5 and rows[-1][1] == 1.0  # 4.5 squares down: the last one is cut
    assert [letter(number) for number in (0, 25, 26)] == ["A", "Z", "AA"]
    plain, ruled = with_grid(made.sheets["reference"], ()), with_grid(made.sheets["reference"], made.grid)
    rim = (ruled.width - plain.width) // 2
    band = np.asarray(ruled)[:rim, rim : rim + plain.width // 6]
    assert rim > 10 and band.min() < 60 and (np.asarray(ruled)[-3:] == 255).all()


@pytest.mark.slow
def test_beside_each_plan_its_values_are_told_with_their_greys():
    picture = read_picture(MEADOW)
    made = study_sheets(picture)
    page = study_html(picture, made, {})
    for name, values in made.values.items():
        assert list(values) == sorted(values) and len(values) == int(name[-1])
        for value in values:
            code = int(lab_to_srgb8(np.array([[value * 10, 0, 0]], np.float32))[0, 0])
            assert (made.sheets[name][..., 0] == code).any()
            assert f'background:#{code:02x}{code:02x}{code:02x}"></i>{value:.1f}' in page


@pytest.mark.slow
def test_the_paper_is_in_true_size():
    made = study_sheets(read_picture(MEADOW), size=Size(40, 30))
    pdf = true_size_pdf(made, "A4")
    boxes = re.findall(rb"/MediaBox \[ ?0 0 ([\d.]+) ([\d.]+)", pdf)
    sides = sorted(float(side) / 72 * 2.54 for side in boxes[0])
    assert sides == pytest.approx([21.0, 29.7], abs=0.02)  # ISO 216
    # 40 × 30 cm on A4 with 1 cm white around and 1 cm glued: 3 × 2 sheets upright, or 2 × 2 lying.
    assert len(boxes) == 4


@pytest.mark.parametrize(("size", "margin", "what"), [(Size(900, 900), 0, "projector"), (Size(10, 10), 6, "margin")])
def test_what_cannot_be_printed_is_one_line(size, margin, what):
    with pytest.raises(CritiqueError, match=what):
        true_size_pdf(study_sheets(read_picture(MEADOW), size=size, margin=margin))


LITTLE_ROOM = """
import resource, sys
from click.testing import CliRunner
from critique.cli.main import main
resource.setrlimit(resource.RLIMIT_FSIZE, (int(sys.argv[3]), int(sys.argv[3])))
done = CliRunner().invoke(main, ["study", sys.argv[1], "--out", sys.argv[2]])
print(done.exit_code, done.output)
"""


@pytest.mark.slow
def test_a_disk_that_fills_leaves_no_part_of_the_sheets(tmp_path):
    codes = np.random.default_rng(3).integers(0, 256, (160, 200, 3)).astype(np.uint8)
    Image.fromarray(codes).save(tmp_path / "meadow.png")
    folder = tmp_path / "out" / "meadow"

    def run(limit):
        command = [sys.executable, "-c", LITTLE_ROOM, str(tmp_path / "meadow.png"), str(folder.parent), str(limit)]
        return subprocess.run(command, capture_output=True, text=True, check=True).stdout

    told = run(150_000)  # the page is larger than that, none of the sheets is
    assert told.startswith("1 ") and "make room" in told
    assert not folder.exists() or [path for path in folder.rglob("*") if path.is_file()] == []
    assert run(10_000_000).startswith("0 ") and (folder / "study" / "values_2.png").exists()


@pytest.mark.slow
def test_the_command_writes_the_sheets(tmp_path):
    done = CliRunner().invoke(main, ["study", str(MEADOW), "--out", str(tmp_path), "--size", "30x30cm"])
    assert done.exit_code == 0, done.output
    assert "25 % of the picture's width is cut off" in done.output
    folder = tmp_path / MEADOW.stem / "study"
    names = {path.name for path in folder.iterdir()}
    assert {"greyscale.png", "squint.png", "values_2.png", "values_3.png", "values_5.png", "grid.png"} <= names
    with Image.open(folder / "grid.png") as grid:
        assert grid.width == pytest.approx(grid.height, abs=2)
