"""Whether a veil of light lies over a part of the second of two photographs: shine, under which all is still seen."""

from dataclasses import dataclass
from functools import partial
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from critique.pair.balance import melted
from critique.pair.overlay import Overlay
from critique.perception.cielab import LIGHT_TO_LUMINANCE, lab_to_linear
from critique.picture.one_piece import largest_piece

Map = NDArray[np.float64]

STEP = 2  # px of the maps from one that is looked at to the next: a veil is broad
BROAD = 0.05  # of the long edge: a veil changes no faster than so, and what is finer is what it lies over
NEAR = 0.08  # of the long edge: how far around a place its contrast is told from
BRIGHTEST = 0.97  # of full light: beyond it a camera tells no more
LEAST_CONTRAST = 0.005  # of full light, as spread: an even place doesn't tell what lies over it
# Of full light that a veil adds at its strongest. Of 63 drawn photographs those with a window's reflection show 0.16 to
# 0.7, all others at most 0.09.
LEAST = 0.13
COUNTED = 0.4  # of that, from which on a place lies under it
LEAST_AREA, MOST_AREA = 0.01, 0.5  # of the picture: less is a highlight, more another exposure or stray light
# Times the contrast that the rest has kept: 0.91 to 1.10 under those reflections. Under a white scumble it is one less
# the part that covers, which at LEAST is below the first of these; what is painted lighter in its own drawing has more.
KEPT = (0.87, 1.12)
FOLLOWS = 0.6  # correlation of that fine contrast with the first picture's: paint draws something else
# Of the channel that it adds most to, what a veil adds least to: a window's by a lamp that was balanced away has 0.74,
# paint made lighter in its own colours what those have.
NEUTRAL = 0.62
STILL = 0.5  # of a veil's strength: what the rest moved by, so that it is a veil over one part alone
# A veil lifts the darkest quarter of what it covers as much as the rest; what is lit more, or out of a shadow, is
# multiplied, and its darks stay dark: 0 here, a veil 1. Reflections drawn over paintings have 0.74 to 1.2, a file's sky
# beside its shadowed photograph 0.53. Where that quarter is no darker than so many times the mean, nobody can tell.
LIFTED, DARKER = 0.65, 0.8
LEAST_TOLD = 40  # places that tell


@dataclass(frozen=True, slots=True)
class Shine:
    """Light that lies over part of the first or the second picture.

    ``x``, ``y`` are its middle, 0–1 from the upper left of the first, ``share`` its part of that, ``light`` what it
    adds at its strongest, of full light. ``kept`` is how much of the fine contrast of what lies under it is left,
    beside all the rest, ``follows`` how far that goes along with the other picture's.
    """

    over: Literal["first", "second"]
    x: float
    y: float
    share: float
    light: float
    kept: float
    follows: float


def shine_over(both: Overlay) -> Shine | None:
    """The veil of light over part of either picture; None where there is none, or paint could be what is seen.

    Of 63 drawn photographs beside the painting's own file it is told in 10 of 19 under a reflection and in none of the
    others; of 134 changes that were drafted for 15 pictures one is taken for it, so it is told with a doubt.
    """
    turned = Overlay(both.second, both.first, both.covered)
    return _shine(both, "second") or _shine(turned, "first")


def _shine(both: Overlay, over_which: Literal["first", "second"]) -> Shine | None:
    """The veil of light over part of the second of an overlay.

    Light that is reflected adds to what is there: the place gets lighter and greyer, and its drawing keeps its
    contrast. Opaque paint draws anew, and a scumble takes as much contrast as it covers.
    """
    from scipy.ndimage import gaussian_filter

    covered = both.covered[::STEP, ::STEP]
    lights = [melted(lab_to_linear(lab))[::STEP, ::STEP] for lab in (both.first, both.second)]
    known = covered & (np.maximum(*lights).max(axis=2) < BRIGHTEST)
    first, second = (np.asarray(light.astype(np.float64) @ LIGHT_TO_LUMINANCE) for light in lights)
    if known.mean() < MOST_AREA:
        return None
    weight, long_edge = known.astype(np.float64), max(known.shape)

    def over(values: Map, reach: float) -> Map:
        blurred = partial(gaussian_filter, sigma=reach * long_edge)
        return np.asarray(blurred(values * weight) / np.maximum(blurred(weight), 1e-3))

    fine, there = (light - over(light, BROAD) for light in (first, second))
    spread, own, both_vary = over(fine * fine, NEAR), over(there * there, NEAR), over(fine * there, NEAR)
    told = known & (spread > LEAST_CONTRAST**2)
    if told.sum() < LEAST_TOLD:
        return None
    slope = both_vary / np.maximum(spread, 1e-9)
    gain = float(np.median((second / np.maximum(first, 1e-3))[known]))
    veil = over(second - gain * first, BROAD)
    still = float(np.median(veil[known]))
    veil = np.where(known, veil - still, 0)
    light = float(np.quantile(veil[known], 0.995))
    under = _largest(known & (veil > COUNTED * light))
    share, seen = float(under.mean()), under & told
    if light < LEAST or not LEAST_AREA <= share <= MOST_AREA or seen.sum() < LEAST_TOLD:
        return None
    rest = known & (veil < COUNTED * light / 2)
    if not (rest & told).any() or float(np.quantile(np.abs(veil[rest]), 0.9)) > STILL * light:
        return None
    kept = float(np.median(slope[seen]) / max(float(np.median(slope[rest & told])), 1e-6))
    follows = float(np.median((both_vary / np.sqrt(np.maximum(spread * own, 1e-12)))[seen]))
    if not _lifts_its_darks(first, second - gain * first - still, under & known):
        return None
    own_colour = _neutral(lights[0], lights[1], under & known, rest) < NEUTRAL
    if own_colour or not KEPT[0] <= kept <= KEPT[1] or follows < FOLLOWS:
        return None
    rows, columns = np.nonzero(under)
    x, y = (columns.mean() + 0.5) / under.shape[1], (rows.mean() + 0.5) / under.shape[0]
    return Shine(over_which, float(x), float(y), share, light, kept, follows)


def _lifts_its_darks(first: Map, came: Map, under: NDArray[np.bool_]) -> bool:
    """Whether the darkest quarter of what lies under it got as much light as the rest."""
    light, gained = first[under], came[under]
    dark = light <= np.quantile(light, 0.25)
    darker = float(light[dark].mean()) / max(float(light.mean()), 1e-6)
    lifted = float(gained[dark].mean()) / max(float(gained.mean()), 1e-6)
    return darker < DARKER and lifted - darker > LIFTED * (1 - darker)


def _neutral(
    first: NDArray[np.floating], second: NDArray[np.floating], under: NDArray[np.bool_], rest: NDArray[np.bool_]
) -> float:
    """How evenly what came is spread over red, green and blue, 0–1."""
    gains = np.median((second / np.maximum(first, 1e-3))[rest], axis=0)
    came = (second - gains * first)[under].mean(axis=0)
    return float(max(came.min(), 0) / max(came.max(), 1e-6))


def _largest(mask: NDArray[np.bool_]) -> NDArray[np.bool_]:
    """The largest connected part of a mask, with what it surrounds: a veil's middle may be burnt out."""
    from scipy.ndimage import binary_fill_holes

    return np.asarray(binary_fill_holes(largest_piece(mask)))
