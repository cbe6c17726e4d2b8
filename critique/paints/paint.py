"""What a paint is: its names, its cautions, and how it absorbs and scatters light."""

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from critique.paints.cautions import cautions_for, label_is_told, substances

MEASURED = "measured"
TYPICAL = "typical, not measured"  # its colour alone and its strength are known, its mixtures are not
TUBE = "tube of several pigments"  # as the program mixes it from others; every maker's differs
OWN_DABS = "own dabs"

OPACITIES = ("opaque", "semi-opaque", "semi-transparent", "transparent")

USUAL_DENSITY = 1.2  # kg/l of a heavy-bodied acrylic of no known pigment; binder is 1.06, water 1.0

Spectrum = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class Paint:
    """A paint as the program mixes it.

    ``K`` and ``S`` are absorption and scattering, (38,) by ``WAVELENGTHS``, on one relative scale where
    titanium white has S = 1, so that the coefficients of a mixture are sums by parts.
    """

    name: str
    pigment: str
    colour_index: str
    opacity: str  # the label's word, one of OPACITIES; empty when it was not given
    hazard: str  # substances on the label, such as "cadmium;cobalt"; "none" when it was read, empty when none is listed
    origin: str  # MEASURED, TYPICAL, TUBE or OWN_DABS
    K: Spectrum = field(metadata={"record": False})
    S: Spectrum = field(metadata={"record": False})
    lightfastness: str = ""  # I, II or III by ASTM, as labels give it; empty when it is not known
    pale_lightfastness: str = ""  # of its pale tints
    density: float = USUAL_DENSITY  # kg/l of the wet paint
    made_of: tuple[str, ...] = ()  # paints of the catalogue that mix to a tube of several pigments

    @property
    def hazards(self) -> tuple[str, ...]:
        """The substances that its label warns of."""
        return substances(self.hazard)

    @property
    def label_unread(self) -> bool:
        """Whether it is a painter's own, and nothing of what its label warns of was told."""
        return self.origin == OWN_DABS and not label_is_told(self.hazard)

    @property
    def caution(self) -> str:
        """What to mind when handling it; empty when no hazard is listed."""
        return " ".join(caution.text for caution in cautions_for([self]))

    @property
    def fades(self) -> bool:
        """Whether it isn't for what must last. [ASTM D4303: III]"""
        return self.lightfastness == "III"

    @property
    def fades_pale(self) -> bool:
        """Whether only its pale tints fade."""
        return self.pale_lightfastness == "III" and not self.fades

    @property
    def is_white(self) -> bool:
        """Whether its pigment is a white one. [Colour Index: PW]"""
        return self.colour_index.startswith("PW") and "+" not in self.colour_index

    @property
    def opacity_told(self) -> str:
        """The label's word for how it covers, or that there is none."""
        return self.opacity or "opacity not told"

    @property
    def label(self) -> str:
        """Name with the Colour Index name, and its origin when it was not measured."""
        named = f"{self.name} ({self.colour_index})" if self.colour_index else self.name
        return named if self.origin == MEASURED else f"{named}, {self.origin}"


SHADES = {" (yellow shade)": " YS", " (red shade)": " RS"}  # as tubes mark them; common practice, no source


def without_shade(name: str) -> str:
    """A paint's name without the shade in brackets, where that is the usual one; else with the tube's letters for it.

    Phthalo green is the blue shade and phthalo blue the green one unless it is said, so that no two get one name.
    """
    for shade, letters in SHADES.items():
        if name.endswith(shade):
            return name.removesuffix(shade) + letters
    return name.split(" (")[0]
