"""Which few colours the picture is made of, as a strip and on the wheel."""

from itertools import pairwise
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from critique.measures.families import Family
from critique.perception.hue import LEAF_TOP_CHROMA, LIGHT_WHEEL, YELLOW_GREEN
from critique.report.plates.look import (
    FAINT,
    INK,
    SCREEN_DOTS,
    SURROUND,
    drawing_area,
    drawn,
    grey_hex,
    sheet,
)
from critique.report.plates.plate import Plate
from critique.words.figures import percent

STRIP_SIZE = (1200, 240)  # px
KEY_LINE = 44  # px: height of one family's line in the key
KEY_TYPE = 25  # px
WHEEL_SIZE = (440 * SCREEN_DOTS, 400 * SCREEN_DOTS)  # px: the names stand to the left and right
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


def strip_plate(families: tuple[Family, ...]) -> Plate:
    """Dominant colours side by side, each as wide as its share, with a key under them."""
    width, height = STRIP_SIZE
    rows = -(-len(families) // 2)
    total = height + 24 + rows * KEY_LINE
    figure = sheet(width, total)
    axes = drawing_area(figure, 0, 0, 1, 1)
    axes.set_xlim(0, width)
    axes.set_ylim(total, 0)
    for (left, right), family in zip(_spans(families, width), families, strict=True):
        axes.fill_between([left, right], 0, height, color=family.srgb, linewidth=0)
    for index, family in enumerate(families):
        _draw_key(axes, family, width / 2 * (index // rows), height + 24 + KEY_LINE * (index % rows + 0.5))
    image = drawn(figure)
    listed = "; ".join(f"{family.name}, {family.munsell}, {percent(family.share)}" for family in families)
    caption = "The colours that the picture is made of, each as wide as its share of the area."
    return Plate("families", image, f"Strip of the dominant colours: {listed}.", caption, photographic=False)


def strip_only(plate: Plate) -> Plate:
    """The strip without its key, for a page that has the key as text."""
    image = plate.image.crop((0, 0, *STRIP_SIZE))
    return Plate(plate.name, image, plate.alt, plate.caption, photographic=False)


def wheel_plate(families: tuple[Family, ...]) -> Plate:
    """Dominant colours by hue and chroma on the light wheel; a dot's area is its share."""
    reach = _reach(families)
    figure = sheet(*WHEEL_SIZE)
    axes = drawing_area(figure, 0, 0, 1, 1)
    limit = reach * 1.3
    height = limit * WHEEL_SIZE[1] / WHEEL_SIZE[0]
    axes.set_xlim(-limit, limit)
    axes.set_ylim(-height, height)
    _draw_green_wedge(axes, reach)
    _draw_rings(axes, reach)
    _draw_stations(axes, reach)
    _draw_families(axes, families, reach)
    image = drawn(figure)
    strongest = max(families, key=lambda family: family.lch[1])
    alt = (
        f"The dominant colours on the light wheel, by hue and chroma: the strongest is {strongest.name} "
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


def _draw_key(axes: Any, family: Family, x: float, y: float) -> None:
    from matplotlib.patches import Rectangle

    axes.add_artist(Rectangle((x, y - 14), 28, 28, facecolor=family.srgb, edgecolor="none"))
    axes.text(x + 112, y, percent(family.share), fontsize=KEY_TYPE, ha="right", va="center_baseline")
    axes.text(x + 130, y, f"{family.munsell}   {family.name}", fontsize=KEY_TYPE, va="center_baseline")


def _reach(families: tuple[Family, ...]) -> float:
    strongest = max((family.lch[1] for family in families), default=0.0)
    return float(max(LEAST_REACH, RING_STEP * np.ceil((strongest + 4) / RING_STEP)))


def _draw_rings(axes: Any, reach: float) -> None:
    from matplotlib.patches import Circle

    for chroma in np.arange(RING_STEP, reach + 1, RING_STEP):
        outer = chroma >= reach - 0.5
        axes.add_artist(
            Circle(
                (0, 0),
                chroma,
                facecolor="none",
                edgecolor=INK if outer else FAINT,
                linewidth=(0.9 if outer else 0.8) * SCREEN_DOTS,
            )
        )
        # Between magenta and blue few landscapes have anything: the numbers are in nobody's way there.
        x, y = -chroma * np.sin(np.radians(210)), chroma * np.cos(np.radians(210))
        axes.text(
            x, y, f"{chroma:.0f}", fontsize=12 * SCREEN_DOTS, ha="center", va="center", color=grey_hex(30),
            bbox={"facecolor": SURROUND, "edgecolor": "none", "pad": 3},
        )  # fmt: skip
    axes.plot([-1.2, 1.2], [0, 0], color=INK, linewidth=0.8 * SCREEN_DOTS)
    axes.plot([0, 0], [-1.2, 1.2], color=INK, linewidth=0.8 * SCREEN_DOTS)


def _draw_green_wedge(axes: Any, reach: float) -> None:
    hues = np.linspace(YELLOW_GREEN.start, YELLOW_GREEN.end, 48)
    outer = wheel_place(np.full_like(hues, reach), hues)
    inner = wheel_place(np.full_like(hues, YELLOW_GREEN.least_chroma), hues)
    x, y = (np.concatenate([out, into[::-1]]) for out, into in zip(outer, inner, strict=True))
    axes.fill(x, y, color=grey_hex(74), linewidth=0)
    axes.plot(*wheel_place(np.full_like(hues, LEAF_TOP_CHROMA), hues), color=INK, linewidth=1.4 * SCREEN_DOTS)


def _draw_stations(axes: Any, reach: float) -> None:
    for station in LIGHT_WHEEL:
        x, y = wheel_place(1.0, station.hue)
        turn = np.radians(float(wheel_angle(station.hue)) + np.linspace(-STATION_ARC, STATION_ARC, 20))
        axes.plot(
            reach * np.sin(turn), reach * np.cos(turn), color=STATION_COLOURS[station.name], linewidth=5 * SCREEN_DOTS
        )
        axes.text(
            x * reach * 1.07,
            y * reach * 1.08,
            station.name,
            fontsize=13.5 * SCREEN_DOTS,
            ha="center" if abs(x) < 0.1 else "left" if x > 0 else "right",
            va="bottom" if y > 0.9 else "top" if y < -0.9 else "center",
        )


def _draw_families(axes: Any, families: tuple[Family, ...], reach: float) -> None:
    """Largest first, so that small dots stay on top."""
    from matplotlib.patches import Circle

    largest = reach * 0.23  # radius of a colour that were the whole picture
    for family in sorted(families, key=lambda each: -each.share):
        x, y = (float(part) for part in wheel_place(family.lch[1], family.lch[2]))
        radius = largest * np.sqrt(family.share)
        axes.add_artist(
            Circle((x, y), radius, facecolor=family.srgb, edgecolor=INK, linewidth=0.5 * SCREEN_DOTS, zorder=5)
        )
