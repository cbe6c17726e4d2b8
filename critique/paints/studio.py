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
# Earths that are red or brown, which grey a green. Common practice, no source.
RED_EARTHS = ("burnt sienna", "umber", "red oxide", "indian red", "venetian red")
RARE = 4.0  # magentas, purples, and what no list names
RELUCTANCE = 1.5  # parts of effort that a hazard, or a paint's not having been measured, weighs
WASTE_EFFORT = 0.08  # parts of effort that one C*ab of colour weighs which the paints have and their mixture loses
MOST_PLAIN = 24.0  # C*ab lost that nobody minds: any two earths lose as much
BULK = 0.5  # of the largest part: less is added to a mixture, not begun with; common practice, no source
MANY_TIMES = 3.0  # as strong as the mildest of the bulk: such a paint is added to it; common practice, no source
DETAIL = 4.0  # of white to one of paint, where a paint's own colour is judged


@lru_cache(maxsize=256)
def reach_effort(name: str) -> float:
    """What taking up a paint costs beside any other, from 0 for white."""
    return next((effort for effort, words in ORDINARY if any(word in name for word in words)), RARE)


def is_earth(name: str) -> bool:
    """Whether a paint is one of the red and brown earths, by its name."""
    return any(word in name for word in RED_EARTHS)


def burden_of(paint: Paint) -> float:
    """Effort of a paint's presence beyond that of every paint: how ordinary, how safe and how well known it is."""
    hazardous = bool(paint.hazards) and not paint.is_white
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

    The start is the tube nearest to the colour wanted among those that make its bulk; then come the others by
    strength, strongest last, so that it can be added little by little. The strongest is no start, nor is one many times
    as strong as another of the bulk, unless it is most of the mixture: whoever begins with a phthalo drowns everything
    else in it.
    """
    strengths = [strength_of(paint) for paint in paints]
    strongest = max(range(len(amounts)), key=lambda index: strengths[index])
    bulk = [index for index, amount in enumerate(amounts) if amount >= max(one, BULK * max(amounts))]
    mildest = min((strengths[index] for index in bulk if not paints[index].is_white), default=strengths[strongest])
    strong = {strongest, *(index for index in bulk if strengths[index] > MANY_TIMES * mildest)}
    tame = [index for index in bulk if index not in strong or amounts[index] > sum(amounts) / 2]
    start = min(tame or bulk or range(len(amounts)), key=lambda index: _away(paints[index], target))
    rest = sorted((index for index in range(len(amounts)) if index != start), key=lambda index: strengths[index])
    return (start, *rest)


def _away(paint: Paint, target: NDArray[np.floating]) -> float:
    return float(delta_e_2000(paint_lab(paint), target))


def strength_of(paint: Paint) -> float:
    """How much a part of it colours: the geometric mean of how it darkens and how it colours.

    That is, of its absorption as the eye weighs it, which is little for the greens and yellows that the eye is most
    sensitive to, and of its absorption over the whole of the spectrum.
    """
    darkens = float(paint.K @ photopic_efficiency() / photopic_efficiency().sum())
    return float(np.sqrt(darkens * paint.K.mean()))


def order_in_words(parts: Sequence[tuple[str, bool]], strengths: Sequence[float]) -> str:
    """Such as "Begin with titanium white, work in yellow oxide, and dioxazine purple last, little by little: …".

    ``parts`` are names in the order of mixing, with whether each is a touch; ``strengths`` those of the same paints.
    """
    names = [name for name, _ in parts]
    if len(names) < 2:
        return ""
    if len(names) == 2:
        last = "a touch at a time" if parts[1][1] else "little by little"
        return f"Begin with {names[0]} and add {names[1]} {last}."
    middle = listed(names[1:-1])
    why = ": it is the strongest" if strengths[-1] >= max(strengths) else ""
    return f"Begin with {names[0]}, work in {middle}, and {names[-1]} last, little by little{why}."
