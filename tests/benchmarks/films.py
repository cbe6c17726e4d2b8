"""Measured films held against what the carried K and S make of them; used by paint_accuracy.py and by tests."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from critique.paints.coats import layer, over
from critique.paints.expected import MISSED_BY_TINTS
from critique.paints.kubelka_munk import through_surface
from critique.perception.difference import delta_e_2000
from critique.perception.reference import read_table
from critique.perception.spectra import WAVELENGTHS, reflectance_to_lab

GROUNDS = {"over_white": 0.94, "over_black": 0.01}  # inner reflectance of the cards, as make_paints.py has them
NUDGE = 1.2  # times one paint and through it the other, to see how fast a mixture turns


@dataclass(frozen=True, slots=True)
class Miss:
    """One measured film and how far the calculation lies from it, ΔE00."""

    first: str
    second: str
    parts: tuple[float, float]
    ground: str
    error: float
    moved: float  # ΔE00 for each unit (logarithm) by which either strength is mistaken; 0 for a tint or a paint alone

    @property
    def is_mixture(self) -> bool:
        """Of two coloured paints, which took no part in the fit."""
        return self.second != "W03"


def film_misses() -> list[Miss]:
    """Every measured film against its calculation, as thick as it was and over its own ground."""
    K, S, share = _paints()
    found = []
    for row in read_table("film_mixtures.csv"):
        first, second = row["first"], row["second"]
        parts = float(row["first_parts"]), float(row["second_parts"])
        film = float(row["um"]), GROUNDS[row["ground"]]
        weights = np.array([parts[0] * share[first], parts[1] * share[second]])
        tables = [np.stack([table[first], table[second]]) for table in (K, S)]
        lab = _film_lab(weights, tables, *film)
        measured = np.array([float(row[axis]) for axis in "Lab"])
        moved = 0.0
        if second != "W03":
            turned = [_film_lab(weights * (ratio, 1 / ratio), tables, *film) for ratio in (NUDGE, 1 / NUDGE)]
            mean = np.mean([float(delta_e_2000(lab, one)) for one in turned])
            moved = float(np.sqrt(2) * mean / (2 * np.log(NUDGE)))  # two paints, each by itself
        found.append(Miss(first, second, parts, row["ground"], float(delta_e_2000(lab, measured)), moved))
    return found


def _film_lab(
    weights: NDArray[np.float64], tables: list[NDArray[np.float64]], micrometres: float, ground: float
) -> NDArray[np.float64]:
    K, S = (weights / weights.sum() @ table for table in tables)
    R, T = layer(K, S, micrometres)
    return reflectance_to_lab(through_surface(over(R, T, ground), surface=True))


def foretold(misses: list[Miss], unsure: float) -> NDArray[np.float64]:
    """ΔE00 that each is likely to miss by, when strengths are mistaken by ``unsure``."""
    return np.hypot(MISSED_BY_TINTS, unsure * np.array([miss.moved for miss in misses]))


def unsureness(misses: list[Miss]) -> float:
    """The mistake of strengths that explains misses best, by the logarithm of how far off what is foretold lies."""
    errors = np.array([miss.error for miss in misses])
    tried = np.arange(0.0, 0.81, 0.01)
    return float(min(tried, key=lambda unsure: np.abs(np.log(errors / foretold(misses, unsure))).mean()))


def foretold_left_out(misses: list[Miss]) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """What is foretold of each film when its pair is left out of the fit, and the median of the others in its place."""
    told, plain = np.zeros(len(misses)), np.zeros(len(misses))
    for pair in {(miss.first, miss.second) for miss in misses}:
        out = np.array([(miss.first, miss.second) == pair for miss in misses])
        others = [miss for miss in misses if (miss.first, miss.second) != pair]
        told[out] = foretold(misses, unsureness(others))[out]
        plain[out] = np.median([miss.error for miss in others])
    return told, plain


def _paints() -> tuple[dict[str, NDArray[np.float64]], dict[str, NDArray[np.float64]], dict[str, float]]:
    tables: dict[str, dict[str, NDArray[np.float64]]] = {"K": {}, "S": {}}
    share = {}
    for row in read_table("paint_films.csv"):
        tables[row["coefficient"]][row["code"]] = np.array([float(row[str(w)]) for w in WAVELENGTHS])
        share[row["code"]] = float(row["share"])
    return tables["K"], tables["S"], share
