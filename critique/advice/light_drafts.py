"""Changes of lights: of two that compete the one that the picture can better do without gives way."""

from collections.abc import Iterator

import numpy as np

from critique.advice.change_guided import QuietThing
from critique.advice.draft import Draft, Figure
from critique.advice.gives_way import gives_way
from critique.advice.guided_drafts import STROKES_KEPT
from critique.advice.guiding import WORKED_AT, guided_mask, resized
from critique.advice.small_map import SmallMap
from critique.advice.surroundings import surroundings
from critique.advice.trial import Trial
from critique.measures.two_lights import lights_compete
from critique.picture.picture import lab_at
from critique.picture.places import offsets, spot
from critique.words.aloud import sentence

# Of the way to what lies about it, at most so many L* (the two values that the words name): it is a light still; our choice.
LOWERED, MOST_LOWERED = 0.7, 20.0
IN_ITS_PART = 0.5  # of a light that lies in the sky: it then takes the sky's colours, and no hill's; else the land's
# L* over what lies about it in its part: of lights put in the faintest has 18; a sky that was seen to both sides of a mount
# has 13, and became a smudge.
A_LIGHT = 15.0
PAST_ITS_EDGE = 0.01  # of the long edge: a light's own glow, which isn't what lies about it

STANDS_OUT = Figure(
    "values by which the weaker of two lights stands out",
    lambda case: case.measures.two_lights.stands_out,
    lambda lightness: f"{lightness / 10:.1f}",
)


def quiet_light(trial: Trial, quieted: bool) -> Iterator[Draft]:
    """Lower one of two lights that compete: the lower one, which the other may cast, or the nearer one to a side."""
    from scipy.ndimage import maximum_filter

    lights = trial.case.measures.two_lights
    if not lights_compete(lights):
        return
    lower, lead = gives_way((lights.x1, lights.y1), (lights.x2, lights.y2))
    lab = lab_at(trial.case.picture, WORKED_AT)
    long_edge = max(lab.shape[:2])
    away, away_lead = (np.hypot(*offsets(lab.shape, *place)) / long_edge for place in (lower, lead))
    light = resized(lights.mask, lab.shape) * (away < away_lead)
    if not light.any():
        return
    sky = resized(trial.case.measures.parts.mask("sky"), lab.shape) > 0
    own_part = sky if float(sky[light > 0].mean()) >= IN_ITS_PART else ~sky
    glow = maximum_filter(light, 2 * round(PAST_ITS_EDGE * long_edge) + 1)
    own, around = surroundings(lab, 1 - light), surroundings(lab, np.maximum(glow, ~own_part))
    step = float((own - around)[light > 0][:, 0].mean())
    if step < A_LIGHT:
        return
    parameters = QuietThing(
        *lower,
        float(away[light > 0].max()) + PAST_ITS_EDGE,
        min(LOWERED, MOST_LOWERED / step),
        STROKES_KEPT,
        guided_mask(lab, light),
        SmallMap.of(own),
        SmallMap.of(around),
    )
    yield Draft.of(
        "quiet_light",
        parameters,
        sentence(
            f"let one light lead. If it is the one {spot(*lead)}, lower the other, {spot(*lower)}, by a value or two: scumble the "
            "colour of what lies about it over it, and keep its full light nowhere"
        ),
        (STANDS_OUT,),
        "One of the two lights lowered; all else as it is.",
        redrawn=True,
    )
