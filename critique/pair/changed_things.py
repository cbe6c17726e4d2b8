"""What came into a repaint and what was taken out of it: a figure set in, a tree painted out."""

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from critique.pair.overlay import Overlay
from critique.perception.cielab import as_three
from critique.perception.srgb import Float

# With these, of 24 landscapes photographed again (turned, cropped, blurred, with noise, under a warmer, darker light)
# none had a thing come or go; a figure over 1 % of the picture, and a tree taken out, did.
MELT = 0.006  # of the long edge: strokes and small misfits of the two are smoothed away, a small figure isn't
CHANGED = 12.0  # of L*a*b* between both, at a pixel: other light moves it by half of that
LEAST_AREA, MOST_AREA = 0.002, 0.2  # of the picture: below it a touch, above it a passage made anew
THICK = 0.004  # of the long edge: what is thinner is an edge that was drawn a little otherwise
GAP, RING = 0.012, 0.045  # of the long edge, around a thing: what lies next to it, and what that is held against
STANDS_OUT = 14.0  # of L*a*b* between a thing and what lies around it
STILL_SEEN = 7.0  # of the same, from which the fainter of the two is still a thing
SAME_WAY = 0.8  # cosine between both contrasts: a pale figure on a dark ground isn't a dark one that paled
MORE = 2.0  # times as much as the other picture has there
STILL = 0.45  # of the change of the thing that what lies around it may have changed by
ON_THE_FRAME = 0.35  # of its outline that may lie on the picture's edge: more is a passage, such as a darkened corner
# Correlation of the marks inside it in both from which what was drawn there still is, if otherwise lit.
SAME_DRAWING = 0.6
FINE = 0.012  # of the long edge: marks are what is finer
LOUDER = 12.0  # C* by which one half of it must be stronger than the other to be what it is called by
OF_SEVERAL = 15.0  # of L*a*b*, from which half of it lies so far off its mean: a white wall under a red roof
MOST_THINGS = 3

Mask = NDArray[np.bool_]


@dataclass(frozen=True, slots=True)
class ChangedThing:
    """A shape that stands out from what lies around it in one picture, and isn't there in the other.

    ``came`` says that the later one has it; ``faint`` that the other has it too, faintly. ``share`` is its part of the
    picture, ``x``, ``y`` its middle, 0–1 from the upper left; ``lab`` its L*a*b*, ``around`` that of what surrounds it.
    ``mixed`` says that it is of several colours, so that the mean of them is none of its own.
    """

    came: bool
    faint: bool
    share: float
    x: float
    y: float
    lab: tuple[float, float, float]
    around: tuple[float, float, float]
    mask: Mask = field(metadata={"record": False}, repr=False)
    mixed: bool = False


def changed_things(both: Overlay) -> tuple[ChangedThing, ...]:
    """The things that came or went between two pictures that lie on each other, the largest first."""
    from scipy.ndimage import binary_fill_holes, binary_opening, label

    first, second = _melted(both.first), _melted(both.second)
    far = np.sqrt(((second - first) ** 2).sum(axis=-1))
    long_edge = max(far.shape)
    thick = max(round(THICK * long_edge), 1)
    changed = binary_opening(both.covered & (far >= CHANGED), iterations=thick)
    labels, number = label(binary_fill_holes(changed))
    shares = np.bincount(labels.ravel(), minlength=number + 1)[1:] / labels.size
    found = []
    for index in np.argsort(-shares, kind="stable"):
        if LEAST_AREA <= shares[index] <= MOST_AREA:
            inside = labels == index + 1
            if _is_a_passage(inside) or _still_drawn(inside, both):
                continue
            thing = _thing(inside, first, second, both.covered)
            if thing is not None:
                found.append(thing)
    return tuple(found[:MOST_THINGS])


def _is_a_passage(inside: Mask) -> bool:
    """Whether much of its outline is the picture's edge."""
    from scipy.ndimage import binary_erosion

    edge = np.ones_like(inside)
    edge[1:-1, 1:-1] = False
    outline = inside & ~binary_erosion(inside)
    return bool((outline & edge).sum() > ON_THE_FRAME * outline.sum())


def _still_drawn(inside: Mask, both: Overlay) -> bool:
    """Whether the marks inside it are the same in both: then a passage was made lighter or darker, and nothing came."""
    from scipy.ndimage import binary_erosion, gaussian_filter

    sigma = FINE * max(inside.shape)
    within = binary_erosion(inside, iterations=max(round(2 * sigma), 1))  # its own outline is no mark in it
    if not within.any():
        return False
    marks = [(lab[..., 0] - gaussian_filter(lab[..., 0], sigma))[within] for lab in (both.first, both.second)]
    spread = [float(one.std()) for one in marks]
    if min(spread) < 1e-3:
        return False
    return float(np.corrcoef(marks[0], marks[1])[0, 1]) >= SAME_DRAWING


def _thing(inside: Mask, first: Float, second: Float, covered: Mask) -> ChangedThing | None:
    """The thing that a mask is, None where neither picture has one there or all around it changed too."""
    from scipy.ndimage import distance_transform_edt

    away = distance_transform_edt(~inside) / max(inside.shape)
    ring = covered & (away > GAP) & (away <= RING)
    if ring.sum() < inside.sum() / 20:
        return None
    within = [lab[inside].mean(axis=0, dtype=np.float64) for lab in (first, second)]
    around = [lab[ring].mean(axis=0, dtype=np.float64) for lab in (first, second)]
    if np.linalg.norm(around[1] - around[0]) > STILL * np.linalg.norm(within[1] - within[0]):
        return None
    stands = [float(np.linalg.norm(here - there)) for here, there in zip(within, around, strict=True)]
    came = stands[1] > stands[0]
    if max(stands) < STANDS_OUT or max(stands) < MORE * min(stands):
        return None
    rows, columns = np.nonzero(inside)
    x, y = (columns.mean() + 0.5) / inside.shape[1], (rows.mean() + 0.5) / inside.shape[0]
    own, ground = _what_stands_out(inside, (first, second)[int(came)]), around[int(came)]
    lab = as_three(own.mean(axis=0))
    apart = [here - there for here, there in zip(within, around, strict=True)]
    alike = float(apart[0] @ apart[1]) >= SAME_WAY * stands[0] * stands[1]
    return ChangedThing(
        came,
        min(stands) >= STILL_SEEN and alike,
        float(inside.mean()),
        float(x),
        float(y),
        lab,
        ground,
        inside,
        float(np.median(np.linalg.norm(own - lab, axis=1))) >= OF_SEVERAL,
    )


def _what_stands_out(inside: Mask, lab: Float) -> NDArray[np.float64]:
    """The L*a*b* (n, 3) of a thing, or of its stronger half where that is far stronger: a red coat, not the dark."""
    all_of_it = lab[inside].astype(np.float64)
    chroma = np.hypot(all_of_it[:, 1], all_of_it[:, 2])
    strong = chroma >= np.median(chroma)
    loud = not strong.all() and chroma[strong].mean() - chroma[~strong].mean() >= LOUDER
    return np.asarray(all_of_it[strong if loud else slice(None)])


def _melted(lab: Float) -> Float:
    from scipy.ndimage import gaussian_filter

    sigma = MELT * max(lab.shape[:2])
    return np.asarray(gaussian_filter(lab, (sigma, sigma, 0), mode="nearest"))
