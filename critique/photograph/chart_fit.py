"""Which correction brings a chart's patches to what they are: of tone and of colour, the best on patches left out."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from critique.perception.cielab import LIGHT_TO_LUMINANCE, lab_to_linear, linear_to_lab
from critique.perception.difference import delta_e_2000

Array = NDArray[np.float64]
Fitted = Literal["chart, white balance", "chart, linear", "chart, root-polynomial"]
Tone = Literal["as it is", "contrast", "veil"]

GREYS = slice(18, 24)  # of the patches, white to black
LEAST_GREYS = 4  # that tell a tone curve
LEAST_EXPONENT, MOST_EXPONENT = 0.7, 1.4  # of what a camera does to contrast and is still a photograph; our choice


MOST_VEIL = 0.15  # of full light: more stray light on the darkest patch is a reflection on the chart; our choice
VEILED = 0.05  # of full light, by which a patch counts less the lighter it is: a veil tells on the dark ones


@dataclass(frozen=True, slots=True, eq=False)
class ChartFit:
    """A correction of light: ``veil`` (3,) off, to the power of ``exponent``, then ``matrix`` (3, terms) on it or its
    roots."""

    how: Fitted
    exponent: float
    veil: Array
    matrix: Array

    def on(self, light: NDArray[np.floating]) -> NDArray[np.floating]:
        """Linear light (…, 3), corrected; the kind of its numbers is kept."""
        clear = np.maximum(light - self.veil.astype(light.dtype), 0) if self.veil.any() else light
        toned = clear if self.exponent == 1 else np.maximum(clear, 0) ** light.dtype.type(self.exponent)
        terms = toned if self.matrix.shape[1] == 3 else root_terms(toned)
        return np.asarray(terms @ self.matrix.T.astype(light.dtype))


def best_fit(seen: Array, wanted_lab: Array, usable: NDArray[np.bool_]) -> tuple[ChartFit, float]:
    """The correction with the least mean ΔE00 over patches that were left out of its fit in turn, and that.

    Parameters
    ----------
    seen : linear light (24, 3) of the patches as photographed.
    wanted_lab : CIELAB (24, 3) of the same.
    usable : those that are neither clipped nor lost in the dark.

    Notes
    -----
    White balance alone takes a lamp away, and has little to get wrong; least squares parts channels that overlap;
    root-polynomial terms keep exposure out of colour. [Finlayson, Mackiewicz and Hurlbert, "Color correction using
    root-polynomial regression", IEEE Transactions on Image Processing 24(5), 2015] Each is tried as it is,
    with the tone curve that the greys tell, a power of the light, and without the stray light that they tell, the same
    on all patches. [common practice, no source] The fits are of linear
    light as it is: weighed by how far it moves L*, noise in the dark patches told more than the paint.
    """
    best: tuple[float, Fitted, Tone] | None = None
    wanted = np.asarray(lab_to_linear(wanted_lab), dtype=np.float64)
    hows: tuple[Fitted, ...] = ("chart, white balance", "chart, linear", "chart, root-polynomial")
    tones: tuple[Tone, ...] = ("as it is", "contrast", "veil")
    for how in hows:
        for tone in tones:
            left = []
            for one in np.flatnonzero(usable):
                rest = usable.copy()
                rest[one] = False
                left.append(_fitted(how, tone, seen, wanted, rest).on(seen[one]))
            error = float(delta_e_2000(lab_of(np.array(left)), wanted_lab[usable]).mean())
            if best is None or error < best[0]:
                best = (error, how, tone)
    assert best is not None
    return _fitted(best[1], best[2], seen, wanted, usable), best[0]


def _fitted(how: Fitted, tone: Tone, seen: Array, wanted: Array, usable: NDArray[np.bool_]) -> ChartFit:
    exponent = exponent_of(seen, wanted, usable) if tone == "contrast" else 1.0
    veil = veil_of(seen, wanted, usable) if tone == "veil" else np.zeros(3)
    light = np.maximum(seen - veil, 0) ** exponent
    own, there = light[usable], wanted[usable]
    if how == "chart, white balance":
        return ChartFit(how, exponent, veil, np.diag((own * there).sum(axis=0) / (own**2).sum(axis=0)))
    return ChartFit(how, exponent, veil, least_squares(own if how == "chart, linear" else root_terms(own), there))


def exponent_of(seen: Array, wanted: Array, usable: NDArray[np.bool_]) -> float:
    """The power of the light that makes the greys as far apart as they are; 1 where too few are seen."""
    greys = np.arange(24)[GREYS][usable[GREYS]]
    if len(greys) < LEAST_GREYS:
        return 1.0
    own, there = (np.log(np.maximum(light[greys] @ LIGHT_TO_LUMINANCE, 1e-4)) for light in (seen, wanted))
    weights = wanted[greys] @ LIGHT_TO_LUMINANCE  # noise and stray light tell on the dark ones
    slope = np.cov(own, there, aweights=weights)
    return float(np.clip(slope[0, 1] / max(float(slope[0, 0]), 1e-9), LEAST_EXPONENT, MOST_EXPONENT))


def veil_of(seen: Array, wanted: Array, usable: NDArray[np.bool_]) -> Array:
    """The light (3,) that lies over all of the greys alike: what a black of none would be seen as."""
    greys = np.arange(24)[GREYS][usable[GREYS]]
    if len(greys) < LEAST_GREYS:
        return np.zeros(3)
    weights = 1 / (wanted[greys] @ LIGHT_TO_LUMINANCE + VEILED)
    terms = np.stack([np.ones(len(greys)), wanted[greys] @ LIGHT_TO_LUMINANCE], axis=1) * weights[:, None]
    return np.asarray(np.clip(np.linalg.lstsq(terms, seen[greys] * weights[:, None], rcond=None)[0][0], 0, MOST_VEIL))


def root_terms(light: NDArray[np.floating]) -> NDArray[np.floating]:
    """r, g, b and the roots of their products (…, 6): degree 2 of Finlayson et al., 2015."""
    positive = np.maximum(light, 0)
    red, green, blue = np.moveaxis(positive, -1, 0)
    roots = [np.sqrt(red * green), np.sqrt(green * blue), np.sqrt(red * blue)]
    return np.concatenate([light, np.stack(roots, axis=-1)], axis=-1)


def least_squares(terms: NDArray[np.floating], wanted: Array) -> Array:
    """The matrix (3, terms) that takes terms (n, terms) nearest to light (n, 3)."""
    return np.asarray(np.linalg.lstsq(np.asarray(terms, np.float64), wanted, rcond=None)[0].T)


def lab_of(light: NDArray[np.floating] | Sequence[float]) -> NDArray[np.floating]:
    """CIELAB of linear light, clipped to what a screen shows."""
    return linear_to_lab(np.clip(np.asarray(light, dtype=np.float32), 0, 1))
