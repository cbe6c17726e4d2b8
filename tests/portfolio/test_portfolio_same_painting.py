"""Files that show one painting are named on the sheet: a painting that counts three times is no habit."""

import numpy as np
import pytest
from demo_pictures import demo_path
from PIL import Image

from critique.picture.twins import likeness, likenesses
from critique.portfolio.same_painting import same_paintings


def small(name: str) -> Image.Image:
    return Image.open(demo_path(name)).convert("RGB").resize((240, 180))


@pytest.fixture
def files(tmp_path):
    meadow, snow = small("tolvesk_01_ostermell_meadow.jpg"), small("tolvesk_03_tussalund_snow.jpg")
    warm = Image.fromarray(np.clip(np.asarray(meadow) * [1.1, 1.0, 0.75], 0, 255).astype(np.uint8))
    made = {"meadow": meadow, "snow": snow, "by_a_lamp": warm, "on_its_side": meadow.rotate(90, expand=True)}
    for name, image in made.items():
        image.save(tmp_path / f"{name}.jpg", quality=90)
    return [tmp_path / f"{name}.jpg" for name in made]


def test_another_photograph_and_a_turned_file_are_found_and_another_painting_is_not(files):
    assert same_paintings(files) == ((0, 2, 3),)
    assert same_paintings([files[1], files[0], files[3]]) == ((1, 2),)


def test_of_a_lost_thumbnail_and_of_one_picture_nothing_is_said(files, tmp_path):
    assert same_paintings([tmp_path / "none.jpg", files[0]]) == ()
    assert same_paintings([files[0], tmp_path / "none.jpg", files[2]]) == ((0, 2),)


def test_many_at_once_are_held_to_each_other_as_two_alone_are():
    random = np.random.default_rng(7)
    cells = random.normal(0, 12, (4, 24, 24, 3)).astype(np.float32)
    cells[..., 0] += 50
    cells[3] = np.rot90(cells[0]) + 2
    cells[2] = 50.0
    all_of_them = likenesses(cells)
    assert all_of_them == pytest.approx(all_of_them.T, abs=0.35)  # shifted, one loses other cells than the other does
    assert all_of_them[0, 3] == pytest.approx(likeness(cells[0], cells[3]), abs=1e-5) and all_of_them[0, 3] > 0.999
    assert (all_of_them[2] == 0).all() and abs(all_of_them[0, 1]) < 0.2
