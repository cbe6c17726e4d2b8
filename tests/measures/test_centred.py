"""A picture that is built about its very middle, and ones that aren't."""

import numpy as np
import pytest

from critique.measures.aside import off_its_row
from critique.measures.centred import Centred, measure_centred
from critique.measures.eye_judging import built_about_the_middle, bullseye_fault
from critique.perception.cielab import lab_to_srgb8
from critique.picture.picture import Picture, picture_from_srgb
from tests.measured import measured, said
from tests.measures.scenes import rough

HEIGHT, WIDTH = 300, 440
SKY, FIELD, STONE, WOOD = (82.0, -3.0, -8.0), (58.0, -10.0, 26.0), (34.0, 4.0, 10.0), (44.0, -14.0, 20.0)


def country(*things: tuple[float, float, float, tuple[float, float, float]]) -> Picture:
    """A sky over a field; of each thing the middle, the width and the height (0–1), and its colour; it ends at 0.7."""
    lab = np.empty((HEIGHT, WIDTH, 3), dtype=np.float32)
    lab[:] = SKY
    lab[round(0.55 * HEIGHT) :] = FIELD
    across, down = (np.arange(WIDTH) + 0.5) / WIDTH, (np.arange(HEIGHT) + 0.5) / HEIGHT
    for middle, wide, high, colour in things:
        lab[((down > 0.7 - high) & (down < 0.7))[:, None] & (np.abs(across - middle) < wide / 2)[None]] = colour
    lab[..., 0] = rough(lab[..., 0], 1.5)
    return picture_from_srgb(lab_to_srgb8(lab))


def centred(*things: tuple[float, float, float, tuple[float, float, float]]) -> Centred:
    return measured(country(*things)).eyepath.centred


def test_a_castle_in_the_middle_with_a_like_wood_to_both_sides_is_built_about_it_and_told() -> None:
    shown = country((0.5, 0.2, 0.4, STONE), (0.12, 0.13, 0.3, WOOD), (0.88, 0.13, 0.3, WOOD))
    eye = measured(shown).eyepath
    assert built_about_the_middle(eye) and bullseye_fault(eye) is not None
    assert "very middle" in said(shown, "bull's-eye")["bull's-eye"].text


@pytest.mark.parametrize(
    "things",
    [
        ((0.4, 0.2, 0.4, STONE), (0.12, 0.13, 0.3, WOOD), (0.88, 0.13, 0.3, WOOD)),  # a step to one side
        ((0.5, 0.2, 0.4, STONE), (0.12, 0.22, 0.5, WOOD)),  # more to one side than to the other
        ((0.5, 0.04, 0.15, STONE),),  # alone: many a lone tree stands there on purpose
        ((0.5, 0.1, 0.2, STONE), (0.1, 0.2, 0.4, WOOD), (0.9, 0.2, 0.4, WOOD)),  # an avenue: most is at the sides
    ],
)
def test_a_step_to_one_side_or_more_to_one_side_mends_it(things: tuple) -> None:
    assert not built_about_the_middle(measured(country(*things)).eyepath)


def test_the_figures_are_those_of_the_drawing() -> None:
    """Two like stones whose inner sides lie at 0.4 and 0.6: nothing of them lies off, and each mirrors the other."""
    drawn = centred((0.37, 0.06, 0.2, STONE), (0.63, 0.06, 0.2, STONE))
    assert drawn.share == pytest.approx(1.0, abs=0.1) and drawn.off < 0.03 and drawn.mirror > 0.9
    aside = centred((0.2, 0.06, 0.2, STONE))
    assert aside.share < 0.1 and aside.off == pytest.approx(0.9, abs=0.1) and aside.mirror < 0.1


def test_bands_that_run_level_are_in_nobodys_middle() -> None:
    lab = np.zeros((60, 80, 3), dtype=np.float32)
    lab[30:] = FIELD
    assert measure_centred(off_its_row(lab)) == Centred(0.0, 1.0, 0.0)
