"""How the colours of a picture are led toward those of another that the painter admires."""

import numpy as np
from numpy.typing import NDArray

from critique.advice.change import Change
from critique.advice.change_lead import Lead, Leading
from critique.advice.recipe_for import RecipeFor
from critique.errors import CritiqueError
from critique.paints.box import PaintBox
from critique.paints.recipes import recipes
from critique.perception.green_weight import green_weight
from critique.picture.picture import Picture, lab_at

KIND: str = "lead_toward"
TITLE: str = "lead the colours toward the picture that you admire"
LONG_EDGE = 320  # px: means and spreads of colour don't need more
LEAST_PART = 0.01  # of a picture that a part must fill before its colours say anything
LEAST_SPREAD = 2.0  # CIELAB units of standard deviation: a flatter part is not pulled out into noise
MOST_STRETCH = 1.6  # times that a spread of colours may be drawn apart: beyond it, brushwork turns to confetti

Float64 = NDArray[np.float64]


def lead_toward(picture: Picture, other: Picture, *, everything: bool = False, box: PaintBox | None = None) -> Change:
    """The change that leads a picture's greens, or all its colours, toward those of another; its values stay.

    Within each part (the greens, and what is not green) the a*b* of the one are carried onto those of the other by the
    cheapest map between two normal distributions. [Olkin and Pukelsheim, Linear Algebra Appl. 48, 1982; Pitié and
    Kokaram, CVMP 2007]

    Raises
    ------
    CritiqueError
        When either picture has no green to lead, and nothing else was asked for.
    """
    own, admired = lab_at(picture, LONG_EDGE), lab_at(other, LONG_EDGE)
    greens = _leading(own, admired, green=True)
    others = _leading(own, admired, green=False) if everything else None
    if greens is None and not everything:
        lacking = picture if green_weight(own).mean() < LEAST_PART else other
        raise CritiqueError(f"{lacking.file} has hardly any green, so there is none to lead toward: lead all colours")
    parameters = Lead(greens, others)
    return Change(KIND, parameters, _paint(own, parameters, box) if box is not None else ())


def _leading(own: NDArray[np.float32], admired: NDArray[np.float32], *, green: bool) -> Leading | None:
    weights = [green_weight(lab) if green else 1 - green_weight(lab) for lab in (own, admired)]
    if min(float(weight.mean()) for weight in weights) < LEAST_PART:
        return None
    (mean, spread), (to, wanted) = (
        _moments(lab[..., 1:], weight) for lab, weight in zip((own, admired), weights, strict=True)
    )
    matrix = monge_map(spread, wanted)
    return Leading(
        (float(mean[0]), float(mean[1])),
        (float(to[0]), float(to[1])),
        (float(matrix[0, 0]), float(matrix[0, 1]), float(matrix[1, 0]), float(matrix[1, 1])),
    )


def _moments(ab: NDArray[np.float32], weight: NDArray[np.float32]) -> tuple[Float64, Float64]:
    """Weighted mean (2,) and covariance (2, 2) of colours."""
    flat, share = ab.reshape(-1, 2).astype(np.float64), weight.ravel().astype(np.float64)
    mean = share @ flat / share.sum()
    away = flat - mean
    return mean, (away * share[:, None]).T @ away / share.sum() + LEAST_SPREAD**2 * np.eye(2)


def monge_map(spread: Float64, wanted: Float64) -> Float64:
    """The symmetric matrix that carries one covariance (n, n) onto another at least cost, no stretch over the most.

    S^−½ (S^½ W S^½)^½ S^−½ for the covariances S and W.
    """
    root, inverse = _power(spread, 0.5), _power(spread, -0.5)
    values, vectors = np.linalg.eigh(inverse @ _power(root @ wanted @ root, 0.5) @ inverse)
    return np.asarray((vectors * np.minimum(values, MOST_STRETCH)) @ vectors.T)


def _power(matrix: Float64, exponent: float) -> Float64:
    values, vectors = np.linalg.eigh(matrix)
    return np.asarray((vectors * np.maximum(values, 1e-12) ** exponent) @ vectors.T)


def _paint(own: NDArray[np.float32], parameters: Lead, box: PaintBox) -> tuple[RecipeFor, ...]:
    """The middle green as it becomes in the light and in the shade, mixed."""
    weight = green_weight(own)
    if parameters.greens is None:
        return ()
    light = own[..., 0]
    green = weight > 0.5
    if not green.any():
        return ()
    ends = np.percentile(light[green], [75, 25])
    a, b = parameters.greens.to
    found = recipes(np.array([[float(end), a, b] for end in ends]), box)
    return tuple(
        RecipeFor(use, one) for use, one in zip(("Greens in the light", "Greens in the shade"), found, strict=True)
    )
