"""Changes of lights: of two that compete the one that the picture can better do without gives way."""

from collections.abc import Iterator

import numpy as np

from critique.advice.change_guided import QuietThing
from critique.advice.draft import Draft, Figure
from critique.advice.guided_drafts import STROKES_KEPT
from critique.advice.guiding import WORKED_AT, guided_mask, resized
from critique.advice.small_map import SmallMap
from critique.advice.surroundings import surroundings
from critique.advice.trial import Trial
from critique.measures.two_lights import lights_compete
from critique.picture.picture import lab_at
from critique.picture.places import offsets, spot
from critique.words.aloud import sentence

LOWERED = 0.7  # of the way to what lies about it: it is a light still; our choice
# Of the height: so far over the other, a light is a sun or its cloud, and two judges missed it where it was lowered.
CAST = 0.25
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
    both = ((lights.x1, lights.y1), (lights.x2, lights.y2))
    if abs(lights.y1 - lights.y2) > CAST:
        lead, lower = sorted(both, key=lambda place: place[1])
    else:
        lower, lead = sorted(both, key=lambda place: min(place[0], 1 - place[0]))
    lab = lab_at(trial.case.picture, WORKED_AT)
    long_edge = max(lab.shape[:2])
    away, away_lead = (np.hypot(*offsets(lab.shape, *place)) / long_edge for place in (lower, lead))
    light = resized(lights.mask, lab.shape) * (away < away_lead)
    if not light.any():
        return
    glow = maximum_filter(light, 2 * round(PAST_ITS_EDGE * long_edge) + 1)
    parameters = QuietThing(
        *lower,
        float(away[light > 0].max()) + PAST_ITS_EDGE,
        LOWERED,
        STROKES_KEPT,
        guided_mask(lab, light),
        SmallMap.of(surroundings(lab, 1 - light)),
        SmallMap.of(surroundings(lab, glow)),
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
