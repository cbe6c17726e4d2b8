"""Which edges run level, or nearly so, from side to side of a picture, and how far is each out of level?"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from critique.perception.channels import over_channels
from critique.perception.ranks import quantiles_of

Float = NDArray[np.float32]

STRIPS = 24  # upright strips that the picture is cut into: a mast fills one of them, a ship a few
SHARPEST = 1.0  # px: spread of the Gaussian along a strip; painted edges waver by as much
FAINTEST = 0.35  # ΔE*ab a pixel: a step below it is canvas and compression
USUAL = 0.75  # of all steps, weakest first: from there on a step counts in full, and no more, however strong it is
STEEPEST, STEP = 8.0, 0.5  # degrees from level that are looked at, and how finely
LEVEL, LEVEL_STEP = 3.0, 0.5  # degrees: what still is a horizon
REACH = (0.12, 0.93)  # of the height: an edge of a canvas, and a frame, lie outside
APART = 0.03  # of the height: lines nearer to each other are one
FOLLOWED = 0.55  # of the strips, as a mean agreement: below it nothing runs across
MOST = 5
NEAR, HELD = 0.02, 0.008  # of the height: where a strip's step is sought, and how near to the line it is held to it
ON = 0.0064  # of the height: how near to the line a strip's step is half on it
OFF = 0.7  # of a strip's plainest step: where the one on the line is no plainer, the strip lies off it


@dataclass(frozen=True, slots=True)
class LevelLine:
    """A nearly level edge: its height in the middle and its ends from left to right (0–1), and its tilt.

    ``tilt`` is in degrees, above 0 falling to the right; ``agreement`` is how alike all strips step there, 0–1;
    ``length`` is the part of the width that lies on it.
    """

    y: float
    tilt: float
    agreement: float
    length: float
    x1: float
    x2: float


def level_lines(lab: Float) -> tuple[LevelLine, ...]:
    """The plainest nearly level edges of a picture of a few hundred pixels (height, width, 3), plainest first.

    The profile of each strip's steps is laid over its neighbours' along every slope: where they agree, an edge runs.
    [Projection profiles, as scanned pages are set straight: Postl, Detection of linear oblique structures and skew
    scan, ICPR 1986, from memory]
    """
    height, width = lab.shape[:2]
    steps, middles = steps_of_strips(lab)
    tilts = np.arange(-STEEPEST, STEEPEST + STEP / 2, STEP)
    agreement = _agreement(steps, np.tan(np.radians(tilts))[:, None] * middles)
    first, last = round(REACH[0] * height), round(REACH[1] * height)
    agreement[:, :first], agreement[:, last:] = 0, 0
    lines: list[LevelLine] = []
    while len(lines) < MOST:
        index, row = (int(number) for number in np.unravel_index(int(agreement.argmax()), agreement.shape))
        best = float(agreement[index, row])
        if best < FOLLOWED:
            break
        lines.append(_fitted(steps, middles, row, float(tilts[index]), best, (height, width)))
        reach = max(2, round(APART * height))
        agreement[:, max(0, row - reach) : row + reach + 1] = 0
    return tuple(lines)


def level_agreement(lab: Float) -> Float:
    """How alike all strips of a picture step at each row (height,), 0–1, along the best of some nearly level slopes."""
    steps, middles = steps_of_strips(lab)
    tilts = np.arange(-LEVEL, LEVEL + LEVEL_STEP / 2, LEVEL_STEP)
    return np.asarray(_agreement(steps, np.tan(np.radians(tilts))[:, None] * middles).max(axis=0))


def steps_of_strips(lab: Float) -> tuple[Float, Float]:
    """How each upright strip steps (height, strips, 3), and how far its middle is from the picture's (strips,), px."""
    width = lab.shape[1]
    cuts = np.linspace(0, width, min(STRIPS, width) + 1).round().astype(np.intp)
    sums = np.add.reduceat(lab, cuts[:-1], axis=1)
    strips = np.asarray(sums / np.diff(cuts)[None, :, None], dtype=np.float32)
    return _limited_steps(strips), ((cuts[:-1] + cuts[1:]) / 2 - width / 2).astype(np.float32)


def _limited_steps(strips: Float) -> Float:
    """How each strip changes going down (height, strips, 3), strong steps held to the usual strength."""
    from scipy.ndimage import gaussian_filter1d

    change = np.gradient(gaussian_filter1d(strips, SHARPEST, axis=0, mode="nearest"), axis=0)
    size = np.sqrt(over_channels(np.square(change)))
    full = max(FAINTEST, quantiles_of(size, (USUAL,))[0])
    return np.asarray(change / np.maximum(size, full)[..., None], dtype=np.float32)


def _agreement(steps: Float, shifts: NDArray[np.float64]) -> Float:
    """How alike all strips step, each looked at so many px farther down: (tilts, height), 0–1.

    ``shifts`` is (tilts, strips). A strip is moved as a whole, along all tilts at once.
    """
    height, strips, _ = steps.shape
    whole = np.floor(shifts).astype(np.intp)
    part = (shifts - whole).astype(np.float32)[..., None, None]
    reach = int(np.abs(whole).max()) + 1
    padded = np.pad(steps.transpose(1, 2, 0), ((0, 0), (0, 0), (reach, reach + 1)), mode="edge")
    each = np.lib.stride_tricks.sliding_window_view(padded, height, axis=2).transpose(0, 2, 1, 3)
    changes = np.lib.stride_tricks.sliding_window_view(np.diff(padded, axis=2), height, axis=2).transpose(0, 2, 1, 3)
    sums = np.zeros((len(shifts), 3, height), dtype=np.float32)
    for strip in range(strips):
        there = reach + whole[:, strip]
        moved = changes[strip, there] * part[:, strip]
        moved += each[strip, there]
        sums += moved
    sums /= np.float32(strips)
    np.square(sums, out=sums)
    return np.asarray(np.sqrt(sums[:, 0] + sums[:, 1] + sums[:, 2]), dtype=np.float32)


def _fitted(steps: Float, middles: Float, row: int, tilt: float, agreement: float, size: tuple[int, int]) -> LevelLine:
    """The line through the steps of the strips that lie on it, and how much of it these are: no strip is by a hair."""
    height, width = size
    slope, at = float(np.tan(np.radians(tilt))), float(row)
    reach, close = max(2, round(NEAR * height)), max(1.5, HELD * height)
    columns, away = np.arange(len(middles)), np.arange(-reach, reach + 1)[:, None]

    def looked() -> tuple[Float, NDArray[np.float64]]:
        """How plainly each strip steps about the line as it is laid (rows, strips), and how far from it (px)."""
        along = np.rint(at + slope * middles).astype(np.intp)
        direction = steps[np.clip(along, 0, height - 1), columns].mean(0)
        rows = along[None] + away
        plain = steps[np.clip(rows, 0, height - 1), columns[None]] @ direction
        return plain, rows - at - slope * middles

    plain, off = looked()
    edge = off[0] + peaks(plain) + at + slope * middles
    held = np.abs(edge - at - slope * middles) <= 2 * close
    for _ in range(3):
        if held.sum() < len(middles) / 3:
            break
        slope, at = (float(number) for number in np.polyfit(middles[held], edge[held], 1))
        held = np.abs(edge - at - slope * middles) <= close
    on = _on_it(*looked(), max(1.2, ON * height))
    ends = middles[on >= 0.5][[0, -1]] if (on >= 0.5).any() else np.zeros(2, dtype=np.float32)
    return LevelLine(
        y=(at + 0.5) / height,
        tilt=float(np.degrees(np.arctan(slope))),
        agreement=agreement,
        length=float(on.mean()),
        x1=float(ends[0] / width + 0.5),
        x2=float(ends[1] / width + 0.5),
    )


def _on_it(plain: Float, off: NDArray[np.float64], close: float) -> NDArray[np.float64]:
    """How surely each strip lies on the line, 0–1: by its step there, beside its plainest one round about."""
    there = (np.maximum(plain, 0) * _nearness(off, close)).max(0) / np.maximum(plain.max(0), 1e-6)
    return np.asarray(np.square(np.clip((there - OFF) / (1 - OFF), 0, 1)))


def _nearness(off: NDArray[np.float64], close: float) -> NDArray[np.float64]:
    """How near to a line a step lies (px), 0–1: a half at ``close``, and little beyond."""
    return 1 / (1 + (off / close) ** 6)


def peaks(plain: Float) -> NDArray[np.float64]:
    """Where each column (rows, columns) is highest, between pixels: the top of the parabola through three of them."""
    columns = np.arange(plain.shape[1])
    best = plain.argmax(0)
    inner = np.clip(best, 1, len(plain) - 2)
    before, top, after = (plain[inner + step, columns].astype(np.float64) for step in (-1, 0, 1))
    bend = before - 2 * top + after
    off = np.where((bend < 0) & (inner == best), (before - after) / np.where(bend < 0, 2 * bend, 1.0), 0.0)
    return np.asarray(best + np.clip(off, -0.5, 0.5), dtype=np.float64)
