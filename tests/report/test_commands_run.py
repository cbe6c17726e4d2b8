"""Every command that a page prints runs when it is pasted: nothing in it is a blank to be filled in."""

import html
import re
import shlex

import numpy as np
import pytest
from click.testing import CliRunner
from demo_pictures import demo_path
from PIL import Image

from critique.cli.main import main

COMMAND = re.compile(r"<code[^>]*>(critique .*?)</code>")


def commands_of(page):
    return [html.unescape(re.sub("<[^>]*>", "", found)) for found in COMMAND.findall(page.read_text(encoding="utf-8"))]


def ran(*words):
    done = CliRunner().invoke(main, [str(word) for word in words])
    return done.exit_code, done.output


def pasted(command):
    name, *words = shlex.split(command)
    assert name == "critique"
    return ran(*words)


def scene():
    """A raw green field halved by a level line, with grain."""
    random = np.random.default_rng(3)
    codes = np.zeros((240, 360, 3))
    codes[:120], codes[120:] = (150, 190, 225), (70, 170, 30)
    codes[90:125, 60:90], codes[70:126, 250:262] = (225, 215, 200), (40, 45, 40)
    return np.clip(codes + random.normal(0, 5, codes.shape), 0, 255).astype(np.uint8)


@pytest.fixture
def pictures(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    Image.fromarray(scene()).save("my meadow.png")
    for name, demo in (("original", "tolvesk_01_ostermell_meadow"), ("repaint", "tolvesk_02_ostermell_repaint")):
        Image.open(demo_path(f"{demo}.jpg")).convert("RGB").resize((400, 300), Image.Resampling.BOX).save(f"{name}.png")
    wall = np.full((600, 800, 3), (150, 146, 140), np.uint8)
    wall[120:480, 130:670] = np.asarray(Image.fromarray(scene()).resize((540, 360)))
    Image.fromarray(wall).save("easel.jpg", quality=95)
    return tmp_path


@pytest.mark.slow
def test_what_a_review_of_a_file_and_of_a_photograph_print(pictures):
    assert ran("review", "my meadow.png", "easel.jpg")[0] == 0
    found = commands_of(pictures / "review/my meadow/report.html") + commands_of(pictures / "review/easel/report.html")
    assert {"plan", "gallery", "review"} <= {shlex.split(command)[1] for command in found}
    assert any("--grey" in command for command in found)
    assert [(command, *told) for command in found if (told := pasted(command))[0]] == []


@pytest.mark.slow
def test_what_a_comparison_and_passes_print(pictures):
    assert ran("compare", "original.png", "repaint.png")[0] == 0
    assert ran("passes", "original.png", "repaint.png")[0] == 0
    folder = pictures / "review/original"
    found = commands_of(folder / "comparison/comparison.html") + commands_of(folder / "passes/passes.html")
    assert {"compare", "passes"} == {shlex.split(command)[1] for command in found}
    assert all("grey" in command for command in found)
    assert [(command, *told) for command in found if (told := pasted(command))[0]] == []


@pytest.mark.slow
def test_what_a_plan_a_palette_a_gallery_and_the_paintings_page_print(pictures):
    for command in ("plan", "palette", "gallery", "study"):
        code, told = ran(command, "my meadow.png")
        assert code == 0, told
    pages = sorted((pictures / "review/my meadow").rglob("*.html"))
    assert {"plan.html", "sheet.html", "palette.html", "gallery.html", "study.html", "index.html"} <= {
        page.name for page in pages
    }
    found = list(dict.fromkeys(command for page in pages for command in commands_of(page)))
    assert found and [(command, *told) for command in found if (told := pasted(command))[0]] == []


@pytest.mark.slow
def test_what_straighten_and_submit_print_of_an_edge_that_is_unsure(pictures):
    """A canvas as pale as its wall, of which only three sides are seen."""
    wall = np.full((600, 800, 3), 150, np.uint8)
    wall[120:480, 130:800] = np.asarray(Image.fromarray(scene()).resize((670, 360)))
    Image.fromarray(wall).save("cut off.jpg", quality=95)
    for command in ("straighten", "submit"):
        code, told = ran(command, "cut off.jpg")
        assert code == 0, told
        for found in re.findall(rf"critique {command} [^\n]*--corners \"[^\"X]*\"", told):
            assert pasted(found)[0] == 0, found
