"""A finding whose part's plate doesn't show where it lies has a plate of its own."""

import numpy as np

from critique.advice.kinds import kind_named
from critique.perception.cielab import lab_to_srgb8
from critique.picture.picture import picture_from_srgb
from critique.report.plates.where import where_plate
from tests.measured import measured


def test_an_even_foreground_is_shown_in_colour_and_nothing_else_of_the_picture() -> None:
    lab = np.full((120, 160, 3), (60.0, -30.0, 30.0), np.float32)
    picture = picture_from_srgb(lab_to_srgb8(lab), "green.png")
    where = kind_named("even_foreground").where
    assert where is not None
    plate = where_plate(picture, where(measured(picture)), "foreground", "Even foreground")
    codes = np.asarray(plate.image.convert("RGB")).astype(int)
    coloured = np.ptp(codes, axis=-1).mean(axis=1)
    assert coloured[round(0.8 * len(codes)) :].min() > 40 > 15 > coloured[: round(0.65 * len(codes))].max()
