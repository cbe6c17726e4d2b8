"""Where a repaint changed value, chroma and hue."""

from dataclasses import dataclass, field, replace
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from critique.pair.changed_things import ChangedThing, changed_things
from critique.pair.overlay import Overlay
from critique.perception.cielab import as_three
from critique.perception.hue import LEAST_CHROMA, turn

Map = NDArray[np.float32]
Kind = Literal["value", "chroma", "hue"]

MELT = 0.012  # of the long edge: strokes and small misfits of the two are smoothed away
# What a photograph may do, and no more: 10 % of exposure moves L* by 4 at most, a cast of ΔE00 4 moves a* and b* by 5.
VALUE_STEP = 0.6  # values
CHROMA_STEP = 6.5  # C*
HUE_STEP = 6.5  # of ΔH*, the same along the hue circle
HUE_TURN = 8.0  # degrees besides: a strong colour that turns by less keeps its name
LEAST_AREA = 0.008  # of the picture: smaller places are strokes
IN_A_PART = 0.75  # of a place that must lie in the sky to be called the sky
MOST_PLACES = 3  # of each kind and direction


@dataclass(frozen=True, slots=True)
class ChangedPlace:
    """A connected place where one quality changed. ``size`` is the mean change there (values, C* or degrees).

    ``share`` is its part of the picture, ``x``, ``y`` its centre of gravity, 0–1 from the upper left; ``hue`` is the
    mean hue there now, in degrees; ``was`` and ``now`` are its mean L*a*b* in both. ``part`` is the part of the picture
    that it is, where that is sure.
    """

    kind: Kind
    size: float
    share: float
    x: float
    y: float
    hue: float
    was: tuple[float, float, float]
    now: tuple[float, float, float]
    mask: NDArray[np.bool_] = field(metadata={"record": False}, repr=False)
    part: str = ""


@dataclass(frozen=True, slots=True)
class ChangeMaps:
    """Change from the first to the second on the first's frame: value (0–10), chroma C*, hue in degrees.

    Maps are (height, width); hue is 0 where one of the two is a grey. ``places`` are the places that changed by more
    than a photograph could, largest first; ``shares`` how much of the picture they take by kind, of all sizes;
    ``things`` what came or went.
    """

    places: tuple[ChangedPlace, ...]
    things: tuple[ChangedThing, ...]
    shares: dict[str, float]
    value: Map = field(metadata={"record": False}, repr=False)
    chroma: Map = field(metadata={"record": False}, repr=False)
    hue: Map = field(metadata={"record": False}, repr=False)
    changed: dict[str, NDArray[np.bool_]] = field(metadata={"record": False}, repr=False)


def change_maps(both: Overlay) -> ChangeMaps:
    """Maps of change of two pictures that lie on each other, and the places where it is more than a photograph's."""
    first, second = _melted(both.first, both.covered), _melted(both.second, both.covered)
    chromas = [np.hypot(lab[..., 1], lab[..., 2]) for lab in (first, second)]
    hues = [np.degrees(np.arctan2(lab[..., 2], lab[..., 1])) for lab in (first, second)]
    value = np.where(both.covered, (second[..., 0] - first[..., 0]) / 10, 0)
    chroma = np.where(both.covered, chromas[1] - chromas[0], 0)
    coloured = both.covered & (np.minimum(*chromas) >= LEAST_CHROMA)
    hue = np.where(coloured, turn(hues[0], hues[1]), 0)
    turned = 2 * np.sqrt(chromas[0] * chromas[1]) * np.abs(np.sin(np.radians(hue) / 2))
    changed = {
        "value": np.abs(value) >= VALUE_STEP,
        "chroma": np.abs(chroma) >= CHROMA_STEP,
        "hue": (turned >= HUE_STEP) & (np.abs(hue) >= HUE_TURN),
    }
    maps: dict[Kind, NDArray[np.floating]] = {"value": value, "chroma": chroma, "hue": hue}
    places = [
        place
        for kind, change in maps.items()
        for sign in (1, -1)
        for place in _places(kind, change, changed[kind] & (np.sign(change) == sign), first, second)
    ]
    return ChangeMaps(
        places=tuple(sorted(places, key=lambda place: -place.share)),
        things=changed_things(both),
        shares={kind: float(mask.mean()) for kind, mask in changed.items()},
        value=value.astype(np.float32),
        chroma=chroma.astype(np.float32),
        hue=hue.astype(np.float32),
        changed={kind: np.asarray(mask) for kind, mask in changed.items()},
    )


def _mean(lab: Map, inside: NDArray[np.bool_]) -> tuple[float, float, float]:
    return as_three(lab[inside].mean(axis=0, dtype=np.float64))


def with_parts(maps: ChangeMaps, sky: NDArray[np.bool_]) -> ChangeMaps:
    """The maps with the places named that lie in the sky; ``sky`` (height, width) has any size, empty if unsure."""

    def named(place: ChangedPlace) -> ChangedPlace:
        rows, columns = (np.arange(length) * sky.shape[axis] // length for axis, length in enumerate(place.mask.shape))
        inside = sky[rows[:, None], columns][place.mask].mean()
        return replace(place, part="sky") if inside >= IN_A_PART else place

    return replace(maps, places=tuple(named(place) for place in maps.places))


def _melted(lab: Map, covered: NDArray[np.bool_]) -> Map:
    """Smoothed over what both pictures show: what only one of them shows doesn't bleed in."""
    from scipy.ndimage import gaussian_filter1d

    sigma = MELT * max(lab.shape[:2])
    shown = covered[..., None].astype(np.float32)
    parts = np.concatenate([lab * shown, shown], axis=-1)
    for axis in (0, 1):
        parts = gaussian_filter1d(parts, sigma, axis=axis, mode="nearest")
    return np.asarray(parts[..., :3] / np.maximum(parts[..., 3:], 1e-6))


def _places(
    kind: Kind, change: NDArray[np.floating], mask: NDArray[np.bool_], was: Map, now: Map
) -> list[ChangedPlace]:
    """The connected places of a mask, largest first; ``was`` and ``now`` are CIELAB of both pictures."""
    from scipy.ndimage import label

    labels, number = label(mask)
    if number == 0:
        return []
    sizes = np.bincount(labels.ravel())[1:] / labels.size
    found = []
    for index in np.argsort(-sizes, kind="stable")[:MOST_PLACES]:
        if sizes[index] < LEAST_AREA:
            break
        inside = labels == index + 1
        rows, columns = np.nonzero(inside)
        x, y = (columns.mean() + 0.5) / mask.shape[1], (rows.mean() + 0.5) / mask.shape[0]
        before, after = _mean(was, inside), _mean(now, inside)
        _, a, b = after
        hue = float(np.degrees(np.arctan2(b, a)) % 360)
        size = float(change[inside].mean())
        found.append(ChangedPlace(kind, size, float(sizes[index]), float(x), float(y), hue, before, after, inside))
    return found
