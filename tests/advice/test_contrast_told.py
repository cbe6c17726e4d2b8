"""What is said where all of a picture is near to grey, and where all of it goes to its ends at once."""

import numpy as np
from measured import said

from critique.perception.cielab import lab_to_srgb8, lch_to_lab
from critique.picture.picture import Picture, picture_from_srgb

LCH = tuple[float, float, float]


def scene(sky: LCH, house: LCH, wood: LCH, field: LCH, path: LCH | None = None) -> Picture:
    """A house before a wood, between a sky and a field with a path in it, in L*, C*ab, h°."""
    lab = np.empty((240, 360, 3), np.float32)
    lab[:90], lab[90:150], lab[150:] = (lch_to_lab(np.array(colour)) for colour in (sky, wood, field))
    lab[60:150, 200:290] = lch_to_lab(np.array(house))
    if path is not None:
        lab[150:, 150:190] = lch_to_lab(np.array(path))
    return picture_from_srgb(lab_to_srgb8(lab + np.random.default_rng(2).normal(0, 1.5, lab.shape)))


def test_values_and_colours_near_to_grey_are_told_as_a_film_and_one_clear_colour_or_full_darks_are_none() -> None:
    dusty = ((72.0, 6.0, 250.0), (66.0, 14.0, 70.0), (27.0, 15.0, 120.0), (45.0, 15.0, 95.0))
    told = said(scene(*dusty), "value range")["value range"]
    assert told.level == "watch" and "a film of dust" in told.text and told.limit is not None
    assert told.figure < told.limit and told.figure > 4.2
    clear = said(scene(*dusty, path=(55.0, 40.0, 60.0)), "value range")["value range"]
    deep = said(scene(*dusty[:2], (12.0, 8.0, 120.0), dusty[3]), "value range")["value range"]
    assert clear.level == deep.level == "holds"


def test_full_contrast_is_told_of_blacks_whites_and_strong_colours_at_once_and_of_no_two_of_them() -> None:
    harsh = ((97.0, 3.0, 250.0), (75.0, 80.0, 85.0), (2.0, 1.0, 100.0), (55.0, 70.0, 75.0))
    told = said(scene(*harsh), "full contrast")["full contrast"]
    assert told.level == "watch" and "all go to their ends at once" in told.text
    grey = tuple((lightness, chroma / 4, hue) for lightness, chroma, hue in harsh)
    open_darks = (*harsh[:2], (30.0, 8.0, 100.0), harsh[3])
    assert not said(scene(*grey), "full contrast") and not said(scene(*open_darks), "full contrast")


def test_of_close_values_with_room_at_both_ends_both_are_to_be_pushed_apart() -> None:
    middle = ((66.0, 20.0, 250.0), (62.0, 20.0, 70.0), (38.0, 20.0, 120.0), (48.0, 20.0, 95.0))
    told = said(scene(*middle), "value range")["value range"]
    assert told.level != "holds" and "push the darks and the lights apart" in told.text
    light = tuple((lightness + 27.0, chroma, hue) for lightness, chroma, hue in middle)
    assert "push the darks some" in said(scene(*light), "value range")["value range"].text
