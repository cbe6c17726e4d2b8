"""Which big shapes are told, and which light at an edge isn't, in scenes whose shapes are known."""

import numpy as np
from measured import said

from critique.advice.kinds import kind_named
from critique.perception.cielab import lab_to_srgb8
from critique.picture.picture import Picture, picture_from_srgb

HEIGHT, WIDTH = 320, 480


def picture(lab: np.ndarray) -> Picture:
    return picture_from_srgb(lab_to_srgb8(lab.astype(np.float32)))


def text_of(found: Picture, kind: str) -> str:
    title = kind_named(kind).title
    findings = said(found, title)
    return findings[title].text if findings else ""


def snow_and_firs() -> np.ndarray:
    """A light sky and snow, and between them five dark firs that stand apart: a fifth of the picture together."""
    y, x = np.mgrid[0:HEIGHT, 0:WIDTH]
    lab = np.zeros((HEIGHT, WIDTH, 3)) + np.array([72.0, -2.0, -10.0])
    lab[260:] = 92, 0, 2
    for middle in (48, 144, 240, 336, 432):
        fir = (np.abs(x - middle) < 36) & (y > 150) & (y < 260)
        lab[fir] = 18, -5, 4
    return lab + np.random.default_rng(2).normal(0, 0.6, lab.shape)


def test_darks_in_pieces_are_told_as_one_and_none_of_them_alone() -> None:
    text = text_of(picture(snow_and_firs()), "value_masses")
    assert "a broken dark one" in text and "small dark one" not in text


def test_a_pale_sky_along_the_top_pulls_nobody_out() -> None:
    lab = snow_and_firs()
    lab[:150, :, 0] -= 10
    clear = 18 + 5 * np.sin(np.arange(WIDTH) / 40)  # the light wavers over a bank of cloud, as no frame does
    lab[..., 0] += 34 / (1 + np.exp((np.arange(HEIGHT)[:, None] - clear) / 2))
    assert "top edge" not in text_of(picture(lab), "edge_pull")
