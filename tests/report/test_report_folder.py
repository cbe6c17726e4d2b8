"""A report comes into its folder whole or not at all, and never at the cost of the painter's own files."""

import errno
import os
import pickle
import stat
import subprocess
import sys
from pathlib import Path

import pytest

from critique.errors import OutputError
from critique.report.folder import replace_files
from critique.report.write import write_review

FILES = {"report.html": b"new page", "report.json": b"{}", "plates/greens.png": b"new plate"}


def everything_in(folder):
    return sorted(path.relative_to(folder).as_posix() for path in folder.rglob("*"))


def contents(folder):
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def test_report_has_a_page_a_record_and_plates(review, tmp_path):
    page = write_review(review, tmp_path / "deep" / "er" / "meadow")
    assert page == tmp_path / "deep" / "er" / "meadow" / "report.html"
    names = everything_in(page.parent)
    assert {"report.html", "report.json", "plates/greens.png", "plates/division.png"} <= set(names)
    assert {"plates/values_2.png", "plates/values_3.png", "plates/values_5.png"} <= set(names)
    assert {"plates/families.png", "plates/colour_circle.png", "plates/eye_path.png"} <= set(names)
    assert {"plates/value_histogram.png", "plates/aim.png"} <= set(names)
    assert everything_in(tmp_path / "deep") == ["er", "er/meadow", *(f"er/meadow/{name}" for name in names)]


def test_earlier_report_is_replaced_whole(tmp_path):
    folder = tmp_path / "meadow"
    replace_files(
        folder,
        {**FILES, "plates/suggestion_4.png": b"old", "plates/where_outlines.png": b"old", "report.html": b"old page"},
    )
    replace_files(folder, FILES)
    assert contents(folder) == FILES
    assert everything_in(tmp_path) == ["meadow", *(f"meadow/{name}" for name in everything_in(folder))]


def test_files_of_the_painters_own_stay(tmp_path):
    folder = tmp_path / "meadow"
    own = {"IMG_0001.jpg": b"a", "plates/mine.png": b"b", "notes/today.txt": b"c"}
    for name, data in own.items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_bytes(data)
    replace_files(folder, FILES)
    replace_files(folder, {**FILES, "report.html": b"second page"})
    assert contents(folder) == {**own, **FILES, "report.html": b"second page"}
    assert everything_in(tmp_path) == ["meadow", *(f"meadow/{name}" for name in everything_in(folder))]


def test_folder_of_pictures_named_plates_is_not_taken_for_a_report(tmp_path):
    folder = tmp_path / "meadow"
    (folder / "plates").mkdir(parents=True)
    (folder / "plates" / "my own study.png").write_bytes(b"precious")
    replace_files(folder, FILES)
    assert (folder / "plates" / "my own study.png").read_bytes() == b"precious"


def test_folder_that_is_a_link_is_followed_and_stays_a_link(tmp_path):
    (tmp_path / "elsewhere").mkdir()
    (tmp_path / "meadow").symlink_to(tmp_path / "elsewhere")
    replace_files(tmp_path / "meadow", FILES)
    assert (tmp_path / "meadow").is_symlink()
    assert contents(tmp_path / "elsewhere") == FILES


def refusing(monkeypatch, folder, number):
    """A system on which nothing is moved into ``folder`` from beside it, nor made there, as on a drive's own folder."""
    monkeypatch.setattr("critique.report.folder.exchanged", lambda first, second: False)
    crossing = number == errno.EXDEV

    def refused(call):
        def called(first, *others, **options):
            ends = [folder in Path(path).parents for path in (first, *others) if isinstance(path, (str, Path))]
            if (any(ends) and not all(ends)) if crossing else not any(ends):
                raise OSError(number, os.strerror(number), str(first))
            return call(first, *others, **options)

        return called

    for name in ("rename", "replace") if crossing else ("mkdir",):
        monkeypatch.setattr(os, name, refused(getattr(os, name)))


@pytest.mark.parametrize("number", [errno.EXDEV, errno.EACCES, errno.EROFS])
def test_a_drives_own_folder_or_one_below_somebody_elses_is_written_into(tmp_path, monkeypatch, number):
    stick = tmp_path / "stick"
    stick.mkdir()
    refusing(monkeypatch, stick, number)
    replace_files(stick, {**FILES, "plates/suggestion_4.png": b"old", "report.html": b"old page"})
    replace_files(stick, FILES)
    assert contents(stick) == FILES
    assert everything_in(tmp_path) == ["stick", *(f"stick/{name}" for name in everything_in(stick))]


def test_a_report_that_can_be_written_nowhere_says_so_and_leaves_nothing(tmp_path, monkeypatch):
    (tmp_path / "stick").mkdir()
    refusing(monkeypatch, tmp_path / "elsewhere", errno.EROFS)
    with pytest.raises(OutputError, match="read-only"):
        replace_files(tmp_path / "stick", FILES)
    assert everything_in(tmp_path) == ["stick"]


def test_linked_file_in_an_earlier_report_is_not_written_through(tmp_path):
    (tmp_path / "precious.html").write_bytes(b"precious")
    (tmp_path / "meadow").mkdir()
    (tmp_path / "meadow" / "report.html").symlink_to(tmp_path / "precious.html")
    replace_files(tmp_path / "meadow", FILES)
    assert (tmp_path / "precious.html").read_bytes() == b"precious"
    assert contents(tmp_path / "meadow") == FILES


def test_new_folder_is_as_open_as_any_other(tmp_path):
    replace_files(tmp_path / "meadow", FILES)
    (tmp_path / "plain").mkdir()
    mode = stat.S_IMODE((tmp_path / "plain").stat().st_mode)
    assert stat.S_IMODE((tmp_path / "meadow").stat().st_mode) == mode


@pytest.mark.parametrize("inside", ["", "below", "below/further"])
def test_folder_below_a_file_is_refused_in_one_line_and_nothing_is_left(tmp_path, inside):
    (tmp_path / "file").write_bytes(b"untouched")
    with pytest.raises(OutputError) as refused:
        replace_files(tmp_path / "file" / inside, FILES)
    assert "\n" not in str(refused.value) and "file" in str(refused.value)
    assert contents(tmp_path) == {"file": b"untouched"}
    assert everything_in(tmp_path) == ["file"]


def test_name_that_is_too_long_is_refused_and_the_folders_made_for_it_go_again(tmp_path):
    with pytest.raises(OutputError):
        replace_files(tmp_path / "new" / "newer" / ("x" * 300), FILES)
    assert everything_in(tmp_path) == []


def test_name_with_a_line_break_is_refused_in_one_line(tmp_path):
    (tmp_path / "fi\nle").write_bytes(b"")
    with pytest.raises(OutputError) as refused:
        replace_files(tmp_path / "fi\nle", FILES)
    assert "\n" not in str(refused.value)


FULL_DISK = """
import pickle, resource, sys
from pathlib import Path
from critique.errors import OutputError
from critique.report.write import write_review
review = pickle.loads(Path(sys.argv[1]).read_bytes())
assert "matplotlib.pyplot" not in sys.modules
resource.setrlimit(resource.RLIMIT_FSIZE, (int(sys.argv[3]), int(sys.argv[3])))
try:
    write_review(review, Path(sys.argv[2]))
except OutputError as error:
    print(error)
else:
    print("written")
assert "matplotlib.pyplot" not in sys.modules
"""


@pytest.mark.slow
def test_disk_that_fills_leaves_the_earlier_report_and_no_debris(review, tmp_path):
    # A limit on the size of files makes the system refuse a write in the middle of it, as a full disk does.
    (tmp_path / "review.pickle").write_bytes(pickle.dumps(review))
    out = tmp_path / "out"
    replace_files(out / "meadow", FILES)

    def run(folder, limit):
        command = [sys.executable, "-c", FULL_DISK, str(tmp_path / "review.pickle"), str(folder), str(limit)]
        return subprocess.run(command, capture_output=True, text=True, check=True).stdout.strip()

    for folder in (out / "meadow", out / "new" / "meadow"):
        line = run(folder, 30_000)
        assert str(folder) in line and "make room" in line and "\n" not in line
    assert contents(out) == {f"meadow/{name}": data for name, data in FILES.items()}
    assert everything_in(out) == ["meadow", *(f"meadow/{name}" for name in everything_in(out / "meadow"))]
    assert run(out / "new" / "meadow", 100_000_000) == "written"
