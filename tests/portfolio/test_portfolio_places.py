"""Which files are pictures, and where their reviews go."""

import os

import numpy as np

from critique.portfolio.places import pictures_below, review_folders, shown_path


def touch(folder, *names):
    for name in names:
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_bytes(b"x")


def test_pictures_are_found_in_every_subfolder_and_in_order(tmp_path):
    touch(tmp_path, "b.jpg", "a.PNG", "notes.txt", "2024/c.tiff", "2024/deep/d.heic", "2024/raw.NEF")
    found = list(pictures_below(tmp_path))
    assert found == ["a.PNG", "b.jpg", "2024/c.tiff", "2024/raw.NEF", "2024/deep/d.heic"]


def test_hidden_files_and_the_portfolio_itself_are_passed_over(tmp_path):
    touch(tmp_path, "a.jpg", "._a.jpg", ".cache/b.jpg", "portfolio/ledger.sqlite", "portfolio/thumbnails/aa/c.jpg")
    assert list(pictures_below(tmp_path)) == ["a.jpg"]


def test_links_that_lead_in_circles_are_not_followed(tmp_path):
    touch(tmp_path, "series/a.jpg")
    os.symlink(tmp_path, tmp_path / "series" / "again", target_is_directory=True)
    assert list(pictures_below(tmp_path)) == ["series/a.jpg"]


def test_a_review_is_called_like_its_picture():
    assert review_folders(["meadow.jpg", "2024/meadow.jpg"]) == ["meadow", "2024/meadow"]


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
