"""The plan's page, its sheet and its command: whole, fetched from nowhere, in the tubes' own words, in full size."""

import html
import json
import re
import shlex

import numpy as np
import pytest
from click.testing import CliRunner
from PIL import Image

from critique.cli.main import main
from critique.picture.read import read_picture
from critique.report.plan_page import write_plan

pytestmark = pytest.mark.slow  # each plan takes seconds of processor time


def scene(height: int, width: int) -> Image.Image:
    """A raw meadow under a pale sky, in flat strokes."""
    rng = np.random.default_rng(5)
    codes = np.zeros((height, width, 3), np.uint8)
    codes[: height // 3] = (170, 200, 225)
    codes[height // 3 :] = (70, 165, 40)
    codes[2 * height // 3 :, width // 2 :] = (40, 110, 30)
    strokes = rng.integers(-12, 12, (height // 6 + 1, width // 10 + 1, 3))
    shaken = codes + np.kron(strokes, np.ones((6, 10, 1), int))[:height, :width]
    return Image.fromarray(np.clip(shaken, 0, 255).astype(np.uint8))


@pytest.fixture(scope="module")
def job(tmp_path_factory):
    folder = tmp_path_factory.mktemp("command")
    lying = Image.Exif()
    lying[0x112] = 6
    scene(360, 480).transpose(Image.Transpose.ROTATE_90).save(folder / "<b>meadow.jpg", exif=lying, quality=95)
    (folder / "mine.toml").write_text('paints = ["PY74", "red oxide", "PB29", "PG7"]', encoding="utf-8")
    words = [
        "plan",
        folder / "<b>meadow.jpg",
        "--box",
        folder / "mine.toml",
        "--size",
        "16x12in",
        "--out",
        folder / "p",
    ]
    done = CliRunner().invoke(main, [str(word) for word in words])
    return done, next((folder / "p").glob("*b*meadow")) / "plan"  # a stick takes no "<"


def test_the_command_writes_page_sheet_record_and_aim(job):
    done, folder = job
    assert done.exit_code == 0, done.stderr
    assert "sheet to print" in done.stdout
    for name in ("plan.html", "sheet.html"):
        page = (folder / name).read_text(encoding="utf-8")
        assert "<b>meadow" not in page and "&lt;b&gt;" in page
        assert not re.search(r'(?:src|href)="(?!data:|#|sheet\.html|plan\.html|aim\.png)', page)
        assert page.rstrip().endswith("</html>")
        assert not re.search(r"\b(nan|None)\b", re.sub(r"data:[^\"]*", "", page))
    record = json.loads((folder / "plan.json").read_text(encoding="utf-8"))
    assert record["canvas"]["written"] == "16 × 12 in"


def test_the_steps_of_the_chart_say_what_their_white_is_counted_in(job):
    """1 : 20 + 2 white is two parts of white to each part of that mixture, and not 1 : 20 : 2."""
    page = (job[1] / "plan.html").read_text(encoding="utf-8")
    chart = page[page.index('<section id="chart"') :]
    assert re.search(r"\+ \d+ white", chart) and "one part of the mixture and eight of white" in chart


def test_page_and_sheet_stay_light_enough_for_a_phone(job):
    for name in ("plan.html", "sheet.html"):
        assert (job[1] / name).stat().st_size < 1.2e6  # its key, a pale photograph, was 1.9 MB as a PNG


def test_the_aim_is_as_large_as_the_file_and_turned_as_it_is(job):
    _, folder = job
    aim = read_picture(folder / "aim.png", whole=True)
    assert (aim.original_width, aim.original_height) == (480, 360)
    # The sky is above: a file that was turned the wrong way would have it at a side.
    assert aim.lab[:100, :, 0].mean() > aim.lab[200:, :, 0].mean() + 20


def test_the_sheet_tells_every_passage_and_leaves_a_place_for_a_dab(plan, tmp_path):
    write_plan(plan, tmp_path / "plan")
    sheet = (tmp_path / "plan" / "sheet.html").read_text(encoding="utf-8")
    assert sheet.count('class="dab"') == len(plan.passages.passages)
    sizes = [float(size) for size in re.findall(r"font-size: ([\d.]+)pt", sheet.split("A sheet that leans")[1])]
    assert min(sizes) >= 11
    assert "width: 25mm; height: 25mm" in sheet
    assert sheet.count("its dust is what harms") == 1


def test_the_page_speaks_without_the_letters_of_colour_science(plan, tmp_path):
    write_plan(plan, tmp_path / "plan")
    page = re.sub(r"<style>.*?</style>", "", (tmp_path / "plan" / "plan.html").read_text(encoding="utf-8"), flags=re.S)
    assert not re.search(r"C\*|ΔE|L\*|hue \d", page)
    assert "--leave" not in re.sub(r"<details.*?</details>", "", page, flags=re.S)


def test_the_page_gives_the_command_that_leaves_a_change(job):
    _, folder = job
    record = json.loads((folder / "plan.json").read_text(encoding="utf-8"))
    codes = re.findall(r"<code[^>]*>(.*?)</code>", (folder / "plan.html").read_text("utf-8"))
    given = [html.unescape(re.sub("<[^>]*>", "", code)) for code in codes]
    assert record["aim"]["steps"]
    for step in record["aim"]["steps"]:
        (words,) = [shlex.split(one) for one in given if f"--leave {step['kind']}" in one]
        assert words[:3] == ["critique", "plan", str(folder.parents[2] / "<b>meadow.jpg")] and {
            "--box",
            "--size",
            "16x12in",
        } <= {*words}


def test_what_makes_no_sense_is_refused_in_one_line(job, tmp_path):
    picture = job[1].parents[2] / "<b>meadow.jpg"
    for words in (["--take", "fly"], ["--turn", "mute"], ["--like-all"], ["--size", "big"], ["--paints", "2"]):
        done = CliRunner().invoke(main, ["plan", str(picture), "--out", str(tmp_path), *words])
        assert done.exit_code == 2 and not list(tmp_path.iterdir())
        if words[0] in ("--take", "--size"):
            assert len(done.stderr.strip().splitlines()) == 1
        if words[0] == "--paints":
            assert "3<=x<=6" in done.stderr
