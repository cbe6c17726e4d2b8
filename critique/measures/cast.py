"""Which colour leans over the whole picture, and who put it there where a reference can tell."""

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from critique.measures.figure import CIELAB, LEAN, Figure
from critique.measures.smoothing import FINEST_COLOUR, without_finest
from critique.perception.channels import chroma_of
from critique.perception.cielab import lab_to_lch
from critique.perception.hue import turn
from critique.perception.ranks import middle_colour
from critique.picture.picture import Picture, lab_at
from critique.words.figures import number
from critique.words.hues import hue_word

if TYPE_CHECKING:
    pass

CAST_LONG_EDGE = 400  # px: a cast is of the whole; the size that the values are seen at
TENTH = 0.1  # of the area: the lightest, and the most neutral
LEAST_OF_LIGHTS = 0.2  # of that tenth: the fifth of it that is least green; blossom, a path or a cloud is no smaller
NOTICEABLE = 14.0  # C* of the mean: three in four landscapes lean less, most of them to warm earth [norms.csv]
FEW = 0.05  # of the picture: a speck of dirt, a signature and the deepest blacks are no more
DIRECTIONS = 36  # of the plane of a* and b*, in which the colours may lie off the neutral
EVERY = 5  # of all places: some twenty thousand tell a twentieth as well as all do
# a*, b*: daylight on earth and an old varnish, which are nobody's lean. It is over half of what landscapes stir
# together to: of 76 the medians are a* 1.5 and b* 9.5.
WARM_DAY = (1.0, 6.0)
SAME_LEAN = 45.0  # degrees within which two leans are one
DISTURBED_NEUTRAL = 3.0  # C* of a reference that no grey in nature explains; common practice, no source


@dataclass(frozen=True, slots=True)
class Lean:
    """A mean colour of part of the picture: a*, b*, its chroma, its hue in degrees and that hue's plain word."""

    a: float
    b: float
    chroma: float
    hue: float
    word: str


@dataclass(frozen=True, slots=True)
class Cast:
    """Leans of the whole, of its lightest tenth and of its most neutral tenth; whose it is, where a reference tells."""

    mean: Lean
    median: Lean
    lightest: Lean
    most_neutral: Lean
    # −a* of that fifth of the lightest tenth which is least green, less its lean to blue (−b*): a cast leaves no light
    # free, and a light as blue as it is green is a blue-white to the eye.
    lights_at_least: float
    # C* by which all but a twentieth of it lies off the neutral to one side, beyond what warm daylight gives that side;
    # the side where it is most. Below 0 where more of it is grey, or leans away, whichever side is asked.
    off_neutral: float
    size: float  # C* of the mean: how large the lean is
    one_sided: float  # 0–1, the mean's C* beside the mean of all C*: 1 where every colour leans the same way
    owner: str  # "none" (no lean to speak of), "unknown" (ask), or, told by a reference, "photograph" or "painting"
    reference: Lean | None  # of a card, a white margin or a wall in the same light


def measure_cast(picture: Picture, *, reference: Lean | None = None) -> Cast:
    """Measure the cast of a picture.

    Whose it is can be told only by ``reference``, the lean of something known to be neutral in the same light: a card,
    a white margin, an even wall. Without one the lean is named and its owner unknown: the least coloured tenth of a
    picture measures how varied its hues are, not its light (a sunset has no neutral).
    """
    lab = without_finest(lab_at(picture, CAST_LONG_EDGE), FINEST_COLOUR).reshape(-1, 3)
    chroma = chroma_of(lab)
    number = max(1, round(TENTH * len(lab)))
    lightest = lab[np.argpartition(-lab[:, 0], number - 1)[:number]]
    neutral = lab[np.argpartition(chroma, number - 1)[:number]]
    channels = np.ascontiguousarray(lab.T)  # long runs of memory: several times quicker to sum and to part
    mean, lights, neutrals = (
        _lean(part.mean(axis=1, dtype=np.float64))
        for part in (channels, *(np.ascontiguousarray(part.T) for part in (lightest, neutral)))
    )
    whole = float(chroma.mean(dtype=np.float64))
    least = max(1, round(LEAST_OF_LIGHTS * number))
    return Cast(
        mean=mean,
        median=_lean(middle_colour(lab)),
        lightest=lights,
        most_neutral=neutrals,
        lights_at_least=_green_of(lightest[np.argpartition(lightest[:, 1], number - least)[number - least :]]),
        off_neutral=_off_neutral(lab[::EVERY, 1:]),
        size=mean.chroma,
        one_sided=mean.chroma / whole if whole > 0 else 0.0,
        owner=_owner(mean, reference),
        reference=reference,
    )


def _green_of(lab: NDArray[np.floating]) -> float:
    """−a* of the mean of colours (n, 3), less what of it is blue."""
    _, a, b = lab.mean(axis=0, dtype=np.float64)
    return float(-a - max(-b, 0.0))


def _off_neutral(ab: NDArray[np.floating]) -> float:
    """How far the a*, b* (n, 2) of all but a few lie off the neutral to one and the same side: C* beyond a warm day's.

    Asked of every side, and not of the mean's alone: browns, pinks and blues together may leave out every grey and
    green, though their mean lies near one end.
    """
    turns = np.linspace(0, 2 * np.pi, DIRECTIONS, endpoint=False, dtype=np.float32)
    sides = np.stack([np.cos(turns), np.sin(turns)])
    allowed = np.maximum(np.array(WARM_DAY, dtype=np.float32) @ sides, 0)
    rank = int(FEW * (len(ab) - 1))
    return float((np.partition(sides.T @ ab.T, rank, axis=1)[:, rank] - allowed).max())


def reference_of(picture: Picture) -> Lean | None:
    """The lean that something neutral in the picture's light has, once the light is put right; None where none was."""
    light = picture.view.light if picture.view is not None else None
    return lean_of(np.asarray(light.neutral)) if light is not None and light.neutral is not None else None


def lean_of(lab: NDArray[np.floating]) -> Lean:
    """The lean of a colour (3,), such as the mean of a card or of a margin."""
    return _lean(np.asarray(lab, dtype=np.float64))


def _lean(lab: NDArray[np.floating]) -> Lean:
    _, chroma, hue = (float(part) for part in lab_to_lch(np.asarray(lab, dtype=np.float64)))
    return Lean(float(lab[1]), float(lab[2]), chroma, hue, hue_word(hue))


def _owner(mean: Lean, reference: Lean | None) -> str:
    if reference is None:
        return "none" if mean.chroma < NOTICEABLE else "unknown"
    leans = reference.chroma >= DISTURBED_NEUTRAL
    if leans and (mean.chroma < NOTICEABLE or abs(float(turn(reference.hue, mean.hue))) <= SAME_LEAN):
        return "photograph"
    return "none" if mean.chroma < NOTICEABLE else "painting"


def _leaning(lean: Lean) -> str:
    return f"{number(lean.chroma)} to {lean.word}"


FIGURES = (
    Figure(
        name="cast.mean.chroma",
        label="Lean of the whole",
        meaning="what the colours stir together to",
        definition="Mean a*, b* of the picture.",
        source=CIELAB,
        unit="C*ab",
        told=lambda measures: _leaning(measures.cast.mean),
        norm=True,
        column="chroma of the mean colour: how far the whole leans",
        worth=LEAN,
        with_it=("cast.mean.a", "cast.mean.b"),
    ),
    Figure(name="cast.mean.a", unit="a*", worth=LEAN),
    Figure(name="cast.mean.b", unit="b*", worth=LEAN),
    Figure(name="cast.greenness", unit="−a*", read=lambda measures: -measures.cast.mean.a, norm=True),
    Figure(
        name="cast.lightest.chroma",
        label="Lean of the lights",
        meaning="what the lightest tenth leans to",
        definition="Mean a*, b* of the lightest tenth of the area.",
        source=CIELAB,
        unit="C*ab",
        told=lambda measures: _leaning(measures.cast.lightest),
        worth=LEAN,
    ),
    Figure(
        name="cast.most_neutral.chroma",
        label="Lean of the greys",
        meaning="what the greyest tenth leans to",
        definition="Mean a*, b* of the tenth with least chroma.",
        source=CIELAB,
        unit="C*ab",
        told=lambda measures: _leaning(measures.cast.most_neutral),
        norm=True,
        worth=LEAN,
    ),
)
