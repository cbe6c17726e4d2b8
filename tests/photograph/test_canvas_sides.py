"""Sides are chosen by what lies around all four of them, and laid through the edge to a small part of a px."""

import numpy as np
import pytest
from scipy.ndimage import gaussian_filter
from skimage.draw import polygon

from critique.photograph.canvas import STRAIGHT, find_canvas
from critique.photograph.canvas_edge import meetings
from critique.photograph.canvas_joint import chosen, corners_of
from critique.photograph.canvas_near import APART, with_near
from critique.photograph.canvas_pool import CUT_BY, border_line, pooled
from critique.photograph.canvas_refit import refitted, wavering
from critique.photograph.canvas_told import COMMON, FIGURES, told
from critique.photograph.canvas_worth import choice_worth, fitted_worth

SIZE = (480, 640)
BASE = np.array([[140.0, 100.0], [500.0, 110.0], [490.0, 370.0], [150.0, 380.0]])
NO_LINES = np.zeros((0, 2, 2))
NOT_CUT = np.zeros(4, dtype=bool)


def sides(corners):
    return np.stack([corners, np.roll(corners, -1, axis=0)], axis=1)


def grown(corners, by):
    """Corners whose sides all lie farther outside by ``by`` px."""
    along = np.roll(corners, -1, axis=0) - corners
    outward = np.stack([along[:, 1], -along[:, 0]], axis=1) / np.hypot(*along.T)[:, None]
    lines = sides(corners) + by * outward[:, None]
    return meetings(np.roll(lines, 1, axis=0), lines)


def photograph(painted, frame=None, colour=(30, 25, 20), band=None, *, scale=4):
    """A mottled painting, dark below row ``band``, in a frame as far as ``frame``, on a light wall.

    Drawn ``scale`` times finer, so that slanting edges are soft.
    """
    random = np.random.default_rng(3)
    codes = np.full((SIZE[0] * scale, SIZE[1] * scale, 3), (205, 200, 190), dtype=np.float32)
    if frame is not None:
        codes[polygon(*(frame * scale - 0.5).T[::-1], codes.shape[:2])] = colour
    coarse = random.uniform(60, 220, (SIZE[0] // 16, SIZE[1] // 16, 3)).repeat(16 * scale, 0).repeat(16 * scale, 1)
    if band is not None:
        coarse[band * scale :] *= 0.35
    inside = polygon(*(painted * scale - 0.5).T[::-1], codes.shape[:2])
    codes[inside] = coarse[inside]
    small = codes.reshape(SIZE[0], scale, SIZE[1], scale, 3).mean(axis=(1, 3))
    return np.clip(small + random.normal(0, 2, small.shape), 0, 255).astype(np.uint8)


def test_edges_of_all_candidates_are_gathered_once():
    inner = grown(BASE, -8)
    candidates = np.stack([sides(BASE), sides(inner), sides(BASE + 0.2)], axis=1)
    pool = pooled(BASE, candidates, NO_LINES, SIZE, NOT_CUT)
    assert pool.side.tolist() == [0, 0, 1, 1, 2, 2, 3, 3]
    longest = np.hypot(*(np.roll(BASE, -1, axis=0) - BASE).T).max()
    assert pool.away[::2] == pytest.approx(0, abs=1e-9) and pool.away[1::2] == pytest.approx(-8 / longest, abs=1e-3)


def test_lines_that_run_another_way_or_lie_far_off_are_no_sides():
    level, far = np.array([[0.0, 240.0], [639.0, 240.0]]), np.array([[0.0, 5.0], [639.0, 5.0]])
    pool = pooled(BASE, sides(BASE)[:, None], np.stack([level, far]), SIZE, NOT_CUT)
    assert len(pool.side) == 4


def test_a_border_stands_in_for_a_side_that_lies_along_it():
    base = BASE.copy()
    base[[0, 3], 0] = 2.0
    pool = pooled(base, sides(base)[:, None], NO_LINES, SIZE, NOT_CUT)
    assert pool.side[pool.border].tolist() == [3]
    assert pool.lines[pool.border][0, :, 0] == pytest.approx(-CUT_BY * 640)
    cut = np.array([False, False, False, True])
    assert (pooled(base, sides(base)[:, None], NO_LINES, SIZE, cut).side == 3).sum() == 1
    assert border_line(3, SIZE)[:, 0] == pytest.approx(-CUT_BY * 640)


def test_an_edge_near_a_border_that_stands_in_for_a_side_may_be_that_side():
    base = BASE.copy()
    base[[0, 3], 0] = -CUT_BY * 640
    painted = base.copy()
    painted[[0, 3], 0] = 9.0
    pool = pooled(base, sides(painted)[:, None], NO_LINES, SIZE, np.array([False, False, False, True]))
    assert pool.border[pool.side == 3].tolist() == [True, False]
    assert pool.lines[pool.side == 3][1, :, 0] == pytest.approx(9.0)


@pytest.mark.parametrize("by", [-8, 9])
def test_a_painted_edge_near_a_side_laid_elsewhere_joins_the_pool(by):
    codes = photograph(BASE, grown(BASE, 30), scale=2)
    base = grown(BASE, by)
    pool = pooled(base, sides(base)[:, None], NO_LINES, SIZE, NOT_CUT)
    more = with_near(codes, pool, base)
    longest = np.hypot(*(np.roll(base, -1, axis=0) - base).T).max()
    for side in range(4):
        away = more.away[more.side == side]
        assert np.abs(away * longest + by).max(axis=1).min() < 0.8  # px from the painted edge at both of its ends
        apart = np.abs(away[:, None] - away).max(axis=2) + np.eye(len(away))
        assert apart.min() >= APART - 1e-9


def test_an_even_surface_has_no_further_edges():
    pool = pooled(BASE, sides(BASE)[:, None], NO_LINES, SIZE, NOT_CUT)
    assert len(with_near(np.full((*SIZE, 3), 128, np.uint8), pool, BASE).side) == 4


def test_no_line_near_a_very_short_side_runs_another_way():
    # A slip of a canvas, 31 times as long as high: what leans by a hundredth of its length leans steeply at its ends.
    slip = np.array([[40.0, 200.0], [600.0, 200.0], [600.0, 218.0], [40.0, 218.0]])
    codes = np.full((*SIZE, 3), 200, np.uint8)
    rows = np.arange(190, 229)
    for x in (40, 600):  # a slanting edge through each end, 30° askew
        codes[rows[:, None], np.clip((x + (rows - 209) * 0.5).astype(int)[:, None] + np.arange(6), 0, 639)] = 30
    pool = with_near(codes, pooled(slip, np.zeros((4, 0, 2, 2)), NO_LINES, SIZE, NOT_CUT), slip)
    assert np.isfinite(pool.away).all() and np.isfinite(told(codes, pool, slip).figures).all()


def test_choices_cross_where_their_edges_do():
    pool = pooled(BASE, sides(BASE)[:, None], NO_LINES, SIZE, NOT_CUT)
    assert corners_of(pool, np.arange(4)[None])[0] == pytest.approx(BASE)


@pytest.mark.slow
@pytest.mark.parametrize("odd", range(4))
def test_a_side_laid_on_a_line_inside_the_painting_is_moved_to_the_frames_inner_edge(odd):
    painted, frame = BASE, grown(BASE, 30)
    codes = photograph(painted, frame, band=350 if odd == 2 else None, scale=2)
    wrong = sides(BASE)
    wrong[odd] = sides(grown(BASE, -12))[odd]
    base = meetings(np.roll(wrong, 1, axis=0), wrong)
    candidates = np.stack([sides(base), sides(painted), sides(frame)], axis=1)
    pool = pooled(base, candidates, NO_LINES, SIZE, NOT_CUT)
    found = chosen(pool, told(codes, pool, base), SIZE)
    assert np.abs(found.corners - painted).max() < 1.0
    assert 0 < found.share <= 1 and found.ahead > 0


@pytest.mark.slow
def test_what_is_told_is_finite_and_even_between_two_edges():
    codes = photograph(BASE, grown(BASE, 20))
    base = BASE - np.array([140.0, 0.0])
    pool = pooled(base, sides(base)[:, None], NO_LINES, SIZE, NOT_CUT)
    seen = told(codes, pool, base)
    assert seen.figures.shape == (len(pool.side), len(FIGURES)) and np.isfinite(seen.figures).all()
    assert seen.common.shape[2] == len(COMMON) and np.isfinite(seen.common).all()
    assert seen.common == pytest.approx(seen.common.transpose(1, 0, 2))
    assert choice_worth(pool, seen, fitted_worth()).ndim == 4


@pytest.mark.slow
def test_sides_are_laid_through_the_edge_to_a_part_of_a_px():
    codes = photograph(BASE)
    start = BASE + np.array([[0.8, -0.7], [-0.9, 0.6], [0.7, 0.9], [-0.8, -0.6]])
    off = np.abs(refitted(codes, start, NOT_CUT) - BASE).max()
    assert off < 0.35


@pytest.mark.slow
def test_fixed_sides_and_those_without_an_edge_stay():
    codes = photograph(BASE)
    start = BASE + np.array([[0.0, 0.0], [0.9, 0.0], [0.9, 0.0], [0.0, 0.0]])
    right = np.array([False, True, False, False])
    assert np.abs(refitted(codes, start, right)[1:3, 0] - start[1:3, 0]).max() < 0.1
    flat = np.full((*SIZE, 3), 128, np.uint8)
    assert refitted(flat, BASE, NOT_CUT) == pytest.approx(BASE)


def in_a_wall(stray):
    """A mottled picture in an even wall, its edges off straight lines by ``stray`` (4, px) along them."""
    random = np.random.default_rng(6)
    scale, (height, width) = 4, SIZE
    x, y = np.meshgrid((np.arange(width * scale) + 0.5) / scale, (np.arange(height * scale) + 0.5) / scale)
    off = [np.interp(along, np.arange(640), own) for along, own in zip((x, y, x, y), stray, strict=True)]
    inside = (y > 100 + off[0]) & (x < 500 + off[1]) & (y < 380 + off[2]) & (x > 140 + off[3])
    mottled = 90 + 700 * gaussian_filter(random.normal(size=(*SIZE, 3)), (5, 5, 0)).repeat(scale, 0).repeat(scale, 1)
    fine = np.where(inside[..., None], mottled, np.array([205, 200, 190]))
    codes = fine.reshape(height, scale, width, scale, 3).mean(axis=(1, 3)) + random.normal(0, 3, (*SIZE, 3))
    return np.clip(codes, 0, 255).astype(np.uint8)


@pytest.mark.slow
def test_a_hands_line_wavers_and_a_straight_or_a_bent_one_does_not():
    corners = np.array([[140.0, 100.0], [500.0, 100.0], [500.0, 380.0], [140.0, 380.0]])
    none = np.zeros((4, 640))
    loose = np.random.default_rng(4).normal(size=(4, 640 + 29))
    hand = np.stack([np.convolve(side, np.hanning(30), "valid") for side in loose])
    hand *= 0.6 / hand.std()
    lens = np.broadcast_to(1.2 * ((np.arange(640) - 320) / 180) ** 2, (4, 640))
    assert wavering(in_a_wall(none), corners) < STRAIGHT
    assert wavering(in_a_wall(lens), corners) < STRAIGHT
    assert wavering(in_a_wall(hand), corners) > STRAIGHT
    drawn, cut = find_canvas(in_a_wall(hand)), find_canvas(in_a_wall(none))
    assert cut.sure and not cut.whole
    assert not drawn.sure and drawn.reasons == ("drawn by hand",)
