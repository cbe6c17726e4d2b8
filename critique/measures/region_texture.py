"""How each region of a picture is painted: leaves, sky, water, walls and rock differ in it more than in colour."""

import numpy as np

from critique.measures.finely_seen import finely_seen
from critique.measures.region_cues import ROUGH_FLOOR, around
from critique.measures.regions import Float, Regions, block_means
from critique.perception.channels import chroma_of
from critique.perception.hue import hue_of
from critique.picture.picture import Picture

REACH = 0.06  # of the long edge: farther than a stroke, nearer than a mass
OLIVE_HUES, OLIVE_CHROMA = (85.0, 200.0), 4.0  # degrees and C*: foliage, dull as it may be
BLUE_HUES, BLUE_CHROMA = (200.0, 300.0), 5.0
SOME = 0.5  # (L* a pixel)²: steps smaller than these have no direction


def texture_cues(picture: Picture, regions: Regions, lab: Float) -> dict[str, Float]:
    """Roughness, direction of the strokes and mixture of colours of each region (n,).

    ``lab`` is the small copy that ``labels`` lie on.
    """
    cues = _spread_cues(regions, lab) | _stroke_cues(picture, regions) | _hue_cues(regions, lab)
    for name in ("spread", "rough_fine", "olive"):
        cues[f"{name}_around"] = around(regions, cues[name])
    return cues


def _spread_cues(regions: Regions, lab: Float) -> dict[str, Float]:
    """How much lightness and colour vary within a region, and farther around it."""
    from scipy.ndimage import uniform_filter

    channels = [np.ascontiguousarray(lab[..., axis]) for axis in range(3)]
    light, red, yellow = (
        np.sqrt(np.maximum(regions.mean(np.square(channel)) - np.square(regions.mean(channel)), 0))
        for channel in channels
    )
    size = max(3, round(REACH * max(lab.shape[:2])) | 1)
    light_far, red_far, yellow_far = (
        np.sqrt(
            np.maximum(
                uniform_filter(np.square(channel), size, mode="nearest")
                - np.square(uniform_filter(channel, size, mode="nearest")),
                0,
            )
        )
        for channel in channels
    )
    return {
        "spread": np.log(light + 1),
        "spread_colour": np.log(red + yellow + 1),
        "spread_kind": np.log((red + yellow + 1) / (light + 1)),
        "spread_far": np.log(regions.mean(light_far) + 1),
        "spread_colour_far": np.log(regions.mean(red_far + yellow_far) + 1),
    }


def _stroke_cues(picture: Picture, regions: Regions) -> dict[str, Float]:
    """How rough a region is from pixel to pixel, and how far its strokes run one way (structure tensor)."""
    shape = regions.labels.shape
    lightness = finely_seen(picture)
    down, right = np.zeros_like(lightness), np.zeros_like(lightness)
    down[:-1], right[:, :-1] = np.diff(lightness, axis=0), np.diff(lightness, axis=1)
    rough = np.log(regions.mean(block_means(np.abs(down) + np.abs(right), shape)) / 2 + np.float32(ROUGH_FLOOR))
    xx, yy, xy = (block_means(product, shape) for product in (right * right, down * down, right * down))
    one_way = regions.mean(np.sqrt(np.square(xx - yy) + 4 * np.square(xy)))
    return {
        "rough_fine": rough,
        "fineness": rough - np.log(regions.rough + np.float32(ROUGH_FLOOR)),
        "along": one_way / (regions.mean(xx + yy) + np.float32(SOME)),
    }


def _hue_cues(regions: Regions, lab: Float) -> dict[str, Float]:
    """Share of a region's pixels (0–1) in some hues: a broken colour may have a mean that none of its strokes has."""
    hue = hue_of(lab[..., 1], lab[..., 2])
    chroma = chroma_of(lab)

    def share(hues: tuple[float, float], least: float) -> Float:
        return regions.mean(((hue >= hues[0]) & (hue <= hues[1]) & (chroma >= least)).astype(np.float32))

    return {"olive": share(OLIVE_HUES, OLIVE_CHROMA), "blue_dots": share(BLUE_HUES, BLUE_CHROMA)}
