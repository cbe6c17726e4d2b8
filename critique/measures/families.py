"""Which few colours a picture is made of."""

from dataclasses import dataclass
from itertools import islice

import numpy as np
from numpy.typing import ArrayLike, NDArray

from critique.measures.finely_seen import fine_planes
from critique.measures.histogram import ColourHistogram, coarser, colour_histogram
from critique.measures.k_means import growing_means
from critique.perception.cielab import lab_to_lch, lab_to_srgb8
from critique.perception.difference import delta_e_2000
from critique.perception.munsell import Munsell, munsell_of
from critique.perception.names import names_of_munsell
from critique.perception.srgb import hex_of
from critique.picture.picture import Picture

FEWEST, MOST = 5, 9  # families: what a painter can hold in mind, and mix; common practice, no source
WORTH_ANOTHER = 0.16  # of the scatter that one more family must take away; 1/k would be the gain in a featureless cloud
SAME_FAMILY = 5.0  # ΔE00 below which two families are one
LEAST = 0.01  # of the area: a smaller one is the rim of two fields, not a colour; none of 76 paintings has one
CLUSTER_BIN = 6.0  # CIELAB units: finer bins move no family by a visible step and cost ten times as much


@dataclass(frozen=True, slots=True)
class Family:
    """One dominant colour: its share of the area, and its name in five notations."""

    share: float
    lab: tuple[float, float, float]
    lch: tuple[float, float, float]
    srgb: str
    munsell: str
    name: str


def measure_families(picture: Picture) -> tuple[Family, ...]:
    """Dominant colours of a picture, largest first: weighted k-means over its colour histogram.

    The number is the data's choice between 5 and 9 (fewer when colours merge or the picture has fewer);
    families closer than ΔE00 5 are merged. The finest detail is left out: with it, a file saved at another size
    parts into other families one time in five, without it one in fourteen (tests/benchmarks/sizes.py).
    """
    colours = colour_histogram(fine_planes(picture).transpose(1, 2, 0))
    centres, shares = _merge(*_without_rims(*_cluster(coarser(colours, CLUSTER_BIN))))
    order = np.lexsort((centres[:, 0], -np.round(shares, 6)))
    munsell = munsell_of(centres[order])
    return tuple(
        family_of(centres[row], float(shares[row]), Munsell(*(float(part) for part in place)).notation, name)
        for row, place, name in zip(order, munsell, names_of_munsell(munsell), strict=True)
    )


def assign_families(lab: ArrayLike, families: tuple[Family, ...]) -> NDArray[np.intp]:
    """Index of the nearest family, by CIELAB distance as the clustering has it, for colours (..., 3)."""
    colours = np.asarray(lab, dtype=np.float32)
    centres = np.array([family.lab for family in families], dtype=np.float32)
    # |x − c|² without the |x|² that all share: one matrix product.
    return np.asarray((colours @ (-2 * centres.T) + (centres**2).sum(axis=1)).argmin(axis=-1))


def _cluster(colours: ColourHistogram) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Centres (k, 3) and shares (k,), with k chosen by how much one family more would explain."""
    if len(colours.share) <= FEWEST:
        return colours.lab, colours.share

    grown = growing_means(colours.lab, colours.share, most_steps=60, tolerance=1e-3)
    scatter, centres, labels = next(islice(grown, FEWEST - 1, None))
    for finer, finer_centres, finer_labels in islice(grown, min(MOST, len(colours.share)) - FEWEST):
        if scatter - finer < WORTH_ANOTHER * scatter:
            break
        scatter, centres, labels = finer, finer_centres, finer_labels
    shares = np.bincount(labels, weights=colours.share, minlength=len(centres)).astype(np.float64)
    return centres, shares


def _without_rims(
    centres: NDArray[np.float64], shares: NDArray[np.float64]
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Give what covers next to nothing to the nearest family, whose colour it leaves as it is."""
    large = shares >= min(LEAST, shares.max(initial=0))
    kept, held = centres[large], shares[large].copy()
    for centre, share in zip(centres[~large], shares[~large], strict=True):
        held[int(np.square(kept - centre).sum(axis=1).argmin())] += share
    return kept, held


def _merge(
    centres: NDArray[np.float64], shares: NDArray[np.float64]
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Join the closest two families until none are closer than ΔE00 5."""
    while len(centres) > 1:
        difference = delta_e_2000(centres[:, None], centres[None])
        np.fill_diagonal(difference, np.inf)
        first, second = sorted(divmod(int(difference.argmin()), len(centres)))
        if difference[first, second] >= SAME_FAMILY:
            break
        joined = shares[first] + shares[second]
        centres[first] = (centres[first] * shares[first] + centres[second] * shares[second]) / joined
        shares[first] = joined
        centres, shares = np.delete(centres, second, axis=0), np.delete(shares, second)
    return centres, shares


def family_of(lab: NDArray[np.float64], share: float, munsell: str, name: str) -> Family:
    """A family by its CIELAB (3,), its share of the area, its Munsell notation and its ISCC–NBS name."""
    L, C, h = lab_to_lch(lab)
    return Family(
        share=share,
        lab=(float(lab[0]), float(lab[1]), float(lab[2])),
        lch=(float(L), float(C), float(h)),
        srgb=hex_of(lab_to_srgb8(lab)),
        munsell=munsell,
        name=name,
    )
