"""What each colour of one picture became in another: the cheapest way to repaint the one into the other."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from critique.measures.families import Family
from critique.perception.difference import delta_e_2000

Float64 = NDArray[np.float64]

LEAST_SHARE = 1e-6  # of the picture: what a solver leaves of a flow that should be none


@dataclass(frozen=True, slots=True)
class Flow:
    """A share of the picture whose colour goes from one family to another, by index; ``difference`` is ΔE00."""

    first: int
    second: int
    share: float
    difference: float


@dataclass(frozen=True, slots=True)
class Transport:
    """The cheapest matching of two sets of families: its flows, largest first, and its mean ΔE00 over the picture."""

    cost: float
    flows: tuple[Flow, ...]

    def became(self, first: int) -> tuple[Flow, ...]:
        """Where a family of the first picture went, largest part first."""
        return tuple(flow for flow in self.flows if flow.first == first)


def match_families(first: tuple[Family, ...], second: tuple[Family, ...]) -> Transport:
    """Match the families of two pictures by optimal transport on ΔE00, weighted by their shares."""
    differences = delta_e_2000(
        np.array([family.lab for family in first])[:, None], np.array([family.lab for family in second])[None]
    )
    plan = transport_plan(differences, [family.share for family in first], [family.share for family in second])
    moved = [
        Flow(int(row), int(column), float(plan[row, column]), float(differences[row, column]))
        for row, column in np.argwhere(plan > LEAST_SHARE)
    ]
    flows = tuple(sorted(moved, key=lambda flow: (-flow.share, flow.first, flow.second)))
    return Transport(float((plan * differences).sum()), flows)


def transport_plan(costs: ArrayLike, supplies: ArrayLike, demands: ArrayLike) -> Float64:
    """How much goes from each source (n,) to each sink (m,) so that Σ plan · costs is least: (n, m), summing to 1.

    Supplies and demands are scaled to sum to 1. It is a linear programme. [Kantorovich, 1942; Hitchcock, 1941]
    """
    from scipy.optimize import linprog

    cost = np.asarray(costs, dtype=np.float64)
    supply, demand = (np.asarray(part, dtype=np.float64) / np.sum(part) for part in (supplies, demands))
    sources, sinks = cost.shape
    # One equation for each source and each sink; the last follows from the others.
    rows = np.kron(np.eye(sources), np.ones(sinks))
    columns = np.kron(np.ones(sources), np.eye(sinks))
    equations = np.concatenate([rows, columns])[:-1]
    amounts = np.concatenate([supply, demand])[:-1]
    solved = linprog(cost.ravel(), A_eq=equations, b_eq=amounts, bounds=(0, None), method="highs")
    return np.asarray(np.maximum(solved.x, 0).reshape(sources, sinks))
