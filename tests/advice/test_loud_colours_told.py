"""What is said of a small thing whose colour stands alone, and where all of a picture is loud."""

import numpy as np
from measured import said

from critique.perception.cielab import lab_to_srgb8, lch_to_lab
from critique.picture.picture import Picture, picture_from_srgb


def over(*bands: tuple[float, tuple[float, float, float]], strip: tuple[float, float, float] | None = None) -> Picture:
    """Bands of L*, C*ab, h° from the top down to a fraction of the height, and a strip of water low on the left."""
    lab, top = np.empty((240, 360, 3), np.float32), 0
    for down, colour in bands:
        lab[top : round(240 * down)] = lch_to_lab(np.array(colour))
        top = round(240 * down)
    if strip is not None:
        lab[180:190, 30:120] = lch_to_lab(np.array(strip))
    return picture_from_srgb(lab_to_srgb8(lab + np.random.default_rng(2).normal(0, 1.5, lab.shape)))


GREY_DAY = ((0.55, (74.0, 3.0, 90.0)), (1.0, (44.0, 15.0, 115.0)))


def test_a_strip_of_azure_is_told_by_its_place_as_standing_alone_and_speaks_before_other_loud_colours() -> None:
    finding = said(over(*GREY_DAY, strip=(58.0, 40.0, 258.0)), "loudest colour")["loudest colour"]
    assert finding.level == "watch" and "blue low on the left" in finding.text and "stands alone" in finding.text
    assert (
        finding.said_first is not None and finding.figure < 1.0 and "little of its hue elsewhere" in finding.figure_text
    )
    assert not said(over(*GREY_DAY, strip=(58.0, 15.0, 258.0)), "loudest colour")


def test_where_half_of_it_is_loud_in_several_hues_that_is_told_and_one_raw_sky_is_told_as_such() -> None:
    sky, grass = (62.0, 48.0, 262.0), (60.0, 74.0, 115.0)
    everywhere = said(over((0.3, sky), (1.0, grass)), "loudest colour")["loudest colour"]
    assert "loud at once" in everywhere.text and everywhere.level != "holds"
    one = said(over((0.3, sky), (1.0, (50.0, 12.0, 100.0))), "loudest colour")["loudest colour"]
    assert "loud at once" not in one.text


def test_a_sky_far_louder_than_landscapes_have_weighs_and_one_that_hardly_is_does_not() -> None:
    for chroma, weighs in ((48.0, True), (42.0, False)):
        finding = said(over((0.2, (62.0, chroma, 262.0)), (1.0, (44.0, 15.0, 115.0))), "loudest colour")[
            "loudest colour"
        ]
        assert finding.level == "watch" and (finding.figure >= 1.2) is weighs
        assert (finding.said_first is not None) is weighs
