"""Whether the horizon comes forward is checked on plains and hills of known colour."""

from dataclasses import replace

import numpy as np
import pytest
from measured import measured
from one_picture import one_of_lab

from critique.measures.far_warmth import WATCH, FarWarmth, comes_forward, measure_far_warmth
from critique.picture.picture import Picture

HEIGHT, WIDTH = 300, 420
SKY, NEAR, COOL, WARM = (80, -3, -8), (48, -6, 18), (60, -2, -6), (45, 18, 46)  # CIELAB


def plain(
    hills: tuple[float, float, float],
    *,
    mirrored: bool = False,
    sky: tuple[float, float, float] = SKY,
    near: tuple[float, float, float] = NEAR,
    until: float = 1.0,
) -> FarWarmth:
    """A sky, hills of that colour at the horizon, and a meadow in front, with the grain of brushwork.

    Beyond ``until`` of the width the hills have the meadow's colour.
    """
    rng = np.random.default_rng(2)
    down, across = np.mgrid[0:HEIGHT, 0:WIDTH] + 0.5
    top = (0.5 - 0.02 * np.sin(across / 40)) * HEIGHT
    far = (down < 0.6 * HEIGHT) & (across < until * WIDTH)
    lab = np.where((down < top)[..., None], sky, np.where(far[..., None], hills, near))
    lab = lab + rng.normal(0, 2.0, (HEIGHT, WIDTH, 1)) * (1, 0.2, 0.4) * np.where(down < top, 0.3, 1.5)[..., None]
    picture = one_of_lab((lab[:, ::-1] if mirrored else lab).astype(np.float32))
    return measure_far_warmth(picture, measured(picture).parts, measured(picture).division)


def test_hills_that_recede_hold_and_hills_as_warm_as_earth_come_forward() -> None:
    assert comes_forward(plain(COOL)) is None
    found = plain(WARM)
    assert comes_forward(found) is not None
    assert found.far == pytest.approx(18 * 0.5 + 46 * 0.866, abs=4)  # its own colour along a hue of 60°
    assert 0.48 < found.y < 0.62


@pytest.mark.slow
def test_the_warmer_the_hills_the_farther_they_come() -> None:
    forward = [plain((45, 18 * part, 46 * part)).forward for part in (0.3, 0.6, 1.0, 1.2)]
    assert forward == sorted(forward)
    assert comes_forward(plain((45, 18 * 0.3, 46 * 0.3))) is None


def test_a_lit_ridge_is_left_in_peace() -> None:
    assert comes_forward(plain((78, 18, 46))) is None


def test_mirrored_it_comes_forward_as_far() -> None:
    assert plain(WARM, mirrored=True).forward == pytest.approx(plain(WARM).forward, abs=1.5)


@pytest.mark.slow
def test_a_ridge_as_warm_as_the_ground_in_front_comes_forward_where_it_runs_along_half_of_the_horizon() -> None:
    earth, field = (45, 15, 40), (50, 13, 38)  # warm as earth both
    assert comes_forward(plain(earth, near=field)) is None  # nothing parts them
    warmer = (45, 18, 46)
    meadow = plain(warmer, sky=(82, 10, 26))  # an evening sky, which takes from the difference
    assert meadow.ridge
    assert comes_forward(meadow) is not None
    assert comes_forward(plain(warmer, sky=(82, 10, 26), until=0.15)) is None  # a headland


def test_under_a_red_sky_only_what_is_far_warmer_than_its_limits_comes_forward() -> None:
    hot, red = (45, 28, 54), (70, 26, 34)
    assert comes_forward(plain(hot, sky=(82, 10, 26))) is not None
    assert comes_forward(plain(hot, sky=red)) is None
    assert comes_forward(plain((45, 40, 66), sky=red)) is not None


def test_far_land_lies_along_a_level_edge() -> None:
    """Roofs and a lit cliff are as warm under the sky, and nothing runs level from side to side near them."""
    found = plain(WARM)
    assert found.level and found.foot
    assert comes_forward(replace(found, level=False)) is None


def test_hills_parted_from_the_nearer_land_by_a_level_edge_need_less() -> None:
    a_little = replace(plain(WARM), forward=3.0)
    assert comes_forward(a_little) == "watch"
    assert comes_forward(replace(a_little, foot=False)) is None


def test_slanting_roofs_before_the_sky_are_no_horizon() -> None:
    rng = np.random.default_rng(2)
    down, across = np.mgrid[0:HEIGHT, 0:WIDTH] + 0.5
    down, across = down / HEIGHT, across / WIDTH
    roofs = np.minimum(np.abs(across - 0.22), np.abs(across - 0.62)) * 1.1 + 0.2  # two gables, one behind the other
    eaves = roofs + 0.22
    lab = np.where((down < roofs)[..., None], SKY, np.where((down < eaves)[..., None], WARM, NEAR))
    lab = lab + rng.normal(0, 2.0, (HEIGHT, WIDTH, 1)) * (1, 0.2, 0.4)
    picture = one_of_lab(lab.astype(np.float32))
    found = measure_far_warmth(picture, measured(picture).parts, measured(picture).division)
    assert found.forward > WATCH  # warm enough by its colour alone
    assert comes_forward(found) is None


@pytest.mark.slow
def test_hills_on_a_level_edge_come_forward_before_a_field_as_warm_of_another_colour() -> None:
    rust, ripe = (44, 16, 32), (60, -2, 42)
    found = plain(rust, near=ripe)
    assert found.ridge and comes_forward(found) == "watch"
    assert comes_forward(plain(rust, near=ripe, until=0.3)) is None  # a bush
    assert comes_forward(plain((44, 4, 12), near=ripe)) is None  # a brown as grey as air makes it
    assert plain(rust, near=ripe, mirrored=True).forward == pytest.approx(found.forward, abs=1.5)


def between_slopes(hills: tuple[float, float, float], *, foot: float = 0.6) -> Picture:
    """Mountains of that colour, down to ``foot`` at most, behind slopes of a valley; no edge runs level."""
    rng = np.random.default_rng(2)
    down, across = np.mgrid[0:HEIGHT, 0:WIDTH] + 0.5
    down, across = down / HEIGHT, across / WIDTH
    crest = 0.42 + 0.05 * np.sin(across * 9) + 0.02 * np.sin(across * 31)
    sides = foot - 0.25 * np.abs(across - 0.55)
    lab = np.where((down < crest)[..., None], SKY, np.where((down < sides)[..., None], hills, NEAR))
    lab = lab + rng.normal(0, 2.0, (HEIGHT, WIDTH, 1)) * (1, 0.2, 0.4) * np.where(down < crest, 0.3, 1.5)[..., None]
    return one_of_lab(lab.astype(np.float32))


@pytest.mark.parametrize(
    ("hills", "foot", "told"),
    [(WARM, 0.6, True), ((60, 18, 46), 0.6, True), ((70, 18, 46), 0.6, False), (WARM, 1.0, False), (COOL, 0.6, False)],
)
def test_warm_mountains_are_far_by_their_shape_though_no_edge_runs_level_and_a_cliff_to_the_foot_is_not(
    hills: tuple[float, float, float], foot: float, told: bool
) -> None:
    picture = between_slopes(hills, foot=foot)
    found = measure_far_warmth(picture, measured(picture).parts, measured(picture).division)
    assert not found.level
    assert (comes_forward(found) == "watch") is told


@pytest.mark.parametrize(("hills", "told"), [(WARM, True), (COOL, False)])
def test_they_are_seen_under_the_sky_though_the_horizon_was_taken_to_lie_lower(
    hills: tuple[float, float, float], told: bool
) -> None:
    """Where a pale sea is taken for sky, the horizon is thought to lie below it."""
    picture = between_slopes(hills)
    parts, division = measured(picture).parts, measured(picture).division
    lower = replace(division, height=0.75, path=np.full_like(division.path, 0.75))
    found = measure_far_warmth(picture, replace(parts, horizon=0.75), lower)
    assert (comes_forward(found) == "watch") is told
