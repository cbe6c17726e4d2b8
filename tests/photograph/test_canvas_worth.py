"""What speaks for four edges together: how a camera sees a right angle, and the fitted table."""

import numpy as np
import pytest
from scipy.spatial.transform import Rotation

from critique.perception.reference import read_table
from critique.photograph.canvas_told import COMMON
from critique.photograph.canvas_worth import LEAST, LENSES, SIDE, TABLE, USUAL, VIEW, fitted_worth, view_told

SIZE = (600, 900)


def seen_by_a_camera(turn, lens, proportion=1.4):
    """Corners in px of a canvas that a pinhole camera turned by ``turn`` sees off its middle."""
    flat = np.array([[-proportion, -1, 0], [proportion, -1, 0], [proportion, 1, 0], [-proportion, 1, 0]]) / 2
    at = flat @ turn.T + [0.1, -0.05, 1.2 * lens]
    return lens * max(SIZE) * at[:, :2] / at[:, 2:] + np.array([SIZE[1], SIZE[0]]) / 2


@pytest.mark.parametrize("angles", [(0, 0, 0), (14, 0, 1), (0, -12, -2), (11, 13, 2), (-14, 9, -3)])
def test_a_canvas_seen_by_a_camera_has_right_angles_and_that_cameras_turn(angles):
    turn = Rotation.from_euler("yxz", angles, degrees=True).as_matrix()
    told = dict(zip(VIEW, view_told(seen_by_a_camera(turn, LENSES[USUAL])[None], SIZE)[0], strict=True))
    assert told["skew"] == pytest.approx(0, abs=1e-9)
    assert told["turned"] == pytest.approx(abs(turn[2, 0]), abs=1e-9)
    assert told["tilted"] == pytest.approx(abs(turn[2, 1]), abs=1e-9)


@pytest.mark.parametrize("lens", [0.8, 1.4, 2.8])
def test_of_any_usual_lens_the_least_skew_is_none(lens):
    turn = Rotation.from_euler("yxz", (13, -11, 1), degrees=True).as_matrix()
    corners = seen_by_a_camera(turn, lens)
    assert view_told(corners[None], SIZE)[0, 0] == pytest.approx(0, abs=1e-9)


def test_a_side_that_leans_is_seen_by_no_camera():
    """Of a canvas nearly square on, where no lens makes a right angle look skew."""
    turn = Rotation.from_euler("yxz", (1, -1, 1), degrees=True).as_matrix()
    corners = seen_by_a_camera(turn, 1.4)
    by = 0.04 * np.hypot(*(corners[1] - corners[2]))
    leaning = corners + np.array([[0, 0], [by, 0], [0, 0], [0, 0]])
    # Of four sides one leans by 0.04: half of that is by how much the upright ones together do.
    assert view_told(leaning[None], SIZE)[0, 0] == pytest.approx(0.02, abs=0.004)


def test_askew_by_three_degrees_is_told():
    turn = Rotation.from_euler("z", 3, degrees=True).as_matrix()
    told = view_told(seen_by_a_camera(turn, 1.3)[None], SIZE)[0]
    assert told[VIEW.index("askew")] == pytest.approx(np.radians(3), abs=1e-9)


def test_the_table_holds_every_cue_and_is_finite():
    worth = fitted_worth()
    assert worth.side.units.shape == (len(SIDE), len(worth.side.out))
    assert worth.pair.units.shape == (len(COMMON), len(worth.pair.out))
    assert len(worth.least) == len(LEAST) and len(worth.view) == len(VIEW)
    for net in (worth.side, worth.pair):
        assert (net.spread > 0).all() and np.isfinite(net(net.middle + 100 * net.spread))
    assert worth.view[VIEW.index("skew_least")] < 0  # what no camera sees speaks against four sides


def test_the_table_is_the_one_that_was_fitted():
    # The sum and the weighted sum as printed after canvas_choice.py had run: a changed cell, or two swapped, miss them.
    rows = read_table(TABLE)
    numbers = np.array([float(value or 0) for row in rows for value in list(row.values())[2:]])
    assert len(numbers) == 798
    assert float(numbers.sum()) == pytest.approx(-77.7031, abs=1e-3)
    assert float(numbers @ np.arange(1, len(numbers) + 1)) == pytest.approx(-56905.287, abs=0.1)


@pytest.mark.filterwarnings("error")
@pytest.mark.parametrize("one", [0, 1, 2, 3])
def test_four_edges_of_which_two_corners_are_one_are_seen_by_no_camera(one):
    """Their sides have no length to be divided by; a choice that is no number would be taken for the best."""
    corners = np.array([[100, 80], [700, 90], [690, 500], [110, 510]], np.float64)
    corners[one] = corners[one - 1]
    told = view_told(np.stack([corners, corners[::-1]]), SIZE)
    assert np.isfinite(told).all()
    assert (told[:, VIEW.index("turned")] > 0.1).all() or (told[:, VIEW.index("tilted")] > 0.1).all()
