"""Files that cannot be read among pictures that can, and names with every odd character."""

import csv
import json
import os
import shutil
import sqlite3
import struct
import zlib
from html.parser import HTMLParser
from pathlib import Path

import pytest
from PIL import Image

from critique.portfolio.ledger_trust import sign_all
from critique.portfolio.run import make_portfolio

pytestmark = pytest.mark.slow  # whole runs of many pictures


def bad_files(folder: Path, good: bytes) -> dict[str, str]:
    """One of each bad input, and a word of the reason that each must be given."""
    header = struct.pack(">IIBBBBB", 60000, 60000, 8, 2, 0, 0, 0)
    chunks = ((b"IHDR", header), (b"IDAT", zlib.compress(bytes(1000))), (b"IEND", b""))
    (folder / "bomb.png").write_bytes(
        b"\x89PNG\r\n\x1a\n"
        + b"".join(
            struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))
            for kind, body in chunks
        )
    )
    (folder / "empty.jpg").touch()
    (folder / "letter.jpg").write_bytes(b"Dear Maren, the meadow is too green.\n" * 50)
    (folder / "cut.png").write_bytes(good[: len(good) // 2])
    (folder / "camera.NEF").write_bytes(good)
    (folder / "nothing.tif").write_bytes(b"II*\0" + bytes(40))
    Image.new("RGB", (20, 20)).save(folder / "small.png")
    Image.new("RGB", (70, 4000)).save(folder / "strip.png")
    os.mkfifo(folder / "pipe.jpg")
    os.symlink(folder / "gone.jpg", folder / "link.jpg")
    return {
        "bomb.png": "megapixels",
        "empty.jpg": "empty",
        "letter.jpg": "not a picture",
        "cut.png": "cut short",
        "camera.NEF": "raw file",
        "nothing.tif": "",
        "small.png": "too small",
        "strip.png": "strip",
        "pipe.jpg": "not an ordinary file",
        "link.jpg": "link to a file that is not there",
    }


@pytest.mark.slow
def test_each_bad_file_is_named_with_its_reason_and_the_rest_go_on(copied, tools):
    pictures, out = copied()
    reasons = bad_files(pictures / "spring", (pictures / "mill.png").read_bytes())
    said = tools.finish(tools.start(pictures, out, "--jobs", "2", "--json"))
    assert said.code == 3
    summary = json.loads(said.out)
    assert summary["pictures"] == 4 + len(reasons)
    assert summary["holds"] + summary["watch"] + summary["rework"] == 4
    lines = said.err.splitlines()
    assert len(lines) == len(summary["failed"]) == len(reasons)
    page = (out / "portfolio.html").read_text()
    for name, word in reasons.items():
        (line,) = (line for line in lines if line.startswith(f"critique: {name}: "))
        assert word in line
        assert any(told.startswith(f"spring/{name}: ") for told in summary["failed"])
        assert f"<li>spring/{name}: " in page
    assert len(json.loads((out / "portfolio.json").read_text())["pictures"]) == 4


def test_a_file_that_cannot_be_read_is_remembered_by_its_content_and_named_again(copied, tools):
    pictures, out = copied()
    bad_files(pictures, (pictures / "mill.png").read_bytes())
    first = make_portfolio(pictures, out, jobs=1, say=lambda line: None)
    with_ledger(out, "UPDATE unreadable SET reason = 'is remembered'")  # only a file that isn't read again says so
    (pictures / "letter.jpg").rename(pictures / "note.jpg")
    shutil.copy(pictures / "small.png", pictures / "spring" / "small too.png")
    said = tools.finish(tools.start(pictures, out, "--jobs", "1", "--json"))
    assert said.code == 3
    told = json.loads(said.out)["failed"]
    for name in ("bomb.png", "cut.png", "note.jpg", "small.png", "strip.png", "spring/small too.png"):
        assert f"{name}: is remembered" in told
    assert len(told) == len(first.failed) + 1 == len(said.err.splitlines())
    assert not any("letter.jpg" in line for line in told)


def test_a_file_that_cannot_be_read_is_tried_again_by_another_version_or_when_it_is_mended(copied, tools):
    pictures, out = copied()
    whole = (pictures / "mill.png").read_bytes()
    (pictures / "cut.png").write_bytes(whole[: len(whole) // 2])
    shutil.copy(pictures / "cut.png", pictures / "cut again.png")
    said: list[str] = []
    first = make_portfolio(pictures, out, jobs=1, say=said.append)
    assert len(said) == len(first.failed) == 2
    with_ledger(out, "UPDATE unreadable SET version = 'older', reason = 'is remembered'")
    assert make_portfolio(pictures, out, jobs=1, say=said.append).failed == first.failed
    tools.paint(pictures / "cut.png", 50)
    done = make_portfolio(pictures, out, jobs=1, say=said.append)
    assert (done.reviewed, done.standing) == (1, 5) and [line.split(":")[0] for line in done.failed] == [
        "cut again.png"
    ]
    (pictures / "cut again.png").unlink()
    make_portfolio(pictures, out, jobs=1)
    assert with_ledger(out, "SELECT count(*) FROM unreadable") == [(0,)]


def test_a_picture_that_becomes_unreadable_loses_its_review(copied):
    pictures, out = copied()
    (pictures / "letter.png").write_bytes(b"Dear Maren")
    make_portfolio(pictures, out, jobs=1, say=lambda line: None)
    (pictures / "mill.png").write_bytes(b"Dear Maren")  # which is known as unreadable
    (pictures / "dune.png").write_bytes(b"Yours, Ida")  # which is not
    done = make_portfolio(pictures, out, jobs=1, say=lambda line: None)
    assert len(done.failed) == 3 and sorted(path.name for path in (out / "reviews").iterdir()) == ["marsh", "spring"]


def with_ledger(out: Path, query: str) -> list:
    ledger = sqlite3.connect(out / "ledger.sqlite")
    with ledger:
        found = ledger.execute(query).fetchall()
        sign_all(ledger)
    ledger.close()
    return found


def test_a_folder_of_nothing_but_bad_files_ends_with_one(tools, tmp_path):
    (tmp_path / "pictures").mkdir()
    (tmp_path / "pictures" / "letter.jpg").write_bytes(b"Dear Maren")
    said = tools.finish(tools.start(tmp_path / "pictures", tmp_path / "out", "--jobs", "1"))
    assert said.code == 1 and "Traceback" not in said.err


def test_pictures_are_kept_when_a_page_cannot_be_written(copied, tools):
    pictures, out = copied()
    tools.paint(pictures / "new.png", 40)
    (out / "reviews" / "new").write_bytes(b"in the way")
    done = make_portfolio(pictures, out, jobs=1, say=lambda line: None)
    assert done.failed and "can't be written" in done.failed[0] and done.standing == 4
    (out / "reviews" / "new").unlink()
    assert make_portfolio(pictures, out, jobs=1).standing == 5


ODD = (
    "<script>alert(1)<!--.png",
    "\"><img src=x onerror='alert(1)'>.png".replace("/", ""),
    "#1 50% & 'wet' \\ {{ title }}.png",
    "=SUM(1,2).png",
    "🌳 Wiese grün.png",
    "two\nlines\t.png",
    "separator\u2028.png",
    os.fsdecode(b"caf\xe9.png"),
    "v2...png",
)


class Tags(HTMLParser):
    """Collects the elements of a page and their attributes."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.found: list[tuple[str, dict]] = []
        self.feed(page)

    def handle_starttag(self, tag, attributes):
        self.found.append((tag, dict(attributes)))


@pytest.fixture(scope="module")
def odd(made, tmp_path_factory):
    """A portfolio of one picture under many names."""
    place = tmp_path_factory.mktemp("odd")
    (place / "pictures <b>").mkdir()
    for name in ODD:
        (place / "pictures <b>" / name).write_bytes((made / "pictures" / "mill.png").read_bytes())
    done = make_portfolio(place / "pictures <b>", place / "out", jobs=1)
    assert (done.pictures, done.reviewed, done.standing) == (len(ODD), 1, len(ODD))
    return place / "out"


def test_odd_names_break_out_of_nothing(odd):
    text = (odd / "portfolio.html").read_text(encoding="utf-8")
    tags = Tags(text).found
    assert [attributes for tag, attributes in tags if tag == "script"] == [
        {"type": "application/json", "id": "data"},
        {},
    ]
    assert not any(name.startswith("on") for _, attributes in tags for name in attributes)
    assert not any(tag in ("b", "img") for tag, attributes in tags if not attributes or attributes.get("src") == "x")
    assert "<h1>pictures &lt;b&gt;</h1>" in text


def test_odd_names_appear_right_in_the_page_and_the_tables(odd):
    shown = {
        name.replace("\n", "\\n").replace("\t", "\\t").replace("\u2028", "\\u2028").replace("\udce9", "\\udce9")
        for name in ODD
    }
    text = (odd / "portfolio.html").read_text(encoding="utf-8")
    data = json.loads(text.partition('id="data">')[2].partition("</script>")[0])
    assert {picture[1] for picture in data["pictures"]} == shown
    assert {picture["path"] for picture in json.loads((odd / "portfolio.json").read_text("utf-8"))["pictures"]} == shown
    with (odd / "portfolio.csv").open(encoding="utf-8-sig", newline="") as stream:
        paths = {line["path"] for line in csv.DictReader(stream)}
    assert paths == (shown - {"=SUM(1,2).png"}) | {"./=SUM(1,2).png"}


def test_every_link_leads_to_the_review_of_its_picture(odd):
    from urllib.parse import unquote_to_bytes

    text = (odd / "portfolio.html").read_text(encoding="utf-8")
    data = json.loads(text.partition('id="data">')[2].partition("</script>")[0])
    for picture in data["pictures"]:
        name, href, thumbnail = picture[1], picture[3], picture[4]
        assert href.isascii() and thumbnail.isascii()
        record = Path(os.fsdecode(os.fsencode(odd) + b"/" + unquote_to_bytes(href))).with_name("report.json")
        assert json.loads(record.read_text(encoding="utf-8"))["picture"]["file"] == name
        assert (odd / thumbnail).stat().st_size > 0
