"""What makes a mixture one that a painter would mix: few and ordinary paints, and nothing thrown away."""

from collections.abc import Sequence
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from critique.paints.kubelka_munk import paint_lab
from critique.paints.paint import MEASURED, Paint
from critique.perception.difference import delta_e_2000
from critique.perception.spectra import photopic_efficiency
from critique.words.lists import listed

# How readily a landscape painter reaches for a paint, by what its name says; in parts of effort, as whole_parts.py
# counts them. Earths and ultramarine are always out, strong organics have a reason. Common practice, no source.
ORDINARY = (
    (0.0, ("white",)),
    (0.5, ("ochre", "yellow oxide", "sienna", "umber", "red oxide", "ultramarine", "indian red", "venetian red")),
    (1.0, ("yellow", "cerulean", "cobalt blue", "chromium", "green earth", "black", "sap green", "payne")),
    (2.0, ("phthalo", "red", "viridian", "orange")),
)
RARE = 4.0  # magentas, purples, and what no list names
RELUCTANCE = 1.5  # parts of effort that a hazard, or a paint's not having been measured, weighs
WASTE_EFFORT = 0.08  # parts of effort that one C*ab of colour weighs which the paints have and their mixture loses
MOST_PLAIN = 24.0  # C*ab lost that nobody minds: any two earths lose as much
DETAIL = 4.0  # of white to one of paint, where a paint's own colour is judged


@lru_cache(maxsize=256)
def reach_effort(name: str) -> float:
    """What taking up a paint costs beside any other, from 0 for white."""
    return next((effort for effort, words in ORDINARY if any(word in name for word in words)), RARE)


def burden_of(paint: Paint) -> float:
    """Effort of a paint's presence beyond that of every paint: how ordinary, how safe and how well known it is."""
    hazardous = bool(paint.hazard) and not paint.is_white
    return reach_effort(paint.name) + RELUCTANCE * (hazardous + (paint.origin != MEASURED))


@lru_cache(maxsize=256)
def tint_colour(paint: Paint, white: Paint) -> NDArray[np.floating]:
    """a* and b* (2,) of a paint let down with white, as it acts in a mixture."""
    return np.asarray(paint_lab(paint, white, DETAIL)[1:])


def waste(
    parts: NDArray[np.integer], strength: NDArray[np.floating], tints: NDArray[np.floating]
) -> NDArray[np.floating]:
    """Colour (n,) that mixtures of parts (n, paints) throw away, C*ab: what their paints have, less what is left.

    ``strength`` (paints,) weighs a part by how much it colours; ``tints`` (paints, 2) are a* and b* of the tints.
    """
    acting = parts * strength
    share = acting / np.maximum(acting.sum(axis=1, keepdims=True), 1e-12)
    had = share @ np.hypot(tints[:, 0], tints[:, 1])
    left = np.hypot(*(share @ tints).T)
    return np.asarray(had - left)


def waste_effort(lost: NDArray[np.floating]) -> NDArray[np.floating]:
    """What such a loss weighs, in parts of effort."""
    return np.asarray(WASTE_EFFORT * np.maximum(lost - MOST_PLAIN, 0))


def mixing_order(
    amounts: Sequence[int], paints: Sequence[Paint], target: NDArray[np.floating], one: int
) -> tuple[int, ...]:
    """Which paint to begin with and in which order to add the others.

    The start is the tube nearest to the colour wanted among those that make whole parts; then come the others by
    strength, strongest last, so that it can be added little by little.
    """
    whole = [index for index, amount in enumerate(amounts) if amount >= one] or list(range(len(amounts)))
    start = min(whole, key=lambda index: float(delta_e_2000(paint_lab(paints[index]), target)))
    rest = sorted(
        (index for index in range(len(amounts)) if index != start),
        key=lambda index: (strength_of(paints[index]), index),
    )
    return (start, *rest)


def strength_of(paint: Paint) -> float:
    """How much a part of it colours: its absorption, on average over what the eye sees."""
    return float(paint.K @ photopic_efficiency() / photopic_efficiency().sum())


def order_in_words(parts: Sequence[tuple[str, bool]]) -> str:
    """Such as "Begin with titanium white, work in yellow oxide, and dioxazine purple last, little by little: …"."""
    names = [name for name, _ in parts]
    if len(names) < 2:
        return ""
    if len(names) == 2:
        last = "a touch at a time" if parts[1][1] else "little by little"
        return f"Begin with {names[0]} and add {names[1]} {last}."
    middle = listed(names[1:-1])
    return f"Begin with {names[0]}, work in {middle}, and {names[-1]} last, little by little: it is the strongest."
