"""Which paints the program knows: the measured acrylics, and typical ones rebuilt from remembered dabs."""

from dataclasses import dataclass
from functools import cache

import numpy as np

from critique.errors import ReferenceDataError
from critique.paints.cautions import substances
from critique.paints.dabs import USUAL_WHITE_PARTS, Dab, paint_from_dabs
from critique.paints.paint import MEASURED, TYPICAL, Paint
from critique.perception.reference import read_table
from critique.perception.spectra import WAVELENGTHS

WHITE_NAME = "titanium white"


@dataclass(frozen=True, slots=True)
class Facts:
    """What a row of paint_facts.csv says of a paint: enough to find it by name without computing it."""

    name: str
    colour_index: str
    pigment: str
    opacity: str
    hazard: str
    also: tuple[str, ...]

    @property
    def hazards(self) -> tuple[str, ...]:
        """The substances that its label warns of."""
        return substances(self.hazard)


@cache
def known_paints() -> tuple[Facts, ...]:
    """Facts of every paint that ships with the program, white and black first, then round the hue circle."""
    return tuple(
        Facts(
            row["paint"],
            row["colour_index"],
            row["pigment"],
            row["opacity"],
            row["hazard"],
            tuple(word for word in row["also"].split(";") if word),
        )
        for row in read_table("paint_facts.csv")
    )


@cache
def _measured_rows() -> dict[str, dict[str, np.ndarray]]:
    found: dict[str, dict[str, np.ndarray]] = {}
    for row in read_table("paints_measured.csv"):
        spectrum = np.array([float(row[str(wavelength)]) for wavelength in WAVELENGTHS])
        found.setdefault(row["paint"], {})[row["coefficient"]] = spectrum
    return found


@cache
def _typical_rows() -> dict[str, dict[str, str]]:
    return {row["paint"]: row for row in read_table("paints_typical.csv")}


@cache
def paint_of(name: str) -> Paint:
    """The paint of an exact catalogue name; the same object every time. A typical one takes some 20 ms to rebuild."""
    facts = next((facts for facts in known_paints() if facts.name == name), None)
    if facts is None:
        raise ReferenceDataError(f"paint_facts.csv has no row for {name}: install the program again")
    if name in _measured_rows():
        spectra = _measured_rows()[name]
        return Paint(
            name, facts.pigment, facts.colour_index, facts.opacity, facts.hazard, MEASURED, spectra["K"], spectra["S"]
        )
    return _typical(facts)


def _typical(facts: Facts) -> Paint:
    row = _typical_rows()[facts.name]
    masstone, tint = (
        (float(row[f"{which}_L"]), float(row[f"{which}_a"]), float(row[f"{which}_b"])) for which in ("masstone", "tint")
    )
    return paint_from_dabs(
        facts.name,
        [Dab(masstone), Dab(tint, USUAL_WHITE_PARTS)],
        paint_of(WHITE_NAME),
        measured_colours(),
        pigment=facts.pigment,
        colour_index=facts.colour_index,
        opacity=facts.opacity,
        hazard=facts.hazard,
        origin=TYPICAL,
    )


@cache
def measured_colours() -> tuple[Paint, ...]:
    """The eighteen measured paints other than white."""
    return tuple(paint_of(facts.name) for facts in known_paints() if is_measured(facts) and facts.name != WHITE_NAME)


def is_measured(facts: Facts) -> bool:
    """Whether its K and S were measured, rather than rebuilt from remembered colours."""
    return facts.name in _measured_rows()


def titanium_white() -> Paint:
    """The white of the measured paints and of every box that names no other."""
    return paint_of(WHITE_NAME)
