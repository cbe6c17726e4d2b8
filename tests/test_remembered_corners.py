"""Corners that one command was given of a photograph, the others find again."""

import json
from pathlib import Path

import numpy as np
import pytest
from click.testing import CliRunner
from demo_pictures import demo_path
from PIL import Image

from critique.cli.in_photograph import InEach, InPhotograph, homes_beside, homes_in
from critique.cli.main import main
from critique.painting.history import FILE as HISTORY
from critique.painting.identity import source_id
from critique.photograph.corners import Corners, parse_corners, remember_corners, remembered_corners

PART = "0.15,0.25 0.65,0.25 0.65,0.75 0.15,0.75"
OTHER = "0.2,0.3 0.6,0.3 0.6,0.7 0.2,0.7"


def corners(text: str = PART) -> Corners:
    return parse_corners(text)


def written(*each: Corners | None, whole: bool = False) -> InEach:
    return InEach(each, (None,) * len(each), whole)


def reviewed(out: Path, picture: Path, name: str) -> Path:
    """A painting's folder, as a review of that file leaves it."""
    folder = out / name
    folder.mkdir(parents=True)
    (folder / HISTORY).write_text(json.dumps({"source": source_id(picture), "runs": []}))
    return folder


@pytest.fixture
def two(tmp_path: Path) -> tuple[Path, Path]:
    (tmp_path / "first.jpg").write_bytes(b"1")
    (tmp_path / "second.jpg").write_bytes(b"2")
    return tmp_path / "first.jpg", tmp_path / "second.jpg"


def test_each_photographs_corners_are_found_where_its_review_kept_them(two: tuple[Path, Path], tmp_path: Path) -> None:
    out = tmp_path / "review"
    for picture, text in zip(two, (PART, OTHER), strict=True):
        remember_corners(reviewed(out, picture, picture.stem), picture.name, corners(text))
    homes = homes_in(out, out / "first", two)
    assert written(None, None).with_remembered(homes, two).corners == (corners(), corners(OTHER))
    assert written(corners(OTHER), None).with_remembered(homes, two).corners == (corners(OTHER), corners(OTHER))
    assert written(None, None, whole=True).with_remembered(homes, two).corners == (None, None)


def test_corners_written_now_are_kept_for_the_next_run(two: tuple[Path, Path], tmp_path: Path) -> None:
    """Of a photograph that has no folder of its own beside the result; of another where its review will look."""
    out = tmp_path / "review"
    for known in (False, True):
        if known:
            reviewed(out, two[1], "second")
        homes = homes_in(out, out / "first", two)
        now = written(corners(), corners(OTHER if known else PART))
        now.keep(homes, two)
        assert written(None, None).with_remembered(homes, two).corners == now.corners
        assert remembered_corners(out / "first", "second.jpg") == corners()
    assert remembered_corners(out / "second", "second.jpg") == corners(OTHER)
    written(None, None, whole=True).keep(homes, two)
    assert written(None, None).with_remembered(homes, two).corners == (None, None)


def test_another_photograph_of_the_same_name_has_its_own(tmp_path: Path) -> None:
    pictures = (tmp_path / "one" / "easel.jpg", tmp_path / "other" / "easel.jpg")
    for number, picture in enumerate(pictures):
        picture.parent.mkdir()
        picture.write_bytes(bytes([number]))
    out = tmp_path / "review"
    remember_corners(reviewed(out, pictures[0], "easel"), "easel.jpg", corners())
    homes = homes_in(out, out / "easel", pictures)
    assert written(None, None).with_remembered(homes, pictures).corners == (corners(), None)
    written(None, corners(OTHER)).keep(homes, pictures)
    assert remembered_corners(out / "easel", "easel.jpg") == corners()
    assert homes_beside(tmp_path / "lineup", pictures) == [(), ()]


def test_what_goes_into_another_folder_finds_the_corners_of_the_review(
    two: tuple[Path, Path], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    remember_corners(reviewed(Path("review"), two[0], "first"), "first.jpg", corners())
    homes = homes_beside(Path("lineup"), two)
    assert written(None, None).with_remembered(homes, two).corners == (corners(), None)
    asked = InPhotograph().of(two[0], Path("ready"), *homes[0])
    assert asked.corners == corners()
    written(corners(OTHER), None).keep(homes, two)
    assert InPhotograph().of(two[0], Path("lineup"), Path("review", "first")).corners == corners(OTHER)
    assert remembered_corners(Path("review", "first"), "first.jpg") == corners()


@pytest.mark.slow
def test_the_commands_judge_the_canvas_that_a_review_was_told_of(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    for number, name in enumerate(("tolvesk_01_ostermell_meadow.jpg", "tolvesk_02_ostermell_repaint.jpg")):
        scene = Image.fromarray(np.full((480, 640, 3), 190, np.uint8))
        scene.paste(Image.open(demo_path(name)).convert("RGB").resize((320, 240)), (96, 120))
        scene.save(f"state{number}.png")

    def record(*words: str) -> dict:
        done = CliRunner().invoke(main, [*words, "--json"])
        assert done.exit_code == 0, done.output
        return json.loads(done.stdout)

    record("review", "state0.png", "--corners", PART)
    for command in ("passes", "lineup"):
        told = record(command, "state0.png", "state1.png")
        views = [one["picture"]["view"] for one in told["passes" if command == "passes" else "pictures"]]
        assert [view["how"] for view in views] == ["given", "found"]
        assert np.allclose(views[0]["corners"], corners())
    record("compare", "state0.png", "state1.png", "--corners-repaint", OTHER)
    told = record("passes", "state0.png", "state1.png")
    assert np.allclose([one["picture"]["view"]["corners"] for one in told["passes"]], [corners(), corners(OTHER)])
    (sent,) = [record("submit", "state0.png", "--long-edge", "600", "--out", "ready")]
    assert sent["how"] == "given"
