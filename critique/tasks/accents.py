"""Which touches of another colour a picture has, laid last: a roof, a figure; the one where the eye is held first."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from critique.advice.colour_words import word_of_lab
from critique.paints.at_easel import easel_recipes
from critique.paints.box import PaintBox
from critique.paints.lasting import lasting_recipes, tubes_for
from critique.paints.little_heap import few_parts
from critique.paints.recipes import Recipe
from critique.perception.cielab import lab_to_srgb8
from critique.perception.difference import delta_e_2000
from critique.perception.srgb import hex_of
from critique.picture.places import Place, place_of
from critique.tasks.places_of_colour import Places

Float64 = NDArray[np.float64]

ACCENTS = 3  # touches told beside the passages: what is laid last
STANDS_OUT = 12.0  # CIELAB units from every passage, L* counted half: a touch is another hue, no highlight
DEEP = 2  # px of the small copy from its rim to its middle
PUREST = 0.6  # of a touch, nearest to a passage first, that is left out of its colour
UNLIKE = 12.0  # a*b* between the halves of a touch, such as a roof and the wall in its shade, that are two colours
HELD_WITHIN = 0.08  # of the sides from where the eye is held: a roof there is what the picture is about
LIGHT_COUNTS, HUE_COUNTS = 0.5, 1.2
OF_ITS_OWN = 9.0  # ΔE00 from every passage: nearer to one, it is a strip of that across the border
LEAST_ACCENT, MOST_ACCENT = 0.0002, 0.006  # of the picture: a dab, and what would be a passage of its own


@dataclass(frozen=True, slots=True)
class Accent:
    """A touch of another colour than any passage's, laid last: a roof, a figure. ``letter`` stands on the key."""

    letter: str
    colour: str
    place: Place
    within: int
    at: tuple[float, float]
    share: float
    srgb: str
    recipe: Recipe


def accents_of(found: Places, box: PaintBox, holding: Sequence[tuple[float, float]]) -> tuple[Accent, ...]:
    """The few touches whose colour is farthest from every passage's, first the one where the eye is held."""
    from scipy.ndimage import distance_transform_cdt, label

    colours = found.colours()
    away = _away(found.lab, colours)
    spots, count = label(away > STANDS_OUT)
    size = np.bincount(spots.ravel(), minlength=count + 1)
    deepest = np.zeros(count + 1, np.int64)
    np.maximum.at(deepest, spots, distance_transform_cdt(spots > 0))  # a strip along a border is no touch
    fits = (size >= LEAST_ACCENT * spots.size) & (size <= MOST_ACCENT * spots.size) & (deepest >= DEEP)
    told: list[tuple[bool, float, int, Float64]] = []
    for spot_number in np.flatnonzero(fits[1:]) + 1:
        here = spots == spot_number
        colour = _own_colour(found.lab[here], away[here])
        x, y = number_at(here)
        held = any(np.hypot(x - at[0], y - at[1]) <= HELD_WITHIN for at in holding)
        told.append((held, float(delta_e_2000(colour, colours).min()), int(spot_number), colour))
    kept: list[tuple[int, Float64]] = []
    held_one = max((one for one in told if one[0]), key=lambda one: one[1], default=None)
    for _, own, one, colour in sorted(told, key=lambda each: (each is not held_one, -each[1])):
        if own >= OF_ITS_OWN and all(delta_e_2000(colour, other) > OF_ITS_OWN for _, other in kept):
            kept.append((one, colour))
    kept = kept[:ACCENTS]
    if not kept:
        return ()
    targets = np.array([colour for _, colour in kept])
    own_recipes = lasting_recipes(targets, box, easel_recipes)
    mixed = [few_parts(one, aim, tubes_for(one, box)) for one, aim in zip(own_recipes, targets, strict=True)]
    rows = zip("abc", kept, mixed, [word_of_lab(each) for each in targets], strict=False)
    return tuple(
        Accent(
            letter,
            word,
            place_of(spots == one),
            int(np.bincount(found.labels[spots == one]).argmax()) + 1,
            number_at(spots == one),
            float(size[one]) / spots.size,
            hex_of(lab_to_srgb8(colour.astype(np.float32))),
            recipe,
        )
        for letter, (one, colour), recipe, word in rows
    )


def _own_colour(lab: NDArray[np.float32], away: NDArray[np.float32]) -> Float64:
    """The colour of a touch (n, 3): of that half of it which is farther from every passage, where it has two."""
    from sklearn.cluster import KMeans

    if len(lab) >= 2 * DEEP**2 and np.linalg.norm(np.ptp(lab[:, 1:], axis=0)) >= UNLIKE:
        halves = KMeans(2, n_init=1, random_state=0).fit(lab[:, 1:])
        first, second = halves.cluster_centers_
        if np.hypot(*(first - second)) >= UNLIKE:
            one = halves.labels_ == int(away[halves.labels_ == 1].mean() > away[halves.labels_ == 0].mean())
            lab, away = lab[one], away[one]
    # Its rim is mixed with what lies round it.
    return np.asarray(lab[away >= np.quantile(away, PUREST)].mean(axis=0), dtype=np.float64)


def _away(lab: NDArray[np.floating], colours: Float64) -> NDArray[np.float32]:
    """How far each place (height, width) is from the nearest of the colours (n, 3), light counted less than hue."""
    weights = np.array([LIGHT_COUNTS, HUE_COUNTS, HUE_COUNTS], np.float32)
    away = np.full(lab.shape[:2], np.inf, np.float32)
    for colour in colours.astype(np.float32):
        away = np.minimum(away, np.linalg.norm((lab - colour) * weights, axis=-1))
    return away


def number_at(inside: NDArray[np.bool_]) -> tuple[float, float]:
    """Where a number stands clear of the outline: the point farthest from it, x and y as fractions."""
    from scipy.ndimage import distance_transform_edt

    height, width = inside.shape
    depth = distance_transform_edt(np.pad(inside, 1))[1:-1, 1:-1]
    row, column = np.unravel_index(int(depth.argmax()), depth.shape)
    return (float(column) + 0.5) / width, (float(row) + 0.5) / height
