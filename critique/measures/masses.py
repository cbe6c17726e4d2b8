"""Whether a picture's values gather into masses, or lie about like confetti."""

from dataclasses import dataclass, field, replace

import numpy as np
from numpy.typing import NDArray

from critique.alike import by_value
from critique.measures.figure import LIGHTNESS, OWN, PART, Figure, rounded
from critique.measures.finely_seen import finely_seen
from critique.measures.smoothing import gaussian
from critique.measures.squint import squint
from critique.perception.ranks import quantiles_of
from critique.picture.kept import kept
from critique.picture.picture import Picture, lab_at
from critique.words.figures import percent

SQUINT_VIEW = 160  # px: with the eyes half closed nothing smaller is seen
MELTS = 0.03  # of the long edge, spread of a Gaussian: what the blur lets go
FINE = 0.006  # of the long edge: a brush mark; between it and a mass (MELTS) lie the scraps
SCALE = 140.0  # of the segmentation: the higher, the fewer regions; our choice
PLACE = 0.04  # of the long edge, spread of a Gaussian: scraps within it are of one place
LEAST_MASS = 0.02  # of the picture: a smaller region isn't a mass; our choice
TOLD_APART = 0.6  # value steps: neighbours closer than this join; half a painter's step and a little
MOST = 7  # masses named at most; common practice, no source


@dataclass(frozen=True, slots=True)
class Mass:
    """A connected region of about one value: its share of the picture, its value and the middle of it (0–1)."""

    share: float
    value: float  # L*/10
    x: float
    y: float
    label: int  # its number in the map of masses


@by_value
@dataclass(frozen=True, slots=True, eq=False)
class Masses:
    """How far values gather: ``kept`` of their variance after a blur, and L* of ``scraps`` between mark and mass.

    ``scraps_everywhere`` is the same in the quietest tenth of places: confetti leaves none of them quiet.
    ``colour_apart`` is how far the big shapes differ in colour: the spread of a*b* after the same blur.
    """

    kept: float
    scraps: float  # root mean square, L*
    scraps_everywhere: float  # root mean square within a place, L*
    colour_apart: float  # root mean square, a*b* units
    regions: int  # of at least 2 % of the picture
    largest: tuple[Mass, ...]  # the largest first
    held: float  # share of the picture in these
    map: NDArray[np.int32] = field(metadata={"record": False}, repr=False)  # label of every place, at squint size


@dataclass(frozen=True, slots=True)
class Gathered:
    """The first three figures of ``Masses``."""

    kept: float
    scraps: float
    scraps_everywhere: float

    def with_regions_of(self, other: Masses) -> Masses:
        """These figures, and the regions of another state of the picture: no change is judged by its regions."""
        return replace(other, kept=self.kept, scraps=self.scraps, scraps_everywhere=self.scraps_everywhere)


@kept
def measure_masses(picture: Picture) -> Masses:
    """Measure how far values gather.

    The variance left after a blur of 3 % of the long edge tells a picture of masses (0.3–0.9) from tiles (below 0.3).
    Regions are found at squint size by joining neighbours along their weakest borders.
    [Felzenszwalb and Huttenlocher, Efficient Graph-Based Image Segmentation, IJCV 2004]
    """
    small = lab_at(picture, SQUINT_VIEW)[..., 0]
    squinted = squint(np.ascontiguousarray(small))
    labels = _regions(squinted)
    masses = _masses(squinted, labels)
    gathered = how_gathered(picture)
    return Masses(
        kept=gathered.kept,
        scraps=gathered.scraps,
        scraps_everywhere=gathered.scraps_everywhere,
        colour_apart=_colour_apart(picture),
        regions=len(masses),
        largest=masses[:MOST],
        held=float(sum(mass.share for mass in masses[:MOST])),
        map=labels,
    )


@kept
def how_gathered(picture: Picture) -> Gathered:
    """How far values gather, without asking where: all that a change is judged by, and a small part of the time."""
    light = finely_seen(picture)
    coarse, between = _parted(light)
    variance = float(light.var(dtype=np.float64))
    return Gathered(
        kept=min(float(coarse.var(dtype=np.float64)) / variance, 1.0) if variance > 0.25 else 1.0,
        scraps=float(between.std(dtype=np.float64)),
        scraps_everywhere=float(np.sqrt(max(quantiles_of(_by_place(between), (10 / 100,))[0], 0.0))),
    )


def where_scraps_lie(picture: Picture) -> NDArray[np.float32]:
    """Mean square of L* between mark and mass, by place (height, width at squint size)."""
    return _by_place(_parted(finely_seen(picture))[1])


def _parted(light: NDArray[np.float32]) -> tuple[NDArray[np.float32], NDArray[np.float32]]:
    """What a blur keeps of L* (height, width), and what lies between mark and mass, both at squint size."""
    block = max(1, round(max(light.shape) / SQUINT_VIEW))
    blocks = _block_means(light, block)  # both blurs are wider than a block: nothing of them is lost
    long_edge = max(light.shape) / block
    coarse = gaussian(blocks, MELTS * long_edge, truncate=3)
    return coarse, gaussian(blocks, FINE * long_edge, truncate=3) - coarse


def _by_place(between: NDArray[np.float32]) -> NDArray[np.float32]:
    return gaussian(np.square(between), PLACE * max(between.shape), truncate=2)


def _colour_apart(picture: Picture) -> float:
    """Spread of a*b* that is left after the blur which leaves the masses."""
    small = lab_at(picture, SQUINT_VIEW)
    long_edge = max(small.shape[:2])
    colours = (gaussian(np.ascontiguousarray(small[..., k]), MELTS * long_edge, truncate=3) for k in (1, 2))
    return float(np.sqrt(sum(float(plane.var(dtype=np.float64)) for plane in colours)))


def _regions(light: NDArray[np.float32]) -> NDArray[np.int32]:
    """Numbered regions of L* (height, width) that hang together."""
    from skimage.segmentation import felzenszwalb

    least = max(2, round(LEAST_MASS * light.size / 2))
    labels = felzenszwalb(light.astype(np.float64) / 100, scale=SCALE, sigma=0.8, min_size=least, channel_axis=None)
    return _joined(light, np.asarray(labels, dtype=np.int32))


def _joined(light: NDArray[np.float32], labels: NDArray[np.int32]) -> NDArray[np.int32]:
    """Join the two neighbours closest in value until none are closer than half a step."""
    count = np.bincount(labels.ravel()).astype(np.float64)
    total = np.bincount(labels.ravel(), weights=light.ravel())
    number = len(count)
    beside = [labels[:-1] * number + labels[1:], labels[:, :-1] * number + labels[:, 1:]]
    met = np.flatnonzero(np.bincount(np.concatenate([pair.ravel() for pair in beside]), minlength=number**2))
    first, second = met // number, met % number
    name = np.arange(number, dtype=np.int32)  # of the region that each has become part of
    while True:
        apart = first != second
        first, second = first[apart], second[apart]
        if len(first) == 0:
            return name[labels]
        means = total / np.maximum(count, 1)
        steps = np.abs(means[first] - means[second]) / 10
        nearest = int(steps.argmin())
        if steps[nearest] >= TOLD_APART:
            return name[labels]
        kept, lost = int(first[nearest]), int(second[nearest])
        count[kept], total[kept] = count[kept] + count[lost], total[kept] + total[lost]
        for names in (first, second, name):
            names[names == lost] = kept


def _block_means(light: NDArray[np.float32], block: int) -> NDArray[np.float32]:
    """L* averaged over square blocks; what is left over at the right and the bottom is cut off."""
    height, width = max(light.shape[0] // block, 1), max(light.shape[1] // block, 1)
    cut = light[: height * block, : width * block]
    if cut.shape != (height * block, width * block):  # thinner than one block
        return light
    return np.asarray(cut.reshape(height, block, width, block).mean(axis=(1, 3)), dtype=np.float32)


def _masses(light: NDArray[np.float32], labels: NDArray[np.int32]) -> tuple[Mass, ...]:
    height, width = light.shape
    y, x = np.mgrid[:height, :width]
    flat = labels.ravel()
    count = np.maximum(np.bincount(flat), 1)
    share = np.bincount(flat) / flat.size
    value = np.bincount(flat, weights=light.ravel()) / count / 10
    across = np.bincount(flat, weights=(x.ravel() + 0.5) / width) / count
    down = np.bincount(flat, weights=(y.ravel() + 0.5) / height) / count
    order = [index for index in np.argsort(-share, kind="stable") if share[index] >= LEAST_MASS]
    return tuple(Mass(float(share[k]), float(value[k]), float(across[k]), float(down[k]), int(k)) for k in order)


FIGURES = (
    Figure(
        name="masses.kept",
        label="Masses hold",
        meaning="how much of the light and dark lies in big shapes",
        definition="Share of the variance of L* left after a blur of 3 % of the long edge.",
        source=OWN,
        unit="share",
        show=percent,
        norm=True,
        column="share of the value contrast that lies in big shapes, 0–1",
        worth=PART,
        jumps=False,
    ),
    Figure(
        name="masses.scraps",
        label="Scraps",
        meaning="how strong the small marks are that break the shapes",
        definition="Root mean square of L* between a picture and its masses.",
        source=OWN,
        unit="L*",
        show=rounded(1),
        norm=True,
        worth=LIGHTNESS,
        jumps=False,
    ),
)
