"""How much of a picture is bare white sky."""

import numpy as np
import pytest
from measured import measured, said

from critique.advice.fault_limits import judge_bare_sky
from critique.picture.picture import Picture, picture_from_lab, picture_from_srgb

HEIGHT, WIDTH = 400, 600
TITANIUM = (97.5, -0.5, 1.5)  # white out of the tube, as it dries (from memory)


def field(sky: tuple[float, float, float] = TITANIUM, *, part: float = 1.0, land: float = 38.0) -> Picture:
    """A sky that is so coloured from the left over a part of its width, and blue beyond, over woods and a field."""
    rng = np.random.default_rng(3)
    lab = np.empty((HEIGHT, WIDTH, 3), np.float32)
    lab[:170] = (72, -4, -22)
    lab[:170, : round(part * WIDTH)] = sky
    lab[170:230] = (24, -8, 12)
    lab[230:] = (land, -15, 26)
    lab[170:, :, 0] += np.repeat(np.repeat(rng.normal(0, 6, (115, 300)), 2, axis=0), 2, axis=1)
    return picture_from_lab(lab, picture_from_srgb(np.zeros((*lab.shape[:2], 3), np.uint8)))


@pytest.mark.parametrize("part", [0.3, 1.0])
def test_its_share_is_what_was_left_white(part: float) -> None:
    found = measured(field(part=part)).bare_sky
    assert found.share == pytest.approx(part * 170 / HEIGHT, abs=0.025)
    assert found.mask.mean() == pytest.approx(found.share, abs=0.02)


def test_a_sky_with_tone_or_colour_is_not_bare() -> None:
    for sky in ((90.0, 0.0, 2.0), (97.0, 0.0, 14.0), (93.0, -3.0, -8.0)):
        found = measured(field(sky)).bare_sky
        assert found.share < 0.005 and judge_bare_sky(found) == "holds"


def test_over_land_as_light_it_is_at_home() -> None:
    assert judge_bare_sky(measured(field()).bare_sky) == "watch"
    assert judge_bare_sky(measured(field(land=90.0)).bare_sky) == "holds"


def test_a_bright_cloud_in_a_sky_with_tone_is_no_bare_sky() -> None:
    """Of white summer clouds, a fiftieth of a picture, a reader said that they hold some tone."""
    few, some = (measured(field(part=part)) for part in (0.1, 0.3))
    assert few.bare_sky.share > 0.03
    assert judge_bare_sky(few.bare_sky, sky_share=few.parts.sky_share) == "holds"
    assert judge_bare_sky(some.bare_sky, sky_share=some.parts.sky_share) == "watch"


def test_a_white_sky_over_most_of_a_picture_does_not_make_it_one_in_light_tones() -> None:
    """Else a sky left white all over would pass where half of it is found fault with."""
    picture = field()
    lab = np.concatenate([np.broadcast_to(picture.lab[:1], (300, *picture.lab.shape[1:])), picture.lab])
    tall = picture_from_lab(np.ascontiguousarray(lab), picture_from_srgb(np.zeros((*lab.shape[:2], 3), np.uint8)))
    found = measured(tall).bare_sky
    assert found.share > 0.5 and found.middle < 45
    assert judge_bare_sky(found) == "watch"


def test_it_is_said_of_the_sky_or_of_the_part_that_is_bare() -> None:
    whole, part = (said(field(part=part), "bare white sky")["bare white sky"] for part in (1.0, 0.3))
    assert whole.text.startswith("The sky, about two fifths of the picture, is bare white")
    assert part.text.startswith("Part of the sky, about a tenth of the picture, is bare white")
