"""Light that lies over part of one of two photographs is told from paint."""

import numpy as np
import pytest
from demo_pictures import demo_path

from critique.pair.comparison_words import PAIR, shine_in_words
from critique.pair.overlay import Overlay
from critique.pair.shine import shine_over
from critique.perception.cielab import lab_to_linear, linear_to_lab
from critique.picture.picture import lab_at
from critique.picture.read import read_picture

SCENES = ("tolvesk_01_ostermell_meadow.jpg", "tolvesk_05_orvalden_beeches.jpg", "tolvesk_08_ostermell_second_pass.jpg")


@pytest.fixture(scope="module", params=SCENES)
def lab(request):
    return np.asarray(lab_at(read_picture(demo_path(request.param)), 320))


@pytest.fixture(scope="module", params=SCENES[:2])  # in the third what lies there has hardly any darks to be lifted
def with_darks(request):
    return np.asarray(lab_at(read_picture(demo_path(request.param)), 320))


def spot(lab, x=0.3, y=0.7, reach=0.16):
    """1 in the middle of a soft round spot, 0 far from it: (height, width, 1)."""
    rows, columns = np.mgrid[: lab.shape[0], : lab.shape[1]]
    off = np.hypot(columns - x * lab.shape[1], rows - y * lab.shape[0]) / (reach * lab.shape[1])
    return np.exp(-(off**2))[..., None].astype(np.float32)


def over(first, second):
    noise = np.random.default_rng(3).normal(0, 0.003, second.shape)  # a camera's
    seen = linear_to_lab(np.clip(lab_to_linear(second) + noise, 0, 1).astype(np.float32))
    return Overlay(first, seen, np.ones(first.shape[:2], dtype=bool))


def in_light(lab, light):
    return linear_to_lab(np.clip(light, 0, 1).astype(np.float32))


@pytest.mark.parametrize("strength", [0.22, 0.35])
def test_a_reflection_is_found_where_it_lies_on_either(with_darks, strength):
    shone = in_light(with_darks, lab_to_linear(with_darks) + strength * spot(with_darks))
    found, turned = shine_over(over(with_darks, shone)), shine_over(over(shone, with_darks))
    for one, which in ((found, "second"), (turned, "first")):
        assert one is not None and one.over == which
        assert (one.x, one.y) == pytest.approx((0.3, 0.7), abs=0.08)
    assert found.light == pytest.approx(strength, rel=0.35)
    told = shine_in_words(found, PAIR)
    assert told.startswith("Low on the left, light lies over") and "the repaint" in told
    assert "the original" in shine_in_words(turned, PAIR)


def test_a_reflection_is_found_in_another_exposure_and_by_a_warmer_lamp(with_darks):
    shone = in_light(with_darks, lab_to_linear(with_darks) * np.float32((0.9, 0.82, 0.7)) + 0.25 * spot(with_darks))
    found = shine_over(over(with_darks, shone))
    assert found is not None and found.over == "second"


@pytest.mark.slow
def test_paint_is_no_shine(lab):
    light, here = lab_to_linear(lab), spot(lab)
    rng = np.random.default_rng(1)
    lifted = lab.copy()
    lifted[..., :1] = np.clip(lab[..., :1] + 15 * here, 0, 100)
    painted = {
        "as it was": lab,
        "scumbled": in_light(lab, light * (1 - 0.4 * here) + 0.4 * 0.85 * here),
        "thinly scumbled": in_light(lab, light * (1 - 0.2 * here) + 0.2 * 0.85 * here),
        "glazed dark": in_light(lab, light * (1 - 0.5 * here)),
        "painted over": in_light(lab, np.where(here > 0.5, 0.5 + 0.05 * rng.normal(size=light.shape), light)),
        "lighter in its own drawing": lifted,
        "exposed more": in_light(lab, light * 1.2),
    }
    called = {name: shine_over(over(lab, now)) for name, now in painted.items()}
    assert {name: one for name, one in called.items() if one is not None} == {}


def test_a_shadow_over_the_first_is_no_shine_over_the_second(lab):
    shadowed = in_light(lab, lab_to_linear(lab) * (1 - 0.35 * spot(lab, reach=0.3)))
    assert shine_over(over(shadowed, lab)) is None and shine_over(over(lab, shadowed)) is None


def test_a_picture_as_even_as_a_wall_tells_nothing():
    even = np.full((200, 320, 3), (55, 3, 8), np.float32)
    assert shine_over(over(even, in_light(even, lab_to_linear(even) + 0.3 * spot(even)))) is None
