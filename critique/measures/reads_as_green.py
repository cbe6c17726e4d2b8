"""How much of a picture a person would call green: grass and foliage, olive and dark ones too."""

from dataclasses import dataclass, field

import numpy as np

from critique.alike import by_value
from critique.measures.parts import Parts
from critique.measures.region_cues import chance_of, ranks
from critique.measures.regions import Float
from critique.picture.picture import Picture, lab_at

# Weights of the cues (see region_cues.py) in log odds, fitted by logistic regression with a penalty on the shares of
# green that were read by eye in 56 landscapes (in 20 of them by two independent machine readings).
GREEN_CUES = {
    "a": -0.33,
    "b": 0.389,
    "lightness": -3.451,
    "from_top": 0.525,
    "light_a": 0.038,
    "light_b": -0.151,
    "grass": 1.976,
    "brown": -0.831,
    "start": -0.124,
}
# Degrees and C*: from the olives of an old varnish to the blue-greens; a region with fewer such pixels than so much of
# it reads as earth, wood or dusk, whatever its lightness and place say.
OLIVE_HUES, LITTLE_CHROMA, ENOUGH = (78.0, 200.0), 4.0, 0.25
LIGHTS_FROM, LIGHTS_RAMP = 0.85, 0.10  # of the area, darkest first: the picture's lights begin here, and are full here


@by_value
@dataclass(frozen=True, slots=True, eq=False)
class ReadsAsGreen:
    """What reads as green. ``share`` is of the picture, 0–1; ``sureness`` 0 (a guess) to 1.

    ``chance`` (height, width) is how likely each place of the small copy is to be called green, for drawing.
    """

    share: float
    sureness: float
    chance: Float = field(metadata={"record": False}, repr=False)


def measure_reads_as_green(picture: Picture, parts: Parts) -> ReadsAsGreen:
    """Measure what reads as green of a picture whose parts are known.

    No rule by the pixel finds it: a brown crown against the sky is foliage and a brown rock isn't. So the land is
    asked region by region, by its colour, its lightness and how closed it stands against the sky.
    """
    chance = chance_of(GREEN_CUES, parts.cues | _own_light(parts)) * parts.land_of_region * _has_green(picture, parts)
    share = float((parts.regions.share * chance).sum(dtype=np.float64))
    return ReadsAsGreen(
        share=share,
        sureness=float((parts.regions.share * np.abs(2 * chance - 1)).sum(dtype=np.float64)),
        chance=chance[parts.regions.labels],
    )


def _has_green(picture: Picture, parts: Parts) -> Float:
    """0 for a region (n,) with hardly an olive or green pixel in it, rising to 1 where there are enough of them."""
    labels = parts.regions.labels
    lab = lab_at(picture, max(labels.shape))[: labels.shape[0], : labels.shape[1]]
    hue = np.degrees(np.arctan2(lab[..., 2], lab[..., 1])) % 360
    olive = (hue >= OLIVE_HUES[0]) & (hue <= OLIVE_HUES[1]) & (np.hypot(lab[..., 1], lab[..., 2]) >= LITTLE_CHROMA)
    return np.asarray(np.clip(parts.regions.mean(olive.astype(np.float32)) / ENOUGH, 0, 1), dtype=np.float32)


def _own_light(parts: Parts) -> dict[str, Float]:
    """The colour of the picture's lights, against which its greens are seen: under a brown varnish olive is brown."""
    L, a, b = parts.regions.lab.T
    share = parts.regions.share
    weight = share * np.clip((ranks(L, share) - LIGHTS_FROM) / LIGHTS_RAMP, 0, 1) + 1e-6
    return {
        "light_a": np.full(len(share), np.average(a, weights=weight) / 10, dtype=np.float32),
        "light_b": np.full(len(share), np.average(b, weights=weight) / 10, dtype=np.float32),
    }
