"""Which mixture of a few paints comes nearest to a colour, over every small set of a paint box at once.

A coarse lattice of every set finds the neighbourhood; damped Gauss–Newton steps on the logarithms of the parts, for all
sets and targets together, find the place. Nearness is steered by CIEDE2000's own ellipsoid around each target and
judged by CIEDE2000 itself. [Levenberg, Q. Appl. Math. 2, 1944, for the damping]
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations, combinations_with_replacement, product

import numpy as np
from numpy.typing import ArrayLike, NDArray

from critique.paints.kubelka_munk import SURFACE_INSIDE, SURFACE_OUTSIDE, coefficients, relative_weights
from critique.paints.paint import Paint
from critique.perception.cielab import EPSILON, KAPPA, LINE_OFFSET
from critique.perception.difference import delta_e_2000

Float32 = NDArray[np.float32]
Float64 = NDArray[np.float64]
Index = NDArray[np.intp]

LEVELS = (0, 1, 4, 16)  # strengths on the lattice: a strong tinter needs even steps of ratio, not of amount
LEAST_LOG_PART = float(np.log(2e-4))  # against the largest part: less can't be measured out nor seen
PASSES = 2  # of refinement, each with the ellipsoid of where the last one ended
STEPS = 12  # of each pass of refinement; most colours within reach settle in five
SETTLED = 0.05  # CIEDE2000 units: nearer than any eye tells
LARGEST_STEP = 2.0  # of a log part, about a factor of seven
ELLIPSOID_STEP = 0.5  # CIELAB units over which the ellipsoid is measured
CHUNK = 4_000  # mixtures computed at a time: their spectra stay in the cache
SETS_AT_A_TIME = 400  # whose lattices are computed together
BLOCK = 1_000  # mixtures refined together, for the same reason


@dataclass(frozen=True, slots=True, eq=False)
class Mixer:
    """Paints made ready for bulk mixing: K and S (paints, 38) float32, and each paint's tinting strength."""

    K: Float32
    S: Float32
    weights: Float32  # (38, 3), reflectance to X/Xn, Y/Yn, Z/Zn
    strength: Float32  # (paints,)

    @classmethod
    def of(cls, paints: Sequence[Paint], light: str = "D65") -> "Mixer":
        K, S = coefficients(paints)
        weights = relative_weights(light)
        seen = weights.sum(axis=1) / weights.sum()
        return cls(K.astype(np.float32), S.astype(np.float32), weights, ((K + S) @ seen).astype(np.float32))

    def lab(self, sets: Index, parts: Float32) -> Float32:
        """CIELAB (n, 3) of mixtures: ``sets`` (n, m) says which paints, ``parts`` (n, m) how much of each."""
        found = np.empty((len(parts), 3), np.float32)
        for start in range(0, len(parts), CHUNK):
            span = slice(start, start + CHUNK)
            full = np.zeros((len(parts[span]), len(self.K)), np.float32)
            np.put_along_axis(full, sets[span], parts[span], axis=1)
            found[span] = self._lab_of(full @ self.K, full @ self.S)
        return found

    def _lab_of(self, K: Float32, S: Float32) -> Float32:
        relative = self._seen(K / S)[0] @ self.weights
        return _compress(relative, _root(relative))

    @staticmethod
    def _seen(ratio: Float32) -> tuple[Float32, Float32]:
        """Reflectance seen outside and its slope against K/S."""
        root = np.sqrt(ratio * (ratio + 2))
        inner = 1 / (1 + ratio + root)
        body = np.float32((1 - SURFACE_OUTSIDE) * (1 - SURFACE_INSIDE))
        open_share = 1 - np.float32(SURFACE_INSIDE) * inner
        seen = body * inner / open_share
        return seen, -body * inner / np.maximum(root, np.float32(1e-6)) / open_share**2

    def lab_and_slope(self, sets: Index, parts: Float32) -> tuple[Float32, Float32]:
        """CIELAB (n, 3) and its slope (n, 3, m) against the logarithms of the parts."""
        K, S = self.K[sets], self.S[sets]
        weighted_S = parts[..., None] * S
        total_S = weighted_S[:, 0].copy()
        for number in range(1, weighted_S.shape[1]):  # a few long sums are quicker than many short ones
            total_S += weighted_S[:, number]
        ratio = np.einsum("nm,nmw->nw", parts, K) / total_S
        seen, against_ratio = self._seen(ratio)
        per_part = (parts[..., None] * K - ratio[:, None, :] * weighted_S) * (against_ratio / total_S)[:, None, :]
        relative = seen @ self.weights
        slope = (per_part.reshape(-1, per_part.shape[-1]) @ self.weights).reshape(*parts.shape, 3)  # one product, not n
        root = _root(relative)
        slope *= _compress_slope(relative, root)[:, None, :]
        opponent = np.array([[0, 500, 0], [116, -500, 200], [0, 0, -200]], np.float32)
        return _compress(relative, root), np.swapaxes(slope @ opponent, 1, 2)


def _compress(relative: Float32, root: Float32) -> Float32:
    """CIELAB (n, 3) of X/Xn, Y/Yn and Z/Zn (n, 3), whose ``root`` is known."""
    response = np.where(relative > EPSILON, root, relative * KAPPA + LINE_OFFSET).astype(np.float32)
    x, y, z = response[..., 0], response[..., 1], response[..., 2]
    return np.stack([116 * y - 16, 500 * (x - y), 200 * (y - z)], axis=-1).astype(np.float32)


def _compress_slope(relative: Float32, root: Float32) -> Float32:
    return np.where(relative > EPSILON, 1 / (3 * root**2), KAPPA).astype(np.float32)


def _root(relative: Float32) -> Float32:
    """Cube roots, of nothing below where the compression is a line."""
    return np.asarray(np.cbrt(np.maximum(relative, np.float32(EPSILON))))


def ellipsoid(target: ArrayLike) -> Float64:
    """The matrix M (..., 3, 3) for which |M·(lab − target)| is CIEDE2000 near each target (..., 3)."""
    centre = np.asarray(target, dtype=np.float64)
    axes = ELLIPSOID_STEP * np.eye(3)
    square = np.empty((*centre.shape[:-1], 3, 3))
    pairs = list(combinations_with_replacement(range(3), 2))
    reach = np.array([[axes[i] + axes[j], axes[i] - axes[j]] for i, j in pairs]) / 2
    reach = reach.reshape(len(pairs), 2, *[1] * (centre.ndim - 1), 3)
    away = delta_e_2000(centre - reach, centre + reach) ** 2  # all at once: of few targets the calls are the cost
    for (i, j), (both, apart) in zip(pairs, away, strict=True):
        square[..., i, j] = square[..., j, i] = (both - apart) / (4 * ELLIPSOID_STEP**2)
    values, vectors = np.linalg.eigh(square)
    return np.asarray(np.sqrt(np.maximum(values, 1e-3))[..., :, None] * np.swapaxes(vectors, -1, -2))


def small_sets(count: int, size: int) -> Index:
    """Every ``size`` of ``count`` paints, with white (numbered ``count``) as last member: (sets, size + 1)."""
    chosen = np.array(list(combinations(range(count), size)), dtype=np.intp).reshape(-1, size)
    return np.concatenate([chosen, np.full((len(chosen), 1), count, np.intp)], axis=1)


def lattice(members: int) -> Float32:
    """Strengths (points, members) on which every set is sampled, each ratio once, largest first of equals."""
    seen: dict[tuple[float, ...], None] = {}
    for levels in product(LEVELS, repeat=members):
        if max(levels) > 0:
            seen.setdefault(tuple(level / max(levels) for level in levels))
    return np.array(list(seen), np.float32)


@dataclass(frozen=True, slots=True, eq=False)
class Reach:
    """What every small set of a box can mix: a lattice of mixtures with their colours."""

    mixer: Mixer
    sets: Index  # (sets, members), white last
    strengths: Float32  # (points, members), of every set alike
    lab: Float32  # (sets, points, 3)

    def parts_at(self, chosen: Index, points: Index) -> Float32:
        """Parts (..., members) of lattice points: worked out again, since all of them would fill the memory."""
        parts = self.strengths[points] / self.mixer.strength[self.sets[chosen]]
        return np.asarray(parts / parts.max(axis=-1, keepdims=True))


def reach_of(mixer: Mixer, sets: Index) -> Reach:
    """Sample the mixtures of each set."""
    strengths = lattice(sets.shape[1])
    lab = np.empty((len(sets), len(strengths), 3), np.float32)
    for start in range(0, len(sets), SETS_AT_A_TIME):
        span = slice(start, start + SETS_AT_A_TIME)
        parts = strengths[None] / mixer.strength[sets[span]][:, None, :]
        each = np.repeat(sets[span], len(strengths), axis=0)
        lab[span] = mixer.lab(each, parts.reshape(-1, sets.shape[1])).reshape(lab[span].shape)
    return Reach(mixer, sets, strengths, lab)


@dataclass(frozen=True, slots=True, eq=False)
class Nearest:
    """The best mixture of each set for each target: parts (sets, targets, members), its lab (…, 3), its ΔE00 (…)."""

    parts: Float32
    lab: Float32
    error: Float64


def nearest(reach: Reach, targets: ArrayLike) -> Nearest:
    """The mixture of every set nearest to every target (targets, 3) by CIEDE2000."""
    aims = np.asarray(targets, dtype=np.float64).reshape(-1, 3)
    sets, members, count = len(reach.sets), reach.sets.shape[1], len(aims)
    each_set = np.repeat(reach.sets, count, axis=0)
    each_aim = np.tile(aims.astype(np.float32), (sets, 1))
    parts, lab = _start(reach, aims)
    parts, lab = parts.reshape(-1, members), lab.reshape(-1, 3)
    error = delta_e_2000(lab, each_aim)
    for _ in range(PASSES):
        todo = np.flatnonzero(error > SETTLED)
        middle = (lab[todo] + each_aim[todo]) / 2  # CIEDE2000 takes its scales from between the two colours
        moved = refine(reach.mixer, each_set[todo], parts[todo], each_aim[todo], ellipsoid(middle).astype(np.float32))
        moved_lab = reach.mixer.lab(each_set[todo], moved)
        moved_error = delta_e_2000(moved_lab, each_aim[todo])
        better = moved_error < error[todo]
        kept = todo[better]
        parts[kept], lab[kept], error[kept] = moved[better], moved_lab[better], moved_error[better]
    shape = (sets, count)
    return Nearest(parts.reshape(*shape, members), lab.reshape(*shape, 3), error.reshape(shape))


def _start(reach: Reach, aims: Float64) -> tuple[Float32, Float32]:
    """Parts (sets, targets, members) and lab of the lattice point from which to refine.

    Near a target CIEDE2000's ellipsoid ranks best, far from it plain CIELAB distance does: both are tried.
    """
    sets = np.arange(len(reach.sets))
    parts = np.empty((len(sets), len(aims), reach.sets.shape[1]), np.float32)
    lab = np.empty((len(sets), len(aims), 3), np.float32)
    for index, (aim, metric) in enumerate(zip(aims, ellipsoid(aims), strict=True)):
        offset = reach.lab - aim.astype(np.float32)
        stretched = offset @ metric.T.astype(np.float32)
        near, far = (np.einsum("sqi,sqi->sq", vector, vector).argmin(axis=1) for vector in (stretched, offset))
        best, apart = near, np.flatnonzero(near != far)
        of_near, of_far = (delta_e_2000(reach.lab[apart, one[apart]], aim) for one in (near, far))
        best[apart[of_far < of_near]] = far[apart[of_far < of_near]]
        parts[:, index], lab[:, index] = reach.parts_at(sets, best), reach.lab[sets, best]
    return parts, lab


def refine(mixer: Mixer, sets: Index, parts: Float32, targets: Float32, metric: Float32) -> Float32:
    """Bring mixtures (n, m) nearer to their targets (n, 3) by damped steps; ``metric`` is (n, 3, 3)."""
    found = np.empty_like(parts)
    for start in range(0, len(parts), BLOCK):
        span = slice(start, start + BLOCK)
        found[span] = _refine_block(mixer, sets[span], parts[span], targets[span], metric[span])
    return found


def _refine_block(mixer: Mixer, sets: Index, parts: Float32, targets: Float32, metric: Float32) -> Float32:
    """All mixtures of a block together; those that settle or stall drop out early."""
    logs = np.log(np.maximum(parts, np.float32(5e-3) * parts.max(axis=1, keepdims=True)))
    best_logs = logs.copy()
    best = np.full(len(parts), np.inf, np.float32)
    damping = np.full(len(parts), 0.3, np.float32)
    active = np.arange(len(parts))
    for _ in range(STEPS):
        lab, slope = mixer.lab_and_slope(sets[active], np.exp(logs[active]))
        residual = np.einsum("nij,nj->ni", metric[active], lab - targets[active])
        distance = np.sqrt((residual**2).sum(axis=1))
        better = distance < best[active]
        improved = active[better]
        gain = best[improved] - distance[better]
        best[improved], best_logs[improved] = distance[better], logs[improved]
        damping[active] = np.clip(np.where(better, damping[active] * 0.25, damping[active] * 8), 1e-4, 1e4)
        stalled = np.zeros(len(active), bool)
        stalled[better] = gain < 1e-3
        keep = (best[active] > SETTLED) & ~stalled
        if not keep.any():
            break
        retreat = keep & ~better  # a step that made things worse is tried again, shorter, from the best place
        if retreat.any():
            again = active[retreat]
            logs[again] = best_logs[again]
            lab_back, slope_back = mixer.lab_and_slope(sets[again], np.exp(logs[again]))
            slope[retreat] = slope_back
            residual[retreat] = np.einsum("nij,nj->ni", metric[again], lab_back - targets[again])
        active, residual, slope = active[keep], residual[keep], slope[keep]
        logs[active] = _stepped(logs[active], metric[active] @ slope, residual, damping[active])
    return np.asarray(np.exp(best_logs))


def _stepped(logs: Float32, slope: Float32, residual: Float32, damping: Float32) -> Float32:
    """One damped least-norm step, kept within bounds and scaled so that the largest part is 1."""
    scale = np.maximum((slope**2).sum(axis=(1, 2)) / 3, np.float32(1e-6))
    square = slope @ np.swapaxes(slope, 1, 2) + (damping * scale)[:, None, None] * np.eye(3, dtype=np.float32)
    change = -(np.swapaxes(slope, 1, 2) @ np.linalg.solve(square, residual[..., None]))[..., 0]
    moved = logs + np.clip(change, -LARGEST_STEP, LARGEST_STEP)
    moved -= moved.max(axis=1, keepdims=True)
    return np.asarray(np.maximum(moved, np.float32(LEAST_LOG_PART)))
