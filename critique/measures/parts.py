"""Which parts of a picture are sky, water, and near, middle and far land."""

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from critique.alike import by_value
from critique.measures import part_chances
from critique.measures.figure import MASS, OWN, Figure
from critique.measures.land_bands import far_and_near, land_bands
from critique.measures.regions import Float, Regions, find_regions
from critique.perception.ranks import quantiles_of
from critique.picture.kept import kept
from critique.picture.picture import Picture
from critique.words.figures import percent

PART_NAMES = ("sky", "far", "middle", "near", "water")
SKY, FAR, MIDDLE, NEAR, WATER = range(5)

THIN = 0.03  # of the long edge: rigging, trunks and twigs thinner than this, against the sky, are counted with it
HORIZON_RANK = 75  # percentile of the heights at which the sky ends: trees stand in front of the horizon
LEAST_WIDTH = 0.1  # of the columns that must have a sky for a horizon to be named
UNSURE = 0.3  # of chance: by so much, half of it either way, a region comes to count as one thing and no other
MATTERS = 0.02  # of the area: a part smaller than this has no sureness of its own to speak of


@by_value
@dataclass(frozen=True, slots=True, eq=False)
class Parts:
    """The parts of a picture. Shares are of the area, 0–1, and add up to 1; a sureness is 0 (a guess) to 1.

    ``horizon`` is the height, from the top, at which the sky ends in most columns (None without a sky).
    ``labels`` is (height, width) uint8 on a small copy, an index of ``PART_NAMES`` at each place. ``far_of_region`` and
    ``near_of_region`` (n,) say how surely each region is far land and near land, 0–1.
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
    chance: Float = field(metadata={"record": False}, repr=False)
    land_of_region: Float = field(metadata={"record": False}, repr=False)
    far_of_region: Float = field(metadata={"record": False}, repr=False)
    near_of_region: Float = field(metadata={"record": False}, repr=False)

    def mask(self, *names: str) -> NDArray[np.bool_]:
        """Where in ``labels`` any of these parts lies, such as ``mask("near", "middle", "far")`` for the land."""
        there = np.zeros(len(PART_NAMES), dtype=np.bool_)
        there[[PART_NAMES.index(name) for name in names]] = True
        return there[self.labels]


@kept
def measure_parts(picture: Picture) -> Parts:
    """Find the parts of a picture."""
    regions = find_regions(picture)
    chance = part_chances.chances_of(picture, regions)
    sky, water = chance[:, part_chances.SKY], chance[:, part_chances.WATER]
    labels, land = _labelled(regions, chance)
    sky_share, water_share = _shares(regions, chance, labels == SKY)
    ends = _sky_ends(labels == SKY)
    horizon = quantiles_of(ends[ends > 0], (HORIZON_RANK / 100,))[0] if (ends > 0).mean() > LEAST_WIDTH else None
    level = horizon if horizon is not None else 0.0
    far, near = far_and_near(regions, labels == SKY, level)
    dry = _dry(chance)
    labels[land] = land_bands(regions, labels == SKY, level)[land]
    share = np.bincount(labels[land] if land.any() else [NEAR], minlength=len(PART_NAMES)) / max(int(land.sum()), 1)
    share *= max(1 - sky_share - water_share, 0.0)
    return Parts(
        sky_share=sky_share,
        far_share=float(share[FAR]),
        middle_share=float(share[MIDDLE]),
        near_share=float(share[NEAR]),
        water_share=water_share,
        sky_sureness=_sureness(sky[regions.labels], labels == SKY),
        land_sureness=_sureness(((1 - sky) * (1 - water))[regions.labels], land),
        water_sureness=_sureness(water[regions.labels], labels == WATER),
        horizon=horizon,
        labels=labels,
        sky_ends=ends,
        regions=regions,
        chance=chance,
        land_of_region=regions.mean(land.astype(np.float32)),
        far_of_region=far * dry,
        near_of_region=near * dry,
    )


def _labelled(regions: Regions, chance: Float) -> tuple[NDArray[np.uint8], NDArray[np.bool_]]:
    """The label map with sky and water filled in, and where the land is."""
    from scipy.ndimage import binary_closing

    height, width = regions.labels.shape
    size = max(1, round(THIN * max(height, width)))
    kind = chance.argmax(axis=1)[regions.labels]
    open_sky = np.pad(kind == part_chances.SKY, size, mode="edge")
    closed = binary_closing(open_sky, np.ones((size, size), dtype=bool))[size:-size, size:-size]
    is_water = (kind == part_chances.WATER) & ~closed
    labels = np.full((height, width), NEAR, dtype=np.uint8)
    labels[closed] = SKY
    labels[is_water] = WATER
    return labels, ~closed & ~is_water


def _shares(regions: Regions, chance: Float, sky: NDArray[np.bool_]) -> tuple[float, float]:
    """Shares of the sky and of water. A region that may be one or another thing is counted in part, not by a hair."""
    kinds = chance.shape[1]
    apart = [chance[:, kind] - np.delete(chance, kind, axis=1).max(axis=1) for kind in range(kinds)]
    sky_like, wet = (np.clip(0.5 + apart[kind] / UNSURE, 0, 1) for kind in (part_chances.SKY, part_chances.WATER))
    over = sky & (chance.argmax(axis=1) != part_chances.SKY)[regions.labels]  # rigging and twigs before the sky
    left = regions.share.astype(np.float64) * (1 - regions.mean(over.astype(np.float32)))
    return min(float(left @ sky_like + over.mean()), 1.0), float(left @ wet)


def _dry(chance: Float) -> Float:
    """How surely each region is land (n,), in part where it may be sky or water."""
    other = np.maximum(chance[:, part_chances.SKY], chance[:, part_chances.WATER])
    ground = np.maximum(chance[:, part_chances.GREEN], chance[:, part_chances.OTHER])
    return np.asarray(np.clip(0.5 + (ground - other) / UNSURE, 0, 1), dtype=np.float32)


def _sky_ends(sky: NDArray[np.bool_]) -> Float:
    """Height, from the top, of the lowest sky in each column (0 where there is none)."""
    height = sky.shape[0]
    return np.where(sky.any(axis=0), height - np.argmax(sky[::-1], axis=0), 0).astype(np.float32) / np.float32(height)


def _sureness(chance: Float, inside: NDArray[np.bool_]) -> float:
    """How far from a toss-up the part is where it lies (a part that isn't there: how sure it is of being absent)."""
    if inside.mean() >= MATTERS:
        return float(np.clip(2 * chance[inside].mean() - 1, 0, 1))
    return float(np.clip(1 - 2 * np.sort(chance, axis=None)[-max(1, int(MATTERS * chance.size)) :].mean(), 0, 1))


SKY_MOVES = 0.07  # of the picture: another photograph of a wood moves its sky by 0.06
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
        worth=SKY_MOVES,
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
