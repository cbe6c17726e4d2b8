"""Errors say what is wrong; the command line says which option mends it."""

import errno
import pickle
import re
import subprocess
import sys
from pathlib import Path
from typing import get_args

import click
import numpy as np
import pytest
from click.testing import CliRunner
from PIL import Image

import critique
from critique.cli.main import main
from critique.cli.mending import MENDS, line_of
from critique.errors import CritiqueError, Mend, OutputError, unwritten

PACKAGE = Path(critique.__file__).parent


def options_of(command: click.Command) -> set[str]:
    own = {name for param in command.params for name in param.opts}
    below = command.commands.values() if isinstance(command, click.Group) else ()
    return own.union(*(options_of(each) for each in below))


def test_every_way_to_mend_has_its_words_and_every_option_in_them_is_there() -> None:
    assert set(MENDS) == set(get_args(Mend))
    named = {option for words in MENDS.values() for option in re.findall(r"--[a-z-]+", words)}
    assert named and named <= options_of(main) | {"--help"}


def test_no_error_of_the_core_names_an_option() -> None:
    for path in sorted(PACKAGE.rglob("*.py")):
        if "cli" in path.relative_to(PACKAGE).parts:
            continue
        raised = re.findall(r"raise \w+\((?:[^()]|\([^()]*\))*\)", path.read_text(encoding="utf-8"))
        assert not [text for text in raised if re.search(r"--[a-z]|critique [a-z]+ |pip install", text)], path.name


@pytest.mark.parametrize("mend", get_args(Mend))
def test_an_error_keeps_what_mends_it_on_its_way_between_processes(mend: Mend) -> None:
    error = pickle.loads(pickle.dumps(OutputError("out: can't be written", mend=mend)))
    assert (type(error), error.what, error.mend) == (OutputError, "out: can't be written", mend)
    assert line_of(error) == f"out: can't be written{MENDS[mend]}" and "\n" not in line_of(error)


def test_an_error_without_such_a_way_is_told_as_it_is() -> None:
    assert line_of(CritiqueError("there are no pictures")) == "there are no pictures"


@pytest.mark.parametrize(
    ("number", "mend"),
    [
        (errno.ENOSPC, "room_or_other_folder"),
        (errno.EDQUOT, "room_or_other_folder"),
        (errno.ENOTDIR, "other_folder"),
        (errno.EROFS, "other_folder"),
        (errno.EACCES, "other_folder"),
    ],
)
def test_room_is_asked_for_only_where_room_is_missing(number: int, mend: Mend) -> None:
    error = unwritten("out: can't be written", OSError(number, "Some Reason", "out"))
    assert (error.mend, "make room" in line_of(error)) == (mend, mend == "room_or_other_folder")
    assert line_of(error).startswith("out: can't be written (some reason)")


def test_an_out_folder_that_is_a_file_is_not_told_to_make_room(tmp_path: Path) -> None:
    (tmp_path / "file").write_bytes(b"")
    picture = tmp_path / "meadow.png"
    Image.fromarray(np.full((80, 100, 3), (90, 120, 60), dtype=np.uint8)).save(picture)
    told = CliRunner().invoke(main, ["review", str(picture), "--out", str(tmp_path / "file")])
    assert told.exit_code == 1
    assert "not a directory" in told.stderr and "--out" in told.stderr and "make room" not in told.stderr


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="a device that is always full is Linux's")
def test_standard_output_on_a_full_disk_is_no_fault_of_the_program() -> None:
    command = [sys.executable, "-c", "from critique.cli.main import run; run()", "paints", "list"]
    with open("/dev/full", "wb") as full:
        done = subprocess.run(command, stdout=full, stderr=subprocess.PIPE, text=True)
    assert done.returncode == 1
    assert "make room" in done.stderr and "fault of the program" not in done.stderr
    assert len(done.stderr.splitlines()) == 1
