"""Which few colours the picture is made of, as a strip and on the wheel."""

from collections.abc import Sequence
from functools import lru_cache
from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import ArrayLike, NDArray

from critique.measures.families import Family
from critique.perception.hue import LEAF_TOP_CHROMA, LIGHT_WHEEL, YELLOW_GREEN
from critique.report.plates.look import FAINT, INK, SCREEN_DOTS, SURROUND, grey_hex
from critique.report.plates.marks import area, disc, letters, stroke
from critique.report.plates.plate import Plate
from critique.words.figures import percent

if TYPE_CHECKING:
    from PIL import Image

STRIP_SIZE = (1200, 240)  # px
KEY_LINE = 44  # px: height of one family's line in the key
KEY_TYPE = 25  # px
WHEEL_SIZE = (440 * SCREEN_DOTS, 400 * SCREEN_DOTS)  # px: the names stand to the left and right
MARGIN = 1.3  # times the outermost ring: half the width of the sheet
NUMBER_TYPE, STATION_TYPE = 12 * SCREEN_DOTS, 13.5 * SCREEN_DOTS  # px
REACHES = 3  # wheels that are kept, 2 MB each: landscapes reach to 60, 80 or 100
RING_STEP = 20  # C*
LEAST_REACH = 60  # C* of the outermost ring at least: quiet pictures then look quiet
STATION_ARC = 7  # degrees of the wheel to each side
STATION_COLOURS = {  # the six lights, toned down so that the picture's own colours stay the strongest on the plate
    "yellow": "#cdb93c",
    "red": "#b04a42",
    "magenta": "#a8519a",
    "blue": "#4a52a6",
    "cyan": "#4fa3ab",
    "green": "#559a4c",
}


def strip_plate(families: tuple[Family, ...], words: Sequence[str]) -> Plate:
    """Dominant colours side by side, each as wide as its share, with a key under them.

    ``words`` are what a painter calls each where it stands, as everything else on the page calls it.
    """
    from PIL import Image, ImageDraw

    width, height = STRIP_SIZE
    rows = -(-len(families) // 2)
    image = Image.new("RGB", (width, height + 24 + rows * KEY_LINE), SURROUND)
    draw = ImageDraw.Draw(image)
    for (left, right), family in zip(_spans(families, width), families, strict=True):
        draw.rectangle((round(left), 0, max(round(right) - 1, round(left)), height - 1), fill=family.srgb)
    for index, (family, word) in enumerate(zip(families, words, strict=True)):
        _draw_key(image, family, word, width / 2 * (index // rows), height + 24 + KEY_LINE * (index % rows + 0.5))
    listed = "; ".join(
        f"{word}, {family.munsell}, {percent(family.share)}" for family, word in zip(families, words, strict=True)
    )
    caption = "The colours that the picture is made of, each as wide as its share of the area."
    return Plate("families", image, f"Strip of the dominant colours: {listed}.", caption, photographic=False)


def strip_only(plate: Plate) -> Plate:
    """The strip without its key, for a page that has the key as text."""
    image = plate.image.crop((0, 0, *STRIP_SIZE))
    return Plate(plate.name, image, plate.alt, plate.caption, photographic=False)


def wheel_plate(families: tuple[Family, ...], words: Sequence[str]) -> Plate:
    """Dominant colours by hue and chroma on the light wheel; a dot's area is its share. ``words`` as of the strip."""
    reach = _reach(families)
    image = _wheel(reach).copy()
    _draw_families(image, families, reach)
    strongest, word = max(zip(families, words, strict=True), key=lambda each: each[0].lch[1])
    alt = (
        f"The dominant colours on the light wheel, by hue and chroma: the strongest is {word} "
        f"at chroma {strongest.lch[1]:.0f}."
    )
    caption = (
        "The same colours by hue and, outward, by chroma; a dot is as large as its share. Opposite stations are "
        f"complements. Shaded: the yellow-green band; the arc in it is the highest leaf limit, {LEAF_TOP_CHROMA:.0f}."
    )
    return Plate("colour_circle", image, alt, caption, photographic=False)


def wheel_angle(hue: ArrayLike) -> NDArray[np.float64]:
    """Degrees clockwise from the top of the wheel for CIELAB hues in degrees: the six stations stand 60° apart."""
    stations = sorted(LIGHT_WHEEL, key=lambda station: station.hue)
    clockwise = {station.name: 60.0 * place for place, station in enumerate(LIGHT_WHEEL)}
    hues = np.array([station.hue for station in stations] + [stations[0].hue + 360])
    # CIELAB hue runs against the clock, from the first station once around to itself.
    start = clockwise[stations[0].name]
    angles = start - 60.0 * np.arange(len(hues))
    return np.asarray(np.interp((np.asarray(hue) - hues[0]) % 360 + hues[0], hues, angles) % 360)


def wheel_place(chroma: ArrayLike, hue: ArrayLike) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """x and y on the wheel, in units of C*."""
    angle = np.radians(wheel_angle(hue))
    return np.asarray(chroma * np.sin(angle)), np.asarray(chroma * np.cos(angle))


def _spans(families: tuple[Family, ...], width: int) -> list[tuple[float, float]]:
    edges = np.concatenate([[0.0], np.cumsum([family.share for family in families])])
    edges *= width / max(edges[-1], 1e-9)
    return [(float(left), float(right)) for left, right in pairwise(edges)]


def _draw_key(image: "Image.Image", family: Family, word: str, x: float, y: float) -> None:
    area(image, [(x, y - 14), (x + 28, y - 14), (x + 28, y + 14), (x, y + 14)], family.srgb)
    letters(image, (x + 112, y), percent(family.share), KEY_TYPE, anchor="rm")
    letters(image, (x + 130, y), f"{word}   {family.munsell}", KEY_TYPE, anchor="lm")


def _reach(families: tuple[Family, ...]) -> float:
    strongest = max((family.lch[1] for family in families), default=0.0)
    return float(max(LEAST_REACH, RING_STEP * np.ceil((strongest + 4) / RING_STEP)))


def _on_sheet(x: ArrayLike, y: ArrayLike, reach: float) -> NDArray[np.float64]:
    """Places of the wheel, in units of C*, in px of the sheet: (n, 2)."""
    scale = WHEEL_SIZE[0] / 2 / (reach * MARGIN)
    return np.stack(
        [
            WHEEL_SIZE[0] / 2 + np.atleast_1d(np.asarray(x, dtype=np.float64)) * scale,
            WHEEL_SIZE[1] / 2 - np.atleast_1d(np.asarray(y, dtype=np.float64)) * scale,
        ],
        axis=1,
    )


@lru_cache(maxsize=REACHES)
def _wheel(reach: float) -> "Image.Image":
    """The wheel without colours on it: all pictures of one reach share it."""
    from PIL import Image

    image = Image.new("RGB", WHEEL_SIZE, SURROUND)
    _draw_green_wedge(image, reach)
    _draw_rings(image, reach)
    _draw_stations(image, reach)
    return image


def _draw_rings(image: "Image.Image", reach: float) -> None:
    from PIL import ImageDraw

    middle = _on_sheet(0, 0, reach)[0]
    for chroma in np.arange(RING_STEP, reach + 1, RING_STEP):
        outer = chroma >= reach - 0.5
        radius = float(_on_sheet(chroma, 0, reach)[0, 0] - middle[0])
        width = (0.9 if outer else 0.8) * SCREEN_DOTS
        disc(image, middle, radius, None, edge=width, ink=INK if outer else FAINT)
        # Between magenta and blue few landscapes have anything: the numbers are in nobody's way there.
        turn = np.radians(210)
        x, y = _on_sheet(-chroma * np.sin(turn), chroma * np.cos(turn), reach)[0]
        half = NUMBER_TYPE * (0.35 + 0.25 * len(f"{chroma:.0f}"))
        box = (x - half, y - NUMBER_TYPE * 0.6, x + half, y + NUMBER_TYPE * 0.6)
        ImageDraw.Draw(image).rectangle(box, fill=SURROUND)
        letters(image, (x, y), f"{chroma:.0f}", NUMBER_TYPE, colour=grey_hex(30))
    for across, up in (([-1.2, 1.2], [0, 0]), ([0, 0], [-1.2, 1.2])):
        stroke(image, _on_sheet(across, up, reach), 0.8 * SCREEN_DOTS)


def _draw_green_wedge(image: "Image.Image", reach: float) -> None:
    hues = np.linspace(YELLOW_GREEN.start, YELLOW_GREEN.end, 48)
    outer = wheel_place(np.full_like(hues, reach), hues)
    inner = wheel_place(np.full_like(hues, YELLOW_GREEN.least_chroma), hues)
    x, y = (np.concatenate([out, into[::-1]]) for out, into in zip(outer, inner, strict=True))
    area(image, _on_sheet(x, y, reach), grey_hex(74))
    leaf = wheel_place(np.full_like(hues, LEAF_TOP_CHROMA), hues)
    stroke(image, _on_sheet(*leaf, reach), 1.4 * SCREEN_DOTS)


def _draw_stations(image: "Image.Image", reach: float) -> None:
    for station in LIGHT_WHEEL:
        x, y = (float(part) for part in wheel_place(1.0, station.hue))
        turn = np.radians(float(wheel_angle(station.hue)) + np.linspace(-STATION_ARC, STATION_ARC, 20))
        arc = _on_sheet(reach * np.sin(turn), reach * np.cos(turn), reach)
        stroke(image, arc, 5 * SCREEN_DOTS, STATION_COLOURS[station.name])
        across = "m" if abs(x) < 0.1 else "l" if x > 0 else "r"
        down = "b" if y > 0.9 else "t" if y < -0.9 else "m"
        place = _on_sheet(x * reach * 1.07, y * reach * 1.08, reach)[0]
        letters(image, place, station.name, STATION_TYPE, anchor=across + down)


def _draw_families(image: "Image.Image", families: tuple[Family, ...], reach: float) -> None:
    """Largest first, so that small dots stay on top."""
    scale = WHEEL_SIZE[0] / 2 / (reach * MARGIN)
    largest = reach * 0.23  # radius of a colour that were the whole picture
    for family in sorted(families, key=lambda each: -each.share):
        place = _on_sheet(*wheel_place(family.lch[1], family.lch[2]), reach)[0]
        disc(image, place, largest * float(np.sqrt(family.share)) * scale, family.srgb, edge=0.5 * SCREEN_DOTS)
