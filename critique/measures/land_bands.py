"""How far off each piece of land in a picture is: near, middle or far."""

import numpy as np
from numpy.typing import NDArray

from critique.measures.regions import Float, Regions
from critique.perception.cielab import lab_to_linear
from critique.perception.ranks import median_of, quantiles_of

FAR, MIDDLE, NEAR = 1, 2, 3  # as in the parts of a picture
ONE_THING = 5.0  # L*: steps smaller than this, going down, stay on one thing, such as a tree down to its foot
FAR_FROM, NEAR_FROM = 0.36, 0.62  # nearness 0–1; our choice, by looking at landscapes
# Of the way from the horizon to the lower edge: level ground there is four times as far off as what lies at one's feet,
# and what stands lower isn't far, however pale it is: sand, snow and roads are.
FAR_DOWN_TO = 0.25
BAND_FADES = 0.06  # of nearness, either way, over which a region passes from one band to the next
BY_HAZE = 0.5  # how much of the nearness the haze decides; the rest is where a thing stands
SMOOTH_IN_HAZE, ROUGH_IN_HAZE = 2.0, 5.0  # L* a pixel: haze smooths; a rough pale region is a crown with sky in it


def land_bands(regions: Regions, sky: NDArray[np.bool_], horizon: float) -> NDArray[np.uint8]:
    """Which band (1 far, 2 middle, 3 near) each place of the small copy would belong to, were it land.

    A thing is near when it stands low in the picture and no haze lies over it. The haze is read from the dark
    channel: the least of red, green and blue, which in clear air is dark somewhere in every patch.
    [He, Sun and Tang, Single Image Haze Removal Using Dark Channel Prior, CVPR 2009]
    """
    nearness, footing = _nearness(regions, sky, horizon)
    far = (nearness < FAR_FROM) & (footing <= FAR_DOWN_TO)
    bands = np.where(far, FAR, np.where(nearness < NEAR_FROM, MIDDLE, NEAR)).astype(np.uint8)
    return np.asarray(bands[regions.labels])


def far_and_near(regions: Regions, sky: NDArray[np.bool_], horizon: float) -> tuple[Float, Float]:
    """How surely each region (n,), were it land, belongs to the far and to the near: a half at the limits of a band.

    A region that passes from one band to the next by a hair takes nothing with it: for what is measured of a band.
    """
    nearness, footing = _nearness(regions, sky, horizon)
    far = _below(nearness, FAR_FROM) * _below(footing, FAR_DOWN_TO)
    return np.asarray(far, dtype=np.float32), np.asarray(1 - _below(nearness, NEAR_FROM), dtype=np.float32)


def _below(values: Float, limit: float) -> Float:
    return np.asarray(np.clip(0.5 + (limit - values) / (2 * BAND_FADES), 0, 1), dtype=np.float32)


def _nearness(regions: Regions, sky: NDArray[np.bool_], horizon: float) -> tuple[Float, Float]:
    """How near each region (n,) is, 0–1, and how low it stands, likewise."""
    footing = _footing(regions, sky, horizon)
    return (1 - BY_HAZE) * footing + BY_HAZE * (1 - _haze(regions, sky)), footing


def _footing(regions: Regions, sky: NDArray[np.bool_], horizon: float) -> Float:
    """How low each region (n,) stands: 0 at the horizon, 1 at the lower edge of the picture.

    What lies under the horizon is taken for ground, where it is; what rises above it stands at its foot.
    """
    lightness = regions.lab[:, 0][regions.labels]
    height = sky.shape[0]
    foot = np.empty(sky.shape, dtype=np.float32)
    foot[-1] = 1.0
    for row in range(height - 2, -1, -1):  # a foot is handed up, column by column, as long as the thing goes on
        goes_on = np.abs(lightness[row] - lightness[row + 1]) < ONE_THING
        foot[row] = np.where(goes_on, foot[row + 1], (row + 1) / height)
    return np.asarray(
        np.clip(
            (np.where(regions.y > horizon, regions.y, regions.mean(foot)) - horizon) / max(1 - horizon, 0.05), 0, 1
        ),
        dtype=np.float32,
    )


def _haze(regions: Regions, sky: NDArray[np.bool_]) -> Float:
    """How much haze lies over each region (n,): 0 as over the clearest land, 1 as the sky itself."""
    dark = np.sqrt(np.clip(lab_to_linear(regions.lab).min(axis=1), 0, 1))
    in_sky = regions.mean(sky.astype(np.float32)) > 0.5
    land = dark[~in_sky] if (~in_sky).any() else dark
    clear = quantiles_of(land, (20 / 100,))[0]
    air = median_of(dark[in_sky]) if in_sky.any() else quantiles_of(dark, (98 / 100,))[0]
    smooth = np.clip((ROUGH_IN_HAZE - regions.rough) / (ROUGH_IN_HAZE - SMOOTH_IN_HAZE), 0, 1)
    return np.asarray(np.clip((dark - clear) / max(air - clear, 0.1), 0, 1) * smooth, dtype=np.float32)
