"""Which colour of a picture is the loudest, of whatever hue, and whether there is colour at all."""

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from critique.alike import by_value
from critique.measures.figure import CIELAB, OWN, PULL, Figure, rounded
from critique.measures.lone_colour import AS_LOUD, OF_ONE_HUE, SMALLEST, lone_colour
from critique.measures.smoothing import gaussian
from critique.perception.channels import chroma_of, colours_in
from critique.perception.hue import circular_mean, hue_of, turn
from critique.perception.ranks import middle_colour, quantiles_of
from critique.picture.kept import kept
from critique.picture.one_piece import largest_piece
from critique.picture.picture import Picture, lab_at

VIEW = 320  # px along the long edge: a colour is heard as a patch, not as a brush mark
PATCH = 0.006  # of the long edge, spread of a Gaussian
HEARD = 0.01  # of the picture: what holds less is an accent
# Of the picture: a spot mostly in one piece, away from the border, that is alone so many times as strong as 1 % of a
# landscape at its hue, and of such a chroma, is heard though it is so small. Of 296 untouched pictures none has one (a
# red cloak has 1.38 times), nor any of the 76 paintings 1.2; a flat red roof that two readers would mend first has 1.8.
SPOT, ONE_PIECE, RAW_SPOT, RAW = 0.002, 0.6, 1.6, 50.0
GREENS = (105, 185)  # degrees of hue: how raw a green is, is told of the greens
STEP, REACH = 10, 15  # degrees between the hues tried, and to either side of each
HUE_BIN, CHROMA_BIN, CHROMA_TOP = 5, 0.5, 150.0  # degrees and C*: finer than the eye
ANOTHER = 60.0  # degrees away: another colour to anyone
BORDER = 0.08  # of the long edge
COLOURED = 8.0  # C*: below it a colour reads as a grey
# C* that 1 % of a landscape reaches at most, at hues 15°, 45° … 345°: the highest of 43 landscapes and marines and a
# tenth more, rounded; greens and yellow-greens at a leaf's and a little more. Linear between.
USUAL = (32.0, 52.0, 58.0, 58.0, 50.0, 34.0, 30.0, 33.0, 37.0, 43.0, 30.0, 28.0)
USUAL_HUES = tuple(range(15, 360, 30))


@by_value
@dataclass(frozen=True, slots=True, eq=False)
class Loudest:
    """The loudest colour: its CIELAB, its hue in degrees and chroma, its share of the picture, its middle (0–1).

    ``excess`` is its chroma against the most that landscapes reach at that hue, ``alone`` how far it stands alone,
    where it is a small thing that does (`lone_colour.py`), else 0, ``rest`` the chroma of the strongest tenth of
    everything else, ``other`` the most that 1 % of the picture reaches in another hue. ``middle``, ``strong`` and
    ``strongest`` are the 50th, 90th and 99.8th percentiles of chroma in the whole picture, ``off_one_tone`` and
    ``farthest_off`` the 90th and 99.8th of how far its colours lie from one paint over lights and darks, in C*.
    """

    lab: tuple[float, float, float]
    hue: float
    chroma: float
    share: float
    x: float
    y: float
    excess: float
    alone: float
    rest: float
    other: float
    middle: float
    strong: float
    strongest: float
    off_one_tone: float
    farthest_off: float
    mask: NDArray[np.bool_] = field(metadata={"record": False}, repr=False)  # where it is

    @property
    def in_border(self) -> float:
        """The part of it (0–1) that lies in the border, where no eye should be led; 0 where there is none."""
        return _in_border(self.mask)


@kept
def measure_loudest(picture: Picture) -> Loudest:
    """Find the hue whose strongest 1 % of the picture most exceeds what landscapes have there, or a small thing alone.

    A green is told of the greens: beside one, another hue that landscapes never have so strong is the loudest.
    """
    lab = lab_at(picture, VIEW)
    spread = PATCH * max(lab.shape[:2])
    soft = gaussian(lab, spread, truncate=3)
    chroma = chroma_of(soft)
    hue = hue_of(soft[..., 1], soft[..., 2])
    tried = np.arange(0, 360, STEP)
    count = _counted(hue, chroma)
    heard = _reached(count, chroma.size)
    found = _loudest_of(soft, hue, chroma, count, heard)
    best, reached, of_it, mask = found.tried, found.reached, found.of_it, found.mask
    loud = float(reached[best])
    middle, strong, strongest = quantiles_of(chroma, (0.5, 0.9, 0.998))
    off, farthest = quantiles_of(off_one_tone(soft), (0.9, 0.998))
    another = np.abs(turn(tried, float(tried[best]))) >= ANOTHER
    other = float(heard[another].max())
    others = chroma[~of_it]
    rest = quantiles_of(others, (90 / 100,))[0] if others.size else 0.0
    if loud < COLOURED or not mask.any():
        none = (0.0, 0.0, 0.0)
        whole = (rest, other, middle, strong, strongest, off, farthest)
        return Loudest(none, 0.0, 0.0, 0.0, 0.5, 0.5, 0.0, 0.0, *whole, mask & False)
    angle = circular_mean(hue[mask], chroma[mask])
    y, x = np.nonzero(mask)
    colour = middle_colour(colours_in(lab, mask))
    return Loudest(
        lab=(float(colour[0]), float(colour[1]), float(colour[2])),
        hue=angle,
        chroma=loud,
        share=float(mask.mean()),
        x=float((x.mean() + 0.5) / mask.shape[1]),
        y=float((y.mean() + 0.5) / mask.shape[0]),
        excess=_excess(count, reached, found.asked),
        alone=found.alone,
        rest=rest,
        other=other,
        middle=middle,
        strong=strong,
        strongest=strongest,
        off_one_tone=off,
        farthest_off=farthest,
        mask=mask,
    )


def off_one_tone(lab: NDArray[np.float32]) -> NDArray[np.float32]:
    """How far, in C*, colours (…, 3) lie from one paint over lights and darks, whatever paint fits them best.

    Its chromaticity is the same at every lightness, so that a* and b* go with L* + 16.
    """
    light = lab[..., 0].astype(np.float64) + 16
    size = float(np.square(light).sum())
    tones = [float((light * lab[..., channel]).sum()) / size * light for channel in (1, 2)]
    off = [lab[..., channel] - tone for channel, tone in zip((1, 2), tones, strict=True)]
    return np.asarray(np.sqrt(np.square(off[0]) + np.square(off[1])), dtype=np.float32)


def usual_chroma(hue: NDArray[np.generic]) -> NDArray[np.float64]:
    """The most C* that 1 % of a landscape reaches at hues in degrees (n,)."""
    return np.asarray(np.interp(hue.astype(np.float64), USUAL_HUES, USUAL, period=360))


def _counted(hue: NDArray[np.float32], chroma: NDArray[np.float32]) -> NDArray[np.intp]:
    """How many pixels have each hue and chroma: (hues, levels of chroma)."""
    levels = int(CHROMA_TOP / CHROMA_BIN)
    level = np.minimum((chroma / np.float32(CHROMA_BIN)).astype(np.intp), levels - 1)
    cell = (hue / np.float32(HUE_BIN)).astype(np.intp) % (360 // HUE_BIN)
    return np.bincount((cell * levels + level).ravel(), minlength=360 // HUE_BIN * levels).reshape(-1, levels)


def _leaning(count: NDArray[np.intp], reached: NDArray[np.float64]) -> NDArray[np.float64]:
    """The mean hue, in degrees, of what is about as loud as ``reached`` near every tenth degree of hue.

    The loudest colour is held to what landscapes have at its own hue. Asked of every hue tried, and not of the loudest
    alone, no other one takes its place by a hair.
    """
    hue = np.arange(0, 360, HUE_BIN) + HUE_BIN / 2
    tried = np.arange(0, 360, STEP)
    chroma = (np.arange(count.shape[1]) + 0.5) * CHROMA_BIN
    of_it = np.abs(turn(hue[None], tried[:, None])) <= OF_ONE_HUE
    loud = chroma[None] >= np.maximum(AS_LOUD * reached, COLOURED)[:, None]
    strength = of_it * (loud @ (count * chroma).T)  # (hues tried, hues)
    radians = np.radians(hue)
    angle = np.degrees(np.arctan2(strength @ np.sin(radians), strength @ np.cos(radians)))
    return np.where(strength.any(axis=1), angle, tried) % 360


def _excess(count: NDArray[np.intp], reached: NDArray[np.float64], asked: NDArray[np.bool_]) -> float:
    """The most that any of the hues asked reaches against the most that landscapes have at its own hue."""
    return float((reached / usual_chroma(_leaning(count, reached)))[asked].max())


@dataclass(frozen=True, slots=True, eq=False)
class _Found:
    """Which hue tried is the loudest, what each reaches, where the picture is of that hue, and where about as loud.

    Its excess is the most of the hues ``asked``, so that none takes another's place by a hair; ``alone`` is 0 but for a
    small thing that stands alone.
    """

    tried: int
    reached: NDArray[np.float64]
    of_it: NDArray[np.bool_]
    mask: NDArray[np.bool_]
    asked: NDArray[np.bool_]
    alone: float = 0.0


def _loudest_of(
    soft: NDArray[np.float32],
    hue: NDArray[np.float32],
    chroma: NDArray[np.float32],
    count: NDArray[np.intp],
    heard: NDArray[np.float64],
) -> _Found:
    """The loudest colour: a raw spot, a hue heard beyond what landscapes have, a thing alone, or what is left."""
    tried, every = np.arange(0, 360, STEP), np.ones(len(heard), dtype=np.bool_)
    usual = usual_chroma(tried)
    small = _reached(count, chroma.size, SPOT)
    spot = _raw_spot(heard, small)
    if spot is not None:
        of_it, mask = _where_loud(hue, chroma, spot, small)
        if _stands_alone(mask):
            return _Found(spot, small, of_it, mask, every)
    green = (tried >= GREENS[0]) & (tried <= GREENS[1])
    best, asked = int((heard / usual).argmax()), every
    if green[best]:
        another = np.abs(turn(tried, float(tried[best]))) >= ANOTHER
        if float((heard / usual)[another].max()) >= 1.0:
            best, asked = int(np.where(another, heard / usual, 0.0).argmax()), another
    if green[best] or _excess(count, heard, asked) < 1.0:
        least = _reached(count, chroma.size, SMALLEST)
        lone = lone_colour(soft, tried, least, usual, GREENS)
        if lone is not None:
            of_it, _ = _where_loud(hue, chroma, lone.tried, least)
            return _Found(lone.tried, least, of_it, of_it & lone.mask, tried == tried[lone.tried], lone.alone)
    return _Found(best, heard, *_where_loud(hue, chroma, best, heard), asked)


def _where_loud(
    hue: NDArray[np.float32], chroma: NDArray[np.float32], tried: int, reached: NDArray[np.float64]
) -> tuple[NDArray[np.bool_], NDArray[np.bool_]]:
    """Where a picture is of a hue that was tried, and where of it about as loud as the C* that is ``reached`` there."""
    of_it = np.abs(turn(hue, float(tried * STEP))) <= OF_ONE_HUE
    return of_it, of_it & (chroma >= max(AS_LOUD * float(reached[tried]), COLOURED))


def _raw_spot(heard: NDArray[np.float64], small: NDArray[np.float64]) -> int | None:
    """Which hue tried has a spot far beyond what landscapes have, where all else keeps within it; None for none.

    ``heard`` is the chroma that 1 % of it reaches at each hue, ``small`` what a spot does.
    """
    tried = np.arange(0, 360, STEP)
    usual = usual_chroma(tried)
    beyond = np.where((tried >= GREENS[0]) & (tried <= GREENS[1]), 0.0, small / usual)
    best = int(beyond.argmax())
    raw = beyond[best] >= RAW_SPOT and small[best] >= RAW and float((heard / usual).max()) < 1.0
    return best if raw else None


def _stands_alone(mask: NDArray[np.bool_]) -> bool:
    """Whether a mask is mostly one piece, and not at the edge, where what draws the eye out is told."""
    return bool(largest_piece(mask).sum() >= ONE_PIECE * mask.sum()) and _in_border(mask) < 0.5


def _in_border(mask: NDArray[np.bool_]) -> float:
    """The part of a mask (0–1) that lies in the border of the picture; 0 for an empty one."""
    height, width = mask.shape
    wide = round(BORDER * max(height, width))
    inside = mask[wide : height - wide, wide : width - wide].sum()
    return 1.0 - float(inside) / float(mask.sum()) if mask.any() else 0.0


def _reached(count: NDArray[np.intp], pixels: int, share: float = HEARD) -> NDArray[np.float64]:
    """The chroma that a share of the picture reaches within 15° of every tenth degree of hue."""
    levels = count.shape[1]
    tried = np.arange(0, 360, STEP)[:, None]
    near = np.abs(turn(np.arange(0, 360, HUE_BIN)[None] + HUE_BIN / 2, tried)) <= REACH
    above = (near @ count)[:, ::-1].cumsum(axis=1)[:, ::-1]  # pixels at least so coloured
    asked = max(share * pixels, 1)
    enough = (above >= asked).sum(axis=1)  # levels reached, from the greys up
    row, last = np.arange(len(above)), np.maximum(enough - 1, 0)
    here = above[row, last].astype(np.float64)
    beyond = np.where(enough < levels, above[row, np.minimum(enough, levels - 1)], 0)
    within = (here - asked) / np.maximum(here - beyond, 1)  # of the last level: straight between the two
    return np.where(enough > 0, last + within, 0.0) * CHROMA_BIN


FIGURES = (
    Figure(
        name="loudest.excess",
        label="Loudest colour",
        meaning="1 is the most that landscapes reach at its hue",
        definition="Chroma that 1 % of the picture reaches, at the hue where it most exceeds what landscapes have; "
        "0.2 %, where one spot lies far beyond that.",
        source=OWN,
        show=rounded(2),
        norm=True,
        worth=PULL,
        jumps=True,
    ),
    Figure(
        name="loudest.strong",
        label="Strong colour",
        meaning="how strong the strongest tenth of the picture is",
        definition="90th percentile of C*ab.",
        source=CIELAB,
        unit="C*ab",
        show=rounded(0),
        norm=True,
        worth=2.0,
        jumps=False,
    ),
)
