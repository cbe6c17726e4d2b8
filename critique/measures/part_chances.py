"""How likely each region of a picture is sky, water, something green, or other land."""

from collections.abc import Iterable
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from critique.measures.region_cues import colour_cues
from critique.measures.region_surroundings import surrounding_cues
from critique.measures.region_texture import texture_cues
from critique.measures.regions import TEXTURE_LONG_EDGE, Float, Regions, block_means
from critique.one_thread import in_one_thread
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


@in_one_thread  # some hundred regions are too few to share out: it takes many times as long when others work
def chances_of(picture: Picture, regions: Regions) -> Float:
    """Chance of each region to be of each of ``KINDS``: (n, 4), rows add up to 1.

    The softmax of weighted cues and of a few mixtures of them [part_weights.csv], then carried over borders that are
    none: a region is what its neighbours are as far as it looks like them.
    """
    names, weights, mixing, of_mixtures = _weights()
    cues = region_cues(picture, regions)
    asked = np.stack([*(cues[name] for name in names), np.ones_like(regions.y)], axis=1)
    return _carried(regions, softmax(asked @ weights + np.tanh(asked @ mixing) @ of_mixtures))


def softmax(leaning: NDArray[np.floating]) -> NDArray[np.floating]:
    """Chances (n, kinds), whose rows add up to 1, from log odds."""
    chance = np.exp(leaning - leaning.max(axis=1, keepdims=True))
    return np.asarray(chance / chance.sum(axis=1, keepdims=True))


@lru_cache(maxsize=1)
def _weights() -> tuple[tuple[str, ...], Float, Float, Float]:
    """Names of the cues; the weights of cues and of a start (cues + 1, 4), in log odds against other land; what each
    mixture is made of (cues + 1, mixtures), and what it weighs (mixtures, 4)."""
    rows = {row["cue"]: row for row in read_table("part_weights.csv")}
    mixtures = [name for name in rows if name.startswith("mixture")]
    names = tuple(name for name in rows if name not in (*mixtures, "start"))

    def of(rows_named: Iterable[str], columns: Iterable[str]) -> Float:
        return np.array([[float(rows[row][column]) for column in columns] for row in rows_named], dtype=np.float32)

    asked = (*names, "start")
    against = ((0, 0), (0, 1))  # other land, that all is held against
    return (
        names,
        np.pad(of(asked, KINDS[:OTHER]), against),
        of(asked, mixtures),
        np.pad(of(mixtures, KINDS[:OTHER]), against),
    )


def _carried(regions: Regions, chance: NDArray[np.floating]) -> Float:
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
