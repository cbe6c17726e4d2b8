"""Files come into their place whole, keep what they were, and leave nothing beside them."""

import os
import signal
import stat
import subprocess
import sys
import time

import pytest

from critique.publish import replace_file, sweep, written_beside
from critique.report.exchange import exchanged
from critique.report.folder import replace_files

REPORT = {"report.html": b"page", "report.json": b"{}", "plates/greens.png": b"plate"}


def hidden(folder):
    return sorted(path.name for path in folder.iterdir() if path.name.startswith("."))


def test_a_file_keeps_its_link_and_its_permissions(tmp_path):
    (tmp_path / "elsewhere").mkdir()
    real = tmp_path / "elsewhere" / "box.toml"
    real.write_bytes(b"old")
    real.chmod(0o600)
    (tmp_path / "box.toml").symlink_to(real)
    replace_file(tmp_path / "box.toml", b"new")
    assert (tmp_path / "box.toml").is_symlink() and real.read_bytes() == b"new"
    assert stat.S_IMODE(real.stat().st_mode) == 0o600
    assert not hidden(tmp_path) and not hidden(tmp_path / "elsewhere")


def test_impossible_places_are_errors_of_the_system_and_nothing_else(tmp_path):
    (tmp_path / "circle").symlink_to(tmp_path / "circle")
    (tmp_path / "file").write_bytes(b"")
    for place in (
        tmp_path,
        tmp_path / "circle",
        tmp_path / "file" / "x",
        tmp_path / ("x" * 300),
        tmp_path / "no" / "x",
    ):
        with pytest.raises(OSError):
            replace_file(place, b"new")
    assert not hidden(tmp_path)


def test_what_a_killed_run_left_is_swept_and_what_someone_is_at_work_on_stays(tmp_path):
    code = (
        "import sys, time; from pathlib import Path; from critique.publish import written_beside\n"
        "with written_beside(Path(sys.argv[1]) / 'meadow', folder=True) as one:\n"
        "    with written_beside(Path(sys.argv[1]) / 'box.toml') as two:\n"
        "        (one / 'report.html').write_bytes(b'half'); two.write_bytes(b'half')\n"
        "        print('ready', flush=True); time.sleep(600)\n"
    )
    process = subprocess.Popen([sys.executable, "-c", code, str(tmp_path)], stdout=subprocess.PIPE, text=True)
    assert process.stdout.readline() == "ready\n"
    sweep(tmp_path)
    assert len(hidden(tmp_path)) == 2
    process.send_signal(signal.SIGKILL)
    process.wait()
    (tmp_path / ".critique-0123456789ab.old").mkdir()  # as earlier versions left them
    (tmp_path / ".critique-mine").mkdir()
    (tmp_path / ".portfolio.html.77.part").touch()
    os.utime(tmp_path / ".portfolio.html.77.part", (1, 1))
    replace_files(tmp_path / "meadow", REPORT)  # the next run
    assert hidden(tmp_path) == [".critique-mine"]


def test_two_folders_change_places_in_one_step(tmp_path):
    for name in ("one", "two"):
        (tmp_path / name).mkdir()
        (tmp_path / name / name).touch()
    if not exchanged(tmp_path / "one", tmp_path / "two"):
        pytest.fail("this system exchanges folders in one step; see renameat2")
    assert (tmp_path / "one" / "two").exists() and (tmp_path / "two" / "one").exists()
    assert not exchanged(tmp_path / "one", tmp_path / "three") and (tmp_path / "one" / "two").exists()


WRITER = """
import sys
from pathlib import Path
from critique.report import exchange, folder
if sys.argv[2] == "without":
    folder.exchanged = lambda first, second: False
for number in range(10**6):
    page = b"%d" % number
    folder.replace_files(Path(sys.argv[1]), {"report.html": page, "report.json": page, "plates/greens.png": page})
"""


@pytest.mark.parametrize("way", ["with", "without"])
def test_there_is_a_report_at_every_moment(way, tmp_path):
    place = tmp_path / "meadow"
    process = subprocess.Popen([sys.executable, "-c", WRITER, str(place), way], stderr=subprocess.PIPE)
    seen = set()
    try:
        while not place.exists():
            assert process.poll() is None, process.stderr.read()
            time.sleep(0.01)
        until = time.monotonic() + 30
        while len(seen) < 20 and time.monotonic() < until:
            seen.add((place / "report.html").read_bytes())  # raises where there is none
    finally:
        process.kill()
        process.communicate()
    assert len(seen) == 20 and b"" not in seen


def test_a_file_is_on_disk_before_it_is_seen(tmp_path, monkeypatch):
    order = []
    fsync, rename = os.fsync, os.replace
    monkeypatch.setattr(os, "fsync", lambda descriptor: (order.append("settled"), fsync(descriptor))[1])
    monkeypatch.setattr(os, "replace", lambda *paths: (order.append("seen"), rename(*paths))[1])
    replace_file(tmp_path / "box.toml", b"new")
    assert order == ["settled", "seen", "settled"]
    order.clear()
    replace_files(tmp_path / "meadow", REPORT)
    assert order.count("settled") >= len(REPORT) + 2


def test_a_file_that_is_written_to_twice_at_once_is_one_of_the_two(tmp_path):
    with written_beside(tmp_path / "a") as one, written_beside(tmp_path / "a") as two:
        assert one != two
