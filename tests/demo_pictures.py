"""The demo pictures of this checkout: an installed program carries only the one that it opens."""

from pathlib import Path

FOLDER = Path(__file__).resolve().parent.parent / "demo_images"


def demo_path(name: str) -> Path:
    """Path of a file of ``demo_images``."""
    return FOLDER / name
