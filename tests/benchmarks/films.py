"""Measured films held against what the carried K and S make of them; used by paint_accuracy.py and by tests."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from critique.paints.coats import layer, over
from critique.paints.kubelka_munk import through_surface
from critique.perception.difference import delta_e_2000
from critique.perception.reference import read_table
from critique.perception.spectra import WAVELENGTHS, reflectance_to_lab

GROUNDS = {"over_white": 0.94, "over_black": 0.01}  # inner reflectance of the cards, as make_paints.py has them


@dataclass(frozen=True, slots=True)
class Miss:
    """One measured film and how far the calculation lies from it, ΔE00."""

    first: str
    second: str
    parts: tuple[float, float]
    ground: str
    error: float

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
        weights = np.array([parts[0] * share[first], parts[1] * share[second]])
        weights /= weights.sum()
        mixed = [weights[0] * table[first] + weights[1] * table[second] for table in (K, S)]
        R, T = layer(mixed[0], mixed[1], float(row["um"]))
        lab = reflectance_to_lab(through_surface(over(R, T, GROUNDS[row["ground"]]), surface=True))
        measured = np.array([float(row[axis]) for axis in "Lab"])
        found.append(Miss(first, second, parts, row["ground"], float(delta_e_2000(lab, measured))))
    return found


def _paints() -> tuple[dict[str, NDArray[np.float64]], dict[str, NDArray[np.float64]], dict[str, float]]:
    tables: dict[str, dict[str, NDArray[np.float64]]] = {"K": {}, "S": {}}
    share = {}
    for row in read_table("paint_films.csv"):
        tables[row["coefficient"]][row["code"]] = np.array([float(row[str(w)]) for w in WAVELENGTHS])
        share[row["code"]] = float(row["share"])
    return tables["K"], tables["S"], share
