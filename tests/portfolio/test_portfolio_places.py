"""Which files are pictures, and where their reviews go."""

import os
import sqlite3

import numpy as np
import pytest

from critique.portfolio.ledger import Ledger
from critique.portfolio.places import found_below, review_folders, shown_path
from critique.report.naming import LONGEST_NAME, TakenNames, safe_name


def touch(folder, *names):
    for name in names:
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_bytes(b"x")


def test_pictures_are_found_in_every_subfolder_and_in_order(tmp_path):
    touch(tmp_path, "b.jpg", "a.PNG", "notes.txt", "2024/c.tiff", "2024/deep/d.heic", "2024/raw.NEF")
    found = list(found_below(tmp_path).pictures)
    assert found == ["a.PNG", "b.jpg", "2024/c.tiff", "2024/raw.NEF", "2024/deep/d.heic"]


def test_hidden_files_and_the_portfolio_itself_are_passed_over(tmp_path):
    touch(tmp_path, "a.jpg", "._a.jpg", ".cache/b.jpg", "portfolio/thumbnails/aa/c.jpg", "out/thumbnails/d.jpg")
    with Ledger(tmp_path / "portfolio", print):
        pass
    assert list(found_below(tmp_path, tmp_path / "out").pictures) == ["a.jpg"]


def test_a_file_that_is_only_called_like_a_ledger_hides_nothing(tmp_path):
    touch(tmp_path, "a.jpg", "2024/ledger.sqlite", "2024/b.jpg")
    assert list(found_below(tmp_path).pictures) == ["a.jpg", "2024/b.jpg"]
    with sqlite3.connect(tmp_path / "accounts.sqlite") as accounts:
        accounts.execute("CREATE TABLE sold (picture TEXT)")
    accounts.close()
    (tmp_path / "accounts.sqlite").rename(tmp_path / "2024" / "ledger.sqlite")
    assert list(found_below(tmp_path).pictures) == ["a.jpg", "2024/b.jpg"]


def test_links_that_lead_in_circles_are_not_followed(tmp_path):
    touch(tmp_path, "series/a.jpg")
    os.symlink(tmp_path, tmp_path / "series" / "again", target_is_directory=True)
    assert list(found_below(tmp_path).pictures) == ["series/a.jpg"]


def test_a_review_is_called_like_its_picture():
    assert review_folders(["meadow.jpg", "2024/meadow.jpg"]) == ["meadow", "2024/meadow"]


@pytest.mark.slow
def test_twenty_thousand_of_one_name_are_numbered_without_trying_every_number():
    # Trying each number for each name would be two hundred million looks, and over a list no end at all.
    number = 20_000
    long = "m" * LONGEST_NAME  # names that are one once they are cut
    folders = review_folders([f"{long}{place}.jpg" for place in range(number)])
    assert len(set(folders)) == number and folders[-1] == f"{long} ({number})"


@pytest.mark.parametrize(
    ("name", "safe"),
    [
        ("what? a meadow: *late*", "what_ a meadow_ _late_"),
        ('a "red" <barn>|b', "a _red_ _barn__b"),
        ("con", "con_"),
        ("Lpt1", "Lpt1_"),
        ("nul.study", "nul.study_"),
        ("contour", "contour"),
        ("mill. ", "mill"),
        ("..", "picture"),
        ("a/b\\c", "a_b_c"),
        ("пейзаж 日本", "пейзаж 日本"),
    ],
)
def test_a_folder_is_called_as_windows_and_sticks_can_write_it(name, safe):
    assert safe_name(name) == safe


def test_a_number_that_is_a_name_already_is_passed_over():
    taken = TakenNames(["mill", "mill (3)"])
    assert [taken.free("mill") for _ in range(3)] == ["mill (2)", "mill (4)", "mill (5)"]


def test_names_that_would_collide_keep_their_suffix():
    assert review_folders(["a.jpg", "a.png", "b.jpg"]) == ["a.jpg", "a.png", "b"]
    assert review_folders(["A.jpg", "a.jpg"]) == ["A.jpg", "a.jpg (2)"]  # one folder on some file systems
    assert review_folders(["a.jpg", "a/b.jpg"]) == ["a.jpg", "a/b"]  # a review inside another would be lost with it


def test_no_review_ever_lies_in_another_or_in_its_place():
    rng = np.random.default_rng(3)
    parts = ["a", "A", "a.jpg", "b", ".", "a (2)", "\n", "_"]
    for _ in range(300):
        number = int(rng.integers(1, 12))
        names = {
            "/".join(rng.choice(parts, int(rng.integers(1, 4)))) + str(rng.choice([".jpg", ".png", ".JPG"]))
            for _ in range(number)
        }
        folders = [folder.casefold() for folder in review_folders(sorted(names))]
        assert len(set(folders)) == len(names)
        for folder in folders:
            assert not any(other.startswith(f"{folder}/") for other in folders)
            assert ".." not in folder.split("/") and "\n" not in folder


def test_the_place_depends_on_the_pictures_alone():
    names = ["x.jpg", "x.png", "y.jpg", "y/z.jpg"]
    assert review_folders(names) == review_folders(list(names))


def test_a_path_is_shown_on_one_line():
    assert shown_path("series\n2/caf\udce9.jpg") == "series\\n2/caf\\udce9.jpg"
