"""What it is that stands out at a place, a light, a dark or a colour, in a painter's words."""

from dataclasses import dataclass
from typing import Literal

import numpy as np

from critique.advice.colour_words import foliage_in, sky_in, word_of_lab
from critique.advice.judging import Case
from critique.picture.picture import lab_at
from critique.picture.places import offsets, roughly_in_passing
from critique.words.painters import HUELESS, is_a_grey

GLANCE = 240  # px along the long edge
NEAR, AROUND = 0.03, (0.06, 0.14)  # of the long edge: the thing, and what lies around it
MOST = 60  # percentile of how far the pixels near differ from what is around: the thing itself is above
LIGHTER, STRONGER, COLOURED = 12.0, 12.0, 28.0  # L*; C*; and C* from which a thing is seen as a colour; our choice
Way = Literal["light", "dark", "colour", ""]

# What a painter does with a thing that speaks too loud. Common practice, no source.
QUIETED: dict[Way, str] = {
    "light": "take {it} half a value down",
    "dark": "lift {it} half a value, or lose an edge of it",
    "colour": "grey {it} a little",
    "": "let {it} go a step quieter",
}


@dataclass(frozen=True, slots=True)
class StandingThing:
    """What stands at a place: by what it stands out, its word, and where it is."""

    way: Way
    word: str  # for its colour; empty where that has no name of its own
    where: str

    @property
    def named(self) -> str:
        """Such as "the red low on the right" or "the dark shape on the left"; empty where it has no name."""
        if not self.way:
            return ""
        return f"the {self.word if self.way == 'colour' else f'{self.way} shape'} {self.where}"


def thing_at(case: Case, x: float, y: float) -> StandingThing:
    """What stands at a place, fractions from the left and the top."""
    lab = lab_at(case.picture, GLANCE)
    away = np.hypot(*offsets(lab.shape, x, y)) / max(lab.shape[:2])
    near, ring = away <= NEAR, (away > AROUND[0]) & (away <= AROUND[1])
    where = roughly_in_passing(x, y)
    if not near.any() or not ring.any():
        return StandingThing("", "", where)
    around = np.median(lab[ring], axis=0)
    off = np.linalg.norm(lab - around, axis=-1)
    thing = near & (off >= np.percentile(off[near], MOST))
    colour = np.median(lab[thing], axis=0)
    chroma = float(np.hypot(*colour[1:]))
    in_sky, in_foliage = (
        float(part(case.measures, lab.shape)[thing].mean(dtype=np.float64)) for part in (sky_in, foliage_in)
    )
    word = word_of_lab(colour, in_sky=in_sky, in_foliage=in_foliage)
    lighter, stronger = float(colour[0] - around[0]), chroma - float(np.hypot(*around[1:]))
    if chroma >= COLOURED and stronger >= STRONGER and not is_a_grey(word) and word not in HUELESS:
        return StandingThing("colour", word, where)
    if abs(lighter) >= LIGHTER:
        return StandingThing("light" if lighter > 0 else "dark", "", where)
    return StandingThing("", "", where)
