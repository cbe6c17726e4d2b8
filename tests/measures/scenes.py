"""Synthetic pictures whose figures are known before they are measured."""

from functools import cache

import numpy as np
from scipy.ndimage import gaussian_filter

from critique.perception.cielab import lab_to_srgb8
from critique.picture.picture import Picture, picture_from_srgb

SKY, MEADOW, STRONG, EARTH = (78, -4, -18), (52, -20, 30), (56, -48, 52), (38, 14, 22)


def bands(*parts, width=600, height=400):
    """A picture of level bands, each a (share of the height, Lab)."""
    rows = []
    for share, lab in parts:
        rows.append(np.tile(np.asarray(lab, dtype=np.float32), (round(share * height), width, 1)))
    return picture_from_srgb(lab_to_srgb8(np.concatenate(rows)))


@cache
def painted(seed=3, width=480, height=320):
    """A picture with something of everything: soft blotches of many colours over a sky and a field; one for all."""
    rng = np.random.default_rng(seed)
    lab = np.empty((height, width, 3), dtype=np.float32)
    lab[: height * 3 // 5] = SKY
    lab[height * 3 // 5 :] = MEADOW
    y, x = np.arange(height), np.arange(width)
    for _ in range(160):
        cy, cx, size = rng.uniform(0, height), rng.uniform(0, width), rng.uniform(6, 30)
        colour = rng.uniform([15, -35, -30], [90, 35, 50])
        down, across = np.abs(y - cy) < FAR * size, np.abs(x - cx) < FAR * 1.8 * size
        falls = np.exp(-(((y[down] - cy) / size) ** 2)), np.exp(-(((x[across] - cx) / (1.8 * size)) ** 2))
        weight = np.float32(0.8) * np.multiply.outer(*falls)[..., None].astype(np.float32)
        place = np.ix_(down, across)
        lab[place] = lab[place] * (1 - weight) + colour.astype(np.float32) * weight
    picture = picture_from_srgb(lab_to_srgb8(lab))
    for shared in (picture.lab, picture.srgb, picture.drawn):
        shared.setflags(write=False)
    return picture


FAR = 4.2  # sizes of a blotch beyond which float32 holds nothing of it


def mirrored(picture: Picture) -> Picture:
    """The picture, left to right."""
    return picture_from_srgb(np.ascontiguousarray(picture.srgb[:, ::-1]))


def doubled(picture: Picture) -> Picture:
    """The picture at twice its size, each pixel four."""
    return picture_from_srgb(picture.srgb.repeat(2, axis=0).repeat(2, axis=1))


def rough(lightness, amount, seed=2):
    """L* with touches of one size and a spread of ``amount``."""
    field = gaussian_filter(np.random.default_rng(seed).standard_normal(lightness.shape), 1.0)
    return lightness + amount * field / field.std()


def grey(lightness):
    """A picture of L* alone (height, width)."""
    lab = np.zeros((*lightness.shape, 3), dtype=np.float32)
    lab[..., 0] = lightness
    return picture_from_srgb(lab_to_srgb8(lab))
