"""With which paint a strong green is quieted, and what the picture looks like with that mixture in it."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import ArrayLike

from critique.advice.change import Lab, recoloured
from critique.advice.recipe_for import RecipeFor
from critique.paints.box import PaintBox, default_box
from critique.paints.dabs import USUAL_WHITE_PARTS
from critique.paints.kubelka_munk import paint_lab
from critique.paints.muting import Muting, Way, quieting_ways
from critique.paints.recipes import Recipe, recipe, recipes
from critique.paints.studio import is_earth
from critique.perception.channels import chroma_of
from critique.perception.cielab import lab_to_lch, lch_of, lch_to_lab
from critique.perception.green_weight import green_weight
from critique.perception.hue import LEAST_CHROMA, YELLOW_GREEN, HueBand, turn

LCh = tuple[float, float, float]
MOST_WAYS = 3  # paints named for one green: the best, and two that may be out already
GREEN_PAINT = HueBand("green paint", YELLOW_GREEN.start, 220.0, LEAST_CHROMA)  # of a tint; viridian's lies near 180°
MIDDLE_GREEN, MOST_GREENER = (YELLOW_GREEN.start + YELLOW_GREEN.end) / 2, 6.0  # degrees; our choice
# Of the chroma that the best way takes: less is no quieting, as a phthalo blue in a green; our choice.
HALF_AS_MUCH = 0.6
SAME_PAINT = 2.0  # ΔE00 that the paint already out for another green may cost: one tube to squeeze and not two


@dataclass(frozen=True, slots=True)
class PaintedMuting:
    """The likely mixture of a strong green, the paint that quiets it, and others of the box that would."""

    mixture: Recipe
    way: Muting
    instead: tuple[Muting, ...]
    box: str

    @property
    def made(self) -> LCh:
        """The colour (L*, C*ab, h°) that it makes."""
        L, C, h = (float(part) for part in lab_to_lch(np.array(self.way.lab)))
        return L, C, h

    def recipe_for(self, use: str, share: float | None = None) -> RecipeFor:
        """It as a recipe for a green that is called ``use`` and takes ``share`` of the picture."""
        return RecipeFor(use, self.mixture, share, self.way, self.instead, self.box)


def painted_muting(
    source: ArrayLike,
    aim: ArrayLike,
    box: PaintBox | None = None,
    out_already: str | None = None,
    brown_below: float | None = None,
) -> PaintedMuting | None:
    """The paint of a box (the default one) that brings a green nearest to a quieter aim, both (3,) CIELAB.

    ``out_already`` names a paint that is preferred where it does nearly as well. What turns the green to a hue below
    ``brown_below``, in degrees, may stand beside the best, and is never the best. None when no paint of the box brings
    the green nearer.
    """
    owned = box or default_box()
    L, a, b = (float(part) for part in np.asarray(source))
    mixture = _mixture((L, a, b), owned)
    quiet = [way for way in quieting_ways(mixture, aim, owned) if way.paint.name not in _greens_of(owned)]
    green = [way for way in quiet if brown_below is None or turn(brown_below, lch_of(way.lab)[2]) >= 0]
    ways = tuple(way for way in green if not _greener((L, a, b), way)) or tuple(green)
    if not ways:
        return None
    same = [way for way in ways if way.paint.name == out_already and way.error <= ways[0].error + SAME_PAINT]
    best = same[0] if same else ways[0]
    others = _others(best, ways, quiet)
    return PaintedMuting(mixture, best.told(), tuple(way.told() for way in others), owned.name)


def _others(best: Way, ways: Sequence[Way], quiet: Sequence[Way]) -> tuple[Way, ...]:
    """Ways that need a paint that is not in the mixture already, and quiet it too; an earth among them, where one does.

    Every landscape painter has a red earth or an umber out, and reaches for it first, though it takes a blue green to
    an olive on its way: common practice, no source. It is looked for among all that is ``quiet``.
    """
    least = HALF_AS_MUCH * (best.chroma_before - best.chroma_after)
    mixed = {paint.name for paint in best.mixture.paints}

    def helps(way: Way) -> bool:
        new = way is not best and way.paint.name not in mixed
        return new and way.chroma_before - way.chroma_after >= least

    named = [way for way in ways if helps(way)][: MOST_WAYS - 1]
    if not any(is_earth(way.paint.name) for way in (best, *named)):
        earths = [way for way in quiet if is_earth(way.paint.name) and helps(way)]
        named[MOST_WAYS - 2 :] = earths[:1] or named[MOST_WAYS - 2 :]
    return tuple(named)


@lru_cache(maxsize=4)
def _greens_of(box: PaintBox) -> frozenset[str]:
    """Names of the paints that are green themselves: a touch of one may move a mixture, but it quiets no green."""
    tints = {paint.name: paint_lab(paint, box.white, USUAL_WHITE_PARTS) for paint in box.paints}
    return frozenset(name for name, tint in tints.items() if GREEN_PAINT.contains(tint))


def _greener(green: tuple[float, float, float], way: Way) -> bool:
    """Whether a way turns a green toward the middle of the greens: quieter, and yet more of a green."""
    before, after = (np.degrees(np.arctan2(b, a)) for _, a, b in (green, way.lab))
    return bool(abs(turn(MIDDLE_GREEN, before)) - abs(turn(MIDDLE_GREEN, after)) > MOST_GREENER)


@lru_cache(maxsize=4)
def _mixture(green: tuple[float, float, float], box: PaintBox) -> Recipe:
    """The likely mixture of a green; kept, since the same green is asked about with one aim after another."""
    return recipe(green, box)


def repaint_all(lab: Lab, kept: float, mixtures: Sequence[tuple[LCh, LCh]], weight: Lab | None = None) -> Lab:
    """Every green of a picture (..., 3) changed as the strong greens near it are changed.

    ``mixtures`` are pairs of a strong green as it is and as the paint makes it. A green between several is changed
    by each in the measure of its nearness in CIELAB, so that no edge appears between them: by the fourth power of the
    distance, where the second is usual, which keeps the greens apart. [Shepard, 1968] ``weight`` (...) is how much of
    a green each colour is, None for what its hue tells.
    """
    weight, chroma = green_weight(lab) if weight is None else weight, chroma_of(lab)
    changed = [_repainted(lab, kept, source, made, weight, chroma) for source, made in mixtures]
    if len(changed) == 1:
        return changed[0]
    weights = [_nearness(lab, source) for source, _ in mixtures]
    total = np.sum(weights, axis=0)
    shares = [(weight / total)[..., None] for weight in weights]
    return np.asarray(sum(share * one for share, one in zip(shares, changed, strict=True)), dtype=np.float32)


def _nearness(lab: Lab, source: LCh) -> Lab:
    L, a, b = lch_to_lab(np.array(source)).astype(np.float32)
    away = np.square(lab[..., 0] - L) + np.square(lab[..., 1] - a) + np.square(lab[..., 2] - b)
    return np.asarray(1 / np.square(away + np.float32(1e-3)), dtype=np.float32)  # the fourth power of the distance


def _repainted(lab: Lab, kept: float, source: LCh, made: LCh, weight: Lab, chroma: Lab) -> Lab:
    """Every green of a picture (..., 3) changed as the mixture changes the strong one.

    ``source`` goes to ``made`` whole; a green between it and chroma ``kept`` goes part of the way, one quieter than
    ``kept`` stays. Stronger ones than ``source`` lose chroma in the same ratio, and turn and darken no further.
    ``weight`` is how much of a green each colour is, ``chroma`` its C*ab (...).
    """
    span = max(source[1] - kept, 1.0)
    excess = np.maximum(chroma - kept, 0)
    strength = np.minimum(excess / span, 1) * weight
    ratio = float(np.clip((made[1] - kept) / span, 0, 1))
    scale = 1 - excess * (1 - ratio) * weight / np.maximum(chroma, 1e-6)
    angle = np.radians(float(turn(source[2], made[2]))).astype(np.float32) * strength
    lightness = np.clip(lab[..., 0] + np.float32(made[0] - source[0]) * strength, 0, 100)
    return recoloured(lab, lightness, angle, scale)


def pair_of_recipes(
    first: tuple[str, ArrayLike], second: tuple[str, ArrayLike], box: PaintBox | None = None
) -> tuple[RecipeFor, ...]:
    """Recipes for two colours (3,), each with the words that say what it is for."""
    found = recipes(np.array([first[1], second[1]], dtype=np.float64), box or default_box())
    return tuple(RecipeFor(use, one) for (use, _), one in zip((first, second), found, strict=True))
