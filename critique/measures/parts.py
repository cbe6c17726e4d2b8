"""Which parts of a picture are sky, water, and near, middle and far land."""

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from critique.alike import by_value
from critique.measures.figure import MASS, OWN, Figure
from critique.measures.land_bands import land_bands
from critique.measures.region_cues import (
    above_and_below,
    chance_of,
    colour_cues,
    leaning,
    likeness,
)
from critique.measures.regions import Float, Regions, find_regions
from critique.picture.picture import Picture
from critique.words.figures import percent

PART_NAMES = ("sky", "far", "middle", "near", "water")
SKY, FAR, MIDDLE, NEAR, WATER = range(5)

# Weights of the cues (see region_cues.py) in log odds, fitted by logistic regression with a penalty on 56 pictures and
# demos: on outlines of their skies and waters drawn by eye, and on the shares that two independent machine readings
# gave for 20 of them.
SKY_CUES = {
    "y": 1.137,
    "rank": 5.053,
    "rough": -0.742,
    "b": -1.074,
    "bluer": 0.738,
    "from_top": -2.711,
    "from_bottom": 3.444,
    "rough_around": -1.445,
    "start": -2.909,
}
SKY_AMONG_OTHERS = {
    "first": 0.184,
    "alike": 1.055,
    "above": 1.046,
    "below": 3.238,
    "start": -1.157,
}
WATER_CUES = {
    "level": 6.503,
    "b": -0.394,
    "y": 0.766,
    "sky": -0.721,
    "rough_around": -1.146,
    "lightness": 5.036,
    "yellow": -1.422,
    "from_top": 1.455,
    "start": -9.748,
}

SKY_FROM = 0.4  # chance from which a region is sky: crowns with sky shining through read as sky to an eye
WATER_FROM, WATER_AT_LEAST_ONCE = 0.2, 0.4  # chance from which a region is water, if some region of its piece is surer
THIN = 0.03  # of the long edge: rigging, trunks and twigs thinner than this, against the sky, are counted with it
WARMEST_SKY = 0.9  # of the sky, bluest first: water mirrors no warmer colour than is found there
WARMER, WARMER_RAMP = 4.0, 8.0  # b* above that from which water begins to be doubted, and on until it is ruled out
HORIZON_RANK = 75  # percentile of the heights at which the sky ends: trees stand in front of the horizon
LEAST_WIDTH = 0.1  # of the columns that must have a sky for a horizon to be named
MATTERS = 0.02  # of the area: a part smaller than this has no sureness of its own to speak of


@by_value
@dataclass(frozen=True, slots=True, eq=False)
class Parts:
    """The parts of a picture. Shares are of the area, 0–1, and add up to 1; a sureness is 0 (a guess) to 1.

    ``horizon`` is the height, from the top, at which the sky ends in most columns (None without a sky).
    ``labels`` is (height, width) uint8 on a small copy, an index of ``PART_NAMES`` at each place; ``sky_ends`` is
    the height at which the sky ends in each of its columns, 0 where there is none. ``regions``, their
    ``cues`` and the share of each that is land, ``land_of_region`` (n,), are kept for the measures that build on them.
    """

    sky_share: float
    far_share: float
    middle_share: float
    near_share: float
    water_share: float
    sky_sureness: float
    land_sureness: float
    water_sureness: float
    horizon: float | None
    labels: NDArray[np.uint8] = field(metadata={"record": False}, repr=False)
    sky_ends: Float = field(metadata={"record": False}, repr=False)
    regions: Regions = field(metadata={"record": False}, repr=False)
    cues: dict[str, Float] = field(metadata={"record": False}, repr=False)
    land_of_region: Float = field(metadata={"record": False}, repr=False)

    def mask(self, *names: str) -> NDArray[np.bool_]:
        """Where in ``labels`` any of these parts lies, such as ``mask("near", "middle", "far")`` for the land."""
        return np.isin(self.labels, [PART_NAMES.index(name) for name in names])


def measure_parts(picture: Picture) -> Parts:
    """Find the parts of a picture."""
    regions = find_regions(picture)
    cues = colour_cues(regions)
    sky = _sky_chance(regions, cues)
    water = (
        chance_of(WATER_CUES, cues | {"sky": leaning(sky)})
        * (1 - sky)
        * (1 - cues["grass"])
        * (1 - _too_warm_for_water(regions, sky))
    )
    labels, land = _labelled(regions, sky, water)
    ends = _sky_ends(labels == SKY)
    horizon = float(np.percentile(ends[ends > 0], HORIZON_RANK)) if (ends > 0).mean() > LEAST_WIDTH else None
    labels[land] = land_bands(regions, labels == SKY, horizon if horizon is not None else 0.0)[land]
    share = np.bincount(labels.ravel(), minlength=len(PART_NAMES)) / labels.size
    return Parts(
        sky_share=float(share[SKY]),
        far_share=float(share[FAR]),
        middle_share=float(share[MIDDLE]),
        near_share=float(share[NEAR]),
        water_share=float(share[WATER]),
        sky_sureness=_sureness(sky[regions.labels], labels == SKY),
        land_sureness=_sureness(((1 - sky) * (1 - water))[regions.labels], land),
        water_sureness=_sureness(water[regions.labels], labels == WATER),
        horizon=horizon,
        labels=labels,
        sky_ends=ends,
        regions=regions,
        cues=cues,
        land_of_region=regions.mean(land.astype(np.float32)),
    )


def _sky_chance(regions: Regions, cues: dict[str, Float]) -> Float:
    """Chance of each region (n,) to be sky: by its own look first, then by its likes and by what stands over it."""
    first = chance_of(SKY_CUES, cues)
    above, below = above_and_below(regions, first)
    seen_with_others = {
        "first": leaning(first),
        "alike": leaning(likeness(regions) @ first),
        "above": above,
        "below": below,
    }
    return chance_of(SKY_AMONG_OTHERS, seen_with_others)


def _too_warm_for_water(regions: Regions, sky: Float) -> Float:
    """How far each region (n,) is too yellow to mirror this sky: 0 not at all, 1 for certain."""
    b = regions.lab[:, 2]
    order = np.argsort(b, kind="stable")
    seen = np.cumsum((regions.share * sky)[order])
    if seen[-1] < MATTERS:
        return np.zeros_like(b)
    warmest_sky = b[order[int(np.searchsorted(seen, WARMEST_SKY * seen[-1]))]]
    return np.asarray(np.clip((b - warmest_sky - WARMER) / WARMER_RAMP, 0, 1), dtype=np.float32)


def _labelled(regions: Regions, sky: Float, water: Float) -> tuple[NDArray[np.uint8], NDArray[np.bool_]]:
    """The label map with sky and water filled in, and where the land is."""
    from scipy.ndimage import binary_closing
    from skimage.filters import apply_hysteresis_threshold

    height, width = regions.labels.shape
    size = max(1, round(THIN * max(height, width)))
    open_sky = np.pad((sky >= SKY_FROM)[regions.labels], size, mode="edge")
    closed = binary_closing(open_sky, np.ones((size, size), dtype=bool))[size:-size, size:-size]
    chance = np.where(closed, 0, water[regions.labels])
    is_water = np.asarray(apply_hysteresis_threshold(chance, WATER_FROM, WATER_AT_LEAST_ONCE))  # type: ignore[no-untyped-call]
    labels = np.full((height, width), NEAR, dtype=np.uint8)
    labels[closed] = SKY
    labels[is_water] = WATER
    return labels, ~closed & ~is_water


def _sky_ends(sky: NDArray[np.bool_]) -> Float:
    """Height, from the top, of the lowest sky in each column (0 where there is none)."""
    height = sky.shape[0]
    return np.where(sky.any(axis=0), height - np.argmax(sky[::-1], axis=0), 0).astype(np.float32) / np.float32(height)


def _sureness(chance: Float, inside: NDArray[np.bool_]) -> float:
    """How far from a toss-up the part is where it lies (a part that isn't there: how sure it is of being absent)."""
    if inside.mean() >= MATTERS:
        return float(np.clip(2 * chance[inside].mean() - 1, 0, 1))
    return float(np.clip(1 - 2 * np.sort(chance, axis=None)[-max(1, int(MATTERS * chance.size)) :].mean(), 0, 1))


FIGURES = (
    Figure(
        name="parts.sky_share",
        label="Sky",
        meaning="how much of the picture is sky",
        definition="Share of the regions that position, smoothness, hue and texture make sky.",
        source=OWN,
        unit="share",
        show=percent,
        norm=True,
        worth=MASS,
        jumps=True,
    ),
    Figure(
        name="parts.water_share",
        label="Water",
        meaning="how much of the picture is water",
        definition="Share of the regions that level texture, light and place make water.",
        source=OWN,
        unit="share",
        show=percent,
        norm=True,
        worth=MASS,
        jumps=True,
    ),
)
