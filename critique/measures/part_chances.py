"""How likely each region of a picture is sky, water, something green, or other land."""

from functools import lru_cache

import numpy as np

from critique.measures.region_cues import colour_cues
from critique.measures.region_surroundings import surrounding_cues
from critique.measures.region_texture import texture_cues
from critique.measures.regions import TEXTURE_LONG_EDGE, Float, Regions, block_means
from critique.perception.reference import read_table
from critique.picture.picture import Picture, lab_at

KINDS = ("sky", "water", "green", "other")
SKY, WATER, GREEN, OTHER = range(4)
ALIKE_COLOUR, ALIKE_ROUGH = 8.0, 0.5  # ΔE*ab and steps of log roughness at which a border begins to hold
OWN_LOOK = 2.0  # how much a region's own look counts beside what its neighbours say across an open border
CLOSED = 1e-4  # px of border that even two unlike regions share


def region_cues(picture: Picture, regions: Regions) -> dict[str, Float]:
    """All that speaks for one kind or another, a row (n,) a cue."""
    lab = block_means(lab_at(picture, TEXTURE_LONG_EDGE), regions.labels.shape)
    return colour_cues(regions) | texture_cues(picture, regions, lab) | surrounding_cues(regions, lab)


def chances_of(picture: Picture, regions: Regions) -> Float:
    """Chance of each region to be of each of ``KINDS``: (n, 4), rows add up to 1.

    The softmax of weighted cues [part_weights.csv], then carried over borders that are none: a region is what its
    neighbours are as far as it looks like them.
    """
    names, weights, start = _weights()
    cues = region_cues(picture, regions)
    leaning = np.stack([cues[name] for name in names], axis=1) @ weights + start
    leaning -= leaning.max(axis=1, keepdims=True)
    chance = np.exp(leaning)
    return _carried(regions, chance / chance.sum(axis=1, keepdims=True))


@lru_cache(maxsize=1)
def _weights() -> tuple[tuple[str, ...], Float, Float]:
    """Names of the cues, their weights (cues, 4) in log odds against other land, and where these start (4,)."""
    rows = {row["cue"]: [float(row[kind]) for kind in KINDS[:OTHER]] + [0.0] for row in read_table("part_weights.csv")}
    start = rows.pop("start")
    return tuple(rows), np.array(list(rows.values()), dtype=np.float32), np.array(start, dtype=np.float32)


def _carried(regions: Regions, chance: Float) -> Float:
    """Chances after random walks between regions that end at each by its size.

    [Grady, Multilabel random walker image segmentation using prior models, CVPR 2005]
    """
    first, second = regions.pairs.T
    rough = np.log(regions.rough + np.float32(0.5))
    apart = np.square((regions.lab[first] - regions.lab[second]) / ALIKE_COLOUR).sum(axis=1)
    apart += np.square((rough[first] - rough[second]) / ALIKE_ROUGH)
    flow = regions.border * np.exp(-apart / 2) + CLOSED
    number = len(regions.share)
    graph = np.zeros((number, number))
    graph[first, second] = graph[second, first] = -flow
    own = OWN_LOOK * np.sqrt(regions.share * number)
    graph[np.arange(number), np.arange(number)] = own - graph.sum(axis=1)
    return np.asarray(np.linalg.solve(graph, own[:, None] * chance), dtype=np.float32)
