"""What each region of a picture is seen against: what stands over it, what lies under it, and the lower edge."""

import numpy as np
from numpy.typing import NDArray

from critique.measures.regions import Float, Regions
from critique.perception.channels import over_channels

APART = 15.0  # CIELAB units: two masses so far apart are two
CELLS = (24, 40)  # rows and columns that the lower edge is looked at in
STRIP = 4  # of those rows
NEAREST = 0.1  # of the strip's cells, the most alike ones
NOISE = 3.0  # CIELAB units: colours nearer than that are one


def surrounding_cues(regions: Regions, lab: Float) -> dict[str, Float]:
    """Cues (n,) of each region beside what is over and under it; ``lab`` is the small copy that ``labels`` lie on."""
    L, a, b = regions.lab.T
    over, under = _over(regions, lab[..., 0]), _under(regions, lab[..., 0])
    return {
        "light_over": (L - over) / APART,
        "light_under": (L - under) / APART,
        "light_step": (over - under) / APART,
        "red_under": (a - _under(regions, lab[..., 1])) / APART,
        "yellow_over": (b - _over(regions, lab[..., 2])) / APART,
        "like_bottom": np.log(_unlike_bottom(regions, lab) + NOISE),
    }


def _over(regions: Regions, values: Float) -> Float:
    """Mean of all that stands over a region in its columns, itself counted (n,)."""
    return regions.mean(_running_mean(values))


def _under(regions: Regions, values: Float) -> Float:
    """Mean of all that lies under a region in its columns, itself counted (n,)."""
    return regions.mean(_running_mean(values[::-1])[::-1])


def _running_mean(values: Float) -> NDArray[np.floating]:
    return np.asarray(np.cumsum(values, axis=0) / np.arange(1, len(values) + 1, dtype=np.float32)[:, None])


def _unlike_bottom(regions: Regions, lab: Float) -> Float:
    """How far (ΔE*ab) a region's colour is from the likest of what lies along the lower edge (n,)."""
    height, width = lab.shape[:2]
    rows = np.linspace(0, height, min(CELLS[0], height) + 1).astype(np.intp)[-STRIP - 1 :]
    columns = np.linspace(0, width, min(CELLS[1], width) + 1).astype(np.intp)
    strip = np.add.reduceat(np.add.reduceat(lab[: rows[-1]], rows[:-1], axis=0), columns[:-1], axis=1)
    strip = strip / (np.diff(rows)[:, None, None] * np.diff(columns)[None, :, None])
    apart = np.sqrt(over_channels(np.square(regions.lab[:, None] - strip.reshape(-1, 3)[None])))
    return np.asarray(np.quantile(apart, NEAREST, axis=1), dtype=np.float32)
