"""What a reader's eye has of a picture at a glance: its values, its sky and its colours, small and in one frame."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from critique.advice.colour_words import (
    GLANCE,
    GREENS,
    MOSTLY,
    families_seen,
    family_words,
    placed,
    seen_as,
    sky_in,
    word_of,
)
from critique.advice.judging import Case
from critique.measures.smoothing import gaussian
from critique.measures.values import apply_plan
from critique.perception.channels import colours_in
from critique.perception.cielab import lch_of
from critique.perception.ranks import middle_colour
from critique.picture.areas import filled, same_frame
from critique.picture.picture import lab_at
from critique.picture.places import spot
from critique.words.painters import GREEN_LIGHT, LIGHT, foliage_word, is_a_black, is_a_grey, is_warm_light, light_word

SOFT = 0.012  # of the long edge, spread of a Gaussian: what a colour is named by is a patch, no brush mark

ONE_COLOUR = 0.8  # of a place
COLOURED = 10.0  # C* from which a colour has a hue that the eye sees
FILLED = 0.5  # of a named area that a shape must cover, to be told by it and not by its middle
DARK = 45.0  # L*: a grey below it is called violet-grey by one reader and brown by the next: it is dark to both

Mask = NDArray[np.bool_]
Float = NDArray[np.float32]


@dataclass(frozen=True, slots=True, eq=False)
class Seen:
    """A picture at a glance: CIELAB softened, values 0–10 and the sky (none where it is no more than a guess)."""

    case: Case
    lab: Float  # (height, width, 3)
    value: Float  # (height, width)
    sky: Mask  # (height, width)
    foliage: Mask  # (height, width), where it reads as green

    @classmethod
    def of(cls, case: Case) -> "Seen":
        """A measured picture at a glance."""
        lab = lab_at(case.picture, GLANCE)
        soft = gaussian(lab, SOFT * max(lab.shape[:2]), truncate=3)
        return cls(
            case,
            soft,
            np.asarray(lab[..., 0] / 10),
            sky_in(case.measures, lab.shape),
            case.measures.reads_as_green.where(lab.shape),
        )

    @property
    def long_edge(self) -> int:
        """In px."""
        return int(max(self.value.shape))

    def softened(self, spread: float) -> Float:
        """The values after a blur of so much of the long edge."""
        return gaussian(self.value, spread * self.long_edge, truncate=3)

    def darks_and_lights(self) -> tuple[Mask, Mask]:
        """Where a squint shows the darks, and where the lights, of three masses."""
        values = self.case.measures.values
        plan = apply_plan(values.squinted, values.plan(3))
        dark, light = (same_frame(plan == tone, self.value.shape) for tone in (0, 2))
        return dark, light

    def held(self) -> Float:
        """How much each place holds the eye, 0–1."""
        salience = self.case.measures.eyepath.salience
        rows = (np.arange(self.value.shape[0]) + 0.5) * salience.shape[0] / self.value.shape[0]
        columns = (np.arange(self.value.shape[1]) + 0.5) * salience.shape[1] / self.value.shape[1]
        return np.asarray(salience[rows.astype(np.intp)][:, columns.astype(np.intp)])

    def colour(self, mask: Mask) -> str:
        """What a painter calls the colour of a place, such as "dark brown"; the word of a main colour that fills it.

        A black is one whatever it is counted to: with the shadows about it a black tree may make a dark olive.
        """
        labels = families_seen(self.case.picture, self.case.measures.families)[mask]
        counts = np.bincount(labels)
        fills = counts.max() >= ONE_COLOUR * labels.size
        family = family_words(self.case.picture, self.case.measures)[int(counts.argmax())] if fills else ""
        if is_a_black(family):
            return family
        own = word_of(self._lch(mask), in_foliage=float(self.foliage[mask].mean()))
        return own if not family or is_a_black(own) else family

    def light(self, mask: Mask) -> str:
        """What a painter calls the colour of a sky or a light, such as "pale blue" or "golden"."""
        lch = self._lch(mask)
        if seen_as(lch) in GREENS | {"olive"} and lch[1] < GREEN_LIGHT:  # two readers call such a light pale or blue
            return "pale" if lch[0] > LIGHT else "grey"
        if seen_as(lch) in GREENS and float(self.foliage[mask].mean()) >= MOSTLY:
            return foliage_word(*lch)  # a sky of that colour is a yellow light, and grass is green to anyone
        return light_word(*lch)

    def a_light(self, mask: Mask) -> str:
        """A light with the word for its colour, such as "golden light"; greys, which two readers call each by another
        name, go without.
        """
        word = self.light(mask).removeprefix("light ")  # no "light blue light"
        return "light" if is_a_grey(word) else f"{word} light"

    def a_dark(self, mask: Mask) -> str:
        """A dark with the word for its colour, such as "dark olive"; a grey is no more than dark."""
        word = self.colour(mask)
        return "dark" if is_a_grey(word) and self.lightness(mask) < DARK else word

    def warm(self, mask: Mask) -> bool:
        """Whether the light of a place warms what it falls on."""
        return is_warm_light(*self._lch(mask))

    def hues(self, *masks: Mask) -> tuple[float, ...]:
        """The hues of places, in degrees, of those that have any colour to speak of."""
        return tuple(lch[2] for lch in map(self._lch, masks) if lch[1] >= COLOURED)

    def lightness(self, mask: Mask) -> float:
        """The middle L* of a place."""
        return self._lch(mask)[0]

    def _lch(self, mask: Mask) -> tuple[float, float, float]:
        return lch_of(middle_colour(colours_in(self.lab, mask)))


def lying(mask: Mask) -> str:
    """Where a shape lies: the area that it fills, or else where its middle is."""
    words = placed(mask)
    if words and filled(mask) >= FILLED:
        return words.strip()
    y, x = (float(at.mean() + 0.5) / size for at, size in zip(np.nonzero(mask), mask.shape, strict=True))
    return str(spot(x, y))
