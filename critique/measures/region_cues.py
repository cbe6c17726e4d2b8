"""What place, colour and touch say of each region of a picture, before any part is known."""

import numpy as np
from numpy.typing import NDArray

from critique.measures.regions import REGIONS, Float, Regions
from critique.perception.cielab import lab_to_linear
from critique.perception.hue import LEAST_CHROMA, YELLOW_GREEN, turn

ROUGH_FLOOR = 0.5  # L* a pixel: below it brushwork, canvas and compression make up the roughness
LEAST_SPREAD = 5.0  # L*: a picture with less spread of value is taken to have this much, or noise would count as edges
YELLOW = 8.0  # b*: above it a colour is yellower than water mostly is
GREEN_WIDTH = 110.0  # degrees of hue from yellow's border to where green turns blue
FULLY = 15.0  # degrees into the green from which nobody calls it yellow
FULL_CHROMA = 15.0  # C* from which a hue counts in full
LOW_FROM, HIGH_FROM = 0.5, 0.4  # of the height: lower than that sky is rare, and higher water is


def colour_cues(regions: Regions) -> dict[str, Float]:
    """Place, lightness, hue, roughness and ways to the edges of each region (n,), and the picture's own key."""
    L, a, b = regions.lab.T
    share = regions.share
    key, red = (float(np.average(axis, weights=share)) for axis in (L, a))
    spread = max(float(np.sqrt(np.average((L - key) ** 2, weights=share))), LEAST_SPREAD)
    hue, full = np.arctan2(b, a), np.minimum(np.hypot(a, b) / FULL_CHROMA, 1)
    hazy = np.sqrt(np.clip(lab_to_linear(regions.lab).min(axis=1), 0, 1))  # the dark channel [He, Sun and Tang 2009]
    return {
        "y": regions.y,
        "high": np.maximum(HIGH_FROM - regions.y, 0),
        "low": np.maximum(regions.y - LOW_FROM, 0),
        "from_middle": np.square(2 * regions.y - 1),
        "aside": np.abs(2 * regions.x - 1),
        "size": np.log(regions.share * REGIONS),
        "lightness": L / 100,
        "rank": ranks(L, share),
        "lighter": (L - key) / 20,
        "lighter_by_spread": (L - key) / spread,
        "hazier": hazy - np.float32(np.average(hazy, weights=share)),
        "a": a / 10,
        "hue_sin": np.sin(hue) * full,
        "hue_sin_twice": np.sin(2 * hue) * full,
        "grass": np.maximum(greenness(regions.lab), 0) * np.clip((b - YELLOW / 2) / YELLOW, 0, 1),
        "rough": np.log(regions.rough + ROUGH_FLOOR),
        "rough_around": np.log(around(regions, regions.rough) + ROUGH_FLOOR),
        "level": regions.level,
        "leveller": regions.level - np.float32(np.average(regions.level, weights=share)),
        "from_top": np.log(way_from(regions, regions.labels[0]) / spread + 0.5),
        "from_bottom": np.log(way_from(regions, regions.labels[-1]) / spread + 0.5),
        "key": np.full_like(L, key / 100),
        "red_all": np.full_like(L, red / 10),
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
