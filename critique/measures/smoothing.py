"""A picture blurred by a Gaussian, by matrix products: several times faster than line by line, and the same to 1e-6.

Every block of lines is one product of the same band of weights with the lines that reach into it.
"""

from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from critique.one_thread import one_thread
from critique.perception.products import times_columns

Float = NDArray[np.float32]

FINEST = 0.0011  # of the long edge, spread of a Gaussian: 0.7 px of the viewing size, which every saving changes
FINEST_COLOUR = 0.0016  # of the long edge: the eye sees colour less finely than light
BLOCK = 16  # lines that one product makes, or a whole number of them: processors multiply so many at a time
BANDS = 256  # of weights that are kept: pictures of one shape ask for some hundred, of 4 to 100 kB


def gaussian(
    field: NDArray[np.floating], spread: float, *, truncate: float = 4.0, order: tuple[int, int] = (0, 0)
) -> Float:
    """The first two axes of a field (height, width) or (height, width, channels) blurred; float32.

    Parameters
    ----------
    spread : standard deviation, px.
    truncate : of the spread, where the weights end.
    order : of the derivative down and across, 0–2.

    Notes
    -----
    What lies beyond an edge is as at the edge. As ``scipy.ndimage.gaussian_filter(…, mode="nearest")`` has it.
    """
    blurred = gaussian_planes(planes_of(field), spread, truncate=truncate, order=order)
    return blurred[0] if field.ndim == 2 else np.ascontiguousarray(blurred.transpose(1, 2, 0))


def planes_of(field: NDArray[np.floating]) -> Float:
    """A field (height, width) or (height, width, channels) as planes (channels, height, width), float32."""
    planes = field[None] if field.ndim == 2 else field.transpose(2, 0, 1)
    return np.ascontiguousarray(planes, dtype=np.float32)


def gaussian_planes(planes: Float, spread: float, *, truncate: float = 4.0, order: tuple[int, int] = (0, 0)) -> Float:
    """The same of planes (channels, height, width): for what is blurred more than once, or looked at by channel."""
    with one_thread():
        return _across(_down(planes, spread, truncate, order[0]), spread, truncate, order[1])


def gaussian_down(field: NDArray[np.floating], spread: float, *, truncate: float = 4.0) -> Float:
    """A field (height, width) blurred from row to row alone."""
    with one_thread():
        return np.asarray(_down(planes_of(field), spread, truncate, 0)[0])


def means_at(field: NDArray[np.floating], size: int, start: int, step: int) -> Float:
    """Means of squares of ``size`` px about every so manieth px of a field (height, width), from ``start`` on.

    Down first, and across in the rows alone that are asked for.
    """
    from scipy.ndimage import uniform_filter1d

    height = len(field)
    asked = np.arange(start, height, step)[:, None] - size // 2 + np.arange(size)
    rows = np.stack([field[near].mean(axis=0, dtype=np.float64) for near in np.clip(asked, 0, height - 1)])
    across = uniform_filter1d(rows, size, axis=1, mode="nearest")
    return np.asarray(across[:, start::step], dtype=np.float32)


def means_of_parts(values: NDArray[np.floating], parts: int) -> NDArray[np.float64]:
    """Means of a profile or map (height, …) over so many even parts of its height (parts, …)."""
    height = len(values)
    sums = np.zeros((height + 1, *values.shape[1:]))
    np.cumsum(values, axis=0, out=sums[1:])
    edges = np.linspace(0, height, parts + 1)
    whole = np.minimum(edges.astype(np.intp), height - 1)
    part = (edges - whole).reshape(-1, *[1] * (values.ndim - 1))
    at = sums[whole] + part * (sums[whole + 1] - sums[whole])
    return np.asarray(np.diff(at, axis=0) * (parts / height))


def without_finest(field: NDArray[np.floating], spread: float = FINEST) -> Float:
    """A field (height, width) or (height, width, channels) without the finest that a file of any size can carry.

    A figure of single px, such as how much lies beyond a limit, is measured on this: then nothing depends on how often
    the picture was saved, larger or smaller, before it came here (tests/benchmarks/sizes.py). ``spread`` is a part of
    the long edge.
    """
    return gaussian(field, spread * max(field.shape[:2]), truncate=3)


def _down(planes: Float, spread: float, truncate: float, order: int) -> Float:
    reach = _reach(spread, truncate)
    number = planes.shape[1]
    if _wide(number, reach):
        return np.asarray(np.matmul(_whole(spread, truncate, order, number), planes))
    padded = np.empty((planes.shape[0], number + 2 * reach, planes.shape[2]), dtype=np.float32)
    padded[:, reach : reach + number] = planes
    padded[:, :reach], padded[:, reach + number :] = planes[:, :1], planes[:, -1:]
    done = np.empty_like(planes)
    for start in range(0, number, BLOCK):
        count = min(BLOCK, number - start)
        band = _band(spread, truncate, order, count)
        times_columns(band, padded[:, start : start + count + 2 * reach], done[:, start : start + count])
    return done


def _across(planes: Float, spread: float, truncate: float, order: int) -> Float:
    reach = _reach(spread, truncate)
    number = planes.shape[2]
    lines = planes.reshape(-1, number)
    if _wide(number, reach):
        return np.asarray(lines @ _whole(spread, truncate, order, number).T).reshape(planes.shape)
    padded = np.empty((len(lines), number + 2 * reach), dtype=np.float32)
    padded[:, reach : reach + number] = lines
    padded[:, :reach], padded[:, reach + number :] = lines[:, :1], lines[:, -1:]
    done = np.empty_like(lines)
    block = _block(number, reach)
    for start in range(0, number, block):
        count = min(block, number - start)
        # A narrow band is multiplied a third sooner row by row; of a wide one the sums would change in their last bits.
        asked = _narrow_band if block == BLOCK else _turned_band
        band = asked(spread, truncate, order, count)
        np.matmul(padded[:, start : start + count + 2 * reach], band, out=done[:, start : start + count])
    return done.reshape(planes.shape)


def _reach(spread: float, truncate: float) -> int:
    return int(truncate * spread + 0.5)


def _block(number: int, reach: int) -> int:
    return min(number, -(-max(BLOCK, 2 * reach) // BLOCK) * BLOCK)


def _wide(number: int, reach: int) -> bool:
    """Whether a blur reaches so far that one product with all lines at once is less work than by blocks."""
    return _block(number, reach) + 2 * reach >= number


@lru_cache(maxsize=BANDS)
def _whole(spread: float, truncate: float, order: int, number: int) -> Float:
    """The weights (number, number) of all lines in each; those beyond an edge are added to those at the edge."""
    reach = _reach(spread, truncate)
    band = _band(spread, truncate, order, number).astype(np.float64)
    whole = band[:, reach : reach + number].copy()
    whole[:, 0] += band[:, :reach].sum(axis=1)
    whole[:, -1] += band[:, reach + number :].sum(axis=1)
    kept = whole.astype(np.float32)
    kept.setflags(write=False)
    return kept


def _turned_band(spread: float, truncate: float, order: int, count: int) -> Float:
    """The weights (count + 2 reach, count) of ``count`` neighbouring lines, as they lie in `_band`."""
    return _band(spread, truncate, order, count).T


@lru_cache(maxsize=BANDS)
def _narrow_band(spread: float, truncate: float, order: int, count: int) -> Float:
    """The same, laid out row by row."""
    kept = np.ascontiguousarray(_turned_band(spread, truncate, order, count))
    kept.setflags(write=False)
    return kept


@lru_cache(maxsize=BANDS)
def _band(spread: float, truncate: float, order: int, count: int) -> Float:
    """The weights (count, count + 2 reach) of ``count`` neighbouring lines."""
    reach = _reach(spread, truncate)
    x = np.arange(-reach, reach + 1, dtype=np.float64)
    weights = np.exp(-0.5 * np.square(x / spread))
    weights /= weights.sum()
    if order == 1:
        weights *= x / spread**2
    elif order == 2:
        weights *= np.square(x / spread**2) - 1 / spread**2
    nothing = np.zeros(count - 1, dtype=np.float32)
    around = np.concatenate([nothing, weights.astype(np.float32), nothing])
    band = np.ascontiguousarray(np.lib.stride_tricks.sliding_window_view(around, count + 2 * reach)[::-1])
    band.setflags(write=False)
    return band
