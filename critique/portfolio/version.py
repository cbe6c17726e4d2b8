"""Whether a result that was kept would still be the same today."""

import hashlib
from functools import cache
from importlib import metadata
from pathlib import Path

from critique import __version__
from critique.perception.reference import reference_path

# What no figure, sentence or plate of a review comes from: the commands, two pictures and more, and what only gathers
# reviews that are done. All else of the package counts, so that what is added counts without being named here.
LEFT_OUT = (
    "__main__.py",
    "__init__.py",
    "__init__.pyi",
    "library.py",
    "cli",
    "pair",
    "reference_data",  # its tables are counted by themselves; as installed they lie in the package
    "demo_images",
    *(
        f"portfolio/{name}.py"
        for name in """__init__ body cluster columns common content engine gathering ledger ledger_trust memory
        moving places printing progress ranking reviewing rules run same_painting survey tables together version
        walls""".split()
    ),
    "report/contact_sheet.py",
    *(f"report/templates/contact_sheet.{suffix}" for suffix in ("css", "html.j2", "js")),
)
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
    sources = measuring_sources(package)
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


def measuring_sources(package: Path) -> list[Path]:
    """Every source file of the package, less those that are left out."""
    found = (path for path in package.rglob("*") if path.is_file() and path.suffix in (".py", ".j2", ".css", ".js"))
    return [path for path in found if not _left_out(path.relative_to(package).as_posix())]


def _left_out(path: str) -> bool:
    return any(path == name or path.startswith(f"{name}/") for name in LEFT_OUT)
