"""Nearly level edges are checked on edges drawn at a known height and slope."""

import numpy as np
import pytest

from critique.measures.level_lines import level_lines

HEIGHT, WIDTH = 300, 400


def edge(tilt: float, *, hidden: float = 0.0, seed: int = 1) -> np.ndarray:
    """CIELAB of a dark ground below a light sky, the left part of the edge hidden behind upright blotches."""
    rng = np.random.default_rng(seed)
    down, across = np.mgrid[0:HEIGHT, 0:WIDTH] + 0.5
    below = down > 0.6 * HEIGHT + np.tan(np.radians(tilt)) * (across - WIDTH / 2)
    light = np.where(below, 40.0, 75.0) + rng.normal(0, 1, (HEIGHT, WIDTH))
    blotch = rng.uniform(20, 80, (13, WIDTH // 10)).repeat(24, 0)[:HEIGHT].repeat(10, 1)
    light = np.where(across < hidden * WIDTH, blotch, light)
    return np.stack([light, np.zeros_like(light), np.zeros_like(light)], -1).astype(np.float32)


@pytest.mark.parametrize("tilt", [-6.0, -2.3, 0.0, 0.6, 4.2])
@pytest.mark.parametrize("hidden", [0.0, 0.3])
def test_an_edge_is_found_where_it_runs_even_half_hidden(tilt: float, hidden: float) -> None:
    first = level_lines(edge(tilt, hidden=hidden))[0]
    assert first.tilt == pytest.approx(tilt, abs=0.35)
    assert first.y == pytest.approx(0.6, abs=0.01)
    assert first.length == pytest.approx(1 - hidden, abs=0.15)


def test_noise_and_a_flat_field_have_no_edge() -> None:
    noise = np.random.default_rng(3).normal(50, 8, (HEIGHT, WIDTH, 3)).astype(np.float32)
    assert level_lines(noise) == ()
    assert level_lines(np.full((HEIGHT, WIDTH, 3), 50, dtype=np.float32)) == ()
