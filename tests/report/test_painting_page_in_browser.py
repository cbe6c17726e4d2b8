"""A painting's page, and its plan, on narrow screens."""

from pathlib import Path

import numpy as np
import pytest

from critique.painting.keep import Done, keep
from critique.painting.page import PAGE
from critique.picture.picture import picture_from_srgb

pytestmark = pytest.mark.browser


def painted(number: int):
    rng = np.random.default_rng(number)
    return picture_from_srgb(rng.integers(0, 256, (120, 160 + 40 * number, 3), dtype=np.uint8))


def write(text: str):
    def into(place: Path) -> list[Path]:
        (place / "report.json").write_text(f'"{text}"', encoding="utf-8")
        (place / "report.html").write_text(text, encoding="utf-8")
        return [place / "report.html"]

    return into


@pytest.mark.parametrize("width", [320, 390, 1280])
def test_nothing_sticks_out_of_a_paintings_page(tmp_path, on_a_screen, width):
    folder = tmp_path / "out" / ("a_very_long_name_of_a_painting_" * 3)
    for number in range(3):
        told = f"What holds it back most is number {number}, and {'a_long_word' * 6}."
        source = tmp_path / f"meadow{number}{'x' * 60}.jpg"
        keep(folder, Done("review", tmp_path / "meadow.jpg", source, painted(number), told), write(told))
    page = (folder / PAGE).read_text(encoding="utf-8")
    assert page.count("<img") == 3
    assert on_a_screen(page, width) == f"width {width} sticking  broken 0"
