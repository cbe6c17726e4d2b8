"""Whether a state in which too little of the aim's drawing is found is still that picture."""

from typing import Literal

import numpy as np
from numpy.typing import NDArray

from critique.measures.families import measure_families
from critique.pair.transport import match_families
from critique.perception.srgb import Float
from critique.picture.picture import Picture

Kinship = Literal["the same", "another composition", "another picture"]
Float64 = NDArray[np.float64]

# Found on two plans and thirty pictures. A block-in of the aim's own passages reaches 0.95 and more of both; a repaint
# of the same subject with its line moved 0.86 and 0.58; thirty other landscapes 0.79 and 0.82 at most, most under 0.7.
SAME_MASSES = 0.92  # agreement of the passages' colours from which a state lies on the aim
SAME_PLACES = 0.90  # or part of what the aim's passages explain of the aim that they explain of the state
# Below that in both, the masses are another picture's: the first state of a moved repaint reaches 0.66.
OTHER_MASSES = 0.62
OTHER_COLOURS = 14.0  # mean ΔE00 of the cheapest repaint: the moved repaint costs 11, other landscapes 15 to 45
BARE = 8.0  # CIELAB units of spread: a toned ground, or a canvas hardly begun, has no masses to disagree


def kinship(state: Picture, aim: Picture, lab: Float, wanted: Float, labels: NDArray[np.intp]) -> Kinship:
    """Whether a state is the aim's picture: by its masses, then its colours.

    ``lab`` and ``wanted`` (height, width, 3) are both in one frame, and ``labels`` (height, width) the aim's passages.
    """
    own, asked = _means(lab, labels), _means(wanted, labels)
    weights = np.bincount(labels.ravel(), minlength=len(own)) / labels.size
    spread = float(np.sqrt(((lab - lab.mean(axis=(0, 1))) ** 2).sum(axis=-1).mean()))
    if spread < BARE:
        return "the same"
    masses = _agreement(own, asked, weights)
    places = _explained(lab, own, weights) / max(_explained(wanted, asked, weights), 1e-6)
    if masses >= SAME_MASSES or places >= SAME_PLACES:
        return "the same"
    if max(masses, places) < OTHER_MASSES and _repaint_cost(state, aim) > OTHER_COLOURS:
        return "another picture"
    return "another composition"


def _repaint_cost(state: Picture, aim: Picture) -> float:
    return match_families(measure_families(aim), measure_families(state)).cost


def _means(lab: Float, labels: NDArray[np.intp]) -> Float64:
    """Mean CIELAB of each passage (count, 3)."""
    flat = labels.ravel()
    sums = np.stack([np.bincount(flat, weights=lab[..., axis].ravel()) for axis in range(3)], axis=1)
    return np.asarray(sums / np.maximum(np.bincount(flat), 1)[:, None])


def _agreement(own: Float64, asked: Float64, weights: Float64) -> float:
    """How the colours of the passages of both go together, about their means: 1 alike, 0 not at all."""
    here, there = own - weights @ own, asked - weights @ asked
    both = float(np.sqrt((weights @ here**2).sum() * (weights @ there**2).sum()))
    return float((weights @ (here * there)).sum()) / max(both, 1e-6)


def _explained(lab: Float, means: Float64, weights: Float64) -> float:
    """The part of a picture's variance that lies between its passages."""
    total = float(lab.reshape(-1, 3).var(axis=0).sum())
    return float((weights @ (means - weights @ means) ** 2).sum()) / max(total, 1e-6)
