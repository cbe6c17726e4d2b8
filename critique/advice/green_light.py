"""How light and distance vary the greens of a picture: a map to turn, grey and lighten them by."""

import numpy as np
from numpy.typing import NDArray

from critique.advice.guiding import WORKED_AT, resized
from critique.advice.judging import Case
from critique.perception.channels import chroma_of
from critique.perception.green_weight import LEAST, green_weight
from critique.picture.picture import lab_at

LIGHT_REACH = 0.02  # of the long edge: light and shade of masses, not of strokes
BASE_BELOW, BASE_FADE = 0.05, 0.05  # of the height: what stands over the horizon, or so little below it, stands upright
# Degrees: three in four landscapes keep their mean green yellower; the most it is turned.
OLIVE, MOST_WARMED = 112.0, 10.0
# Degrees: greens of this mean hue are turned to yellow no more, and from so much on in full.
YELLOWEST, ROOM = 100.0, 14.0
# From the horizon to one's feet: degrees toward blue (below 0 toward yellow), natural logarithm of the ratio of chroma,
# L*. The middle distance lies in the light, the foreground in a shadow that leads in; our choice, held to pairs.
GROUND_AT = (0.0, 0.12, 0.35, 0.65, 1.0)
GROUND_TURN = (4.0, -4.0, -15.0, -8.0, 4.0)
GROUND_CHROMA = (-0.3, -0.2, -0.02, -0.02, -0.15)
GROUND_LIFT = (0.0, 2.0, 5.0, 0.0, -8.0)
UPRIGHT = (7.0, -0.25, -9.0)  # the same for trees: of the four planes of a landscape the darkest [Carlson, 1929]
LIT_TURN, SHADED_TURN, LIGHT_GREYS = -9.0, 10.0, 0.12
WAVES = 0.05  # of the depth: shadows of clouds lie aslant
# Of a ground without light and shade of its own: what shadows of clouds do to it, in degrees, L* and the
# logarithm of the ratio of chroma: sunlit grass is the stronger; our choice.
CLOUD_TURN, CLOUD_LIFT, CLOUD_CHROMA = 9.0, 10.0, 0.12
MODELLED = 8.0  # L* of standard deviation between a ground's masses from which it has its own light and needs no clouds
# Spread of the logarithm of chroma in the greens of the middle one of the 42 landscapes with 15 % of them.
VARIED = 0.337
FLAT = 0.2  # the same of a ground laid in with one green: it is given MOST_VARIED, one that is VARIED nothing
MOST_VARIED = 1.9  # times the differences of chroma that light and distance make; our choice, held to pairs
MOST_STRONGER = 0.08  # of that, the most by which any green gains: quieted greens stay within a leaf's
MOST_GREYER = 0.25  # and the most by which any loses: shaded trees stay green
STRAW_HUE, STRAW_LIFT = 95.0, 9.0  # degrees and L*: what sunlit ground goes to when it goes to dry grass


def light_map(
    case: Case, *, straw: float = 0.0, amount: float = 1.0, greying: float = 1.0, vary: bool = False
) -> NDArray[np.float32]:
    """Turn in degrees, logarithm of chroma's ratio and L* (height, width, 3) for the greens of a picture.

    ``straw`` is how much of the sunlit ground goes to dry grass, ``amount`` how much of all the rest is done, and
    ``greying`` how much of that in chroma. With ``vary`` greens that are all of one strength are set apart in chroma,
    by light and distance and about their mean.
    """
    from scipy.ndimage import gaussian_filter

    lab = lab_at(case.picture, WORKED_AT)
    height, width = lab.shape[:2]
    parts = case.measures.parts
    sky = resized(parts.mask("sky"), lab.shape)
    down = ((np.arange(height) + 0.5) / height)[:, None] + np.zeros(width)
    across = ((np.arange(width) + 0.5) / width)[None]
    base = parts.horizon if parts.horizon is not None else 0.0
    foot = base + BASE_BELOW if base > 0 else 0.0
    upright = np.clip((foot - down) / BASE_FADE, 0, 1)
    depth = np.clip((down - foot) / max(1 - foot, 0.05) + WAVES * np.sin(5 * across + 1), 0, 1)
    ground = np.stack([np.interp(depth, GROUND_AT, by) for by in (GROUND_TURN, GROUND_CHROMA, GROUND_LIFT)], axis=-1)
    light, own = _light(lab, sky)
    clouds = _clouds(depth, across) * (1 - upright) * float(np.clip(1 - own / MODELLED, 0, 1))
    made = ground + (np.array(UPRIGHT) - ground) * upright[..., None]
    made[..., 0] += np.where(light > 0, LIT_TURN, SHADED_TURN) * np.abs(light) - CLOUD_TURN * clouds
    made[..., 1] += CLOUD_CHROMA * clouds
    made[..., 2] += CLOUD_LIFT * clouds
    made[..., 1] -= LIGHT_GREYS * np.abs(light)
    hue = case.measures.greens.mean_hue if np.isfinite(case.measures.greens.mean_hue) else OLIVE
    # What is yellow already is turned no farther that way: it would go brown.
    made[..., 0] = np.where(made[..., 0] < 0, made[..., 0] * np.clip((hue - YELLOWEST) / ROOM, 0, 1), made[..., 0])
    made *= amount
    apart = _set_apart(lab, made[..., 1]) if vary else 0.0
    made[..., 1] = greying * made[..., 1] + apart
    made[..., 0] -= amount * np.clip(0.6 * (hue - OLIVE), 0, MOST_WARMED)
    if straw:
        in_sun = np.clip(np.exp(-(((depth - 0.35) / 0.22) ** 2)) + 0.5 * light, 0, 1) * (1 - upright)
        part = np.clip(straw * in_sun, 0, 1)
        made[..., 0] += (STRAW_HUE - hue - made[..., 0]) * part
        made[..., 2] += STRAW_LIFT * part
    spread = LIGHT_REACH * max(height, width) / 2
    return np.asarray(gaussian_filter(made, (spread, spread, 0), mode="nearest"), dtype=np.float32)


def _set_apart(lab: NDArray[np.float32], greyed: NDArray[np.float64]) -> NDArray[np.float64]:
    """What is added to a map of the logarithm of chroma's ratio, so that greens of one strength come to differ."""
    weight = green_weight(lab) + 1e-6
    strength = np.log(np.maximum(chroma_of(lab), LEAST))
    own = np.sqrt(np.cov(strength.ravel(), aweights=weight.ravel()))
    times = MOST_VARIED * float(np.clip((VARIED - own) / (VARIED - FLAT), 0, 1))
    return np.clip(times * (greyed - np.average(greyed, weights=weight)), -MOST_GREYER, MOST_STRONGER)


def _clouds(depth: NDArray[np.float64], across: NDArray[np.float64]) -> NDArray[np.float64]:
    """Light (up to 1) and shadows of clouds (down to −1) on level ground: narrow bands far off, a shadow at one's feet."""
    aside, away = (across - 0.4) / (0.35 + depth), np.log(0.18 + depth)
    waves = np.sin(2.1 * aside + 4.6 * away + 2.4) + 0.6 * np.sin(4.7 * aside - 5.3 * away + 0.5)
    return np.asarray(np.tanh(2 * (waves - np.clip((depth - 0.7) / 0.2, 0, 1))))


def _light(lab: NDArray[np.float32], sky: NDArray[np.float32]) -> tuple[NDArray[np.float64], float]:
    """Where green masses lie in light (up to 1) and in shade (down to −1), and how far apart in L* those are.

    It is 0 all over where all is of one value.
    """
    from scipy.ndimage import gaussian_filter

    weight = green_weight(lab).astype(np.float64) * (sky == 0) + 1e-6
    spread = LIGHT_REACH * max(lab.shape[:2])
    smooth = gaussian_filter(lab[..., 0] * weight, spread) / gaussian_filter(weight, spread)
    middle = float((smooth * weight).sum() / weight.sum())
    apart = float(np.sqrt((weight * (smooth - middle) ** 2).sum() / weight.sum()))
    return np.asarray(np.clip((smooth - middle) / max(1.5 * apart, 12.0), -1, 1)), apart
