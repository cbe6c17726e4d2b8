"""What a paint absorbs and scatters, found from two or three dabs of it on paper.

The masstone–tint method [R. S. Berns, Billmeyer and Saltzman's Principles of Color Technology, 2019, ch. on colourants]
wants spectra; a painter has colours. The spectra are recovered as the likeliest pair of smooth curves that give exactly
those colours, where likely is learnt from the measured paints: a conditioned Gaussian process. [C. E. Rasmussen and
C. K. I. Williams, Gaussian Processes for Machine Learning, 2006, ch. 2]
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

import numpy as np
from numpy.typing import ArrayLike, NDArray

from critique.errors import PaintError
from critique.one_thread import in_one_thread
from critique.paints.kubelka_munk import (
    absorption_ratio,
    coefficients,
    mixture_lab,
    paint_lab,
    thick_layer,
    through_surface,
)
from critique.paints.paint import OWN_DABS, Paint, Spectrum
from critique.perception.cielab import lab_to_linear, linear_to_lab
from critique.perception.difference import delta_e_2000
from critique.perception.spectra import WAVELENGTHS, reflectance_to_lab

USUAL_WHITE_PARTS = 10.0  # of white to one of paint, as the typical paints' tints
LARGEST_WHITE_PARTS = 1000.0  # beyond it a tint is white to the eye, and says nothing of the paint
LARGEST_OPPONENT = 128.0  # |a*| or |b*| of any paint on paper; beyond it a figure is a slip of the pen
LIGHTNESS_SLACK = 1.0  # L*: dabs on paper are measured no better, and pale tints lie close together
LEAST_LIFT = 2.0  # ΔE00 by which white must change a paint for the two dabs to be two; a weak tinter changes by tens
WORST_FIT = 3.0  # ΔE00 between a dab and the paint found for it, beyond which no paint could have both dabs

# The prior: spreads and reaches chosen on the measured paints, each left out in turn; results vary little near them.
RATIO_SPREAD, RATIO_REACH = 1.0, 50.0  # of logit R, and nm over which a spectrum stays alike
SCATTER_SPREAD, SCATTER_REACH = 0.7, 60.0  # of log S, and nm
LIKENESS = 10.0  # ΔE00 between dabs at which a measured paint counts 0.6 of a twin
COMMON_SHARE = 0.1  # of the prior that every measured paint shares alike, however unlike
# CIELAB units by which a dab may be mistaken, tried in turn: the least that makes the paint a likely one is taken.
DAB_NOISES = (0.05, 0.5, 1.0, 2.0, 4.0)
LIKELY = 22.0  # squared distance from the prior's mean; the measured paints, left out in turn, lie below 11
STEPS, LARGEST_STEP = 30, 1.5  # Gauss–Newton; the largest change of a logit in one step
TRIAL_NOISE = 1.0  # CIELAB units by which a trial's colour strays through its parts; a knife measures no better
EASING_STEPS = 8  # steps over which the noise is brought down, halved each time

N = len(WAVELENGTHS)


@dataclass(frozen=True, slots=True)
class Dab:
    """A patch of paint: its colour and the parts of white to one of paint in it (0 for masstone)."""

    lab: tuple[float, float, float]
    white_parts: float = 0.0


@dataclass(frozen=True, slots=True)
class Trial:
    """A mixture that the painter made of the paint with another, and what came out: "3 : 1 with white gave this"."""

    lab: tuple[float, float, float]
    parts: float  # of the paint
    other: Paint
    other_parts: float


@in_one_thread
def paint_from_dabs(
    name: str,
    dabs: Sequence[Dab],
    white: Paint,
    library: Sequence[Paint],
    *,
    pigment: str = "",
    colour_index: str = "",
    opacity: str = "",
    hazard: str = "",
    origin: str = OWN_DABS,
    trials: Sequence[Trial] = (),
) -> Paint:
    """Find K and S of a paint from its masstone, a tint with white, and further tints if there are any.

    Parameters
    ----------
    dabs : two or more dabs, one of them the masstone; CIELAB D65 without surface glare.
    white : the white of the tints.
    library : measured paints from which the usual shapes of spectra are learnt.
    opacity : the label's word; empty when it is not known.
    trials : mixtures that the painter made, by which the paint found from its dabs is corrected.

    Raises
    ------
    PaintError
        When the dabs are too few, absurd, out of order, or such as no paint could have.
    """
    ordered = _checked(name, dabs, white)
    held = _Dabs.of(ordered, white)
    shape = _likeliest(held, library)
    K, S = _decoded(shape)
    misfit = delta_e_2000(held.labs(shape), held.target)
    if float(misfit.max()) > WORST_FIT:
        raise PaintError(
            f"{name}: no paint has both these dabs (off by ΔE00 {float(misfit.max()):.1f}): "
            "measure them again, and check the parts of white"
        )
    if trials:
        K, S = _corrected(shape, held, trials)
    return Paint(name, pigment, colour_index, opacity, hazard, origin, K, S)


def trial_errors(paint: Paint, trials: Sequence[Trial]) -> tuple[float, ...]:
    """ΔE00 between each trial and what the paint is calculated to make there: how far to trust it."""
    made = [mixture_lab([one.parts, one.other_parts], [paint, one.other]) for one in trials]
    return tuple(float(delta_e_2000(lab, np.array(one.lab))) for lab, one in zip(made, trials, strict=True))


@dataclass(frozen=True, slots=True, eq=False)
class _Dabs:
    """Dabs made ready: their colours, and K and S of what each holds beside one part of the paint, (dabs, 38)."""

    target: NDArray[np.float64]
    K: Spectrum
    S: Spectrum

    @classmethod
    def of(cls, dabs: Sequence[Dab], white: Paint) -> "_Dabs":
        parts = np.array([dab.white_parts for dab in dabs])[:, None]
        return cls(np.array([dab.lab for dab in dabs]), parts * white.K, parts * white.S)

    def labs(self, shape: NDArray[np.float64]) -> NDArray[np.float64]:
        """CIELAB (..., dabs, 3) that paints of such shapes (..., 76) would give."""
        K, S = (coefficient[..., None, :] for coefficient in _decoded(shape))
        return reflectance_to_lab(through_surface(thick_layer(K + self.K, S + self.S)))


def _corrected(shape: NDArray[np.float64], dabs: _Dabs, trials: Sequence[Trial]) -> tuple[Spectrum, Spectrum]:
    """K and S moved as little as brings the trials near, while the dabs stay.

    The dabs' own shape is the prior, with the usual spreads; trials are taken to be mistaken by ``TRIAL_NOISE``.
    """
    ratio = np.array([one.other_parts / one.parts for one in trials])[:, None]
    K, S = coefficients([one.other for one in trials])
    both = _Dabs(
        np.concatenate([dabs.target, [one.lab for one in trials]]),
        np.concatenate([dabs.K, ratio * K]),
        np.concatenate([dabs.S, ratio * S]),
    )
    covariance = np.zeros((2 * N, 2 * N))
    covariance[:N, :N] = RATIO_SPREAD**2 * _smoothness(RATIO_REACH)
    covariance[N:, N:] = SCATTER_SPREAD**2 * _smoothness(SCATTER_REACH)
    noise = np.repeat([DAB_NOISES[2]] * len(dabs.target) + [TRIAL_NOISE] * len(trials), 3)
    return _decoded(_fit(both, shape, covariance, noise)[0])


def _checked(name: str, dabs: Sequence[Dab], white: Paint) -> list[Dab]:
    """The dabs by falling strength, or the reason why they can't be used."""
    ordered = sorted(dabs, key=lambda dab: dab.white_parts)
    if len(ordered) < 2 or ordered[0].white_parts != 0 or any(dab.white_parts == 0 for dab in ordered[1:]):
        raise PaintError(f"{name}: give one masstone dab and at least one tint with its parts of white")
    for dab in ordered:
        _check_figures(name, dab)
    white_lightness = float(paint_lab(white)[0])
    for stronger, paler in pairwise(ordered):
        if stronger.white_parts == paler.white_parts:
            raise PaintError(f"{name}: two tints have the same parts of white ({paler.white_parts:g}): keep one")
        if paler.lab[0] > white_lightness + LIGHTNESS_SLACK:
            raise PaintError(
                f"{name}: its tint (L* {paler.lab[0]:g}) is lighter than {white.name} itself "
                f"(L* {white_lightness:.1f}): measure against the white that was mixed in"
            )
        if paler.lab[0] < stronger.lab[0] - LIGHTNESS_SLACK:
            what = "its masstone" if stronger.white_parts == 0 else "a stronger tint"
            raise PaintError(
                f"{name}: its tint (L* {paler.lab[0]:g}) is darker than {what} (L* {stronger.lab[0]:g}): "
                "are the two dabs swapped?"
            )
        if float(delta_e_2000(np.array(stronger.lab), np.array(paler.lab))) < LEAST_LIFT and not _near_white(
            stronger, white
        ):
            raise PaintError(
                f"{name}: {'masstone and tint are' if stronger.white_parts == 0 else 'two of its tints are'} the same "
                f"colour (L* {stronger.lab[0]:g} and {paler.lab[0]:g}): mix white into one of them and measure it again"
            )
    return ordered


def _near_white(dab: Dab, white: Paint) -> bool:
    """Whether a dab is so near to white that more white could hardly change it."""
    return float(delta_e_2000(np.array(dab.lab), paint_lab(white))) < 4 * LEAST_LIFT


def _check_figures(name: str, dab: Dab) -> None:
    L, a, b = dab.lab
    if not np.all(np.isfinite([L, a, b, dab.white_parts])):
        raise PaintError(f"{name}: a dab holds something that is not a number: give L*, a*, b*")
    if not 0 <= L <= 100 or max(abs(a), abs(b)) > LARGEST_OPPONENT:
        raise PaintError(
            f"{name}: no dab has L*a*b* {L:g}, {a:g}, {b:g}: L* runs from 0 to 100, "
            f"a* and b* from −{LARGEST_OPPONENT:g} to {LARGEST_OPPONENT:g}"
        )
    if not 0 <= dab.white_parts <= LARGEST_WHITE_PARTS:
        raise PaintError(
            f"{name}: {dab.white_parts:g} parts of white to one of paint can't be: "
            f"give a number above 0 and up to {LARGEST_WHITE_PARTS:g}"
        )


# A paint's shape is logit R of its masstone and log S, (76,): both stay within a few units where K spans six decades.


def _encoded(paint: Paint) -> NDArray[np.float64]:
    R = thick_layer(paint.K, paint.S)
    return np.concatenate([np.log(R / (1 - R)), np.log(paint.S)])


def _decoded(shape: NDArray[np.float64]) -> tuple[Spectrum, Spectrum]:
    R = 1 / (1 + np.exp(-shape[..., :N]))
    S = np.exp(shape[..., N:])
    return S * absorption_ratio(R), S


def _prior(dabs: _Dabs, library: Sequence[Paint]) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Mean (76,) and covariance (76, 76) of the shapes of paints, those with like dabs counting most."""
    shapes = np.stack([_encoded(paint) for paint in library])
    distance = delta_e_2000(dabs.labs(shapes)[:, :2], dabs.target[:2])
    likeness = np.exp(-0.5 * (distance**2).sum(axis=1) / LIKENESS**2) + 1e-3
    weights = (1 - COMMON_SHARE) * likeness / likeness.sum() + COMMON_SHARE / len(library)
    mean = weights @ shapes
    departure = shapes - mean
    covariance = (departure * weights[:, None]).T @ departure
    covariance[:N, :N] += RATIO_SPREAD**2 * _smoothness(RATIO_REACH)
    covariance[N:, N:] += SCATTER_SPREAD**2 * _smoothness(SCATTER_REACH)
    return mean, covariance


@lru_cache(maxsize=2)  # one of the ratio, one of what scatters
def _smoothness(reach: float) -> NDArray[np.float64]:
    """Squared-exponential covariance (38, 38): wavelengths nearer than ``reach`` nm behave alike."""
    apart = (WAVELENGTHS[:, None] - WAVELENGTHS[None, :]) / reach
    return np.asarray(np.exp(-0.5 * apart**2))


def _likeliest(dabs: _Dabs, library: Sequence[Paint]) -> NDArray[np.float64]:
    """The most probable shape (76,) whose dabs have the colours given.

    Dabs that only a freak of a paint could have are taken to be a little mistaken rather than the paint to be a freak.
    """
    mean, covariance = _prior(dabs, library)
    shape, distance = _fit(dabs, mean, covariance, DAB_NOISES[0])
    for noise in DAB_NOISES[1:]:
        if distance <= LIKELY:
            break
        milder, milder_distance = _fit(dabs, mean, covariance, noise)
        if float(delta_e_2000(dabs.labs(milder), dabs.target).max()) > WORST_FIT:
            break
        shape, distance = milder, milder_distance
    return shape


def _fit(
    dabs: _Dabs, mean: NDArray[np.float64], covariance: NDArray[np.float64], noise: ArrayLike
) -> tuple[NDArray[np.float64], float]:
    """The peak of the posterior by Gauss–Newton, and its squared distance from the prior's mean.

    ``noise`` is one figure, or one for each of the dabs' L*, a* and b*.
    """
    nudges = 1e-4 * np.eye(2 * N)
    wanted = dabs.target.ravel()
    spread = np.broadcast_to(np.asarray(noise, dtype=np.float64), wanted.shape)
    shape, distance = mean.copy(), 0.0
    for step in range(STEPS):
        now = dabs.labs(shape).ravel()
        slope = (dabs.labs(shape + nudges).reshape(2 * N, -1) - now).T / 1e-4
        eased = spread * 2.0 ** max(EASING_STEPS - step, 0)
        gain = covariance @ slope.T
        explained = slope @ gain
        pull = np.linalg.solve(explained + np.diag(eased**2), wanted - now + slope @ (shape - mean))
        distance = float(pull @ explained @ pull)
        change = mean + gain @ pull - shape
        largest = float(np.abs(change).max())
        shape = shape + change * min(1.0, LARGEST_STEP / max(largest, 1e-12))
        if step > EASING_STEPS and largest < 1e-5:
            break
    return shape, distance


def spot_lab(lab: ArrayLike, x: float, y: float, radius: float = 0.01) -> NDArray[np.float64]:
    """Median CIELAB (3,) of a round spot of a picture's ``lab`` (height, width, 3).

    ``x`` and ``y`` are fractions of the width and height from the top left; ``radius`` is a fraction of the long edge.
    """
    pixels = np.asarray(lab)
    height, width = pixels.shape[:2]
    if not (0 <= x <= 1 and 0 <= y <= 1):
        raise PaintError(f"the spot at {x:g}, {y:g} lies outside the picture: give fractions from 0 to 1")
    rows, columns = np.ogrid[:height, :width]
    reach = max(radius * max(height, width), 0.75)
    inside = (columns - x * (width - 1)) ** 2 + (rows - y * (height - 1)) ** 2 <= reach**2
    return np.asarray(np.median(pixels[inside], axis=0), dtype=np.float64)


DARKEST_WHITE = 40.0  # L*: a "white" darker than this in the photograph was not lit well enough to scale by


def relative_to_white(spots: ArrayLike, photographed_white: ArrayLike, white: Paint) -> NDArray[np.float64]:
    """Colours (..., 3) of spots in a photograph, corrected so that the white in it is the white it should be.

    The correction scales linear light channel by channel, as a camera's white balance does.
    """
    seen = np.asarray(photographed_white, dtype=np.float64)
    if float(seen[0]) < DARKEST_WHITE:
        raise PaintError(f"the white spot is only L* {float(seen[0]):.0f}: mark a white that is well lit")
    gain = lab_to_linear(paint_lab(white)) / lab_to_linear(seen)
    return np.asarray(linear_to_lab(np.maximum(lab_to_linear(spots) * gain, 0)), dtype=np.float64)


def dabs_from_photograph(
    lab: ArrayLike,
    masstone: tuple[float, float],
    tint: tuple[float, float],
    white_spot: tuple[float, float],
    white: Paint,
    white_parts: float = USUAL_WHITE_PARTS,
) -> list[Dab]:
    """Two dabs from spots marked in a photograph that also shows the white they were mixed with.

    ``lab`` is the picture's (height, width, 3); spots are (x, y) in fractions of width and height from the top left.
    """
    seen_white = spot_lab(lab, *white_spot)
    spots = np.stack([spot_lab(lab, *masstone), spot_lab(lab, *tint)])
    true = relative_to_white(spots, seen_white, white).tolist()
    return [Dab((L, a, b), parts) for (L, a, b), parts in zip(true, (0.0, white_parts), strict=True)]
