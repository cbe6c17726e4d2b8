"""Which findings another light could change, where a photograph shows nothing to tell its light, or how much, by."""

from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from critique.advice.finding import Finding, Level
from critique.advice.greens_in_other_light import LONG_EDGE
from critique.advice.judging import Case
from critique.advice.kinds import all_kinds
from critique.measures.cast import measure_cast
from critique.measures.greens import measure_greens
from critique.measures.loudest import measure_loudest
from critique.measures.values import measure_values
from critique.perception.cielab import lab_to_linear, linear_to_lab
from critique.picture.other_light import Gains, cast_gains, other_lights
from critique.picture.picture import Picture, lab_at, picture_from_lab

LAMP = 10.0  # ΔE00 on a light grey: left of a lamp of 2700 K (24.6 by Planck, in sRGB) when a camera took most away
WARM, COOL = (1.0, 0.0, -1.0), (-1.0, 0.0, 1.0)

# What stands on colour as it was photographed: where shapes lie and how hard their edges are, no lamp changes.
OF_LIGHT = frozenset(
    (
        "green_strength",
        "green_area",
        "green_evenness",
        "green_cast",
        "colour_cast",
        "loudest_colour",
        "dead_colour",
        "green_relief",
        "value_range",
        "full_contrast",
    )
)


def light_decides(case: Case, findings: tuple[Finding, ...]) -> tuple[str, ...]:
    """Ids of the findings whose level is another one in slightly other light, in the order of the findings.

    The other lights are what an automatic white balance and exposure miss by (:mod:`critique.picture.other_light`), and
    a lamp or a window that the camera took away most of. Where the light was put right by something neutral, they are a
    little more and a little less of it.
    Empty where the photograph is all painting, or where its brightness is known too.
    """
    view = case.picture.view
    if view is None or not view.photographed:
        return ()
    neutral = view.light is not None and view.light.neutral is not None
    if view.light is not None and view.light.brightness_known:
        return ()
    light = lab_to_linear(np.asarray(lab_at(case.picture, LONG_EDGE)))
    as_it_is = _levels(case, light)
    moved: set[str] = set()
    for gains in _brightness() if neutral else _lights():
        there = _levels(case, np.clip(light * np.asarray(gains, dtype=np.float32), 0, 1))
        moved |= {kind for kind in OF_LIGHT if there.get(kind, "holds") != as_it_is.get(kind, "holds")}
    said = [finding.kind for finding in findings if finding.kind in moved]
    return (*said, *(kind.id for kind in all_kinds() if kind.id in moved - set(said)))


def _brightness() -> Iterator[Gains]:
    yield from (gains for kind, gains in other_lights() if kind == "brightness")


def _lights() -> Iterator[Gains]:
    yield from (gains for _, gains in other_lights())
    yield cast_gains(WARM, LAMP)
    yield cast_gains(COOL, LAMP)


def _levels(case: Case, light: np.ndarray) -> dict[str, Level]:
    """The level of each finding that light can change, on a small copy in that light."""
    small: Picture = picture_from_lab(linear_to_lab(light), case.picture)
    measures = replace(
        case.measures,
        greens=measure_greens(small),
        values=measure_values(small),
        loudest=measure_loudest(small),
        cast=measure_cast(small),
    )
    there = Case.of(small, measures, case.norms, case.box)
    found = (kind.judge(there, kind) for kind in all_kinds() if kind.id in OF_LIGHT)
    return {finding.kind: finding.level for finding in found if finding is not None}
