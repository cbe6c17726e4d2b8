"""The shapes that a picture has to be praised for: what stands against the sky, a few big ones, a wide sky, a distance."""

import numpy as np

from critique.advice.colour_words import cool_at_all, distance_to_say
from critique.advice.seen import Mask, Seen, lying
from critique.advice.value_findings import RANGE_WATCH
from critique.advice.virtue import Virtue
from critique.measures.division_judging import STRAIGHT, halving_fault
from critique.measures.values import has_touches
from critique.perception.ranks import median_of, quantiles_of
from critique.perception.srgb import Float
from critique.picture.areas import area_of, areas_apart, same_frame
from critique.words.lists import listed
from critique.words.painters import is_a_grey

LEAST_SKY, MOST_SKY = 0.06, 0.9  # of the picture: a sky that something can stand against, and that leaves any land
BASE = 65  # percentile of the heights at which the sky ends: the skyline that things rise from
RISES = 0.04  # of the height, over that skyline
AGAINST, LIT_AGAINST = 2.2, 1.0  # values between a shape and the sky beside it, point by point: darker, and lighter
# The same in the middle of both, from which it stands clear. Of three landscapes where a dark one told first had less than
# 4.5, readers praised it in none; in photographs they called such a shape minor.
CLEAR, LIT_CLEAR = 4.5, 2.0
# Of the picture: readers called what is smaller a scrap, or the sky behind it a mountain, in three of five; and of its width:
# what runs so far across is the land and no shape on it.
LEAST_SHAPE, BAND = 0.02, 0.75
# Of the picture: what runs out of it at a side is a piece of something, and not a shape that stands, unless it is large. Of
# fourteen such pieces in 76 landscapes readers named one, of three larger ones two, of seven shapes that stand free five.
OWN_SHAPE = 0.15
LIGHT_SKY = 60.0  # L*: against a darker one nothing dark stood clear to readers
# C* and b* of a raw blue that fills the sky: it stands like a wall, and gave air in none of six readings of three
# pictures; one warm with evening does.
RAW_BLUE, BLUE = 30.0, -25.0
WIDE_SKY, LOW_LINE, HIGH_LINE = 0.45, 0.6, 0.3  # of the picture, and of its height
# Of the line's height that a sky must fill, for the line to be its lower border, and no shore below water.
REACHES = 0.82
# Values from dark to light, in a high key: less is a blank, and more isn't told as close either: it is sunlight, or a
# light sky over darker land.
HAZE = (1.0, RANGE_WATCH)
MARKS, LOWER_SKY, BROKEN = 0.015, 0.4, 0.65  # of the long edge; of the height; values between mark and patch there
AIRY = 4.5  # value of a sky, below which it is a dark one
# Of the picture: a big shape; how many of them are few, for a list of four is one of patches to its readers; what they cover.
BIG, FEW, HELD = 0.05, 3, 0.8
FAR_REACH = 50.0  # percentile among landscapes
DEEP = 3  # signs of distance of four
# a*b* from its middle, and the part of a shape within it, for one word to name its colour: a pink ruin over a lawn is no olive.
ONE_COLOUR, MOSTLY_ONE = 14.0, 0.7
CONTRAST = 3.0  # values between the dark and the light shapes, from which one stands against the other


def silhouette(seen: Seen) -> Virtue | None:
    """A shape that rises into the sky, dark against its light, or lit against its grey."""
    from scipy.ndimage import label

    sky = seen.sky
    if not LEAST_SKY <= sky.mean() <= MOST_SKY:
        return None
    height = sky.shape[0]
    ends = np.where(sky.any(axis=0), height - sky[::-1].argmax(axis=0), 0)  # the lowest sky of each column
    base = quantiles_of(ends[ends > 0], (BASE / 100,))[0]
    above = np.arange(height)[:, None] < base - RISES * height
    light = median_of(seen.value[sky])
    found = []
    for side in (1.0, -1.0):  # darker than the sky, and lighter
        pieces, number = label(above & ~sky & (side * (light - seen.value) >= (AGAINST if side > 0 else LIT_AGAINST)))
        sizes = np.bincount(pieces.ravel(), minlength=number + 1)[1:] / pieces.size
        found += [(side, pieces == index + 1) for index in np.flatnonzero(sizes >= LEAST_SHAPE)]
    told = [virtue for virtue in (_against_sky(seen, shape, side) for side, shape in found) if virtue is not None]
    return max(told, key=lambda virtue: virtue.signs[0] * virtue.signs[1] ** 0.5) if told else None


def _against_sky(seen: Seen, shape: Mask, side: float) -> Virtue | None:
    """What is said of a shape and the sky beside it; None where they don't part by value."""
    from scipy.ndimage import binary_dilation

    near = binary_dilation(shape, iterations=round(0.02 * seen.long_edge))
    beside = binary_dilation(near, iterations=round(0.06 * seen.long_edge)) & seen.sky & ~near
    if not beside.any():
        return None
    apart = side * float(np.median(seen.value[beside]) - np.median(seen.value[shape]))
    if apart < (CLEAR if side > 0 else LIT_CLEAR):
        return None
    if float(shape.any(axis=0).mean()) > BAND:
        return None
    if shape[:, [0, -1]].any() and float(shape.mean()) < OWN_SHAPE:
        return None
    y, x = (float(at.mean() + 0.5) / size for at, size in zip(np.nonzero(shape), shape.shape, strict=True))
    sky = seen.light(beside)
    if side > 0 and seen.lightness(beside) < LIGHT_SKY:
        return None
    if is_a_grey(sky):
        sky = "lighter" if side > 0 else "darker"
    text = f"the {seen.a_dark(shape)} shape {lying(shape)} stands clear against the {sky} sky"
    return Virtue(text, (apart, float(shape.mean())), (x, y), seen.hues(shape, beside))


def tones(seen: Seen) -> Virtue | None:
    """The dark shapes against the light ones, where each has a place of its own."""
    dark, light = seen.darks_and_lights()
    if not dark.any() or not light.any():
        return None
    apart = float(np.median(seen.value[light]) - np.median(seen.value[dark]))
    where = area_of(dark, claimed=True), area_of(light, claimed=True)
    if apart < CONTRAST or not all(where) or not areas_apart(*where):
        return None
    # Not that one stands against the other: the two need not meet, and readers looked for where they do.
    text = f"dark and light each have their place, the {seen.a_dark(dark)} {where[0]} and the {seen.a_light(light)} {where[1]}"
    return Virtue(text, (apart,), hues=seen.hues(dark, light))


def shapes(seen: Seen) -> Virtue | None:
    """A few big flat shapes that hold nearly all of it."""
    masses = seen.case.measures.masses
    big = [mass for mass in masses.largest if mass.share >= BIG]
    if not 2 <= len(big) <= FEW or sum(mass.share for mass in big) < HELD:
        return None
    where = [same_frame(masses.map == mass.label, seen.value.shape) for mass in big]
    if any(not is_of_one_colour(seen.lab[shape]) for shape in where if shape.any()):
        return None
    named = [(seen.colour(shape), lying(shape)) for shape in where if shape.any()]
    if any(len(set(words)) < len(named) for words in zip(*named, strict=True)):
        return None  # shapes that no word tells apart carry nothing that can be pointed at
    told = [f"{name} {place}" for name, place in named]
    hues = seen.hues(*(shape for shape in where if shape.any()))
    return Virtue(f"a few big shapes carry it: {listed(told)}", (), hues=hues)


def is_of_one_colour(colours: Float) -> bool:
    """Whether colours (n, 3) keep near their middle, so that one word names them."""
    off = colours[:, 1:] - np.median(colours[:, 1:], axis=0)
    return float((np.hypot(off[:, 0], off[:, 1]) <= ONE_COLOUR).mean()) >= MOSTLY_ONE


def wide_sky(seen: Seen) -> Virtue | None:
    """A wide sky over a low line."""
    measures = seen.case.measures
    share = measures.parts.sky_share
    if measures.values.range < CONTRAST or not seen.sky.any() or not WIDE_SKY <= share <= MOST_SKY:
        return None
    marks = np.abs(seen.value - seen.softened(MARKS))
    lower = seen.sky & (np.arange(marks.shape[0])[:, None] > LOWER_SKY * marks.shape[0])
    if lower.any() and float(marks[lower].mean()) > BROKEN:
        return None  # rock or crowns may have been taken for sky
    blue = seen.lab[seen.sky]
    if median_of(blue[:, 2]) < BLUE and median_of(np.hypot(blue[:, 1], blue[:, 2])) > RAW_BLUE:
        return None
    line = measures.division.height
    low = _plain_line(seen) and line >= LOW_LINE and share >= REACHES * line
    over = " over a low line" if low else ""
    airy, grey = median_of(seen.value[seen.sky]) >= AIRY, is_a_grey(seen.colour(seen.sky))
    does = (
        "gives it air" if airy else "weighs on the land" if grey else "gives it room"
    )  # a deep blue weighs on nothing
    text = f"the wide sky{over} {does}"
    return Virtue(text, (share, line if low else 0.5))


def haze(seen: Seen) -> Virtue | None:
    """Light values that keep close, as in haze."""
    values = seen.case.measures.values
    if values.key != "high" or not HAZE[0] <= values.range < HAZE[1] or has_touches(values, "darks"):
        return None  # no haze lies over a dark rock that is near
    low, high = values.percentiles["p5"], values.percentiles["p95"]
    text = f"its light values keep close, from {low:.1f} to {high:.1f}, as haze has them"
    return Virtue(text, ())


def high_line(seen: Seen) -> Virtue | None:
    """A high line that gives the ground the room."""
    measures = seen.case.measures
    if not _plain_line(seen) or measures.division.height > HIGH_LINE:
        return None
    return Virtue("the high line gives the ground the room", ())


def _plain_line(seen: Seen) -> bool:
    division = seen.case.measures.division
    return division.present and division.straightness >= STRAIGHT and halving_fault(division) is None


def distance(seen: Seen) -> Virtue | None:
    """Far land that lies back."""
    land = seen.case.measures.land_distance
    if not distance_to_say(seen.case.measures):
        return None
    signs = (land.lighter > 0.8, land.quieter > 2.0, land.cooler > 3.0 and cool_at_all(land.far), land.calmer > 0.3)
    if sum(signs) < DEEP:
        return None
    lighter, greyer, _, softer = signs
    words = [word for word, so in (("lighter", lighter), ("greyer", greyer), ("softer", softer)) if so]
    return Virtue(f"the distance lies far back, {listed(words[:2])} than the ground in front", ())


def value_reach(seen: Seen) -> Virtue | None:
    """Values that reach farther than in most landscapes."""
    values = seen.case.measures.values
    rank = seen.case.percentile("values.range")
    if rank is None or rank < FAR_REACH:
        return None
    low, high = values.percentiles["p5"], values.percentiles["p95"]
    return Virtue(f"its values reach from {low:.1f} to {high:.1f}", ())
