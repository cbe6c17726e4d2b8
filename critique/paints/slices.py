"""Which colours a palette mixes at one value, on the a*b* plane."""

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from critique.one_thread import in_one_thread
from critique.paints.box import PaintBox
from critique.paints.gamut import pair_lab
from critique.paints.mixtures import Float32, Mixer, reach_of, small_sets

VALUES = (3.5, 5.5, 7.5)  # a dark, a middle and a light; common practice, no source
SLICE = 4.0  # L* to each side of the value that counts as it
CELL = 2.0  # CIELAB units of the plane's cells
REACH = 110.0  # of the plane, from grey
SAMPLES = 260_000  # mixtures, shared among the sets of paints
LEAST, SPREAD = 2e-3, 1.0  # of a part; the parts are drawn evenly by ratio, so that strong tinters are met in touches
SEED = 3
CLOSING = 2  # cells by which gaps between samples are bridged


@dataclass(frozen=True, slots=True)
class GamutSlice:
    """The colours in reach at one value; ``mask`` is (cells, cells), b* down from +110 and a* across from −110."""

    value: float
    area: float  # of the a*b* plane, C*ab squared
    strongest: float  # C*ab
    strongest_hue: float  # degrees
    mask: NDArray[np.bool_] = field(metadata={"record": False})


@in_one_thread
def gamut_slices(box: PaintBox, light: str = "D65") -> tuple[GamutSlice, ...]:
    """The reach of a box with its white at three values, under a light."""
    lab = _cloud(box, light)
    return tuple(_slice(lab, value) for value in VALUES)


def _cloud(box: PaintBox, light: str) -> Float32:
    """Random mixtures of every three paints with white, and each set's own lattice."""
    mixer = Mixer.of(box.with_white, light)
    sets = small_sets(len(box.paints), min(3, len(box.paints)))
    rng = np.random.default_rng(SEED)
    each = np.repeat(sets, -(-SAMPLES // len(sets)), axis=0)
    parts = np.exp(rng.uniform(np.log(LEAST), np.log(SPREAD), each.shape)).astype(np.float32)
    parts *= rng.random(parts.shape) > 0.25  # the rim of the reach lies where a paint or the white is left out
    parts[parts.sum(axis=1) == 0] = 1
    lattice = reach_of(mixer, sets).lab.reshape(-1, 3)
    return np.concatenate([mixer.lab(each, parts), lattice, pair_lab(mixer, len(box.paints)).reshape(-1, 3)])


def _slice(lab: Float32, value: float) -> GamutSlice:
    from scipy.ndimage import binary_closing, binary_fill_holes

    near = lab[np.abs(lab[:, 0] - 10 * value) <= SLICE]
    cells = round(2 * REACH / CELL)
    counts, _, _ = np.histogram2d(-near[:, 2], near[:, 1], bins=cells, range=[[-REACH, REACH], [-REACH, REACH]])
    mask = binary_fill_holes(binary_closing(counts > 0, iterations=CLOSING))
    chroma = np.hypot(near[:, 1], near[:, 2]) if len(near) else np.zeros(1, np.float32)
    best = int(chroma.argmax())
    hue = float(np.degrees(np.arctan2(near[best, 2], near[best, 1])) % 360) if len(near) else float("nan")
    return GamutSlice(value, float(mask.sum()) * CELL**2, float(chroma[best]), hue, np.asarray(mask, dtype=np.bool_))
