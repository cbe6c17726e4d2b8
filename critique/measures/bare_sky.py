"""How much of a picture is bare white sky."""

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from critique.alike import by_value
from critique.measures.figure import AREA, OWN, Figure
from critique.measures.parts import Parts
from critique.measures.rising import rising
from critique.measures.smoothing import gaussian_planes, planes_of
from critique.perception.ranks import quantiles_of
from critique.picture.areas import same_frame
from critique.picture.picture import Picture, lab_at
from critique.words.figures import percent

VIEW = 200  # px along the long edge
MELTED = 0.008  # of the long edge, spread of a Gaussian: strokes of paint and grain of the photograph melt
# L* from which a tone begins to be bare white, and from which it is: titanium white dries to 96 or 97 (from memory).
WHITE, BARE = 94.0, 97.0
COLOURLESS, COLOURED = 5.0, 9.0  # C*ab up to which white has no colour, and from which it is a cream or a blue
BARE_AT = 0.5  # of bare white: from there on a place is bare
LIGHTS, LIGHTEST = 0.95, 0.99  # of what isn't sky lies below its lights, and below its few lightest touches


@by_value
@dataclass(frozen=True, slots=True, eq=False)
class BareSky:
    """Share of a picture that is bare white sky, and the tones beside it.

    ``lights`` is the L* of the lights below the sky (the 95th percentile), ``lightest`` of their lightest touches (the
    99th), ``middle`` the median L* of the picture where it isn't bare.
    ``mask`` (height, width of a small copy) is where the sky is bare.
    """

    share: float
    lights: float
    lightest: float
    middle: float
    mask: NDArray[np.bool_] = field(metadata={"record": False}, repr=False)


def measure_bare_sky(picture: Picture, parts: Parts) -> BareSky:
    """Measure where the sky of a picture is white and nothing else."""
    planes = planes_of(lab_at(picture, VIEW))
    height, width = planes.shape[1:]
    lightness, a, b = gaussian_planes(planes, MELTED * max(height, width))
    sky = same_frame(parts.mask("sky"), (height, width))
    bare = rising(lightness, (WHITE, BARE)) * (1 - rising(np.hypot(a, b), (COLOURLESS, COLOURED))) * sky
    below = lightness[~sky] if not sky.all() else np.zeros(1, np.float32)
    painted = lightness[bare < BARE_AT]  # a sky left white all over doesn't make the picture one in light tones
    lights, lightest = quantiles_of(below, (LIGHTS, LIGHTEST))
    return BareSky(
        share=float(bare.mean(dtype=np.float64)),
        lights=float(lights),
        lightest=float(lightest),
        middle=float(np.median(painted if len(painted) else lightness)),
        mask=bare >= BARE_AT,
    )


FIGURES = (
    Figure(
        name="bare_sky.share",
        label="Bare white sky",
        meaning="sky without tone or colour",
        definition=f"Area of sky as light as white paint, L* {WHITE:.0f} to {BARE:.0f} and more, with C*ab under "
        f"{COLOURLESS:.0f} to {COLOURED:.0f}.",
        source=OWN,
        unit="share",
        show=percent,
        norm=True,
        worth=AREA,
        jumps=False,
    ),
)
