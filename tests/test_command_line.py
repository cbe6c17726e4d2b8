"""The commands as a painter types them, with good files and bad."""

import html
import json
import re
import resource
import shlex
import struct
import subprocess
import sys
import zlib
from pathlib import Path

import click
import numpy as np
import pytest
from click.testing import CliRunner
from demo_pictures import demo_path
from PIL import Image

from critique.cli.group import Commands
from critique.cli.main import main
from critique.tasks.aim import change_titles

REPAINT = demo_path("tolvesk_02_ostermell_repaint.jpg")


def run(*arguments):
    return CliRunner().invoke(main, [str(argument) for argument in arguments])


@pytest.fixture(scope="module")
def small_picture(tmp_path_factory):
    """The demo's repaint, small, so that a review is quick."""
    path = tmp_path_factory.mktemp("pictures") / "repaint.jpg"
    picture = Image.open(REPAINT)
    picture.thumbnail((360, 360))
    picture.save(path, quality=92)
    return path


def png_header(width, height):
    """A PNG that claims a size and holds nothing."""

    def chunk(kind, data):
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    header = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", header) + chunk(b"IDAT", zlib.compress(b"")) + chunk(b"IEND", b"")


def write_bad_files(folder: Path) -> dict[str, Path]:
    """One of each bad input, by what is wrong with it."""
    whole = REPAINT.read_bytes()
    bad = {
        "missing": folder / "not there.jpg",
        "folder": folder / "a folder.jpg",
        "empty": folder / "empty.jpg",
        "text": folder / "letter.jpg",
        "cut short": folder / "cut.jpg",
        "too large": folder / "claims.png",
        "one pixel": folder / "dot.png",
        "a line": folder / "line.png",
    }
    bad["folder"].mkdir()
    bad["empty"].touch()
    bad["text"].write_text("Dear gallery, enclosed please find")
    bad["cut short"].write_bytes(whole[: len(whole) // 3])
    bad["too large"].write_bytes(png_header(60_000, 60_000))
    Image.new("RGB", (1, 1)).save(bad["one pixel"])
    Image.new("RGB", (1, 5000)).save(bad["a line"])
    return bad


def test_a_review_writes_the_page_the_record_and_the_plates(small_picture, tmp_path):
    result = run("review", small_picture, "--out", tmp_path)
    assert result.exit_code == 0, result.output
    folder = tmp_path / "repaint"
    assert "report.html" in result.output
    assert sorted(path.name for path in folder.iterdir()) == [
        "history.json", "index.html", "plates", "report.html", "report.json", "states",
    ]  # fmt: skip
    assert len(list((folder / "plates").glob("*.png"))) >= 6
    record = json.loads((folder / "report.json").read_text(encoding="utf-8"))
    for part in ("version", "picture", "greens", "families", "values", "division", "eyepath", "harmony", "variety"):
        assert part in record
    assert {finding["level"] for finding in record["findings"]} <= {"holds", "watch", "rework"}
    assert all({"subject", "text", "before", "after"} <= set(offer) for offer in record["suggestions"])


@pytest.mark.slow
def test_a_review_leads_to_the_plan_with_the_painters_own_box(tmp_path):
    box = tmp_path / "my box.toml"
    box.write_text('paints = ["PB29", "PY43", "PR101", "PBr7 burnt umber", "PG7"]', encoding="utf-8")
    raw = tmp_path / "the painter's meadow.png"
    with Image.open(demo_path("tolvesk_01_ostermell_meadow.jpg")) as picture:
        picture.resize((240, 180)).save(raw)
    result = run("review", raw, "--out", tmp_path / "out", "--box", box)
    assert result.exit_code == 0, result.output
    folder = tmp_path / "out" / raw.stem
    record = json.loads((folder / "report.json").read_text(encoding="utf-8"))
    assert record["aim"]["steps"] and "repaint_study" not in record
    with Image.open(folder / "plates" / "aim.png") as plate:
        assert plate.width / plate.height == pytest.approx(240 / 180, rel=0.01)
    page = (folder / "report.html").read_text(encoding="utf-8")
    given = [re.sub("<[^>]*>", "", code) for code in re.findall(r'<code class="command">(.*?)</code>', page)]
    for words, command in zip(given, ("plan", "gallery"), strict=True):
        assert shlex.split(html.unescape(words))[:5] == ["critique", command, str(raw), "--box", str(box)]


def test_a_box_that_is_none_is_told_before_anything_is_read(small_picture, tmp_path):
    result = run("review", small_picture, "--out", tmp_path / "out", "--box", tmp_path / "none.toml")
    assert result.exit_code == 1 and result.stderr.count("\n") == 1 and "none.toml" in result.stderr
    assert not (tmp_path / "out").exists()


@pytest.mark.slow
def test_the_same_file_twice_gives_the_same_record(small_picture, tmp_path):
    for name in ("one", "two"):
        subprocess.run(
            [sys.executable, "-m", "critique.cli.main", "review", str(small_picture), "--out", str(tmp_path / name)],
            check=True,
            capture_output=True,
        )
    first, second = (tmp_path / name / "repaint" / "report.json" for name in ("one", "two"))
    assert first.read_bytes() == second.read_bytes()


def test_json_is_the_record_and_nothing_else(small_picture, tmp_path):
    result = run("review", small_picture, "--out", tmp_path, "--json")
    assert json.loads(result.stdout) == json.loads((tmp_path / "repaint" / "report.json").read_text(encoding="utf-8"))


@pytest.mark.parametrize(
    "kind", ["missing", "folder", "empty", "text", "cut short", "too large", "one pixel", "a line"]
)
def test_a_bad_file_gets_one_line_and_leaves_nothing(kind, tmp_path):
    bad = write_bad_files(tmp_path)[kind]
    out = tmp_path / "out"
    result = run("review", bad, "--out", out)
    assert result.exit_code == 1
    assert result.stdout == ""
    assert result.stderr.count("\n") == 1
    assert result.stderr.startswith("critique: ")
    assert bad.name in result.stderr
    assert not out.exists() or not list(out.iterdir())


def test_good_files_go_on_when_others_fail(small_picture, tmp_path):
    bad = write_bad_files(tmp_path)
    result = run("review", bad["text"], small_picture, bad["empty"], "--out", tmp_path / "out")
    assert result.exit_code == 3
    assert result.stderr.count("\n") == 2
    assert (tmp_path / "out" / "repaint" / "report.html").exists()


HOSTILE_NAMES = [
    "two words.jpg",
    "quote\"s & 'more'.jpg",
    "<script>alert(1)<script>.jpg",
    "🌿 valley.jpg",
    "line\nbreak.jpg",
]


@pytest.mark.slow
@pytest.mark.parametrize("name", HOSTILE_NAMES)
def test_any_name_is_shown_right_and_escapes_nothing(name, small_picture, tmp_path):
    picture = tmp_path / name
    picture.write_bytes(small_picture.read_bytes())
    result = run("review", picture, "--out", tmp_path / "out")
    assert result.exit_code == 0, result.output
    (page,) = (tmp_path / "out").glob("*/report.html")
    html = page.read_text(encoding="utf-8")
    assert "<script" not in html
    stem = picture.stem.split("\n")[0]
    shown = stem.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")
    assert shown.replace('"', "&#34;").replace("'", "&#39;") in html or shown in html


def test_an_output_folder_that_cannot_be_written_is_one_line(small_picture, tmp_path):
    (tmp_path / "file").write_text("in the way")
    result = run("review", small_picture, "--out", tmp_path / "file" / "out")
    assert result.exit_code == 1
    assert result.stderr.count("\n") == 1


@pytest.mark.slow
def test_a_disk_that_fills_leaves_nothing_half_written(small_picture, tmp_path):
    def no_room():
        resource.setrlimit(resource.RLIMIT_FSIZE, (30_000, 30_000))

    out = tmp_path / "out"
    done = subprocess.run(
        [sys.executable, "-m", "critique.cli.main", "review", str(small_picture), "--out", str(out)],
        capture_output=True,
        text=True,
        preexec_fn=no_room,
    )
    assert done.returncode == 1
    assert done.stderr.count("\n") == 1
    assert "Traceback" not in done.stderr
    assert not [path for path in out.rglob("*") if path.is_file()]


@pytest.mark.slow
def test_the_demo_is_reviewed_and_found_too_green(tmp_path):
    result = run("demo", "--out", tmp_path)
    assert result.exit_code == 0
    (page,) = tmp_path.glob("*/report.json")
    levels = {finding["subject"]: finding["level"] for finding in json.loads(page.read_text("utf-8"))["findings"]}
    assert levels["green strength"] == "rework"
    assert {levels["green area"], levels["halving"]} <= {"watch", "rework"}


@pytest.mark.slow
def test_the_repaint_is_not_reworked(tmp_path):
    result = run("review", REPAINT, "--out", tmp_path, "--json")
    assert "rework" not in {finding["level"] for finding in json.loads(result.stdout)["findings"]}


def test_help_has_an_example_for_every_command():
    assert run("--help").exit_code == 0
    for words in every_command(main):
        text = " ".join(run(*words, "--help").output.split())  # lines are broken where the window ends
        assert re.search(f"Examples?: critique {' '.join(words)}", text), words
        assert "--json" in text, words


def every_command(group, before=()):
    """The words of every command that does something; a group such as ``paints`` only leads to its own."""
    for name, command in group.commands.items():
        if hasattr(command, "commands"):
            yield from every_command(command, (*before, name))
        else:
            yield (*before, name)


@pytest.mark.slow
def test_norms_of_ones_own_best_are_made_and_held_to(small_picture, tmp_path):
    best = tmp_path / "best"
    best.mkdir()
    for number in range(5):
        picture = np.asarray(Image.open(small_picture))[number * 4 :, : picture_width(small_picture) - number * 6]
        Image.fromarray(picture).save(best / f"{number}.png")
    (best / "broken.png").write_bytes(b"no picture")
    made = run("norms", best, "--out", tmp_path / "mine.csv")
    assert made.exit_code == 3
    assert "5 pictures" in made.stdout
    assert made.stderr.count("\n") == 1
    held = run("review", small_picture, "--norms", tmp_path / "mine.csv", "--out", tmp_path / "out", "--json")
    area = next(one for one in json.loads(held.stdout)["findings"] if one["subject"] == "green area")
    assert 0 <= area["percentile"] <= 100
    assert run("norms", tmp_path / "out").exit_code == 1
    assert run("review", small_picture, "--norms", tmp_path / "absent.csv").stderr.count("\n") == 1
    (tmp_path / "note.txt").write_text("dear Maren", encoding="utf-8")
    told = run("review", small_picture, "--norms", tmp_path / "note.txt")
    assert told.exit_code == 1 and "critique norms FOLDER" in told.stderr and ".py" not in told.stderr


def test_a_folder_to_review_is_sent_to_the_portfolio(tmp_path):
    told = run("review", tmp_path)
    assert told.exit_code == 1 and f"critique portfolio {tmp_path}" in told.stderr and told.stderr.count("\n") == 1


def picture_width(path):
    with Image.open(path) as picture:
        return picture.width


def test_wrong_usage_is_two_and_one_line():
    for words in (
        ("review",),
        ("nonsense",),
        ("--nonsense",),
        ("paints", "nonsense"),
        ("palette", "x", "--paints", "2"),
    ):
        done = run(*words)
        assert done.exit_code == 2 and not done.stdout, words
        assert done.stderr.startswith("critique: ") and done.stderr.count("\n") == 1 and "--help" in done.stderr, words
    assert run("paints", "--help").exit_code == 0


@pytest.mark.parametrize(
    "words",
    [
        ("review", "--corners", "0.1,0.1"),
        ("review", "--corners", "0.1,0.1 0.9,0.9 0.9,0.1 0.1,0.9"),
        ("review", "--grey", "5,5"),
        ("straighten", "--size", "16x12"),
        ("straighten", "--card", "0.5,0.5", "--card-value", "40"),
        ("straighten", "--chart", "0.1,0.1"),
        ("study", "--size", "big"),
        ("study", "--squares", "0"),
        ("study", "--margin", "-1"),
        ("plan", "--size", "40x30"),
        ("plan", "--take", "wings"),
        ("plan", "--leave", "wings"),
        ("plan", "--turn", "wings=2"),
        ("plan", "--turn", "mute_greens=nan"),
        ("plan", "--turn", "mute_greens=-1"),
        ("plan", "--turn", "mute_greens=1e9"),
        ("plan", "--turn", "mute_greens=0.5", "--turn", "mute_greens=0.7"),
        ("plan", "--turn", "mute_greens=0.5", "--turn", "mute greens=0.7"),
        ("plan", "--turn", "mute_greens=0.5", "--leave", "mute_greens"),
        ("plan", "--turn", "mute_greens=0", "--take", "mute_greens"),
        ("plan", "--take", "mute_greens", "--leave", "mute_greens"),
        ("study", "--size", "40x30cm", "--margin", "30"),
        ("study", "--size", "40x30cm", "--margin", "nan"),
        ("study", "--margin", "3"),
        ("gallery", "--grey", "here"),
        ("submit", "--grey", "5,5"),
    ],
)
def test_an_option_that_no_picture_could_meet_is_wrong_usage(words, small_picture, tmp_path):
    done = run(words[0], small_picture, "--out", tmp_path / "out", *words[1:])
    assert done.exit_code == 2 and "Traceback" not in done.output, done.output
    assert not (tmp_path / "out").exists()


def test_every_change_that_can_be_named_is_named_in_the_help_of_plan():
    help_ = run("plan", "--help").output
    assert {name for name in change_titles() if name not in help_} == set()


def test_an_end_by_the_keyboard_is_told_in_one_line():
    @click.group(cls=Commands)
    def house():
        pass

    @house.command()
    def wait():
        raise KeyboardInterrupt

    done = CliRunner().invoke(house, ["wait"])
    assert (done.exit_code, done.stdout) == (1, "")
    assert done.stderr == "critique: stopped; nothing is left half-written\n"


def test_help_loads_no_heavy_library():
    heavy = ("numpy", "scipy", "matplotlib", "sklearn", "PIL")
    code = f"import sys, critique.cli.main; print([name for name in {heavy} if name in sys.modules])"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


def test_a_sixteen_bit_grey_picture_is_reviewed(tmp_path):
    ramp = np.linspace(0, 65535, 200 * 300).reshape(200, 300).astype(np.uint16)
    Image.fromarray(ramp).save(tmp_path / "grey.png")
    assert run("review", tmp_path / "grey.png", "--out", tmp_path / "out").exit_code == 0
