"""Whether the far land lies back: lighter, quieter, greyer and cooler than the near, as air makes it."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from critique.measures.figure import HUE, OWN, PART, VALUE, Figure, rounded
from critique.measures.parts import SKY, WATER, Parts
from critique.perception.channels import chroma_of, colours_in
from critique.perception.ranks import quantiles_of
from critique.picture.picture import Picture, lab_at
from critique.words.figures import number

if TYPE_CHECKING:
    from critique.measures.measure import Measures

LEAST_LAND = 0.057  # of the picture that far land and near land each need; of 76 landscapes none has 0.050 to 0.066
FAR_TO_SAY = 0.1  # of the picture: what two readers saw of less was darker than the near, or no land, in three of three
SURE = 0.3  # sureness of the land from which its distance is spoken of: two thirds sure, region by region
# Far land is picked by its haze, and so what is dark of it is left out: what stands under the sky, whatever it is, must
# lie back too. Of a range of which a third was dark, and of a moor darker than the ground before it, it was said that
# they do. How deep under the sky's end (of the height); in how many of its columns; how many it needs (of the width).
SKYLINE, ALL_ALONG, LEAST_SKYLINE = 0.1, 0.75, 0.3
SURE_TO_SAY = 0.5  # the same, to say that far land lies back: where it was less, readers saw it nearer or darker


@dataclass(frozen=True, slots=True)
class Land:
    """A band of land: its share of the picture, mean value, mean chroma, mean b* (warmth) and spread of value."""

    share: float
    value: float  # L*/10
    chroma: float
    warmth: float  # mean b*
    contrast: float  # standard deviation of L*, in values


@dataclass(frozen=True, slots=True)
class LandDistance:
    """Far land against near land; None where a picture shows too little of either, or the land itself is a guess.

    ``lighter`` is in values, ``quieter`` in C*, ``cooler`` in b* and ``calmer`` in values of contrast: each how much
    the far land has of it, as a whole or in three quarters of what stands under the sky, whichever is less; negative
    when it is the other way round.
    """

    far: Land | None
    near: Land | None
    lighter: float
    quieter: float
    cooler: float
    calmer: float

    @property
    def known(self) -> bool:
        """Whether there is far land and near land to compare."""
        return self.far is not None and self.near is not None

    @property
    def to_say(self) -> bool:
        """Whether there is so much far land that its lying back can be spoken of."""
        return self.known and self.far is not None and self.far.share >= FAR_TO_SAY


def measure_land_distance(picture: Picture, parts: Parts) -> LandDistance:
    """Compare the far land of a picture with the near."""
    height, width = parts.labels.shape
    lab = lab_at(picture, max(height, width))[:height, :width]
    labels = parts.regions.labels[: lab.shape[0], : lab.shape[1]]
    far, near = (_land(lab, band[labels]) for band in (parts.far_of_region, parts.near_of_region))
    if far is None or near is None or parts.land_sureness < SURE:
        nothing = float("nan")
        return LandDistance(None, None, nothing, nothing, nothing, nothing)
    skyline = _skyline(lab, parts)
    bands = (far,) if skyline is None else (far, skyline)
    return LandDistance(
        far,
        near,
        lighter=min(band.value for band in bands) - near.value,
        quieter=near.chroma - max(band.chroma for band in bands),
        cooler=near.warmth - max(band.warmth for band in bands),
        calmer=near.contrast - max(band.contrast for band in bands),
    )


def _skyline(lab: NDArray[np.float32], parts: Parts) -> Land | None:
    """The land that stands under the sky: three quarters of its columns are no darker, stronger or warmer than that.

    ``lab`` (height, width, 3) lies on the parts. None where the sky ends in too few columns.
    """
    labels = parts.labels[: lab.shape[0], : lab.shape[1]]
    rows = np.arange(len(labels))[:, None]
    ends = np.cumprod(labels == SKY, axis=0).sum(axis=0)
    deep = (rows >= ends) & (rows < ends + max(1, round(SKYLINE * len(labels)))) & (ends > 0)
    land = deep & (labels != SKY) & (labels != WATER)
    count = land.sum(axis=0)
    seen = count > 0
    if seen.mean() < LEAST_SKYLINE:
        return None

    def columns(field: NDArray[np.float32]) -> NDArray[np.float32]:
        """Its mean on the land of each column (columns,)."""
        sums = np.where(land, field, 0).sum(axis=0, dtype=np.float64)
        return np.asarray(sums[seen] / count[seen], dtype=np.float32)

    value, chroma, warmth = columns(lab[..., 0]), columns(chroma_of(lab)), columns(lab[..., 2])
    return Land(
        share=float(land.mean()),
        value=quantiles_of(value, (1 - ALL_ALONG,))[0] / 10,
        chroma=quantiles_of(chroma, (ALL_ALONG,))[0],
        warmth=quantiles_of(warmth, (ALL_ALONG,))[0],
        contrast=float(colours_in(lab, land)[:, 0].std(dtype=np.float64)) / 10,
    )


def _land(lab: NDArray[np.float32], belongs: NDArray[np.float32]) -> Land | None:
    """A band of land, to which each colour of ``lab`` (height, width, 3) ``belongs`` by 0–1; None for too little."""
    share = float(belongs.mean(dtype=np.float64))
    if share < LEAST_LAND:
        return None
    inside = belongs > 0
    colours, weights = colours_in(lab, inside).astype(np.float64), belongs[inside].astype(np.float64)
    lightness = float(np.average(colours[:, 0], weights=weights))
    return Land(
        share=share,
        value=lightness / 10,
        chroma=float(np.average(chroma_of(colours), weights=weights)),
        warmth=float(np.average(colours[:, 2], weights=weights)),
        contrast=float(np.sqrt(np.average(np.square(colours[:, 0] - lightness), weights=weights))) / 10,
    )


def _told(name: str, decimals: int) -> Callable[["Measures"], str]:
    """A comparison of far with near land on paper; where it wasn't made, that."""

    def told(measures: "Measures") -> str:
        land = measures.land_distance
        return number(getattr(land, name), decimals) if land.known else "not judged"

    return told


# No norms are kept: 6 of 76 landscapes show far land and near land for sure, and six make no ranks.
FIGURES = (
    Figure(
        name="land_distance.lighter",
        label="Far land lighter by",
        meaning="air lightens what is far",
        definition="Mean value of the far land, or of the darkest quarter under the sky, less that of the near.",
        source=OWN,
        unit="value",
        show=rounded(1),
        told=_told("lighter", 1),
        worth=VALUE,
        jumps=True,
    ),
    Figure(
        name="land_distance.cooler",
        label="Far land cooler by",
        meaning="air cools what is far",
        definition="Mean b* of the near land less that of the far.",
        source=OWN,
        unit="b*",
        show=rounded(0),
        told=_told("cooler", 0),
        worth=HUE,
        jumps=True,
    ),
    Figure(
        name="land_distance.calmer",
        label="Far land calmer by",
        meaning="air takes contrast from what is far",
        definition="Spread of value in the near land less that in the far.",
        source=OWN,
        unit="value",
        show=rounded(1),
        told=_told("calmer", 1),
        worth=PART * 3,
        jumps=True,
    ),
)
