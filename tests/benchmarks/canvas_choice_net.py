"""The fit of canvas_choice.py: two small nets whose sum over sides and pairs makes a right choice likely."""

from collections.abc import Sequence
from itertools import combinations
from typing import Any

import numpy as np
from photographs import NEAR
from scipy.optimize import minimize

from critique.photograph.canvas_told import COMMON, FIGURES
from critique.photograph.canvas_worth import FARTHEST, LEAST, SIDE, VIEW, Net
from critique.photograph.canvas_worth import Worth as Fitted

UNITS = {"side": 8, "pair": 4}
NETS = 2  # fitted from other beginnings and taken together
RESTRAINT = 1e-3  # of the fit, on standardised figures; of the units' own weights half as much
STEPS = 45
SHAPES = {
    "side_direct": (len(SIDE),),
    "side_units": (len(SIDE), UNITS["side"]),
    "side_bias": (UNITS["side"],),
    "side_out": (UNITS["side"],),
    "pair_direct": (len(COMMON),),
    "pair_units": (len(COMMON), UNITS["pair"]),
    "pair_bias": (UNITS["pair"],),
    "pair_out": (UNITS["pair"],),
    "least": (len(LEAST),),
    "view": (len(VIEW),),
}
LOOSER = {"units": 0.5, "bias": 0.1}
# Weights without nets, fitted before on seeds 0–299, 100000–100199, 200000–200199, 300000–300399 and 4000000–4000487. A
# fifth of the worth is theirs: left out, as many are right, and a pale canvas on a pale wall, of which the nets have
# seen little, keeps its sides.
PART_BEFORE = 0.2
BEFORE = {
    "side": {
        "edge": 6.372,
        "weakest": 0.669,
        "one_step": 0.836,
        "uneven": 0.539,
        "lively": 1.225,
        "onward": -1.19,
        "fold": 0.496,
        "within": -4.148,
        "beyond": 5.503,
        "alike": 0.111,
        "away": -70.041,
        "inside": 86.762,
        "found": 1.266,
        "tilt": -42.134,
        "step": -0.444,
        "lightness": -2.149,
        "border": -0.5,
        "uneven_afar": -0.807,
        "seen": -11.728,
        "gap": 0.039,
        "flat": -1.416,
    },
    "pair": {
        "light": -1.081,
        "colour": -0.426,
        "profile": 1.246,
        "deep_colour": -3.125,
        "apart": 0.123,
        "apart_colour": 0.093,
        "roughness": -0.342,
    },
    "least": {"edge": 8.408, "weakest": 2.043, "one_step": 2.443},
}
Parts = dict[str, np.ndarray]


class Table:
    """The choices of many photographs, one after another, for sums over all of them."""

    def __init__(self, found: Sequence[Any]) -> None:
        side, pair, lines, pairs, edges, twos = [], [], [], [], 0, 0
        for one in found:
            number = len(one.side)
            both = np.stack([one.lines[:, a] * number + one.lines[:, b] for a, b in combinations(range(4), 2)], axis=1)
            own, where = np.unique(both, return_inverse=True)
            side.append(one.side)
            pair.append(one.pair.reshape(number**2, -1)[own])
            lines.append(one.lines + edges)
            pairs.append(where.reshape(both.shape) + twos)
            edges, twos = edges + number, twos + len(own)
        self.side, self.pair = np.concatenate(side), np.concatenate(pair)
        self.lines, self.pairs = np.concatenate(lines), np.concatenate(pairs)
        self.view = np.concatenate([one.view for one in found])
        self.least = self.side[self.lines][..., [FIGURES.index(name) for name in LEAST]].min(axis=1)
        self.right = np.concatenate([one.error <= NEAR for one in found])
        self.number = np.array([len(one.lines) for one in found])
        self.start = np.concatenate([[0], np.cumsum(self.number)[:-1]])
        self.some_right = np.logical_or.reduceat(self.right, self.start)


def fit(table: Table) -> Fitted:
    """Some nets from other beginnings, put together."""
    scale = {
        of: (told.mean(axis=0), told.std(axis=0) + 1e-3) for of, told in (("side", table.side), ("pair", table.pair))
    }
    cues = {of: _standard(getattr(table, of), *scale[of]).astype(np.float32) for of in scale}
    cues |= {of: getattr(table, of) / getattr(table, of).std(axis=0) for of in ("least", "view")}
    every = [_parts(_fitted(table, cues, seed)) for seed in range(NETS)]

    def net(of: str, names: Sequence[str]) -> Net:
        before = scale[of][1] * [BEFORE[of].get(name, 0.0) for name in names]
        return Net(
            *scale[of],
            direct=_with(np.mean([parts[f"{of}_direct"] for parts in every], axis=0), before),
            units=np.concatenate([parts[f"{of}_units"] for parts in every], axis=1),
            bias=np.concatenate([parts[f"{of}_bias"] for parts in every]),
            out=_with(np.concatenate([parts[f"{of}_out"] for parts in every]) / NETS, 0.0),
        )

    least, view = (
        np.mean([parts[of] for parts in every], axis=0) / getattr(table, of).std(axis=0) for of in ("least", "view")
    )
    least = _with(least, np.array([BEFORE["least"][name] for name in LEAST]))
    return Fitted(net("side", SIDE), net("pair", COMMON), least, _with(view, 0.0))


def _with(now: np.ndarray, before: np.ndarray | float) -> np.ndarray:
    return (1 - PART_BEFORE) * now + PART_BEFORE * np.asarray(before)


def picked(table: Table, fitted: Fitted) -> np.ndarray:
    """Of each photograph whether the worthiest choice is right."""
    worth = fitted.side(table.side)[table.lines].sum(axis=1) + fitted.pair(table.pair)[table.pairs].sum(axis=1)
    worth += table.least @ fitted.least + table.view @ fitted.view
    parts = zip(np.split(worth, table.start[1:]), np.split(table.right, table.start[1:]), strict=True)
    return np.array([right[own.argmax()] for own, right in parts])


def _standard(told: np.ndarray, middle: np.ndarray, spread: np.ndarray) -> np.ndarray:
    return np.clip((told - middle) / spread, -FARTHEST, FARTHEST)


def _parts(flat: np.ndarray) -> Parts:
    ends = np.cumsum([int(np.prod(shape)) for shape in SHAPES.values()])
    return {name: part.reshape(SHAPES[name]) for name, part in zip(SHAPES, np.split(flat, ends[:-1]), strict=True)}


def _fitted(table: Table, cues: Parts, seed: int) -> np.ndarray:
    random = np.random.default_rng(seed)
    start = np.zeros(sum(int(np.prod(shape)) for shape in SHAPES.values()))
    parts = _parts(start)
    for name, part in parts.items():
        if name.endswith("units"):
            part[:] = random.normal(0, 0.3 / np.sqrt(len(part)), part.shape)
        elif name.endswith("out"):
            part[:] = random.normal(0, 0.1, part.shape)
    looser = [np.full(part.size, LOOSER.get(name.split("_")[-1], 1.0)) for name, part in parts.items()]
    restraint = RESTRAINT * np.concatenate(looser)

    def against(flat: np.ndarray) -> tuple[float, np.ndarray]:
        loss, slope = _loss(table, cues, {name: part.astype(np.float32) for name, part in _parts(flat).items()})
        return loss + float(restraint @ flat**2), slope + 2 * restraint * flat

    done = minimize(against, start, jac=True, method="L-BFGS-B", options={"maxiter": STEPS})
    return np.asarray(done.x)


def _loss(table: Table, cues: Parts, parts: Parts) -> tuple[float, np.ndarray]:
    """How unlikely right choices are, as a mean of logs, and its slope along all parts."""
    worth = sum(cues[of] @ parts[of].astype(np.float64) for of in ("least", "view"))
    units = {}
    for of, places in (("side", table.lines), ("pair", table.pairs)):
        units[of] = np.tanh(cues[of] @ parts[f"{of}_units"] + parts[f"{of}_bias"])
        worth += (cues[of] @ parts[f"{of}_direct"] + units[of] @ parts[f"{of}_out"])[places].sum(axis=1)
    likely = np.exp(worth - np.repeat(np.maximum.reduceat(worth, table.start), table.number))
    of_right = likely * table.right
    total, total_right = (np.add.reduceat(one, table.start) for one in (likely, of_right))
    counts = table.some_right / table.some_right.sum()
    loss = float(counts @ (np.log(total) - np.log(total_right + 1e-30)))
    each = likely / np.repeat(total, table.number) - of_right / np.repeat(total_right + 1e-30, table.number)
    each *= np.repeat(counts, table.number)
    slopes: Parts = {of: cues[of].T @ each for of in ("least", "view")}
    for of, places in (("side", table.lines), ("pair", table.pairs)):
        own = np.bincount(places.ravel(), np.repeat(each, places.shape[1]), len(cues[of])).astype(np.float32)
        inner = own[:, None] * parts[f"{of}_out"] * (1 - units[of] ** 2)
        slopes |= {
            f"{of}_direct": cues[of].T @ own,
            f"{of}_units": cues[of].T @ inner,
            f"{of}_bias": inner.sum(axis=0),
            f"{of}_out": units[of].T @ own,
        }
    return loss, np.concatenate([slopes[name].astype(np.float64).ravel() for name in SHAPES])
