"""Which colours a palette reaches at three values, each shown as the colour it is."""

from typing import Any

import numpy as np
from numpy.typing import NDArray

from critique.paints.slices import REACH, GamutSlice
from critique.perception.cielab import lab_to_srgb8
from critique.perception.hue import YELLOW_GREEN, leaf_limit
from critique.report.plates.look import FAINT, INK, SCREEN_DOTS, drawing_area, drawn, grey_hex, sheet
from critique.report.plates.plate import Plate

SIDE = 740  # px of each plane
FINER = 6  # px of the drawing to one cell of the reach
RING_STEP = 20  # C*
SOFTNESS = 1.6  # cells over which the outline is evened: the samples fray it
TOP = 70  # px above the planes, for their values


def gamut_plate(slices: tuple[GamutSlice, ...]) -> Plate:
    """The a*b* plane at each value, side by side, at one scale."""
    width, height = SIDE * len(slices), SIDE + TOP
    reach = _shown_reach(slices)
    figure = sheet(width, height)
    for index, one in enumerate(slices):
        axes = drawing_area(figure, index / len(slices), 0, 1 / len(slices), SIDE / height)
        axes.set_xlim(-reach, reach)
        axes.set_ylim(-reach, reach)
        _draw_plane(axes, one, reach)
        figure.text(
            (index + 0.5) / len(slices), 1 - TOP / 2 / height, f"value {one.value:g}", fontsize=17 * SCREEN_DOTS,
            ha="center", va="center",
        )  # fmt: skip
    image = drawn(figure)
    told = "; ".join(f"at value {one.value:g} up to chroma {one.strongest:.0f}" for one in slices)
    caption = (
        "Every colour that the palette mixes at three values, by a* (to the right, red) and b* (upward, yellow). Rings "
        f"are {RING_STEP} of chroma apart; the arc is the leaf limit at that value in the yellow-green band."
    )
    return Plate("reach", image, f"The reach of the palette on the a*b* plane: {told}.", caption, photographic=False)


def planes_only(plate: Plate, slices: tuple[GamutSlice, ...]) -> tuple[Plate, ...]:
    """The planes one by one, for a page that can put them under each other."""
    return tuple(
        Plate(
            f"reach_{index}",
            plate.image.crop((index * SIDE, 0, (index + 1) * SIDE, plate.height)),
            f"The reach at value {one.value:g}, up to chroma {one.strongest:.0f}.",
            "",
            photographic=False,
        )
        for index, one in enumerate(slices)
    )


def _shown_reach(slices: tuple[GamutSlice, ...]) -> float:
    strongest = max(one.strongest for one in slices)
    return float(min(REACH, max(60.0, RING_STEP * np.ceil((strongest + 6) / RING_STEP))))


def _draw_plane(axes: Any, one: GamutSlice, reach: float) -> None:
    from matplotlib.patches import Circle

    for chroma in np.arange(RING_STEP, reach + 1, RING_STEP):
        axes.add_artist(Circle((0, 0), chroma, facecolor="none", edgecolor=FAINT, linewidth=0.8 * SCREEN_DOTS))
    axes.imshow(
        _coloured(one), extent=(-REACH, REACH, -REACH, REACH), origin="upper", interpolation="bilinear", zorder=2,
        aspect="auto",
    )  # fmt: skip
    axes.plot([-reach, reach], [0, 0], color=grey_hex(45), linewidth=0.5 * SCREEN_DOTS, zorder=3)
    axes.plot([0, 0], [-reach, reach], color=grey_hex(45), linewidth=0.5 * SCREEN_DOTS, zorder=3)
    hues = np.radians(np.linspace(YELLOW_GREEN.start, YELLOW_GREEN.end, 60))
    limit = float(leaf_limit(10 * one.value))
    axes.plot(limit * np.cos(hues), limit * np.sin(hues), color=INK, linewidth=1.4 * SCREEN_DOTS, zorder=4)


def _coloured(one: GamutSlice) -> NDArray[np.uint8]:
    """The plane as RGBA (cells, cells, 4): its own colours where they are in reach, nothing elsewhere."""
    from scipy.ndimage import gaussian_filter, zoom

    soft = zoom(gaussian_filter(one.mask.astype(np.float32), SOFTNESS), FINER, order=1)
    cells = soft.shape[0]
    place = (np.arange(cells) + 0.5) / cells * 2 * REACH - REACH
    lab = np.empty((cells, cells, 3), np.float32)
    lab[..., 0], lab[..., 1], lab[..., 2] = 10 * one.value, place[None, :], -place[:, None]
    opaque = np.clip((soft - 0.5) * FINER + 0.5, 0, 1)
    return np.concatenate([lab_to_srgb8(lab), np.round(255 * opaque[..., None]).astype(np.uint8)], axis=-1)
