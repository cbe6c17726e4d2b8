"""Do two lights compete: two suns, two white houses, two lit slopes, each far lighter than what lies about it?"""

from collections.abc import Iterator
from dataclasses import dataclass, field
from itertools import combinations, islice

import numpy as np
from numpy.typing import NDArray

from critique.alike import by_value
from critique.measures.figure import LIGHTNESS, OWN, Figure, rounded
from critique.measures.parts import Parts, measure_parts
from critique.measures.salience import Float, blur
from critique.perception.ranks import quantiles_of
from critique.picture.areas import same_frame
from critique.picture.picture import Picture, lab_at

LONG_EDGE = 200  # px
MELTED = 0.012  # of the long edge, spread of a Gaussian: sparkles and strokes melt, a window into its wall
STEP, DARKEST = 2.0, 35.0  # L*: how finely, and how far down, the picture is looked at; darker, nothing is a light
LEAST, MOST = 0.0015, 0.09  # of the picture: smaller is a spark, larger a sky or a field
# What a light stands out from: a ring round it that begins so far off, of the long edge, past the blur, and is so wide,
# of the long edge and, round a large one, of the radius of a disc as large. Almost all of it is darker, by its L*: what
# one side of a light is as light as goes on there, as a sky does.
PAST_BLUR, RING, RING_OF_LARGE, ALMOST_ALL = 0.012, 0.035, 0.8, 0.95
# A large light is stronger than a small one that stands out by as much: by this power of its size, beside one of 1 %.
BY_SIZE, USUAL = 0.25, 0.01
STRONGEST = 16  # of the lights, that are looked at: the weaker ones are neither of the two nor a third
HALF = 0.5  # of what a light stands out by, from its lightest place down: so far it is one's own size and place
# Apart, of the width, and farther to the side than up or down: a sun and its glitter, a house and its reflection
# are one light.
APART = 0.3
AS_LARGE, AS_LIGHT = 0.25, 16.0  # of the larger one, that the smaller has; L* between the lightest places of both
# Others count in full where they are at most so much darker, L*, than the weaker of the two, and not at all where they
# are so much darker; and of the picture, what else may be as light.
NEAR, FAR, AS_LIGHT_ELSEWHERE = 5.0, 25.0, 0.2
# Beside two suns or breaks in the clouds, of which at least so much lies in the sky and whose lightest place is white,
# what isn't in it is lit by them: it counts only where it is about as light as they are themselves.
IN_SKY, WHITE, LIT_NEAR, LIT_FAR = 0.9, 88.0, 0.0, 4.0
JUST_AS_LIGHT = 3.0  # L* below the weaker one
# Of the top edge: two lights that hold more of it between them are one bare sky behind what stands there. Of the two
# breaks in a cloud that strangers put there the widest hold 0.41, of such a sky 0.67.
ALONG_TOP = 0.5
TOP_ROWS = 3  # px that are taken for the top edge
# The limit of the finding. One of 76 landscapes reaches it, the light of its sky to both sides of an avenue, and of 70
# pictures that readers judged one, of which a reader asked that one of its two lights be quieter; of 50 pictures into
# which strangers put two lights, not four, 44 do.
COMPETES = 11.0


@by_value
@dataclass(frozen=True, slots=True, eq=False)
class TwoLights:
    """The two lights that compete most, and how strongly the weaker does; 0 where there aren't two that are alike.

    ``stands_out`` is in L*: what the weaker is lighter by than almost all about it, more for a large one and less
    where a third is nearly as strong; ``step`` is that without either. Places are 0–1 from the left and the top;
    ``lightest`` is the L* of the lightest place of the picture. ``mask`` (height, width) is where the two are.
    """

    stands_out: float
    step: float
    lightest: float
    x1: float
    y1: float
    x2: float
    y2: float
    mask: NDArray[np.bool_] = field(metadata={"record": False}, repr=False)


@dataclass(frozen=True, slots=True, eq=False)
class _Light:
    """A mass that is lighter than what lies about it: down to where it stands out most, and down to half of that.

    Its place and its ``size``, of the picture, are those of the half, and ``in_sky`` is how much of that lies there.
    """

    strength: float
    step: float
    peak: float
    size: float
    x: float
    y: float
    whole: NDArray[np.bool_]
    half: NDArray[np.bool_]
    in_sky: float


def measure_two_lights(picture: Picture, parts: Parts | None = None) -> TwoLights:
    """Look for the two lights, of all masses that stand out of what lies about them.

    ``parts`` are those of the picture, where they have been measured already.
    """
    light = lab_at(picture, LONG_EDGE)[..., 0]
    melted = blur(light, MELTED * max(light.shape))
    sky = same_frame((parts if parts is not None else measure_parts(picture)).mask("sky"), light.shape)
    lights = list(islice(_lights(melted, sky), STRONGEST))
    found = TwoLights(0.0, 0.0, float(melted.max()), 0.5, 0.5, 0.5, 0.5, np.zeros(light.shape, dtype=np.bool_))
    for one, other in combinations(lights, 2):
        alone = min(one.strength, other.strength)
        if alone <= found.stands_out or not _alike(one, other) or not _beside(one, other, light.shape):
            continue
        thirds = (third for third in lights if third is not one and third is not other)
        third = max((_counts(third, one, other) * third.strength for third in thirds), default=0.0)
        competes = alone * (1 - min(third / alone, 1.0) ** 2)
        if competes <= found.stands_out or _are_one_sky(one, other):
            continue
        if _as_light_elsewhere(melted, one, other) <= AS_LIGHT_ELSEWHERE:
            step, mask = min(one.step, other.step), one.half | other.half
            found = TwoLights(competes, step, found.lightest, one.x, one.y, other.x, other.y, mask)
    return found


def _lights(melted: Float, sky: NDArray[np.bool_]) -> Iterator[_Light]:
    """The lights of a picture, none within another, the strongest first.

    At every height of L* each patch that is lighter is held against the ring about it; of those that lie one in another
    the strongest is the light.
    """
    from scipy.ndimage import find_objects, label

    heights = np.arange(float(melted.max()) - STEP, max(float(melted.min()), DARKEST), -STEP)
    patches: list[tuple[float, float, tuple[slice, slice], NDArray[np.bool_]]] = []
    for height in heights:
        pieces, number = label(melted > height)
        shares = np.bincount(pieces.ravel(), minlength=number + 1) / pieces.size
        boxes = find_objects(pieces)
        for piece in np.flatnonzero((shares >= LEAST) & (shares <= MOST) & (np.arange(number + 1) > 0)):
            box = boxes[piece - 1]
            inside = pieces[box] == piece
            step = _stands_out(melted, box, inside)
            if step > 0:
                patches.append((step * float(shares[piece] / USUAL) ** BY_SIZE, step, box, inside))
    taken = np.zeros(melted.shape, dtype=np.bool_)
    for strength, step, box, inside in sorted(patches, key=lambda patch: -patch[0]):
        if not (taken[box] & inside).any():
            taken[box] |= inside
            yield _light(melted, sky, strength, step, box, inside)


def _light(
    melted: Float,
    sky: NDArray[np.bool_],
    strength: float,
    step: float,
    box: tuple[slice, slice],
    inside: NDArray[np.bool_],
) -> _Light:
    whole = np.zeros(melted.shape, dtype=np.bool_)
    whole[box] = inside
    peak = float(melted[whole].max())
    ground = float(melted[whole].mean(dtype=np.float64)) - step
    half = whole & (melted >= peak - HALF * (peak - ground))
    (y, x), (height, width) = np.nonzero(half), half.shape
    x_middle, y_middle = (float((places.mean() + 0.5) / size) for places, size in ((x, width), (y, height)))
    in_sky = float(sky[half].mean())
    return _Light(strength, step, peak, len(y) / half.size, x_middle, y_middle, whole, half, in_sky)


def _stands_out(melted: Float, box: tuple[slice, slice], inside: NDArray[np.bool_]) -> float:
    """L* by which a patch, given in its box, is lighter than almost all of a ring about it."""
    from scipy.ndimage import distance_transform_edt

    long_edge, radius = max(melted.shape), np.sqrt(inside.sum() / np.pi)
    begins = PAST_BLUR * long_edge
    ends = begins + max(RING * long_edge, RING_OF_LARGE * radius)
    reach = int(np.ceil(ends)) + 1
    rows, columns = (
        slice(max(0, side.start - reach), min(size, side.stop + reach))
        for side, size in zip(box, melted.shape, strict=True)
    )
    patch = np.zeros((rows.stop - rows.start, columns.stop - columns.start), dtype=np.bool_)
    patch[
        box[0].start - rows.start : box[0].stop - rows.start,
        box[1].start - columns.start : box[1].stop - columns.start,
    ] = inside
    away = distance_transform_edt(~patch)
    about = melted[rows, columns][(away > begins) & (away <= ends)]
    if not len(about):
        return 0.0
    return float(melted[box][inside].mean(dtype=np.float64)) - quantiles_of(about, (ALMOST_ALL,))[0]


def _alike(one: _Light, other: _Light) -> bool:
    """Whether two lights are of about one size, each down to half of what it stands out by, and as light."""
    return min(one.size, other.size) >= AS_LARGE * max(one.size, other.size) and abs(one.peak - other.peak) <= AS_LIGHT


def _are_one_sky(one: _Light, other: _Light) -> bool:
    """Whether two lights are cut by the top edge and hold most of it."""
    along = [light.half[:TOP_ROWS].any(axis=0) for light in (one, other)]
    return all(cut.any() for cut in along) and float((along[0] | along[1]).mean()) > ALONG_TOP


def _counts(third: _Light, one: _Light, other: _Light) -> float:
    """How much another light counts beside two, 0–1."""
    peak = min(one.peak, other.peak)
    lit = peak >= WHITE and min(one.in_sky, other.in_sky) >= IN_SKY > third.in_sky
    near, far = (LIT_NEAR, LIT_FAR) if lit else (NEAR, FAR)
    return min(max((third.peak - peak + far) / (far - near), 0.0), 1.0)


def _as_light_elsewhere(melted: Float, one: _Light, other: _Light) -> float:
    """How much of the picture is as light as the weaker of two lights, beside these, 0–1."""
    darker = min(float(melted[light.half].mean(dtype=np.float64)) for light in (one, other))
    return float(((melted > darker - JUST_AS_LIGHT) & ~one.whole & ~other.whole).mean())


def _beside(one: _Light, other: _Light, shape: tuple[int, ...]) -> bool:
    """Whether two lights lie apart, and side by side, in a picture of that shape (height, width)."""
    across, down = abs(one.x - other.x) * shape[1], abs(one.y - other.y) * shape[0]
    return across >= APART * shape[1] and across >= down


def lights_compete(lights: TwoLights) -> bool:
    """Whether both are lights to the eye, and no other is."""
    return lights.stands_out >= COMPETES


FIGURES = (
    Figure(
        name="two_lights.stands_out",
        label="Two lights stand out by",
        meaning="0 where there aren't two that are alike, or many",
        definition=(
            "L* by which the weaker of two lights, apart and alike, is lighter than almost all about it; more for a "
            "large one, less where a third is nearly as strong."
        ),
        source=OWN,
        unit="L*",
        show=rounded(0),
        worth=LIGHTNESS,
        jumps=True,
    ),
)
