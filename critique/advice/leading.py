"""How the colours of a picture are led toward those of another that the painter admires."""

import numpy as np
from numpy.typing import NDArray

from critique.advice.change import Change
from critique.advice.change_lead import Lead, Leading, Within
from critique.advice.frame import Frame
from critique.advice.guiding import guided_mask, resized
from critique.advice.recipe_for import RecipeFor
from critique.errors import CritiqueError
from critique.measures.parts import measure_parts
from critique.paints.box import PaintBox
from critique.paints.recipes import recipes
from critique.perception.green_weight import green_weight
from critique.perception.ranks import middle_colour, quantiles_of
from critique.picture.picture import Picture, lab_at
from critique.words.lists import listed

KIND = "lead_toward"
TITLE = "lead the colours toward the picture that you admire"
LONG_EDGE = 320  # px: means and spreads of colour don't need more
LEAST_PART = 0.01  # of a picture that a part must fill before its colours say anything
LEAST_SPREAD = 2.0  # CIELAB units of standard deviation: a flatter part is not pulled out into noise
MOSTLY_GREEN = 0.5  # of a colour that counts as green
SURE = 0.6  # of a part, in both pictures: two in three landscapes are as sure of their sky, nearly all of their land
WHOLE = frozenset({"sky", "water"})  # parts that are led as one, only where all colours are
# The parts of a picture, and what says how sure it is of them; the bands of the land are as sure as the land.
SURENESS = {
    "sky": "sky_sureness", "far": "land_sureness", "middle": "land_sureness", "near": "land_sureness",
    "water": "water_sureness",
}  # fmt: skip
MOST_STRETCH = 1.6  # times that a spread of colours may be drawn apart: beyond it, brushwork turns to confetti

Float64 = NDArray[np.float64]


def lead_toward(picture: Picture, other: Picture, *, everything: bool = False, box: PaintBox | None = None) -> Change:
    """The change that leads a picture's greens, or all its colours, toward those of another; its values stay.

    The a*b* of the one are carried onto those of the other by the cheapest map between two normal distributions: sky to
    sky, water to water, far, middle and near land to the same by its greens and what is not green, wherever both
    pictures surely have that part; elsewhere the greens to the greens, and what is not green to what is not.
    [Olkin and Pukelsheim, Linear Algebra Appl. 48, 1982; Pitié and Kokaram, CVMP 2007]

    Raises
    ------
    CritiqueError
        When either picture has no green to lead, and nothing else was asked for.
    """
    own, admired = lab_at(picture, LONG_EDGE), lab_at(other, LONG_EDGE)
    greens = _leading(own, admired, _greens(own), _greens(admired))
    others = _leading(own, admired, 1 - _greens(own), 1 - _greens(admired)) if everything else None
    if greens is None and not everything:
        lacking = picture if green_weight(own).mean() < LEAST_PART else other
        none = f"{lacking.file} has hardly any green, so there is none to lead: lead all colours"
        raise CritiqueError(none, mend="lead_all")
    parameters = Lead(greens, others, _parts_led(picture, other, everything))
    return Change(KIND, parameters, _paint(own, parameters, box) if box is not None else ())


def parts_in_words(change: Change) -> str:
    """Which parts have a way of their own, such as "sky to sky and near land to near land"; empty where none has."""
    parameters = change.parameters
    within = parameters.within if isinstance(parameters, Lead) else ()
    names = [one.part if one.part in WHOLE else f"{one.part} land" for one in within]
    return listed([f"{name} to {name}" for name in names])


def _parts_led(picture: Picture, other: Picture, everything: bool) -> tuple[Within, ...]:
    """The parts that both pictures surely have, and how each is led; one with nothing to lead is left to the whole."""
    here, there = measure_parts(picture), measure_parts(other)
    own, admired = lab_at(picture, LONG_EDGE), lab_at(other, LONG_EDGE)
    found = []
    for name, sureness in SURENESS.items():
        if min(getattr(here, sureness), getattr(there, sureness)) < SURE:
            continue
        masks = [resized(parts.mask(name), lab.shape) for parts, lab in ((here, own), (there, admired))]
        if name in WHOLE:  # what is greenish in a sky or in water is no grass
            greens = others = _leading(own, admired, *masks) if everything else None
        else:
            green = [_greens(lab) * mask for lab, mask in zip((own, admired), masks, strict=True)]
            rest = [(1 - _greens(lab)) * mask for lab, mask in zip((own, admired), masks, strict=True)]
            greens = _leading(own, admired, *green)
            others = _leading(own, admired, *rest) if everything else None
            if everything and greens is None:  # green in one of the two only: then it goes where all of the part goes
                greens = others = _leading(own, admired, *masks)
        if greens is not None or others is not None:
            found.append(Within(name, greens, others, guided_mask(own, masks[0])))
    return tuple(found)


def _greens(lab: NDArray[np.float32]) -> NDArray[np.float32]:
    return np.asarray(green_weight(lab), dtype=np.float32)


def _leading(
    own: NDArray[np.float32], admired: NDArray[np.float32], here: NDArray[np.float32], there: NDArray[np.float32]
) -> Leading | None:
    """How the colours of one picture, weighted ``here``, go to those of the other, weighted ``there``."""
    if min(float(here.mean()), float(there.mean())) < LEAST_PART:
        return None
    mean, spread = _moments(own[..., 1:], here)
    to, wanted = _moments(admired[..., 1:], there)
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
    green = green_weight(own) > MOSTLY_GREEN
    if parameters.greens is None or not green.any():
        return ()
    led, light = parameters.on(own, Frame(*own.shape[:2])), own[..., 0]
    low, high = quantiles_of(light[green], (0.25, 0.75))
    ends = [middle_colour(led[green & which]) for which in (light >= high, light <= low)]
    found = recipes(np.array(ends, dtype=np.float64), box)
    return tuple(
        RecipeFor(use, one) for use, one in zip(("Greens in the light", "Greens in the shade"), found, strict=True)
    )
