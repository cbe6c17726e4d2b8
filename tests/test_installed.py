"""The program as it is installed: from a wheel, away from its source."""

import json
import os
import subprocess
import sys
import sysconfig
import venv
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent


pytestmark = pytest.mark.slow


@pytest.fixture(scope="module")
def installed(tmp_path_factory):
    """Path of the ``critique`` command in a new environment that holds the wheel; its libraries are this one's."""
    folder = tmp_path_factory.mktemp("installed")
    pip = [sys.executable, "-m", "pip", "--disable-pip-version-check", "-q"]
    subprocess.run([*pip, "wheel", "--no-deps", "-w", str(folder), str(ROOT)], check=True, capture_output=True)
    (wheel,) = folder.glob("*.whl")
    venv.create(folder / "venv", with_pip=False)
    (site,) = (folder / "venv" / "lib").glob("python*/site-packages")
    (site / "libraries.pth").write_text(sysconfig.get_paths()["purelib"] + "\n")
    python = folder / "venv" / "bin" / "python"
    # Even where the program is installed beside this test: its libraries are lent, the program must be the wheel's.
    install = [*pip, f"--python={python}", "install", "--no-deps", "--ignore-installed", str(wheel)]
    subprocess.run(install, check=True, capture_output=True)
    return folder / "venv" / "bin" / "critique"


def test_the_demo_runs_from_an_installed_wheel(installed, tmp_path):
    clean = {name: value for name, value in os.environ.items() if name != "PYTHONPATH"}
    done = subprocess.run(
        [str(installed), "demo", "--out", "out", "--json"], cwd=tmp_path, env=clean, capture_output=True, text=True
    )
    assert done.returncode == 0, done.stderr
    record = json.loads(done.stdout)
    assert record["picture"]["file"].startswith("tolvesk_01")
    assert list((tmp_path / "out").glob("*/report.html"))


def test_the_installed_program_carries_its_own_data(installed):
    code = (
        "from critique.perception.reference import *; "
        "print(reference_path('norms.csv'), demo_path('tolvesk_01_ostermell_meadow.jpg'))"
    )
    python = str(installed.parent / "python")
    done = subprocess.run([python, "-I", "-c", code], capture_output=True, text=True, check=True)
    norms, demo = (Path(line) for line in done.stdout.split())
    assert "site-packages" in norms.parts
    assert "site-packages" in demo.parts


def test_the_wheel_carries_no_picture_that_the_program_never_opens(installed):
    pictures = [path.name for path in installed.parents[1].rglob("critique/demo_images/*")]
    assert pictures == ["tolvesk_01_ostermell_meadow.jpg"]
