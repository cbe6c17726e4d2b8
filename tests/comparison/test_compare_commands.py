"""The commands that lay pictures beside each other: their files, their exits, their words for machines."""

import json
import re
from pathlib import Path

import numpy as np
import pytest
from click.testing import CliRunner
from demo_pictures import demo_path
from PIL import Image

from critique.advice.kinds import kind_named
from critique.cli.main import main
from critique.perception.srgb import linear_to_srgb8, srgb8_to_linear
from critique.report.lineup_page import GAP, rows_of, scale_of


@pytest.fixture(scope="module")
def small(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    """The demo pair at a quarter of its size, one of them under a name that would break an unescaped page."""
    folder = tmp_path_factory.mktemp("pictures")
    names = {
        "tolvesk_01_ostermell_meadow.jpg": "meadow.jpg",
        "tolvesk_02_ostermell_repaint.jpg": "<b>repaint & more.jpg",
    }
    found = {}
    for source, name in names.items():
        image = Image.open(demo_path(source)).convert("RGB").resize((400, 300), Image.Resampling.BOX)
        image.save(folder / name, quality=92)
        found[name.removesuffix(".jpg")] = folder / name
    (folder / "broken.jpg").write_bytes(b"no picture")
    found["broken"] = folder / "broken.jpg"
    return found


def run(*words: object) -> tuple[int, str, str]:
    result = CliRunner().invoke(main, [str(word) for word in words])
    return result.exit_code, result.stdout, result.stderr


def pictures(small: dict[str, Path]) -> tuple[Path, Path]:
    return small["meadow"], small["<b>repaint & more"]


def page_is_whole(page: Path) -> str:
    text = page.read_text(encoding="utf-8")
    assert "<b>repaint" not in text and "&lt;b&gt;repaint" in text
    assert not re.search(r'(?:src|href)="(?!data:|#)', text), "nothing is fetched"
    assert text.rstrip().endswith("</html>")
    return text


def made(out: Path, task: str) -> Path:
    """Where a result of the one painting in a folder lies."""
    (painting,) = out.iterdir()
    return painting / task


@pytest.mark.slow
def test_compare_writes_a_page_a_record_and_plates(small: dict[str, Path], tmp_path: Path) -> None:
    code, out, err = run("compare", *pictures(small), "--out", tmp_path / "c")
    assert (code, err) == (0, "")
    assert "Is it quieter?" in out and "comparison.html" in out
    text = page_is_whole(made(tmp_path / "c", "comparison") / "comparison.html")
    assert "no longer raises it" not in text  # beside "holds", in the table, it sounded like another thing
    bare = re.sub("<[^>]+>", "", text)
    assert "Evenness of greens, better. Found in the original alone: " in bare
    assert "Relief for the green, no longer matters. Its greens are quiet enough to stand alone." in bare
    record = json.loads((made(tmp_path / "c", "comparison") / "comparison.json").read_text(encoding="utf-8"))
    assert record["verdict"][0] in re.sub("[\u00a0\u202f]", " ", text).replace("’", "'")
    assert record["first"]["greens"]["area_share"] > record["second"]["greens"]["area_share"]
    for figure in record["figures"]:
        assert figure["spread"] > 0
    assert "matched with" not in text  # a match by colour alone finds the green of a field in a cloud
    images = sorted(path.name for path in (made(tmp_path / "c", "comparison") / "plates").iterdir())
    assert {"greens_original.png", "greens_repaint.png", "values_3_repaint.png"} <= set(images)


@pytest.mark.slow
def test_compare_speaks_json_in_one_line_and_tells_a_balance_that_was_asked_for(
    small: dict[str, Path], tmp_path: Path
) -> None:
    places = ("--grey-original", "0.42,0.24", "--grey-repaint", "0.3,0.4")
    code, out, err = run("compare", *pictures(small), "--out", tmp_path / "c", "--json", *places)
    assert code == 0, err
    assert out.count("\n") == 1
    record = json.loads(out)
    assert record["light"]["balance"]["how"] == "pointed at"
    change = next(figure for figure in record["figures"] if figure["figure"] == "cast.mean.b")
    assert change["decided_together"] and change["together_before"] != change["before"]
    assert "In one light" in (made(tmp_path / "c", "comparison") / "comparison.html").read_text(encoding="utf-8")


@pytest.mark.slow
def test_the_painter_s_own_box_is_what_the_paints_are_counted_in(small: dict[str, Path], tmp_path: Path) -> None:
    box = tmp_path / "mine.toml"
    box.write_text('paints = ["PY74", "PB29", "PR254"]\n', encoding="utf-8")
    code, out, err = run("compare", *pictures(small), "--box", box, "--out", tmp_path / "c", "--json")
    assert code == 0, err
    for side in ("first", "second"):
        sizes = json.loads(out)["palette"][side]["paints"]
        assert [len(paints) for paints in sizes] == [1, 2, 3]
        assert set(sizes[2]) == {"hansa yellow opaque", "ultramarine blue", "pyrrole red"}
    code, _, err = run("compare", *pictures(small), "--box", tmp_path / "none.toml", "--out", tmp_path / "d")
    assert code == 1 and err.count("\n") == 1 and "none.toml" in err


def test_one_grey_alone_or_a_place_that_is_none_is_wrong_usage(small: dict[str, Path], tmp_path: Path) -> None:
    assert run("compare", *pictures(small), "--out", tmp_path, "--grey-original", "0.5,0.5")[0] == 2
    code, _, err = run(
        "compare", *pictures(small), "--out", tmp_path, "--grey-original", "here", "--grey-repaint", "0,0"
    )
    assert code == 2 and "0.8,0.95" in err
    assert run("compare", small["meadow"])[0] == 2
    assert run("passes", small["meadow"], "--out", tmp_path)[0] == 2


def test_what_is_said_of_each_state_is_said_once_for_each(small: dict[str, Path], tmp_path: Path) -> None:
    for command in ("passes", "lineup"):
        for words in (("--grey", "0.5,0.5"), ("--corners", "0,0 1,0 1,1 0,1")):
            code, _, err = run(command, *pictures(small), "--out", tmp_path, *words)
            assert code == 2 and err.count("\n") == 1 and "1 times for 2 pictures" in err
        code, _, err = run(command, *pictures(small), "--out", tmp_path, "--grey", "-", "--grey", "here")
        assert code == 2 and err.count("\n") == 1 and "such as 0.9,0.8" in err


@pytest.fixture(scope="module")
def by_two_lamps(tmp_path_factory: pytest.TempPathFactory) -> list[Path]:
    """One painting photographed on a grey wall, a card of L* 50 beside it, by daylight and by a warm lamp."""
    folder = tmp_path_factory.mktemp("lamps")
    painting = Image.open(demo_path("tolvesk_01_ostermell_meadow.jpg")).convert("RGB").resize((480, 360))
    found = []
    for name, lamp in (("day", [0.9, 0.9, 0.9]), ("lamp", [1.0, 0.8, 0.5])):
        scene = np.full((600, 800, 3), 0.45, np.float32)
        scene[120:480, 80:560] = srgb8_to_linear(np.asarray(painting))
        scene[200:320, 620:740] = 0.184
        found.append(folder / f"{name}.png")
        Image.fromarray(linear_to_srgb8(scene * np.array(lamp, np.float32))).save(found[-1])
    return found


CANVAS = "0.1,0.2 0.7,0.2 0.7,0.8 0.1,0.8"


@pytest.mark.slow
def test_passes_in_two_lights_are_balanced_by_a_grey_that_they_share(by_two_lamps: list[Path], tmp_path: Path) -> None:
    greys = ("--corners", CANVAS, "--corners", CANVAS, "--grey", "0.85,0.43", "--grey", "0.85,0.43")
    code, out, err = run("passes", *by_two_lamps, "--out", tmp_path, "--json", *greys)
    assert code == 0, err
    record = json.loads(out)
    assert record["steps"][0]["light"]["balance"]["how"] == "pointed at"
    assert [state["picture"]["view"]["how"] for state in record["passes"]] == ["given", "given"]
    assert {figure["status"] for figure in record["steps"][0]["figures"]} <= {"no change", "not compared"}


@pytest.mark.slow
def test_a_line_up_is_of_the_canvas_that_was_given_in_the_light_of_its_own_grey(
    by_two_lamps: list[Path], tmp_path: Path
) -> None:
    words = ("--corners", CANVAS, "--corners", "-", "--grey", "-", "--grey", "0.85,0.43", "--whole")
    code, out, err = run("lineup", *by_two_lamps, "--out", tmp_path, "--json", *words)
    assert code == 0, err
    first, second = (picture["picture"]["view"] for picture in json.loads(out)["pictures"])
    assert (first["how"], second["how"]) == ("given", "asked whole")
    assert first["light"]["how"] is None and second["light"]["how"] == "spot"


def test_a_picture_that_cannot_be_read_is_named_in_one_line(small: dict[str, Path], tmp_path: Path) -> None:
    code, out, err = run("compare", small["meadow"], small["broken"], "--out", tmp_path / "c")
    assert code == 1 and out == "" and err.count("\n") == 1 and "broken.jpg" in err
    assert not (tmp_path / "c").exists()


@pytest.mark.slow
def test_passes_write_their_page_and_go_on_past_a_broken_file(small: dict[str, Path], tmp_path: Path) -> None:
    first, second = pictures(small)
    code, out, err = run("passes", first, small["broken"], second, "--out", tmp_path / "p")
    assert code == 3 and "broken.jpg" in err
    text = page_is_whole(made(tmp_path / "p", "passes") / "passes.html")
    record = json.loads((made(tmp_path / "p", "passes") / "passes.json").read_text(encoding="utf-8"))
    assert len(record["passes"]) == 2 and len(record["steps"]) == 1
    assert record["steps"][0]["text"] in out
    assert text.count('<div class="chart">') > 30


@pytest.mark.slow
def test_passes_give_every_state_its_figure(small: dict[str, Path], tmp_path: Path) -> None:
    first, second = pictures(small)
    code, _, err = run("passes", first, second, first, "--out", tmp_path / "p")
    assert (code, err) == (0, "")
    record = json.loads((made(tmp_path / "p", "passes") / "passes.json").read_text(encoding="utf-8"))
    shares = [f"{100 * state['greens']['area_share']:.0f} %" for state in record["passes"]]
    assert len(set(shares)) == 2
    page = re.sub("[\u00a0\u202f]", " ", page_is_whole(made(tmp_path / "p", "passes") / "passes.html"))
    assert f"Green area, sky and all <span>{' → '.join(shares)}</span>" in page


@pytest.mark.slow
def test_a_lineup_keeps_the_order_given_and_gives_every_picture_the_same_area(
    small: dict[str, Path], tmp_path: Path
) -> None:
    tall = tmp_path / "tall.png"
    Image.fromarray(np.random.default_rng(1).integers(0, 255, (400, 250, 3)).astype(np.uint8)).save(tall)
    first, second = pictures(small)
    code, _, err = run("lineup", second, tall, first, "--out", tmp_path / "l")
    assert (code, err) == (0, "")
    text = page_is_whole(tmp_path / "l" / "lineup.html")
    shown = re.findall(r'alt="The picture ((?!reduced)[^"]+)\."', text)
    assert shown == ["&lt;b&gt;repaint &amp; more", "tall", "meadow"]
    widths = [float(width) for width in re.findall(r"figure style=\"--wide: ([\d.]+)%", text)]
    areas = [width * width / ratio for width, ratio in zip(widths, (400 / 300, 250 / 400, 400 / 300), strict=True)]
    assert max(areas) < 1.02 * min(areas)
    record = json.loads((tmp_path / "l" / "lineup.json").read_text(encoding="utf-8"))
    assert [each["picture"]["file"] for each in record["pictures"]][1] == "tall.png"
    assert "rank" not in json.dumps(record)


@pytest.mark.slow
def test_the_lineup_s_marks_stand_under_numbers_that_a_key_names(small: dict[str, Path], tmp_path: Path) -> None:
    first, second = pictures(small)
    code, out, _ = run("lineup", first, second, "--out", tmp_path / "l")
    assert code == 0
    _, heading, *rows = out.splitlines()
    numbers = heading.split()
    assert numbers == [str(number) for number in range(1, len(numbers) + 1)]
    ends = [match.end() for match in re.finditer(r"\d+", heading)]
    key = " ".join(rows[3:-1])
    record = json.loads((tmp_path / "l" / "lineup.json").read_text(encoding="utf-8"))
    for row, state in zip(rows, record["pictures"], strict=False):
        levels = {finding["kind"]: finding["level"] for finding in state["findings"]}
        for number, end in zip(numbers, ends, strict=True):
            subject = re.search(rf"(?:^|[ ]){number} ([^,]+)(?:,|$)", re.sub(" +", " ", key))
            assert subject is not None
            mark = row[end - 1 : end].strip()
            assert (
                mark
                == {"holds": "·", "watch": "~", "rework": "×", None: ""}[levels.get(kind_named(subject.group(1)).id)]
            )
    assert "~ watch" in rows[2] and "× rework" in rows[2]


def test_pictures_hang_in_rows_that_fit_and_four_hang_two_by_two() -> None:
    sizes = [[row.stop - row.start for row in rows_of(number)] for number in range(1, 9)]
    assert sizes == [[1], [2], [3], [2, 2], [3, 2], [3, 3], [3, 2, 2], [3, 3, 2]]
    for roots in ([[1.2, 1.2], [1.9, 0.8]], [[0.5]], [[2.0]], [[1.1, 1.2, 1.3], [1.4, 1.4]]):
        scale = scale_of(roots)
        taken = [sum(scale * root for root in row) + GAP * (len(row) - 1) for row in roots]
        assert max(taken) <= 100 and (max(taken) > 99 or scale * max(map(max, roots)) > 63)


@pytest.mark.parametrize("command", ["compare", "passes", "lineup"])
def test_help_shows_an_example(command: str) -> None:
    code, out, _ = run(command, "--help")
    assert code == 0 and f"Example: critique {command}" in out
