"""A small thing of one colour that nothing else in the picture has so strong."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from critique.perception.channels import chroma_of
from critique.perception.hue import hue_of, turn
from critique.perception.ranks import quantiles_of
from critique.picture.one_piece import largest_piece

SMALLEST = 0.0033  # of the picture: a third of a hundredth is a thing that is seen, and less a touch
FIELD = 0.1  # of the picture: more is a field, such as a sky, in whose colour the picture is painted
GATHERED = 0.75  # of the smallest that lies in one piece
# Its chroma against the most that landscapes reach at its hue, times the root of the same against what is of its hue
# elsewhere. Of 76 landscapes the most is 1.28, of a summer sky; water, trees, fields made too loud have 1.38 at least.
STANDS_ALONE = 1.33
FAINT = 6.0  # C*: with less elsewhere there is as good as nothing of its hue
OF_ONE_HUE = 25.0  # degrees to either side of a hue that count as it
AS_LOUD = 0.8  # of its chroma: what is part of it
STEP = 2  # px of the view from one place asked to the next: it is blurred by as much
JOINED, BESIDE, AROUND = 2, 2, 7  # steps: gaps that part no thing, its soft border, and what surrounds it
ELSEWHERE, BEST_AROUND = 0.95, 0.9  # of the rest and of what surrounds it, ranked by its hue


@dataclass(frozen=True, slots=True)
class LoneColour:
    """Which of the hues tried it has, where it is (height, width), and how far it stands alone."""

    tried: int
    mask: NDArray[np.bool_]
    alone: float


def lone_colour(
    soft: NDArray[np.float32],
    tried: NDArray[np.intp],
    reached: NDArray[np.float64],
    usual: NDArray[np.float64],
    but: tuple[float, float],
) -> LoneColour | None:
    """The small thing of a picture (height, width, 3), blurred, that stands alone the most; None where none does.

    ``reached`` (n,) is the chroma that the smallest thing could have at each hue ``tried`` (n,), in degrees, ``usual``
    the most that landscapes have there. Things of the hues ``but``, from and to which, are left out.
    """
    lab = soft[::STEP, ::STEP]
    chroma, hue = chroma_of(lab), hue_of(lab[..., 1], lab[..., 2])
    found: LoneColour | None = None
    for index in np.argsort(-reached / usual):
        excess = float(reached[index] / usual[index])
        if excess * (reached[index] / FAINT) ** 0.5 < STANDS_ALONE:
            continue
        of_it = np.abs(turn(hue, float(tried[index]))) <= OF_ONE_HUE
        thing = _thing(of_it & (chroma >= AS_LOUD * reached[index]))
        if thing is None:
            continue
        a, b = (float(lab[..., channel][thing].mean()) for channel in (1, 2))
        if but[0] <= np.degrees(np.arctan2(b, a)) % 360 <= but[1]:
            continue
        loud, elsewhere = float(reached[index]), max(_elsewhere(lab, thing, (a, b)), FAINT)
        alone = excess * (loud / elsewhere) ** 0.5
        if alone >= STANDS_ALONE and (found is None or alone > found.alone):
            # What is nearer to it than to anything else belongs to it, such as the soft border of a strip.
            whole = _reaching(of_it & (chroma >= (loud + elsewhere) / 2), thing)
            found = LoneColour(int(index), _at_full_size(whole, soft.shape), alone)
    return found


def _reaching(part: NDArray[np.bool_], thing: NDArray[np.bool_]) -> NDArray[np.bool_]:
    """A thing with what hangs together with it of a part (height, width), small gaps bridged."""
    from scipy.ndimage import binary_dilation, label

    both = part | thing
    pieces, _ = label(binary_dilation(both, iterations=JOINED))
    return np.asarray(both & np.isin(pieces, pieces[thing]))


def _at_full_size(thing: NDArray[np.bool_], shape: tuple[int, ...]) -> NDArray[np.bool_]:
    """A thing as it lies in a picture of this shape (height, width, …), its places whole steps."""
    return np.asarray(thing.repeat(STEP, axis=0).repeat(STEP, axis=1)[: shape[0], : shape[1]])


def _thing(alike: NDArray[np.bool_]) -> NDArray[np.bool_] | None:
    """The largest piece (height, width) of what is alike, small gaps bridged; None for too little, or for a field."""
    from scipy.ndimage import binary_dilation

    if not GATHERED * SMALLEST <= alike.mean() <= FIELD:
        return None
    thing = alike & largest_piece(binary_dilation(alike, iterations=JOINED))
    return thing if thing.mean() >= GATHERED * SMALLEST else None


def _elsewhere(lab: NDArray[np.float32], thing: NDArray[np.bool_], ab: tuple[float, float]) -> float:
    """How strong (C*) the hue of a* and b* is beside a thing: the mean of all the rest and of what is around it."""
    from scipy.ndimage import binary_dilation

    a, b = ab
    along = (lab[..., 1] * a + lab[..., 2] * b) / max(float(np.hypot(a, b)), 1e-6)
    near = binary_dilation(thing, iterations=BESIDE)
    around = binary_dilation(near, iterations=AROUND - BESIDE) & ~near
    rest = quantiles_of(along[~near], (ELSEWHERE,))[0]
    beside = quantiles_of(along[around], (BEST_AROUND,))[0] if around.any() else rest
    return (max(rest, 0.0) + max(beside, 0.0)) / 2
