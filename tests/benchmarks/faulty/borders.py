"""Faults of the borders of things, made in two ways: a pale rim against the sky."""

import numpy as np
from scipy.ndimage import distance_transform_edt, label
from skimage.draw import ellipse
from skimage.measure import find_contours

from faulty.hand import Float, Severity, blur, noise, over, pick, sky_mask
from faulty.source import Source


def _open_sky(source: Source) -> np.ndarray:
    """The sky up to the very border of what stands before it (height, width): by colour, out from where it is sure."""
    lab = source.lab
    sure = sky_mask(lab, source.line) > 0.5
    under = blur(np.where(sure[..., None], lab, 0), 6) / np.maximum(blur(sure.astype(np.float32), 6), 1e-3)[..., None]
    near = distance_transform_edt(~sure) < 8
    as_sky = np.sqrt(np.square(blur(lab, 0.6) - under).sum(-1)) < 14
    land, _ = label(blur((sure | (near & as_sky)).astype(np.float32), 1.0) <= 0.5)
    standing = np.unique(land[round(source.line * len(land)) :])  # what no land reaches is a cloud
    return ~np.isin(land, standing[standing > 0])


# Looked at: of the bright mountains in the first no mask tells where they end and the sky begins.
NO_PLAIN_SKYLINE = ("065.jpg",)


def skyline_parts(source: Source) -> bool:
    """A sky not so white that nothing paler is to be seen on it, with darker things along much of its lower border."""
    if source.name in NO_PLAIN_SKYLINE:
        return False
    sky = _open_sky(source)
    if not 0.1 < sky.mean() < 0.9:
        return False
    light = blur(source.lab[..., 0], 1.0)
    over, under = distance_transform_edt(sky), distance_transform_edt(~sky)
    beyond, thing = (over > 6) & (over < 14), (under > 2) & (under < 6)
    if not (beyond.any() and thing.any()):
        return False
    level = float(np.median(light[beyond]))
    return level < 84 and float((light[thing] < level - 12).mean()) > 0.6


def pale_rims(source: Source, severity: Severity, rng: np.random.Generator) -> Float:
    """The sky painted up to the trees and hills, but not quite: a band of the pale ground is left all round them."""
    lab = source.lab
    sky = _open_sky(source)
    away = distance_transform_edt(sky)
    wide = float(rng.uniform(0.006, 0.012)) * max(lab.shape[:2]) * pick(severity, 0.8, 1.0, 1.3)
    ragged = wide * (1 + 0.3 * noise(lab.shape, 5, rng))
    band = blur(((away < ragged) & sky).astype(np.float32), 0.8)
    beyond = (sky & (away > 1.6 * wide)).astype(np.float32)  # the sky's own colour, with none of the things in it
    around = blur(lab * beyond[..., None], 8.0) / np.maximum(blur(beyond, 8.0), 1e-3)[..., None]
    paler = around.copy()
    paler[..., 0] = np.minimum(97, around[..., 0] + pick(severity, 6, 11, 19))
    paler[..., 1:] *= pick(severity, 0.8, 0.55, 0.35)
    paler[..., 0] += noise(lab.shape, 3, rng)
    return over(lab, paler, band * 0.95)


def dabbed_rims(source: Source, severity: Severity, rng: np.random.Generator) -> Float:
    """The sky worked round each thing with separate pale dabs that follow its outline."""
    lab = source.lab.copy()
    sky = _open_sky(source)
    away = distance_transform_edt(sky)
    height, width = sky.shape
    long_edge = max(height, width)
    soft, inside = blur(source.lab, 5.0), blur(sky.astype(np.float32), 2.0)
    dabs = np.zeros_like(lab)
    laid = np.zeros(sky.shape, dtype=np.float32)
    for contour in find_contours(inside, 0.5):
        if len(contour) < 0.04 * long_edge:
            continue
        step = 0.007 * long_edge
        for at in np.arange(0, len(contour) - 1, step):
            row, column = contour[int(at)]
            if not (2 < row < height - 3 and 2 < column < width - 3) or rng.random() < 0.1:
                continue
            before, after = contour[max(int(at) - 4, 0)], contour[min(int(at) + 4, len(contour) - 1)]
            along = float(np.arctan2(after[0] - before[0], after[1] - before[1]))
            thick = long_edge * rng.uniform(0.004, 0.007)
            rows, columns = ellipse(row, column, thick * 1.6, thick, shape=sky.shape, rotation=np.pi / 2 - along)
            pale = _sky_near(soft, sky, away, row, column)
            shift = pick(severity, 6, 11, 19) * rng.uniform(0.8, 1.2)
            dabs[rows, columns] = (min(98, pale[0] + shift), 0.6 * pale[1], 0.6 * pale[2] + 2)
            laid[rows, columns] = 1
    mask = blur(laid * sky, 0.7)
    return over(lab, blur(dabs, 0.5) / np.maximum(blur(laid, 0.5), 0.05)[..., None], mask * 0.9)


def _sky_near(soft: Float, sky: np.ndarray, away: np.ndarray, row: float, column: float) -> Float:
    """The colour of the sky a little way off a place on its border."""
    reach = 16
    top, left = max(int(row) - reach, 0), max(int(column) - reach, 0)
    near = np.s_[top : int(row) + reach, left : int(column) + reach]
    farthest = int(np.argmax(np.where(sky[near], away[near], -1)))
    return np.asarray(soft[near].reshape(-1, 3)[farthest], dtype=np.float32)
