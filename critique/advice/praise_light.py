"""The light that a picture has to be praised for: a lit place in the dark, a glow, a way out into the light."""

import numpy as np
from numpy.typing import NDArray

from critique.advice.seen import SOFT, Float, Mask, Seen
from critique.advice.virtue import Virtue
from critique.measures.values import apply_plan
from critique.perception.ranks import median_of
from critique.picture.areas import area_of, areas_apart, same_frame
from critique.picture.one_piece import largest_piece
from critique.picture.places import offsets, roughly, spot

Distances = NDArray[np.float64]  # (height, width) from a place, of the long edge

LIT_SIZES = (0.02, 0.035, 0.06)  # of the long edge: half a figure, a cow, a house across
AROUND = 4.0  # of that size: what lies around
# Values: lighter surroundings leave nothing to shine out of, and over how many that goes.
DARK_AROUND, AT_ALL = 6.0, 2.0
LIT_MARGIN = 0.06  # of the sides: what shines there is at the edge
LIT_BY, LIT_FROM = 2.2, 4.6  # values: lighter than what is around by so much, which is darker than so much
SURROUNDED = 0.7  # of what lies around: darker than half-way to the light, or else it is where a dark ends
BRIGHT, LIGHT = 60, 55.0  # percentile of its values, by which it is named; L* from which that is called a light
TRIED = 3  # of the strongest lights: where one is the sky, the next
ELSEWHERE, MANY = 0.12, 2.0  # of the long edge: another light; of this one's strength, the most that counts
ONE_OF_MANY = 1.4  # of its strength elsewhere: of twelve landscapes with more, readers praised the light in one
LIT_HELD = 1.15  # values, times how far the place holds the eye; of seven landscapes with less two readers praised one
# Middle value of the picture: only where it is dark does a light shine out. Of eleven darker pictures readers signed it in
# nine, of sixteen lighter ones in four.
DARK_PICTURE = 3.5
DEEP_DARK = 30.0  # L*: below it what lies around a light is only dark to the eye
GLOW_SIZE = 0.05  # of the long edge, spread of a Gaussian
SPARK_SIZE, ONE_GLOW = 0.012, 0.15  # of the long edge: the sun itself, and how near it the glow is brightest
GLOW_NEAR, GLOW_FAR = 0.12, (0.3, 0.42)  # of the long edge from its middle: the glow, and where it has faded
GLOW_LIGHT = 62.0  # L* of a glow's middle: a field of red flowers or of brown grass is hot and no light
STANDS_OUT, FADES = 1.0, 2.5  # values from near to far: from the first there is a light, from the second it fades
LIGHTS, WARM, MOSTLY_WARM = 80, 9.5, 0.8  # percentile of the values; b* of what is above; of the chroma that is warm
BLAZING, AT_ALL_WARM = 9.7, 3.0  # values of a patch: the sun itself; b* about it, below which a white is only white
EVEN = 0.3  # values by which the light's own marks differ from it
GOLDEN, THROUGH_LEAVES = 20.0, 0.65  # b* of a light that is seen even through leaves, and by how much they may break it
OPEN_SIZE = 0.03  # of the long edge
OPEN_LIGHT = 80  # percentile of the values: the light that a dark may open on
OPEN_BY = 1.8  # values between that light and either side
BOTH_DARK = 0.6  # of either side, that is darker by so much: where less is, readers saw no dark there
TO_ONE_SIDE, CONTRAST = 0.2, 3.0  # of the width between the middles of the darks and of the lights; values
# Darks that lie round a corner, and open on what is in the other. Of the rest, a dark under a light is what any land has
# under its sky: of six such in 76 landscapes readers named none, of three round a corner two, of eleven to one side nine.
ROUND_A_CORNER = frozenset({"on the left and along the bottom", "on the right and along the bottom"})
OPEN_LEAST, OPEN_MOST = 0.02, 0.35  # of the picture
MOSTLY_SKY = 0.5  # of a light: a sheep amid green is light too, and nothing opens on it


def lit_place(seen: Seen) -> Virtue | None:
    """A light thing among darks."""
    if _middle_value(seen) > DARK_PICTURE:
        return None
    height, width = seen.value.shape
    margin = np.ones((height, width), dtype=bool)
    down, across = round(LIT_MARGIN * height), round(LIT_MARGIN * width)
    margin[down : height - down, across : width - across] = False
    held = seen.held()
    fields, lights = [], []
    for size in LIT_SIZES:
        inside, outside = seen.softened(size * 0.6), seen.softened(size * AROUND)
        lit = (inside - outside) * np.clip((DARK_AROUND - outside) / AT_ALL, 0, 1)
        lit[margin | seen.sky] = 0
        lights.append(lit)
        fields.append(lit * held)
    for _ in range(TRIED):
        size_index, row, column = (int(at) for at in np.unravel_index(int(np.argmax(fields)), np.shape(fields)))
        best, size = float(fields[size_index][row, column]), LIT_SIZES[size_index]
        away = np.hypot(*offsets(seen.value.shape, (column + 0.5) / width, (row + 0.5) / height)) / seen.long_edge
        if best < LIT_HELD:
            return None
        if not _is_sky(seen, away, row, column, size):
            elsewhere = float(np.max(lights, axis=0)[away > max(3 * size, ELSEWHERE)].max(initial=0.0))
            others = elsewhere / max(float(lights[size_index][row, column]), best)
            if others > ONE_OF_MANY:
                return None
            return _lit(seen, away, ((column + 0.5) / width, (row + 0.5) / height), (best, others), size)
        for field in fields:
            field[away <= 3 * size] = 0
    return None


def _is_sky(seen: Seen, away: Distances, row: int, column: int, size: float) -> bool:
    """Whether a light is a gap through which the sky is seen: joined to it by places as light."""
    from scipy.ndimage import binary_dilation, label

    ring = (away > 3 * size) & (away <= 6 * size)
    as_light = (median_of(seen.value[ring]) + float(seen.value[row, column])) / 2
    pieces, _ = label(seen.softened(SOFT) >= as_light)
    piece = pieces == pieces[row, column]
    return bool(pieces[row, column] > 0 and (binary_dilation(piece, iterations=2) & seen.sky).any())


def _lit(seen: Seen, away: Distances, at: tuple[float, float], best: tuple[float, float], size: float) -> Virtue | None:
    """What is said of a light of that size; None where what is around it is light too.

    ``best`` is how strong it is, and how strong beside it the strongest light elsewhere.
    """
    near, ring = away <= 2 * size, (away > 3 * size) & (away <= 6 * size)
    around = median_of(seen.value[ring])
    core = near & (seen.value >= (around + float(seen.value[near].max())) / 2)
    by = median_of(seen.value[core]) - around
    surrounded = float((seen.value[ring] < around + by / 2).mean()) >= SURROUNDED
    if by < LIT_BY or around > LIT_FROM or not surrounded:
        return None
    dark = ring & (seen.value <= around)
    bright = core & (seen.value >= np.percentile(seen.value[core], BRIGHT))
    named = f"the {seen.a_light(bright)}" if seen.warm(bright) else "the light"
    what = named if seen.lightness(bright) >= LIGHT else "the lit place"
    text = f"{what} {roughly(*at)} shines out of the {_shadow(seen, dark)} around it"
    return Virtue(text, (best[0], _middle_value(seen), min(best[1], MANY)), at, seen.hues(bright))


def _shadow(seen: Seen, dark: Mask) -> str:
    """What darks are called that a light stands out of: deep ones have no colour beside it."""
    return "dark" if seen.lightness(dark) < DEEP_DARK else str(seen.colour(dark))


def glow(seen: Seen) -> Virtue | None:
    """One warm light that runs through it, as of a low sun or of haze."""
    light = seen.value >= np.percentile(seen.value, LIGHTS)
    warmth = median_of(seen.lab[light][:, 2])
    soft = seen.softened(GLOW_SIZE)
    row, column = np.unravel_index(int(soft.argmax()), soft.shape)
    height, width = soft.shape
    x, y = (int(column) + 0.5) / width, (int(row) + 0.5) / height
    away = np.hypot(*offsets(soft.shape, x, y)) / seen.long_edge
    near, far = away <= GLOW_NEAR, (away > GLOW_FAR[0]) & (away <= GLOW_FAR[1])
    broken = float(np.abs(seen.value - seen.softened(0.015))[near].mean())
    blazing = float(soft.max()) >= BLAZING and float(seen.lab[near][:, 2].mean()) >= AT_ALL_WARM
    warm = warmth >= WARM and seen.case.measures.hue_peaks.warm_share >= MOSTLY_WARM
    even = THROUGH_LEAVES if warmth >= GOLDEN else EVEN
    if not (warm or blazing) or broken > even or not far.any():
        return None
    fades = float(seen.value[near].mean() - seen.value[far].mean())
    if fades < STANDS_OUT or seen.lightness(near) < GLOW_LIGHT:
        return None
    middle = light & (away <= GLOW_FAR[0])
    centre = seen.light(middle)
    if not seen.warm(middle) and warmth >= GOLDEN:
        centre = "golden"  # light through leaves, which has some of their green
    elif not seen.warm(middle):
        if not blazing:
            return None
        centre = "blazing"
    if centre == "warm grey":  # a grey beside a card, and gold in the picture
        centre = "golden"
    spark = np.unravel_index(int(seen.softened(SPARK_SIZE).argmax()), soft.shape)
    one_place = np.hypot(int(spark[0]) - int(row), int(spark[1]) - int(column)) / seen.long_edge <= ONE_GLOW
    place = f", brightest {roughly(x, y)}," if fades >= FADES and one_place else ""
    text = f"one {centre} light{place} warms it"
    return Virtue(text, (warmth, fades), (x, y), seen.hues(middle))


def opening(seen: Seen) -> Virtue | None:
    """A light that darks on both sides open on."""
    soft = seen.softened(OPEN_SIZE)
    light = largest_piece(soft > np.percentile(soft, OPEN_LIGHT))
    if not light.any():
        return None
    between = _opening_on(seen, soft, light) if OPEN_LEAST <= light.mean() <= OPEN_MOST else None
    return between or _beside(seen)


def _beside(seen: Seen) -> Virtue | None:
    """A dark mass to one side that opens on the light at the other."""
    values = seen.case.measures.values
    tones = apply_plan(values.squinted, values.plan(3))
    dark, light = tones == 0, tones == 2
    if not dark.any() or not light.any():
        return None
    (y_dark, x_dark), (y_light, x_light) = (
        [float(at.mean() + 0.5) / size for at, size in zip(np.nonzero(tone), tone.shape, strict=True)]
        for tone in (dark, light)
    )
    apart = float(values.squinted[light].mean() - values.squinted[dark].mean()) / 10
    where = area_of(dark, claimed=True), area_of(light, claimed=True)
    if abs(x_dark - x_light) < TO_ONE_SIDE or apart < CONTRAST or not all(where) or not areas_apart(*where):
        return None
    if abs(x_dark - x_light) <= abs(y_dark - y_light) and where[0] not in ROUND_A_CORNER:
        return None
    dark, light = same_frame(dark, seen.value.shape), same_frame(light, seen.value.shape)
    text = f"the {seen.a_dark(dark)} {where[0]} opens on the {seen.a_light(light)} {where[1]}"
    signs = (_enclosed(seen.softened(OPEN_SIZE), light), _middle_value(seen))
    return Virtue(text, signs, (x_light, 0.5), seen.hues(dark, light))


def _opening_on(seen: Seen, soft: Float, light: Mask) -> Virtue | None:
    """The virtue of a light that lies between two darks; None where one of them is missing."""
    width = light.shape[1]
    rows = light.any(axis=1)
    columns = np.flatnonzero(light.sum(axis=0) >= 0.25 * light.sum(axis=0).max())
    left, right = int(columns[0]), int(columns[-1]) + 1
    if min(left, width - right) < 0.1 * width:
        return None
    if float(seen.sky[light].mean()) < MOSTLY_SKY and not _reaches_out(light):
        return None
    level = median_of(soft[light])
    sides = [median_of(soft[rows][:, at]) for at in (slice(0, left), slice(right, width))]
    apart = level - max(sides)
    if apart < OPEN_BY:
        return None
    beside = np.zeros_like(light)
    beside[rows, :left] = beside[rows, right:] = True
    dark = beside & (soft <= level - OPEN_BY)
    if min(float(dark[rows][:, at].mean()) for at in (slice(0, left), slice(right, width))) < BOTH_DARK:
        return None
    y, x = (float(at.mean() + 0.5) / size for at, size in zip(np.nonzero(light), light.shape, strict=True))
    text = f"the {seen.a_dark(dark)} on both sides opens on the {seen.a_light(light)} {spot(x, y)}"
    return Virtue(text, (_enclosed(soft, light), _middle_value(seen)), (x, y), seen.hues(dark, light))


def _reaches_out(light: Mask) -> bool:
    """Whether a light goes on beyond the picture, as what is far does, and no thing that stands in it."""
    return bool(light[[0, -1]].any() or light[:, [0, -1]].any())


def _enclosed(soft: Float, light: Mask) -> float:
    """How much of the way round a light the picture's border is darker than it."""
    level = median_of(soft[light])
    border = np.concatenate([soft[0], soft[-1], soft[:, 0], soft[:, -1]])
    return float((border < level - OPEN_BY).mean())


def _middle_value(seen: Seen) -> float:
    return median_of(seen.value)
