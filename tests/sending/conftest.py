"""A picture to be sent, and what every test in this folder may import."""

import sys
from pathlib import Path

import pytest
from PIL import Image

sys.path.insert(0, str(Path(__file__).parent))

from submitting import MEADOW


@pytest.fixture
def picture(tmp_path):
    """A small picture with detail, in a folder of its own."""
    folder = tmp_path / "in"
    folder.mkdir()
    with Image.open(MEADOW) as image:
        image.resize((800, 600)).save(folder / "meadow.jpg", quality=95)
    return folder / "meadow.jpg"
