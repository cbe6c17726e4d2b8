"""How the light of a photograph is made neutral: by a grey or white spot, by a card, by a chart of 24 patches."""

from dataclasses import dataclass, field, replace
from functools import cache
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from critique.errors import CritiqueError
from critique.perception.cielab import LIGHT_TO_LUMINANCE, lab_to_linear, linear_to_lab
from critique.perception.reference import read_table
from critique.perception.srgb import Float
from critique.photograph.chart_fit import GREYS, ChartFit, Fitted, best_fit, lab_of
from critique.photograph.corners import Corners, checked_corners
from critique.photograph.lamp_colours import from_grey
from critique.photograph.straighten import straightened

Array = NDArray[np.float64]
How = Literal["spot", "card"] | Fitted
Level = Literal["A", "B", "C"]

SPOT = 0.012  # of the long edge: radius of a marked spot
CLIPPED = 0.985  # of full light: from there on a camera says "white" of whatever was brighter
NEARLY_CLIPPED = 0.93  # of full light: where clipped px were averaged with others
ONWARD = 0.3  # of the step between the other two: so a pale cream stands, L* 87, a* -2, b* 15, in linear sRGB
MOST_CLIPPED = 0.02  # of a reference's px: a stray highlight on a card does no harm
SMALLEST = 0.0005  # of the photograph that a card or a chart may take
DARKEST = 0.012  # of full light: below it noise and stray light colour a grey
CARD_UNEVEN = 0.12  # of a card's light, as spread: more is a shadow, a glare or no card
FARTHEST = 3.0  # natural log of the ratio of two channels: no lamp colours a grey more (2000 K: 2.9 in linear sRGB)
WHITE_BALANCE = {"A": 3.0, "B": 4.0, "C": 5.0}  # ΔE(a*b*) [ISO 19264-1:2021, as published side by side]
MEAN_COLOUR = {"A": 4.0, "B": 5.0, "C": 5.0}  # mean ΔE [the same]
PATCHES = (4, 6)  # rows, columns
LEAST_PATCHES = 18  # of 24 that must be neither clipped nor lost in the dark
ALIKE = 0.6  # correlation of the patches' logs with the chart's, from which on it is one; our choice
PATCH_PART = 0.4  # of a patch's side that is looked at, in its middle
PATCH_PX = 20  # px for each patch
NO_LAMP = 12.0  # ΔE00 from every lamp's grey: CIE's tubes and LEDs, not balanced at all, keep within 4; our choice
ROWS = 128  # put right at a time


@dataclass(frozen=True, slots=True, eq=False)
class Balance:
    """How the light is put right: ``gains`` (3,) on the light by a spot or a card, by a chart its ``fit``.

    ``cast`` is how far from grey the reference was, ΔE(a*b*). Of a chart, ``left_over`` is the mean ΔE00 over its
    patches with each left out of the fit in turn, ``white_left`` the ΔE(a*b*) of its greys, ``level`` the best of
    ISO 19264-1's that both keep; None where there was no chart or no level is kept. ``lightness`` is the L* that a spot
    or a card has once it is put right, ``off_grey`` the ΔE00 by which it was none, at one lightness; ``patches`` the
    light of a chart's patches before.
    """

    how: How
    gains: Array | None
    cast: float
    left_over: float | None = None
    white_left: float | None = None
    level: Level | None = None
    lightness: float = 0.0
    off_grey: float = 0.0
    patches: Array | None = field(default=None, repr=False)
    fit: ChartFit | None = None

    def brightened(self, times: float) -> "Balance":
        """The same for what stands in less light than the reference, by so many times."""
        if self.fit is not None:
            return replace(self, fit=replace(self.fit, matrix=self.fit.matrix * times))
        assert self.gains is not None
        return replace(self, gains=self.gains * times)

    def applied(
        self, light: Float | NDArray[np.float16], *, camera: Float | NDArray[np.float16] | None = None
    ) -> Float:
        """Linear light (…, 3), put right; what gets brighter than white is clipped.

        ``camera`` is the same as the camera saw it, where it was evened since: that tells what was clipped.
        """
        seen = light if camera is None else camera
        if light.ndim == 3:  # a few rows at a time: the terms of a large picture would fill memory
            done = np.empty(light.shape, dtype=np.float32)
            for first in range(0, len(light), ROWS):
                rows = slice(first, first + ROWS)
                done[rows] = self._applied(light[rows], seen[rows])
            return done
        return self._applied(light, seen)

    def _applied(self, given: Float | NDArray[np.float16], camera: Float | NDArray[np.float16]) -> Float:
        light = np.asarray(given, dtype=np.float32)
        if self.fit is not None:
            done = np.asarray(self.fit.on(light), dtype=np.float32)
        else:
            assert self.gains is not None
            done = light * self.gains.astype(np.float32)
        raised = _clipped_raised(np.asarray(camera, dtype=np.float32), done)
        return np.asarray(np.clip(raised, 0, 1), dtype=np.float32)


def balance_by_spot(
    light: Float, place: tuple[float, float], *, lightness: float | None = None, of: Literal["spot", "card"] = "spot"
) -> Balance:
    """By a spot that is grey or white, at fractions of the photograph from the upper left.

    ``lightness`` is its L* where that is known, as of a card; the exposure is then put right too.

    Raises
    ------
    CritiqueError
        When the spot lies outside, is clipped, too dark, or too coloured to be a grey.
    """
    x, y = place
    what = f"the {'grey spot' if of == 'spot' else 'spot on the card'} at {x:g},{y:g}"
    if not (0 <= x <= 1 and 0 <= y <= 1):
        raise CritiqueError(f"{what} lies outside the photograph: give fractions from 0 to 1")
    height, width, _ = light.shape
    reach = max(SPOT * max(height, width), 1.0)
    top, left = max(int(y * height - reach), 0), max(int(x * width - reach), 0)
    part = light[top : int(y * height + reach) + 1, left : int(x * width + reach) + 1]
    return _by_reference(part.reshape(-1, 3), of, what, lightness)


def balance_by_card(light: Float, corners: Corners, *, lightness: float | None = None) -> Balance:
    """By a grey or white card beside the canvas, its corners given as those of a canvas are."""
    card = straightened(light, checked_corners(corners, of="the card", least_area=SMALLEST), (60, 60))[10:50, 10:50]
    luminance = card.mean(axis=2)
    if float(luminance.std()) > CARD_UNEVEN * float(luminance.mean()):
        raise CritiqueError("the card is not evenly lit, or its corners take in more than the card: mark a spot on it")
    return _by_reference(card.reshape(-1, 3), "card", "the card", lightness)


def balance_by_chart(light: Float, corners: Corners) -> Balance:
    """By a chart of 24 patches, four rows of six; its corners run clockwise from the brown patch ("dark skin").

    Raises
    ------
    CritiqueError
        When it is upside down or mirrored, clipped, too dark, or no such chart.
    """
    return balance_by_patches(chart_patches(light, checked_corners(corners, of="the chart", least_area=SMALLEST)))


def balance_by_patches(seen: Array) -> Balance:
    """By the light (24, 3) of the patches, from the brown one, row by row; see ``best_fit``."""
    wanted_lab = chart_lab()
    _check_upright(seen, np.asarray(lab_to_linear(wanted_lab), dtype=np.float64))
    usable = (seen.max(axis=1) < CLIPPED) & (seen.max(axis=1) > DARKEST)
    if usable.sum() < LEAST_PATCHES:
        raise CritiqueError(
            f"{24 - int(usable.sum())} of the chart's 24 patches are clipped or too dark: expose so that its white "
            "patch stays below white"
        )
    fit, error = best_fit(seen, wanted_lab, usable)
    greys = np.arange(24)[GREYS][usable[GREYS]]
    off = lab_of(fit.on(seen[greys])) - wanted_lab[greys]
    white = float(np.hypot(off[:, 1], off[:, 2]).max()) if len(greys) else np.inf
    raw = lab_of(seen[greys])
    cast = float(np.hypot(raw[:, 1], raw[:, 2]).max()) if len(greys) else 0.0
    return Balance(fit.how, None, cast, error, white, level_of(white, error), patches=seen, fit=fit)


def level_of(white: float, mean: float) -> Level | None:
    """The best level of ISO 19264-1:2021 whose tolerances for white balance and mean colour are both kept."""
    levels: tuple[Level, ...] = ("A", "B", "C")
    return next((level for level in levels if white <= WHITE_BALANCE[level] and mean <= MEAN_COLOUR[level]), None)


def chart_lab() -> Array:
    """CIELAB (24, 3) of the chart's patches under D65, row by row from the brown one."""
    rows = read_table("chart_24.csv")
    return np.array([[float(row[axis]) for axis in ("L", "a", "b")] for row in rows])


def chart_patches(light: Float, corners: Corners) -> Array:
    """The light (24, 3) of a chart's patches, from the middle of each."""
    rows, columns = PATCHES
    flat = straightened(light, corners, (columns * PATCH_PX, rows * PATCH_PX))
    edge = round(PATCH_PX * (1 - PATCH_PART) / 2)
    patches = flat.reshape(rows, PATCH_PX, columns, PATCH_PX, 3)[:, edge:-edge, :, edge:-edge]
    return np.asarray(np.median(patches, axis=(1, 3)).reshape(24, 3), dtype=np.float64)


def _clipped_raised(seen: Float, done: Float) -> Float:
    """Light put right (…, 3), without the colour that a clipped channel would leave.

    Where the camera clipped a channel there was more of it than it says: a cream cloud by a warm lamp, clipped in red
    alone, would come out green. It had more of it than of the other two, as lights do that are tinted at all.
    """
    over = np.clip((seen - NEARLY_CLIPPED) / (CLIPPED - NEARLY_CLIPPED), 0, 1)
    if not over.any():
        return done
    least = np.empty_like(done)
    for one in range(3):
        first, second = done[..., (one + 1) % 3], done[..., (one + 2) % 3]
        least[..., one] = np.maximum(first, second) + ONWARD * np.abs(first - second)
    return np.asarray(done + over * np.maximum(least - done, 0))


def _by_reference(pixels: Float, how: How, what: str, lightness: float | None) -> Balance:
    if float((pixels.max(axis=1) >= CLIPPED).mean()) > MOST_CLIPPED:
        raise CritiqueError(f"{what} is clipped to white: mark a darker one, or expose the photograph less")
    seen = np.median(pixels, axis=0).astype(np.float64)
    if seen.min() < DARKEST and seen.max() < 4 * DARKEST:
        raise CritiqueError(f"{what} is too dark to tell its colour: mark a lighter one")
    off_grey, off_lamps = from_grey(np.maximum(seen, 1e-6))
    far = how == "spot" and off_lamps > NO_LAMP  # a card is known to be grey
    if far or np.log(seen.max() / max(seen.min(), 1e-6)) > FARTHEST:
        raise CritiqueError(f"{what} is too coloured to be a grey in any lamp's light: mark something grey or white")
    _, a, b = linear_to_lab(seen.astype(np.float32))
    target = _luminance(seen) if lightness is None else _luminance(lab_to_linear([lightness, 0.0, 0.0]))
    own = float(lab_of(np.full(3, target))[0])
    return Balance(how, target / seen, float(np.hypot(a, b)), lightness=own, off_grey=off_grey)


def chart_likeness(seen: Array) -> float:
    """How far the light (24, 3) of what may be a chart's patches goes along with the chart's own, −1 to 1."""
    return _alike(np.log(np.maximum(seen, 1e-4)).reshape(*PATCHES, 3), _chart_logs())


@cache
def _chart_logs() -> Array:
    """Of the chart's own light, (rows, columns, 3)."""
    own = np.asarray(lab_to_linear(chart_lab()), dtype=np.float64)
    return np.log(np.maximum(own, 1e-4)).reshape(*PATCHES, 3)


def _alike(logs: Array, own: Array) -> float:
    first, second = (light - light.mean((0, 1)) for light in (logs, own))
    if not np.ptp(first):
        return 0.0  # all of one colour
    return float(np.corrcoef(first.ravel(), second.ravel())[0, 1])


def _check_upright(seen: Array, wanted: Array) -> None:
    """Whether the patches lie as they should: told by how their logs go along with the chart's own."""
    rows, columns = PATCHES
    logs, own = (np.log(np.maximum(light, 1e-4)).reshape(rows, columns, 3) for light in (seen, wanted))
    ways = {
        "upright": logs,
        "upside down": logs[::-1, ::-1],
        "mirrored": logs[:, ::-1],
        "mirrored and upside down": logs[::-1],
    }
    fits = {way: _alike(turned, own) for way, turned in ways.items()}
    best = max(fits, key=lambda way: fits[way])
    if fits[best] < ALIKE:
        raise CritiqueError("there is no 24-patch chart between these corners")
    if best != "upright":
        raise CritiqueError(f"the chart is {best}: give its corners clockwise from the brown patch (dark skin)")


def _luminance(light: NDArray[np.floating]) -> float:
    return float(np.asarray(light, dtype=np.float64) @ LIGHT_TO_LUMINANCE)
