"""Which big shapes are told, and which light at an edge isn't, in scenes whose shapes are known."""

from dataclasses import replace

import numpy as np
import pytest
from measured import measured, said, with_others

from critique.advice.findings import finding_of
from critique.advice.judging import Case
from critique.advice.kinds import kind_named
from critique.advice.norms import read_norms
from critique.advice.praise import virtues
from critique.advice.value_ends import HEAVY_FIRST, ONE_BLACK_FIRST
from critique.advice.where import of_closed_darks
from critique.measures.pulls import Pull
from critique.perception.cielab import lab_to_srgb8
from critique.picture.areas import same_frame
from critique.picture.picture import Picture, picture_from_srgb
from tests.measures.scenes import rough

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


@pytest.mark.parametrize(("glow", "told"), [((74.0, 26.0, 52.0), True), ((60.0, 5.0, 13.0), False)])
def test_a_pale_light_in_its_glow_at_an_edge_is_told_and_a_dull_one_is_not(
    glow: tuple[float, float, float], told: bool
) -> None:
    """The peak of its pull lies on the light itself, which has next to no colour."""
    lab = np.zeros((HEIGHT, WIDTH, 3)) + np.array([62.0, -1.0, -4.0])
    y, x = np.mgrid[0:HEIGHT, 0:WIDTH]
    lab[180:] = 42, -2, 6
    lab += np.random.default_rng(2).normal(0, 1.0, lab.shape)
    far = np.hypot(y - 110, x) / 22
    lab += (np.array(glow) - lab) * np.clip(1.6 - far, 0, 1)[..., None] * 0.8
    lab[far < 0.55] = 64, -1, 6
    found = picture(lab)
    pull = Pull("left edge", 0.0025, 110 / HEIGHT, 1.7, "chroma", ("left",))
    measures = measured(found)
    measures = with_others(measures, eyepath=replace(measures.eyepath, strongest_pull=pull))
    case = Case.of(found, measures, read_norms())
    assert (finding_of(case, kind_named("edge_pull")) is not None) is told


def firs_over_a_meadow() -> np.ndarray:
    """A black wood of a seventh of the picture, with strokes in it, before a pale sky and over grass."""
    lab = np.zeros((320, 480, 3), dtype=np.float32)
    lab[:] = (76, -2, -18)
    lab[..., 0] += np.linspace(-6, 8, 320)[:, None]
    lab[200:] = (45, -4, 24)
    lab[70:206, 90:260] = (10, 0, 0)
    lab[70:206, 90:260, 0] = np.maximum(rough(np.full((136, 170), 10.0), 2.0), 1)
    return lab


def test_what_is_to_be_opened_is_not_praised_for_standing_clear_and_may_come_first() -> None:
    """The step asked to mend just the mass that had been praised for standing against the sky."""
    found = picture(firs_over_a_meadow())
    case = Case(found, measured(found), read_norms())
    told = finding_of(case, kind_named("closed_darks"))
    assert told is not None and told.level == "watch" and told.said_first == ONE_BLACK_FIRST > HEAVY_FIRST
    assert "silhouette" in {kind.id for kind, _ in virtues(case)}
    assert "silhouette" not in {kind.id for kind, _ in virtues(case, {"closed_darks"})}
    mask = same_frame(of_closed_darks(case.measures), found.lab.shape[:2])
    assert mask[80:196, 100:250].mean() > 0.95 and not mask[:60].any()
