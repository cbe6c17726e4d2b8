"""How much of a picture a person would call green: grass and foliage, olive and dark ones too."""

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from critique.alike import by_value
from critique.measures.part_chances import GREEN
from critique.measures.parts import Parts
from critique.measures.regions import Float
from critique.measures.salience import blur
from critique.perception.channels import chroma_of
from critique.perception.hue import GREEN_FAMILY, hue_of
from critique.picture.areas import same_frame
from critique.picture.picture import Picture, lab_at

# Degrees, C* and a share of the picture: land with less of these hues in it, at dusk or in winter, reads as brown or
# grey all over. Asked of all the land: asked of each region, readings by eye are missed by half as much again, for
# under an old varnish brown crowns are called green beside a few olive ones.
OLIVE_HUES, LITTLE_CHROMA, ENOUGH = (78.0, 200.0), 4.0, 0.003
# From value 5.5 (L* 57) on ISCC–NBS calls the hues 4Y to 7Y yellow, no longer olive, and from chroma 8 (C* 50) strong
# yellows: what is so light and strong before the border to green is a field of rape or of corn, not grass.
YELLOW_FROM, YELLOW_CHROMA, FADES = 57.0, 50.0, 10.0  # L*, C*, and over how much of both
# Of the picture in such a yellow: with as much, its field is seen as one yellow, olive shade and all. And of what
# lies within so much of the long edge about a place, the part of strong yellow from which it is of that field.
A_FIELD, ABOUT_IT, IN_THE_FIELD = 0.25, 0.06, 0.3
READS = 0.5  # chance from which a place is one that reads as green


@by_value
@dataclass(frozen=True, slots=True, eq=False)
class ReadsAsGreen:
    """What reads as green. ``share`` is of the picture, 0–1; ``sureness`` 0 (a guess) to 1.

    ``chance`` (height, width) is how likely each place of the small copy is to be called green, for drawing, and
    ``yellow`` how much of what lies about it is a strong yellow, 0–1.
    """

    share: float
    sureness: float
    chance: Float = field(metadata={"record": False}, repr=False)
    yellow: Float = field(metadata={"record": False}, repr=False)

    def where(self, shape: tuple[int, ...]) -> NDArray[np.bool_]:
        """Where a picture of that shape (height, width, …) reads as green (height, width)."""
        return same_frame(self.chance >= READS, shape)


def measure_reads_as_green(picture: Picture, parts: Parts) -> ReadsAsGreen:
    """Measure what reads as green of a picture whose parts are known.

    No rule by the pixel finds it: a brown crown against the sky is foliage and a brown rock isn't. So the picture is
    asked region by region, by its colour, its strokes and what it stands against.
    """
    lab = lab_at(picture, max(parts.regions.labels.shape))
    lab = lab[: parts.regions.labels.shape[0], : parts.regions.labels.shape[1]]
    yellow = _yellow(lab, parts)
    chance = parts.chance[:, GREEN] * parts.land_of_region * _has_green(lab, parts) * (1 - yellow)
    share = float((parts.regions.share * chance).sum(dtype=np.float64))
    return ReadsAsGreen(
        share=share,
        sureness=float((parts.regions.share * np.abs(2 * chance - 1)).sum(dtype=np.float64)),
        chance=chance[parts.regions.labels],
        yellow=yellow[parts.regions.labels],
    )


def _yellow(lab: Float, parts: Parts) -> Float:
    """How much of each region is a strong yellow that lies before the border to green, 0–1: (regions,)."""
    chroma = chroma_of(lab)
    strong = np.clip((chroma - YELLOW_CHROMA) / FADES + 0.5, 0, 1)
    light = np.clip((lab[..., 0] - YELLOW_FROM) / FADES + 0.5, 0, 1)
    yellow = strong * light * ~GREEN_FAMILY.contains(lab)
    by_region = parts.regions.mean(yellow)
    if float(yellow.mean()) < A_FIELD:
        return by_region
    near = parts.regions.mean(blur(yellow.astype(np.float32), ABOUT_IT * max(yellow.shape)))
    of_it = np.where(near >= IN_THE_FIELD / 2, np.minimum(near / np.float32(IN_THE_FIELD), 1), np.float32(0))
    return np.maximum(by_region, of_it)


def _has_green(lab: Float, parts: Parts) -> float:
    """0 where the land has hardly an olive or green pixel in it, rising to 1 where it has enough of them."""
    hue = hue_of(lab[..., 1], lab[..., 2])
    olive = (hue >= OLIVE_HUES[0]) & (hue <= OLIVE_HUES[1]) & (chroma_of(lab) >= LITTLE_CHROMA)
    of_land = parts.regions.share * parts.land_of_region * parts.regions.mean(olive.astype(np.float32))
    return min(float(of_land.sum(dtype=np.float64)) / ENOUGH, 1.0)
