"""How far do one or two places stand out beside all else?"""

from collections.abc import Sequence
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from critique.measures.pulls import FAINT, strongest_near
from critique.measures.salience import Float

# Two places that compete stand out alike, lie well apart, and nothing else comes near them.
RIVAL = 0.25  # of the strength of the first place: one that lies farther out is favoured less, and rivals it yet
RIVAL_CONTRAST = 0.7  # of the plain contrast at the one place that the other has too
RIVAL_APART = 0.3  # of the long edge
RIVAL_REACH = 0.08  # of the long edge: how near to a place its contrast is looked for
NOT_ITS_OWN = 0.14  # of the long edge: what lies farther away than this from both is neither's
RIVALS = 1.25  # of the strongest contrast elsewhere; of 76 landscapes two have more, the highest 1.41


class Place(Protocol):
    """A place 0–1 from the left and the top, and how much it holds the eye."""

    @property
    def x(self) -> float: ...

    @property
    def y(self) -> float: ...

    @property
    def strength(self) -> float: ...


def dominance(contrast: Float, x: float, y: float, *, reach: float, apart: float) -> float:
    """The strongest contrast within ``reach`` of a place beside the strongest farther away than ``apart``."""
    away = _away(contrast, x, y)
    here, elsewhere = contrast[away <= reach], contrast[away > apart]
    return float(here.max()) / max(float(elsewhere.max(initial=0.0)), FAINT)


def rivalry(contrast: Float, places: Sequence[Place]) -> float:
    """The contrast at the weaker of two places that stand out alike and apart beside the strongest elsewhere; or 0."""
    if len(places) < 2 or not places[1].strength >= RIVAL * places[0].strength > 0:
        return 0.0
    height, width = contrast.shape
    long_edge = max(height, width)
    one, other = places[:2]
    if np.hypot((one.x - other.x) * width, (one.y - other.y) * height) < RIVAL_APART * long_edge:
        return 0.0
    weaker, stronger = sorted(strongest_near(contrast, place.x, place.y, RIVAL_REACH) for place in (one, other))
    if weaker < RIVAL_CONTRAST * stronger:
        return 0.0
    away = np.minimum(*(_away(contrast, place.x, place.y) for place in (one, other)))
    return weaker / max(float(contrast[away > NOT_ITS_OWN].max(initial=0.0)), FAINT)


def _away(contrast: Float, x: float, y: float) -> NDArray[np.float64]:
    """How far each pixel lies from a place, in parts of the long edge."""
    height, width = contrast.shape
    down, across = np.mgrid[0:height, 0:width] + 0.5
    return np.asarray(np.hypot(across - x * width, down - y * height) / max(height, width))
