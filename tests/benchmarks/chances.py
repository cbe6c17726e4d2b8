"""How likely a reader is to name something, from the signs that it shows: one logistic fit for praise and criticism."""

from collections.abc import Sequence

import numpy as np
from sklearn.linear_model import LogisticRegression

HELD = 0.3  # inverse strength of the penalty on weights: with few pictures a strong one


def fitted_chance(
    signs: Sequence[tuple[float, ...]], named: Sequence[bool], count: int
) -> tuple[float, tuple[float, ...]]:
    """Bias and ``count`` weights of the signs; without signs, or where all or none named it, the rate alone."""
    rate = (sum(named) + 0.5) / (len(named) + 2)
    if not signs or not signs[0] or len(set(named)) < 2:
        return float(np.log(rate / (1 - rate))), (0.0,) * count
    x = np.array(signs)
    middle, spread = x.mean(axis=0), x.std(axis=0) + 1e-6
    model = LogisticRegression(C=HELD).fit((x - middle) / spread, named)
    weights = model.coef_[0] / spread
    return float(model.intercept_[0] - (weights * middle).sum()), tuple(map(float, weights))
