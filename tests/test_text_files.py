"""Boxes, rules and norms are text files of other people: each is read, or refused in one line that says why."""

import os
import subprocess
import sys

import numpy as np
import pytest

from critique.advice.norms import RANKS, Norms, read_norms, write_norms
from critique.errors import CritiqueError, ReferenceDataError
from critique.paints.box import load_box
from critique.photograph.corners import remembered_corners
from critique.portfolio.rules import read_rules

BOX = 'paints = ["PY74", "PB29", "red oxide"]\n'
RULES = '["green area"]\nwatch_above = 0.25\n'
READERS = {"box.toml": load_box, "rules.toml": read_rules, "norms.csv": read_norms}


def norms_text(tmp_path):
    write_norms(Norms("three", 3, {"greens.area_share": np.array(RANKS) / 100}), tmp_path / "made.csv")
    return (tmp_path / "made.csv").read_text(encoding="utf-8")


def refused(reader, path):
    with pytest.raises(CritiqueError) as caught:
        reader(path)
    line = str(caught.value)
    assert line.isprintable() and len(line) - len(str(path)) < 600 and path.stem in line, line
    return line


@pytest.mark.parametrize("name", READERS)
def test_a_byte_order_mark_is_read_over_and_other_encodings_are_told(name, tmp_path):
    good = {"box.toml": BOX, "rules.toml": RULES}.get(name) or norms_text(tmp_path)
    path = tmp_path / name
    path.write_bytes(good.encode("utf-8-sig"))
    READERS[name](path)
    path.write_bytes(good.encode("utf-16"))
    assert "UTF-16" in refused(READERS[name], path)
    path.write_bytes((good + "# grün\n").encode("latin-1"))
    assert "Latin-1" in refused(READERS[name], path) and "save it as UTF-8" in refused(READERS[name], path)
    path.write_bytes(b"\x89PNG\r\n\x1a\n\0\0\0")
    assert "not a text file" in refused(READERS[name], path)


@pytest.mark.parametrize("name", READERS)
def test_pipes_devices_folders_and_large_files_are_refused_and_not_waited_for(name, tmp_path):
    path = tmp_path / name
    os.mkfifo(path)
    assert "ordinary file" in refused(READERS[name], path)
    path.unlink()
    path.symlink_to("/dev/zero")
    assert "ordinary file" in refused(READERS[name], path)
    path.unlink()
    path.mkdir()
    assert "folder" in refused(READERS[name], path)
    path.rmdir()
    path.write_bytes(b"# " + b"x" * 1_100_000)
    assert "larger than 1 MB" in refused(READERS[name], path)
    path.unlink()
    path.symlink_to(path)
    refused(READERS[name], path)


TOML_ATTACKS = [
    "x = " + "[" * 1000 + "]" * 1000,
    "x = " + "[" * 100 + "]" * 100,
    "x = " + "{a=" * 900 + "1" + "}" * 900,
    ".".join("a" * 4000) + " = 1",
    "x = " + "1" * 400,
    "x = " + "1" * 5000,
    "x = 1e400",
    "x = [" + "1,\n" * 200_000 + "]",
    f'name = "{"x" * 9000}"',
    f'"{"x" * 9000}" = 1',
    "[x]\n" * 2,
    "x = 1979-05-27",
    "x",
]


@pytest.mark.parametrize("reader", [load_box, read_rules])
@pytest.mark.parametrize("attack", TOML_ATTACKS, ids=range(len(TOML_ATTACKS)))
def test_what_no_honest_file_holds_ends_in_one_line(reader, attack, tmp_path):
    (tmp_path / "own.toml").write_text(attack, encoding="utf-8")
    refused(reader, tmp_path / "own.toml")


OWN = '[[own]]\nname = "old green"\nmasstone = [24, -14, 10]\ntint = [66, -22, 14]\n'


@pytest.mark.parametrize(
    "text",
    [
        f'paints = ["{"o" * 600_000}", "PB29"]',
        "paints = [" + '"grean",\n' * 60_000 + "]",
        BOX + OWN.replace("24", "1" * 400),
        BOX + OWN.replace("24", "nan"),
        BOX + OWN + "white_parts = inf\n",
        BOX + OWN + f"white_parts = {'9' * 300}\n",
        BOX + OWN * 3000,
        BOX + OWN.replace("old green", "old\\u001b[31mgreen"),
        BOX + OWN.replace("old green", "old\\u202egreen"),
        BOX + OWN + 'hazard = "a\\nb"\n',
        'name = "a\\u0007b"\n' + BOX,
        BOX + OWN + "[[own.mixed]]\nparts = inf\nwith = 'white'\nwith_parts = 1\ncolour = [1, 2, 3]\n",
        BOX + "own = 3\n",
        BOX + "own = [3]\n",
        "paints = [[]]\n",
    ],
    ids=range(15),
)
def test_a_box_that_no_painter_wrote_ends_in_one_line_and_soon(text, tmp_path):
    (tmp_path / "own.toml").write_text(text, encoding="utf-8")
    refused(load_box, tmp_path / "own.toml")


def row(name, cells):
    return ",".join([name, *map(str, cells)]) + "\n"


@pytest.mark.parametrize(
    ("change", "reason"),
    [
        (lambda text: text + row("few", range(20)), "20 figures"),
        (lambda text: text + row("many", range(22)), "22 figures"),
        (lambda text: text + row("falls", range(21, 0, -1)), "fall"),
        (lambda text: text + row("none", ["nan"] * 21), "none"),
        (lambda text: text + row("huge", ["1" * 400] * 21), "none"),
        (lambda text: text + row("word", ["x"] * 21), "no number"),
        (lambda text: text + row("greens.area_share", range(21)), "two rows"),
        (lambda text: text + row("x" * 200_000, range(21)), "line of more"),
        (lambda text: text.replace("number: 3", "number: " + "3" * 5000), "number"),
        (lambda text: text.replace("number: 3", "number: -3"), "number"),
        (lambda text: text.replace("number: 3", "number: ٣"), "number"),
        (lambda text: text.replace("origin: three", "origin: a\x1b[31mb"), "origin"),
        (lambda text: text.replace("# origin", "# other"), "origin"),
        (lambda text: "", "first row"),
    ],
)
def test_a_norms_table_is_held_to_its_form(change, reason, tmp_path):
    path = tmp_path / "norms.csv"
    text = norms_text(tmp_path)
    path.write_text(text, encoding="utf-8")
    assert read_norms(path).number == 3
    path.write_text(change(text), encoding="utf-8")
    with pytest.raises(ReferenceDataError) as caught:
        read_norms(path)
    assert reason in str(caught.value) and str(caught.value).isprintable()


@pytest.mark.parametrize(
    "text",
    [
        "[" * 100_000,
        '{"a.jpg": ' + "[" * 900 + "]" * 900 + "}",
        '{"a.jpg": [[1, 2]]}',
        '{"a.jpg": "here"}',
        '{"a.jpg": [[NaN, 0], [1, 0], [1, 1], [0, 1]]}',
        '{"a.jpg": ' + "9" * 400 + "}",
        "\x00",
    ],
    ids=range(7),
)
def test_remembered_corners_that_nobody_gave_end_in_one_line(text, tmp_path):
    (tmp_path / "corners.json").write_text(text, encoding="utf-8")
    with pytest.raises(CritiqueError) as caught:
        remembered_corners(tmp_path, "a.jpg")
    assert str(caught.value).isprintable()


@pytest.mark.parametrize("encoding", ["cp1252", "latin-1", "cp437"])
def test_no_letter_fails_on_a_terminal_that_lacks_it(encoding, tmp_path):
    (tmp_path / "own.toml").write_text(BOX + OWN.replace("old green", "охра жёлтая 緑"), encoding="utf-8")
    done = subprocess.run(
        [sys.executable, "-m", "critique", "paints", "list", "--box", str(tmp_path / "own.toml")],
        capture_output=True,
        env={**os.environ, "PYTHONIOENCODING": encoding, "PYTHONUTF8": "0"},
    )
    assert done.returncode == 0 and not done.stderr, done.stderr
    assert rb"\u043e\u0445\u0440\u0430" in done.stdout
