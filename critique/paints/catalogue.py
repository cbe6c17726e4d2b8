"""Which paints the program knows: measured acrylics, typical ones, and tubes that are mixtures of these."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache, lru_cache

import numpy as np

from critique.errors import ReferenceDataError
from critique.paints.cautions import substances
from critique.paints.dabs import USUAL_WHITE_PARTS, Dab, paint_from_dabs
from critique.paints.paint import MEASURED, TUBE, TYPICAL, Paint, Spectrum
from critique.perception.reference import read_table
from critique.perception.spectra import WAVELENGTHS

MOST_PAINTS = 128  # whose K and S are kept: the tables hold 73
WHITE_NAME = "titanium white"
LADDERS, FILMS = "paints_measured.csv", "paints_from_films.csv"  # K and S: one set of eighteen, and single films


@dataclass(frozen=True, slots=True)
class Facts:
    """What a row of paint_facts.csv says of a paint: enough to find it by name without computing it."""

    name: str
    colour_index: str  # of a tube of several pigments such as "PG7+PY150"
    pigment: str
    opacity: str
    hazard: str
    also: tuple[str, ...]
    lightfastness: str  # I, II or III
    pale_lightfastness: str
    strength: float  # on the measured K and S
    density: float  # kg/l, wet

    @property
    def hazards(self) -> tuple[str, ...]:
        """The substances that its label warns of."""
        return substances(self.hazard)

    @property
    def label_unread(self) -> bool:
        """Of every paint that ships with the program something is known of its label."""
        return False

    @property
    def origin(self) -> str:
        """How the program knows it."""
        if is_measured(self):
            return MEASURED
        return TUBE if len(tube_of(self.name)) > 1 else TYPICAL


@cache
def known_paints() -> tuple[Facts, ...]:
    """Facts of every paint that ships with the program, whites and blacks first, then round the hue circle."""
    return tuple(
        Facts(
            row["paint"],
            row["colour_index"],
            row["pigment"],
            row["opacity"],
            row["hazard"],
            tuple(word for word in row["also"].split(";") if word),
            row["lightfastness"],
            row["pale"],
            float(row["strength"] or 1),
            float(row["density"]),
        )
        for row in read_table("paint_facts.csv")
    )


@cache
def _measured_rows() -> dict[str, dict[str, Spectrum]]:
    found: dict[str, dict[str, Spectrum]] = {}
    for name in (LADDERS, FILMS):
        for row in read_table(name):
            spectrum = np.array([float(row[str(wavelength)]) for wavelength in WAVELENGTHS])
            found.setdefault(row["paint"], {})[row["coefficient"]] = spectrum
    return found


@cache
def _typical_rows() -> dict[str, dict[str, str]]:
    return {row["paint"]: row for row in read_table("paints_typical.csv")}


@cache
def _tubes() -> dict[str, tuple[tuple[str, float], ...]]:
    found: dict[str, tuple[tuple[str, float], ...]] = {}
    for row in read_table("paint_tubes.csv"):
        found[row["paint"]] = (*found.get(row["paint"], ()), (row["component"], float(row["parts"])))
    return found


def tube_of(name: str) -> tuple[tuple[str, float], ...]:
    """The paints and parts that mix to a tube of several pigments; empty for a paint of one pigment."""
    return _tubes().get(name, ())


@lru_cache(maxsize=MOST_PAINTS)
def paint_of(name: str) -> Paint:
    """The paint of an exact catalogue name; the same object every time. A typical one takes some 20 ms to rebuild."""
    facts = next((facts for facts in known_paints() if facts.name == name), None)
    if facts is None:
        raise ReferenceDataError(f"paint_facts.csv has no row for {name}: install the program again")
    if name in _measured_rows():
        spectra = _measured_rows()[name]
        return _paint(facts, spectra["K"], spectra["S"])
    if tube_of(name):
        paints = [paint_of(component) for component, _ in tube_of(name)]
        share = np.array([parts for _, parts in tube_of(name)]) / sum(parts for _, parts in tube_of(name))
        return _paint(facts, _blend(share, [one.K for one in paints]), _blend(share, [one.S for one in paints]))
    typical = _typical(facts)
    return _paint(facts, typical.K, typical.S)


def _blend(share: Spectrum, spectra: Sequence[Spectrum]) -> Spectrum:
    return np.asarray(share @ np.stack(spectra))


def _paint(facts: Facts, K: Spectrum, S: Spectrum) -> Paint:
    return Paint(
        facts.name,
        facts.pigment,
        facts.colour_index,
        facts.opacity,
        facts.hazard,
        facts.origin,
        facts.strength * K,
        facts.strength * S,
        lightfastness=facts.lightfastness,
        pale_lightfastness=facts.pale_lightfastness,
        density=facts.density,
        made_of=tuple(component for component, _ in tube_of(facts.name)) if facts.origin == TUBE else (),
    )


def _typical(facts: Facts) -> Paint:
    """K and S from the colour of the paint alone and of one part in ten of white."""
    row = _typical_rows()[facts.name]
    masstone, tint = (
        (float(row[f"{which}_L"]), float(row[f"{which}_a"]), float(row[f"{which}_b"])) for which in ("masstone", "tint")
    )
    dabs = [Dab(masstone), Dab(tint, USUAL_WHITE_PARTS)]
    return paint_from_dabs(facts.name, dabs, paint_of(WHITE_NAME), measured_colours(), origin=TYPICAL)


@cache
def measured_colours() -> tuple[Paint, ...]:
    """The eighteen colours that were measured as one set, masses weighed: what other paints are learnt from."""
    names = {row["paint"] for row in read_table(LADDERS)} - {WHITE_NAME}
    return tuple(paint_of(facts.name) for facts in known_paints() if facts.name in names)


def is_measured(facts: Facts) -> bool:
    """Whether its K and S were measured, rather than rebuilt from colours or mixed from other paints."""
    return facts.name in _measured_rows()


def titanium_white() -> Paint:
    """The white of the measured paints and of every box that names no other."""
    return paint_of(WHITE_NAME)
