"""Whether a result that was kept would still be the same today."""

import hashlib
from functools import cache
from importlib import metadata
from pathlib import Path

from critique import __version__
from critique.perception.reference import reference_path

# Everything that a review comes from. What only gathers reviews may change without measuring again.
LAYERS = ("perception", "photograph", "picture", "measures", "paints", "advice", "tasks", "report", "words")
MODULES = ("plain.py", "regular_file.py", "text_file.py", "portfolio/row.py", "portfolio/work.py")
# Libraries whose releases have moved figures in their last digits, or decide which files can be read.
LIBRARIES = ("numpy", "scipy", "scikit-image", "scikit-learn", "Pillow", "matplotlib")
READERS = ("pillow-heif", "tifffile", "imagecodecs")  # some of them need not be there


@cache
def measuring_version() -> str:
    """A fingerprint (16 hex digits) of the program's measuring: its own sources, its tables and its libraries.

    Nobody has to remember to raise it: any change of the code or of a table gives another one.
    """
    package = Path(__file__).resolve().parent.parent
    fingerprint = hashlib.sha256(__version__.encode())
    sources = [path for layer in LAYERS for path in package.joinpath(layer).rglob("*") if _is_source(path)]
    sources += [package / module for module in MODULES]
    tables = reference_path("norms.csv").parent
    sources += [path for path in tables.rglob("*") if path.is_file() and path.suffix == ".csv"]
    for path in sorted(sources, key=lambda path: (path.parent.name, path.name)):
        fingerprint.update(path.name.encode() + b"\0" + hashlib.sha256(path.read_bytes()).digest())
    for library in LIBRARIES + READERS:
        fingerprint.update(f"{library} {_version_of(library)}\n".encode())
    return fingerprint.hexdigest()[:16]


def _version_of(library: str) -> str:
    try:
        return metadata.version(library)
    except metadata.PackageNotFoundError:
        return "none"


def _is_source(path: Path) -> bool:
    return path.is_file() and path.suffix in (".py", ".j2", ".css", ".js") and not path.name.startswith("contact_sheet")
