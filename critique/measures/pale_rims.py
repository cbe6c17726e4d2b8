"""Does a pale rim run round the things that stand against the sky?"""

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from critique.alike import by_value
from critique.measures.figure import OWN, PULL, Figure, rounded
from critique.measures.finely_seen import fine_planes
from critique.measures.parts import Parts
from critique.measures.rising import rising
from critique.measures.smoothing import Float, gaussian
from critique.perception.channels import length_of
from critique.picture.picture import Picture

SMOOTH = 0.0019  # of the long edge, spread of a Gaussian under the slopes: the teeth of leaves are no outline
SLOPE = 1.6  # L* per px of the viewing size: what rises by less from a thing to the sky is no plain border
# A fine brush leaves a narrow rim, a broad one twice as wide: times the distances below that lie outside a thing.
WIDTHS = (1.0, 1.5, 2.0)
# Of the long edge from the border, into the thing, into the rim and beyond it. A sharpened file has a rim of 1 or 2 px
# of 640, which is less than where this begins.
THING = (-0.004, -0.007, -0.010, -0.014)
RIM = (0.0035, 0.005, 0.0065, 0.008, 0.010, 0.0125)
FOOT = RIM[:2]  # of whatever width: where a rim begins, and a px or two on
FADING = (0.015,)
# Soon beyond its outer edge a rim is gone; the light that a low sun or a haze has over hills fades out over far more.
BEYOND = (0.017, 0.020, 0.0225, 0.025, 0.0275, 0.030, 0.034)
SKY_AT, LAND_AT = (0.0225, 0.0275), -0.014  # of the long edge from the border: where the sky lies, and where it doesn't
FARTHER = (0.037, 0.041, 0.044, 0.047, 0.051)
# Of what a rim is lighter than the sky beyond: lost once more from there to so far on. Beyond rims a sky loses 0.3 of
# that at most, over a ridge at dusk 0.9.
GOES_ON = (0.5, 0.8)
CLOUDED = 0.75  # quantile of what lies beyond: a rim is paler than that, or else it is one cloud of many
# Each from where nothing is a rim to where everything is, so that none is by a hair.
PALER = (3.0, 5.0)  # L* by which it is lighter than the sky beyond
DARKER = (8.0, 15.0)  # L* by which the thing is darker than that sky
# Of the way from the thing to the sky: darker anywhere on the way out, and another thing stands there.
STAYS_LIGHT = 0.6
# L* that a rim gains from its foot on, on average. Those drawn beside a thing gain 0.3 to 3, dabs laid over its border
# lose up to 1; the glow over far hills and the edges of sharpened photographs, lightest at the border, lose 0.8 to 4.2.
GAINS = (-0.6, -0.3)
MORE_COLOUR = 9.0  # C* by which a glow is more colourful than its sky; a rim is paler, or a little warmer
SURE = (0.35, 0.5)  # sureness of the sky: foam on a wave and a fence in the sun have some sky about them
CELLS, NEAR = 100, 0.05  # cells along the long edge; of it, about a place: how much of the outline there has a rim
MOSTLY = 0.6  # of the outline about a place that has a rim, for it to be one and no scrap of cloud
# Of the long edge: as pale as the rim and part of the same thing, the land has a wall or snow so far within, to every
# side. White rims drawn round trees reach 0.016, the walls of a mill 0.02 and more.
WALL = 0.0175
# Of the outlines, and of the long edge, the spread of the rims about their middle: who leaves rims leaves them in more
# places, or round the most of one thing; a lit sail or a gap in the clouds behind one ridge spreads 0.03 to 0.06.
PART, ONE_PLACE = 0.3, 0.07


@by_value
@dataclass(frozen=True, slots=True, eq=False)
class PaleRims:
    """Rims paler than the sky, round darker things.

    ``length`` is how far they run up and down the flanks of things, in long edges of the picture: along level stretches
    a rim and the light over a horizon look alike, and nothing is counted. ``share`` is how much of such outlines has
    one (0–1), ``x`` and ``y`` (0–1) their middle, ``mask`` (height, width) where they run.
    """

    length: float
    share: float
    x: float
    y: float
    mask: NDArray[np.bool_] = field(metadata={"record": False}, repr=False)


@dataclass(frozen=True, slots=True)
class _Borders:
    """Places (n) where a thing ends against the sky, and the direction out into it."""

    y: NDArray[np.intp]
    x: NDArray[np.intp]
    down: Float
    across: Float

    def of(self, chosen: NDArray[np.bool_]) -> "_Borders":
        return _Borders(self.y[chosen], self.x[chosen], self.down[chosen], self.across[chosen])

    def out(self, away: float | Float, shape: tuple[int, ...]) -> tuple[NDArray[np.intp], NDArray[np.intp]]:
        """Rows and columns of the px that lie so many px outward, held within the picture."""
        row = np.rint(self.y + away * self.down).astype(np.intp)
        column = np.rint(self.x + away * self.across).astype(np.intp)
        return np.clip(row, 0, shape[0] - 1), np.clip(column, 0, shape[1] - 1)


def measure_pale_rims(picture: Picture, parts: Parts) -> PaleRims:
    """Measure the rims between things and the sky: bands lighter than both, along most of an outline."""
    sure = float(rising(np.array(parts.sky_sureness), SURE))
    if sure <= 0 or min(picture.height, picture.width) < 3:
        return _none()
    planes = fine_planes(picture)
    sky = parts.mask("sky")
    rows, columns = _places(planes[0], sky)
    found = _borders(planes[0], sky, rows, columns)
    rims = [_of_width(planes, ~sky[rows][:, columns], borders, sure, wide) for wide, borders in found]
    return max(rims, key=lambda found: found.length)


def _none() -> PaleRims:
    return PaleRims(0.0, 0.0, 0.5, 0.5, np.zeros((1, 1), dtype=np.bool_))


def _of_width(planes: Float, land: NDArray[np.bool_], borders: "_Borders", sure: float, wide: float) -> PaleRims:
    """The rims so many times as wide as a narrow one."""
    light = planes[0]
    height, width = light.shape
    long_edge = max(height, width)

    def along(plane: Float, steps: tuple[float, ...], times: float = wide) -> Float:
        return np.stack([plane[borders.out(step * times * long_edge, plane.shape)] for step in steps])

    if borders.y.size == 0:
        return _none()
    thing, rim, beyond = along(light, THING, 1.0), along(light, RIM), along(light, BEYOND)
    of_thing, of_sky = np.median(thing, axis=0), np.median(beyond, axis=0)
    darkest = np.minimum(np.minimum(rim.min(axis=0), along(light, FADING).min(axis=0)), beyond.min(axis=0))
    outline = rising(of_sky - of_thing, DARKER) * (darkest > of_thing + STAYS_LIGHT * (of_sky - of_thing))
    over_sky = rim.max(axis=0) - np.quantile(beyond, CLOUDED, axis=0)
    paler = rising(over_sky, PALER)
    chroma = length_of(planes[1], planes[2])
    brightest = rim.argmax(axis=0), np.arange(rim.shape[1])
    glow = along(chroma, RIM)[brightest] - np.median(along(chroma, BEYOND), axis=0) > MORE_COLOUR
    rimmed = np.asarray(outline * paler * ~glow)
    rimmed *= _mostly(borders, outline, rimmed, long_edge)
    if rimmed.any():
        half = float(rimmed @ (rim.max(axis=0) + of_sky) / (2 * rimmed.sum()))
        rimmed *= ~_on_walls(light > half, land, borders, np.array(RIM)[brightest[0]] * wide)
    flanks, total = float(rimmed @ np.abs(borders.across)), float(outline @ np.abs(borders.across))
    weight = float(rimmed.sum())
    if weight <= 0 or total <= 0 or (flanks < PART * total and _spread(borders, rimmed) < ONE_PLACE * long_edge):
        return _none()
    foot, on = along(light, FOOT, 1.0)
    sure *= float(rising(np.array(rimmed @ (on - foot) / weight), GAINS))
    goes_on = float(rimmed @ (of_sky - np.median(along(light, FARTHER), axis=0)) / (rimmed @ over_sky))
    sure *= 1 - float(rising(np.array(goes_on), GOES_ON))
    return PaleRims(
        length=sure * flanks / long_edge,
        share=flanks / total,
        x=(float(rimmed @ borders.x) / weight + 0.5) / width,
        y=(float(rimmed @ borders.y) / weight + 0.5) / height,
        mask=_shown(borders.of(rimmed > 0), (height, width), wide),
    )


def _on_walls(pale: NDArray[np.bool_], land: NDArray[np.bool_], borders: _Borders, away: Float) -> NDArray[np.bool_]:
    """Whether the rim of each border, so far from it, is of one piece with something as pale that is broad on land."""
    from scipy.ndimage import label, minimum_filter

    within = 2 * round(WALL * max(pale.shape)) + 1
    broad = minimum_filter(pale & land, within, mode="nearest")
    if not broad.any():
        return np.zeros(borders.y.size, dtype=np.bool_)
    pieces, number = label(pale)
    walls = np.zeros(number + 1, dtype=np.bool_)
    walls[pieces[broad]] = True
    return np.asarray(walls[pieces[borders.out(away * max(pale.shape), pale.shape)]])


def _spread(borders: _Borders, weight: Float) -> float:
    """How far the rims lie from their middle, root mean square, px."""
    places = np.stack([borders.y, borders.x])
    return float(np.sqrt(sum(np.average((of - np.average(of, weights=weight)) ** 2, weights=weight) for of in places)))


def _places(light: Float, sky: NDArray[np.bool_]) -> tuple[NDArray[np.intp], NDArray[np.intp]]:
    """For each row and column of the picture that of the smaller mask."""
    rows, columns = (np.arange(size) * part // size for size, part in zip(light.shape, sky.shape, strict=True))
    return rows, columns


def _borders(
    light: Float, sky: NDArray[np.bool_], rows: NDArray[np.intp], columns: NDArray[np.intp]
) -> list[tuple[float, _Borders]]:
    """Where L* rises most steeply from what is no sky to what is, for each width of rim."""
    from scipy.ndimage import uniform_filter

    height, width = light.shape
    long_edge = max(height, width)
    reach = max(1, round(SKY_AT[0] * max(WIDTHS) * max(sky.shape)))
    mixed = uniform_filter(sky.astype(np.float32), 2 * reach + 1)
    slopes: Float = np.array(np.gradient(gaussian(light, SMOOTH * long_edge, truncate=3)), dtype=np.float32)
    slope = length_of(slopes[0], slopes[1])
    y, x = np.nonzero((slope > SLOPE) & ((mixed > 0) & (mixed < 1))[rows][:, columns])
    steep = slope[y, x]
    steepest = _Borders(y, x, slopes[0, y, x] / steep, slopes[1, y, x] / steep)
    crest = (slope[steepest.out(-1, light.shape)] <= steep) & (slope[steepest.out(1, light.shape)] <= steep)
    steepest = steepest.of(crest)

    def ends_in_sky(wide: float) -> NDArray[np.bool_]:
        far = SKY_AT[1] * wide * long_edge
        down, across = steepest.y + far * steepest.down, steepest.x + far * steepest.across
        within = (down >= 0) & (down <= height - 1) & (across >= 0) & (across <= width - 1)
        return np.asarray(within & is_sky(SKY_AT[0] * wide) & is_sky(SKY_AT[1] * wide) & ~is_sky(LAND_AT))

    def is_sky(away: float) -> NDArray[np.bool_]:
        row, column = steepest.out(away * long_edge, light.shape)
        return np.asarray(sky[rows[row], columns[column]])

    return [(wide, steepest.of(ends_in_sky(wide))) for wide in WIDTHS]


def _mostly(
    borders: _Borders, outline: NDArray[np.floating], rimmed: NDArray[np.floating], long_edge: int
) -> NDArray[np.bool_]:
    """Whether most of the outline about each place has a rim."""
    from scipy.ndimage import uniform_filter

    cells = borders.y * CELLS // long_edge, borders.x * CELLS // long_edge
    sums = np.zeros((2, CELLS + 1, CELLS + 1))
    np.add.at(sums[0], cells, outline)
    np.add.at(sums[1], cells, rimmed)
    size = round(2 * NEAR * CELLS) | 1
    of_all, with_rim = (uniform_filter(part, size, mode="constant")[cells] for part in sums)
    return np.asarray(with_rim > MOSTLY * of_all)


def _shown(borders: _Borders, shape: tuple[int, int], wide: float) -> NDArray[np.bool_]:
    """The band that a plate shows, (height, width): from the border out to where a rim ends."""
    from scipy.ndimage import binary_dilation

    band = np.zeros(shape, dtype=np.bool_)
    for away in RIM:
        band[borders.out(away * wide * max(shape), shape)] = True
    return np.asarray(binary_dilation(band, iterations=2))


FIGURES = (
    Figure(
        name="pale_rims.length",
        label="Pale rims against the sky",
        meaning="how far a rim paler than the sky runs round things",
        definition="Length, up and down their flanks, of bands paler than the sky round darker things, in long edges.",
        source=OWN,
        show=rounded(2),
        worth=PULL,
        jumps=True,
    ),
)
