"""How a picture looks under the lamps that it may hang under, and whether its greens die or glare there."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any, Literal

import numpy as np
from numpy.typing import NDArray

from critique.measures.families import Family
from critique.measures.main_colours import main_colours
from critique.measures.measure import measure_picture
from critique.paints.box import PaintBox
from critique.paints.kubelka_munk import mixture_reflectance
from critique.paints.recipes import Recipe, difference_in_words, recipes
from critique.perception.cielab import as_three, lab_to_srgb8, srgb8_to_lab
from critique.perception.difference import delta_e_2000
from critique.perception.hue import YELLOW_GREEN
from critique.perception.lamps import ADAPTATION, LAMPS, Lamp, lab_under
from critique.perception.recovery import recovered
from critique.perception.srgb import Codes, Float, hex_of
from critique.picture.picture import Picture
from critique.plain import json_line, plain
from critique.records import heading
from critique.tasks.gallery_names import named_families
from critique.tasks.gallery_words import text_under, verdict_of_lamps

Array = NDArray[np.float64]
Verdict = Literal["die", "fade", "glare", "gain", "hold", "none"]

NODES = 17  # along each channel of sRGB: between them what a lamp does runs nearly straight
LIKE = 12.0  # ΔE*ab within which a colour is taken for the mixture of a main colour
UNLIKE = 20.0  # ΔE*ab from every mixture at which a level spectrum has as much say
GREEN_MATTERS = 0.02  # of the picture: less green than that neither dies nor glares
DIES, GLARES = 0.75, 1.25  # of its chroma: at C* 40 that is ΔE00 4, seen by anyone who walks in; our choice
ANYONE = 3.0  # ΔE00 that a change of chroma must make beside it: a quarter of next to none is none; our choice
LOST = 0.1  # of the greens' chroma: beyond it they are said to lose or gain; what painters call "a bit", our choice
# ΔE00 that this must make: less than SEEN, for it moves all the greens at once; half the spectra hold it.
OVER_ALL = 1.5

RECOVERED = (
    "Each colour stands for the smoothest spectrum that it can have (Burns, 2020). Held to measured mixtures of "
    "paint, what a lamp does is then right within about ΔE 1.5 for half of them and 4.5 for nineteen in twenty."
)
MIXED = (
    "Colours near those that your paints mix follow the spectra of the mixtures, the others the smoothest spectrum "
    "that they can have (Burns, 2020): right within ΔE 0.5 for half of what was tried, within 2.8 for 19 in 20."
)


@dataclass(frozen=True, slots=True)
class Shift:
    """What becomes of one family: CIELAB and sRGB by daylight and under the lamp, and ΔE00 between them.

    ``name`` is a painter's word for it, ``place`` what it is the colour of, such as "of the sky", or empty.
    """

    name: str
    place: str
    share: float
    lab: tuple[float, float, float]
    lab_under: tuple[float, float, float]
    srgb: str
    srgb_under: str
    difference: float
    text: str


@dataclass(frozen=True, slots=True)
class GreensUnder:
    """What becomes of grass and foliage where it is yellow-green: median chroma by daylight and under the lamp."""

    area_share: float
    chroma: float
    chroma_under: float
    hue: float  # median by daylight, degrees
    turned: float  # median turn of hue in degrees, to yellow below 0 and to blue above
    verdict: Verdict


@dataclass(frozen=True, slots=True, eq=False)
class UnderLamp:
    """The picture under one lamp. ``mean_shift`` is ΔE00 over its area; ``shifts`` run from the farthest on."""

    lamp: Lamp
    mean_shift: float
    shifts: tuple[Shift, ...]
    greens: GreensUnder
    text: str
    offsets: Array = field(metadata={"record": False}, repr=False)  # L*a*b* at the nodes of sRGB

    def preview(self, codes: Codes) -> Codes:
        """The picture, given as sRGB codes (height, width, 3), as it looks under the lamp."""
        return lab_to_srgb8(srgb8_to_lab(codes) + between(self.offsets, codes))


@dataclass(frozen=True, slots=True, eq=False)
class Gallery:
    """A picture under each of the lamps, and by what method."""

    picture: Picture
    lamps: tuple[UnderLamp, ...]
    verdict: tuple[str, ...]
    method: str
    adaptation: str
    mixtures: int  # whose spectra were known

    def as_dict(self) -> dict[str, Any]:
        """The record: what ``gallery.json`` holds."""
        return {**heading(), **plain(self)}

    def as_line(self) -> str:
        """The record as one line of JSON."""
        return json_line(self.as_dict())


def gallery_of(picture: Picture, box: PaintBox | None = None, mixtures: Sequence[Recipe] = ()) -> Gallery:
    """Show a picture under the lamps of a gallery.

    Parameters
    ----------
    box : the painter's own; the picture's main colours then have the spectra of what it mixes.
    mixtures : such as a plan's; they take the box's place.

    Notes
    -----
    A spectrum is found for every colour of the picture, on a grid; a lamp's offset is read off between its nodes. The
    eye is taken to be wholly used to the lamp. [CAT16]
    """
    if box is not None and not mixtures:
        mixtures = recipes(main_colours(picture)[0], box)
    known = _known(mixtures)
    used = _used(picture.drawn)
    nodes = _node_lab()[used]
    spectra = recovered(nodes, _like(nodes, known))
    measures = measure_picture(picture)
    families = measures.families
    named = named_families(picture, measures)
    own = np.array([family.lab for family in families])
    of_families = recovered(own, _like(own, known))
    daylight = np.asarray(picture.lab)
    # A cream cloud lies in the band too, and no one asks a gallery's lamp what it does to that green.
    green = np.asarray(YELLOW_GREEN.contains(daylight)) & measures.reads_as_green.where(daylight.shape)
    lamps = tuple(_under(lamp, picture, nodes, used, spectra, families, named, of_families, green) for lamp in LAMPS)
    method = MIXED if known is not None else RECOVERED
    return Gallery(picture, lamps, verdict_of_lamps(lamps), method, ADAPTATION, len(mixtures))


def between(offsets: Array, codes: Codes) -> Float:
    """Offsets (17, 17, 17, 3) at the sRGB codes (height, width, 3) of a picture, straight between the nodes."""
    from scipy.ndimage import map_coordinates

    at = np.moveaxis(codes.astype(np.float32) * np.float32((NODES - 1) / 255), -1, 0)
    channels = [map_coordinates(offsets[..., axis].astype(np.float32), at, order=1) for axis in range(3)]
    return np.stack(channels, axis=-1)


def _node_lab() -> Array:
    """CIELAB (17, 17, 17, 3) of the nodes; their codes needn't be whole."""
    from critique.perception.cielab import linear_to_lab
    from critique.perception.srgb import decode_srgb

    steps = decode_srgb(np.linspace(0, 1, NODES))
    grid = np.stack(np.meshgrid(steps, steps, steps, indexing="ij"), axis=-1)
    return np.asarray(linear_to_lab(grid.astype(np.float32)), dtype=np.float64)


def _used(codes: Codes) -> NDArray[np.bool_]:
    """Which nodes stand around a colour of the picture."""
    cell = np.minimum(codes.reshape(-1, 3).astype(np.intp) * (NODES - 1) // 255, NODES - 2)
    used = np.zeros((NODES, NODES, NODES), dtype=bool)
    used[tuple(cell.T)] = True
    for axis in range(3):
        used |= np.roll(used, 1, axis=axis)
    return used


def _known(mixtures: Sequence[Recipe]) -> tuple[Array, Array] | None:
    """CIELAB (n, 3) of mixtures by daylight and their spectra (n, 38)."""
    spectra = [mixture_reflectance(one.amounts, one.paints) for one in mixtures if one.amounts]
    return (lab_under(np.stack(spectra)), np.stack(spectra)) if spectra else None


def _like(lab: Array, known: tuple[Array, Array] | None) -> Array | None:
    """What spectrum each colour (n, 3) is to follow: those of mixtures near it, blended."""
    if known is None:
        return None
    apart = ((lab[:, None] - known[0]) ** 2).sum(axis=2)
    weights = np.exp(-apart / (2 * LIKE**2))
    level = float(np.exp(-(UNLIKE**2) / (2 * LIKE**2)))
    z = np.arctanh(np.clip(2 * known[1] - 1, -0.9999, 0.9999))
    return np.asarray((np.tanh(weights @ z / (weights.sum(axis=1) + level)[:, None]) + 1) / 2)


def _under(
    lamp: Lamp,
    picture: Picture,
    nodes: Array,
    used: NDArray[np.bool_],
    spectra: Array,
    families: Sequence[Family],
    named: Sequence[tuple[str, str]],
    of_families: Array,
    green: NDArray[np.bool_],
) -> UnderLamp:
    offsets = np.zeros((NODES, NODES, NODES, 3))
    offsets[used] = lab_under(spectra, lamp.name) - nodes
    moved = picture.lab + between(offsets, picture.srgb)
    shift = float(delta_e_2000(moved, picture.lab).mean())
    shifts = sorted(_shifts(families, named, of_families, lamp), key=lambda one: -one.difference)
    greens = _greens(np.asarray(picture.lab), moved, green)
    return UnderLamp(lamp, shift, tuple(shifts), greens, text_under(lamp, shift, shifts, greens), offsets)


def _shifts(families: Sequence[Family], named: Sequence[tuple[str, str]], spectra: Array, lamp: Lamp) -> list[Shift]:
    found = []
    for family, (name, place), there in zip(families, named, lab_under(spectra, lamp.name), strict=True):
        before = np.asarray(family.lab)
        found.append(
            Shift(
                name,
                place,
                family.share,
                as_three(before),
                as_three(there),
                hex_of(lab_to_srgb8(before.astype(np.float32))),
                hex_of(lab_to_srgb8(there.astype(np.float32))),
                float(delta_e_2000(before, there)),
                difference_in_words(before, there),
            )
        )
    return found


def _greens(before: NDArray[np.floating], after: NDArray[np.floating], green: NDArray[np.bool_]) -> GreensUnder:
    share = float(green.mean())
    if share < GREEN_MATTERS:
        return GreensUnder(share, 0.0, 0.0, 0.0, 0.0, "none")
    first, second = (float(np.median(np.hypot(lab[green][:, 1], lab[green][:, 2]))) for lab in (before, after))
    hues = [np.degrees(np.arctan2(lab[green][:, 2], lab[green][:, 1])) for lab in (before, after)]
    turned = float(np.median((hues[1] - hues[0] + 180) % 360 - 180))
    hue, light = float(np.median(hues[0])) % 360, float(np.median(before[green][:, 0]))
    return GreensUnder(share, first, second, hue, turned, _strength(light, first, second, hue))


def _strength(light: float, first: float, second: float, hue: float) -> Verdict:
    """What to call greens of chroma ``first`` that become ``second``: nothing of what no eye would notice."""
    across, up = np.cos(np.radians(hue)), np.sin(np.radians(hue))
    there = [np.array([light, chroma * across, chroma * up]) for chroma in (first, second)]
    apart, ratio = float(delta_e_2000(there[0], there[1])), second / max(first, 1e-6)
    if apart < OVER_ALL or abs(ratio - 1) <= LOST + 1e-9:
        return "hold"
    if ratio < 1:
        return "die" if ratio <= DIES and apart >= ANYONE else "fade"
    return "glare" if ratio >= GLARES and apart >= ANYONE else "gain"
