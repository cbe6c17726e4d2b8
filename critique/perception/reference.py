"""Where the published and measured figures that the program stands on are found."""

import csv
from functools import lru_cache
from pathlib import Path

from critique.errors import ReferenceDataError

DEMO, DEMO_FILE = "demo", "tolvesk_01_ostermell_meadow.jpg"  # what commands call it, and its file in ``demo_images``

_PACKAGE = Path(__file__).resolve().parent.parent


@lru_cache(maxsize=4)
def _folder(name: str) -> Path:
    """A data folder: inside the installed package, or beside it in a source checkout."""
    for candidate in (_PACKAGE / name, _PACKAGE.parent / name):
        if candidate.is_dir():
            return candidate
    raise ReferenceDataError(f"the folder {name} that ships with the program is missing: install it again")


def reference_path(name: str) -> Path:
    """Path of a file of ``reference_data``.

    Raises
    ------
    ReferenceDataError
        When the file is not there.
    """
    path = _folder("reference_data") / name
    if not path.is_file():
        raise ReferenceDataError(f"the table {name} that ships with the program is missing: install it again")
    return path


def demo_path(name: str) -> Path:
    """Path of a file of ``demo_images``, from a checkout or an installed package."""
    path = _folder("demo_images") / name
    if not path.is_file():
        raise ReferenceDataError(f"the demo picture {name} that ships with the program is missing: install it again")
    return path


def is_demo(path: str | Path) -> bool:
    """Whether a path is that of the picture that the demo reviews."""
    return Path(path).name == DEMO_FILE and Path(path) == demo_path(DEMO_FILE)


def read_table(name: str) -> list[dict[str, str]]:
    """Rows of a CSV table of ``reference_data`` as dictionaries; lines that begin with # are notes."""
    with reference_path(name).open(encoding="utf-8", newline="") as stream:
        return list(csv.DictReader(line for line in stream if not line.startswith("#")))
