"""What speaks for sky, water or foliage in each region of a picture."""

from collections.abc import Mapping

import numpy as np
from numpy.typing import NDArray

from critique.measures.regions import Float, Regions
from critique.perception.hue import LEAST_CHROMA, YELLOW_GREEN, turn

ROUGH_FLOOR = 0.5  # L* a pixel: below it brushwork, canvas and compression make up the roughness
LEAST_SPREAD = 5.0  # L*: a picture with less spread of value is taken to have this much, or noise would count as edges
ALIKE_COLOUR, ALIKE_ROUGH = 8.0, 0.5  # CIELAB units and steps of log roughness within which two regions are alike
ALIKE_X, ALIKE_Y = 0.5, 0.25  # of the width and height within which they count as neighbours
YELLOW = 8.0  # b*: above it a colour is yellower than water mostly is
BROWN_FROM = 20.0  # L*: below it a brown may be the dark of foliage under an old varnish; at twice that it is earth
GREEN_WIDTH = 110.0  # degrees of hue from yellow's border to where green turns blue
FULLY = 15.0  # degrees into the green from which nobody calls it yellow
SURE = 0.03  # a chance nearer to 0 or 1 than this counts no more


def colour_cues(regions: Regions) -> dict[str, Float]:
    """Place, lightness, warmth, roughness and ways to the edges of each region (n,), before any part is known."""
    L, a, b = regions.lab.T
    share = regions.share
    mean_L, mean_b = (float(np.average(axis, weights=share)) for axis in (L, b))
    spread = max(float(np.sqrt(np.average((L - mean_L) ** 2, weights=share))), LEAST_SPREAD)
    return {
        "y": regions.y,
        "lightness": L / 100,
        "rank": ranks(L, share),
        "a": a / 10,
        "b": b / 10,
        "warmth": (a + b) / 10,
        "bluer": (b - mean_b) / 10,
        "yellow": np.maximum(b - YELLOW, 0) / 10,
        "grass": np.maximum(greenness(regions.lab), 0) * np.clip((b - YELLOW / 2) / YELLOW, 0, 1),
        "brown": np.maximum(-greenness(regions.lab), 0) * np.clip((L - BROWN_FROM) / BROWN_FROM, 0, 1),
        "rough": np.log(regions.rough + ROUGH_FLOOR),
        "rough_around": np.log(around(regions, regions.rough) + ROUGH_FLOOR),
        "level": regions.level,
        "from_top": np.log(way_from(regions, regions.labels[0]) / spread + 0.5),
        "from_bottom": np.log(way_from(regions, regions.labels[-1]) / spread + 0.5),
    }


def greenness(lab: Float) -> Float:
    """How far colours (n, 3) lie into the green hues, from −2 (red, violet) to 1; a grey is 0."""
    L, a, b = lab.T
    into = turn(YELLOW_GREEN.start_at(L), np.degrees(np.arctan2(b, a)))
    into = np.where(into > GREEN_WIDTH / 2, GREEN_WIDTH - into, into)
    return np.asarray(np.clip(into / FULLY, -2, 1) * np.minimum(np.hypot(a, b) / LEAST_CHROMA, 1), dtype=np.float32)


def ranks(values: Float, share: Float) -> Float:
    """Share of the picture (0–1) that lies below each of ``values`` (n,), itself counted half."""
    order = np.argsort(values, kind="stable")
    below = np.cumsum(share[order]) - share[order] / 2
    result = np.empty_like(below)
    result[order] = below
    return np.asarray(result / share.sum(), dtype=np.float32)


def around(regions: Regions, values: Float) -> Float:
    """Mean of ``values`` (n,) over the regions that touch each region, by the length of the common border."""
    first, second = regions.pairs.T
    number = len(regions.share)
    total = np.bincount(first, regions.border * values[second], number) + np.bincount(
        second, regions.border * values[first], number
    )
    length = np.bincount(first, regions.border, number) + np.bincount(second, regions.border, number)
    return np.where(length > 0, total / np.maximum(length, 1), values).astype(np.float32)


def way_from(regions: Regions, edge: NDArray[np.intp]) -> Float:
    """The least change of colour (sum of ΔE*ab) on a way from an edge's regions to each region (n,)."""
    from scipy.sparse import csr_matrix
    from scipy.sparse.csgraph import dijkstra

    number = len(regions.share)
    seeds = np.unique(edge)
    first, second = regions.pairs.T
    step = np.linalg.norm(regions.lab[first] - regions.lab[second], axis=1)
    rows = np.concatenate([first, np.full(len(seeds), number)])
    columns = np.concatenate([second, seeds])
    # Half a unit a step keeps a long way longer than a short one; a rough start, such as a crown, is no open way in.
    cost = np.concatenate([step + 0.5, 3 * regions.rough[seeds] + 0.5])
    graph = csr_matrix((cost, (rows, columns)), shape=(number + 1, number + 1))
    return np.asarray(dijkstra(graph, directed=False, indices=number)[:number], dtype=np.float32)


def likeness(regions: Regions, *, everywhere: bool = False) -> Float:
    """How alike each region is to each other one (n, n): by colour, and unless ``everywhere`` by roughness and place.

    Rows add up to 1.
    """

    def apart(values: Float, unit: float) -> Float:
        return ((values[:, None] - values[None]) / np.float32(unit)) ** 2

    L, a, b = regions.lab.T
    unit = ALIKE_COLOUR if not everywhere else 10.0
    distance = apart(L, unit) + apart(a, unit) + apart(b, unit)
    if not everywhere:
        distance += apart(regions.x, ALIKE_X) + apart(regions.y, ALIKE_Y)
        distance += apart(np.log(regions.rough + ROUGH_FLOOR), ALIKE_ROUGH)
    alike = np.exp(-distance / 2) * regions.share[None]
    return np.asarray(alike / alike.sum(axis=1, keepdims=True), dtype=np.float32)


def above_and_below(regions: Regions, chance: Float) -> tuple[Float, Float]:
    """Mean chance of what stands over each region in its columns, itself counted half, and of what lies under it."""
    column = chance[regions.labels]
    height = column.shape[0]
    passed = np.cumsum(column, axis=0)
    above = (passed - column / 2 + 0.5) / np.arange(1, height + 1)[:, None]
    below = (passed[-1:] - passed) / np.maximum(height - 1 - np.arange(height), 1)[:, None]
    return regions.mean(above), regions.mean(below)


def leaning(chance: Float) -> Float:
    """A chance 0–1 as log odds, held within what can be sure."""
    return np.log((chance + SURE) / (1 + SURE - chance)).astype(np.float32)


def chance_of(weights: Mapping[str, float], cues: Mapping[str, Float]) -> Float:
    """Chance 0–1 of each region (n,): the logistic of the weighted sum of its cues; ``start`` stands alone."""
    total = np.float32(weights["start"]) + sum(
        np.float32(weight) * cues[name] for name, weight in weights.items() if name != "start"
    )
    return np.asarray(1 / (1 + np.exp(-np.clip(total, -30, 30))), dtype=np.float32)
