"""What the picture is in two, three and five values, and how its values are spread."""

from typing import Any

import numpy as np

from critique.measures.values import ValuePlan, Values, apply_plan
from critique.picture.picture import Picture
from critique.report.plates.look import INK, SCREEN_DOTS, drawing_area, drawn, grey, grey_hex, sheet
from critique.report.plates.photograph import plate_size
from critique.report.plates.plate import Plate
from critique.words.figures import number, percent

PLAN_LONG_EDGE = 760  # px: three plans stand side by side
PLAN_WORDS = {2: "two", 3: "three", 5: "five"}
BINS = 50  # of the histogram: a fifth of a value each
HISTOGRAM_SIZE = (460 * SCREEN_DOTS, 310 * SCREEN_DOTS)  # px


def plan_plate(picture: Picture, values: Values, levels: int) -> Plate:
    """The squinted picture in a few flat masses, each in the grey of its mean value."""
    from PIL import Image

    plan = values.plan(levels)
    squinted = Image.fromarray(np.array(values.squinted, dtype=np.float32))
    smooth = squinted.resize(plate_size(picture, PLAN_LONG_EDGE), Image.Resampling.BICUBIC)
    image = Image.fromarray(apply_plan(np.asarray(smooth), plan).astype(np.uint8)).convert("P")
    image.putpalette([int(code) for mean in plan.means for code in np.repeat(grey(mean * 10), 3)])
    return Plate(f"values_{levels}", image, _plan_alt(plan), _plan_caption(plan), photographic=False)


def histogram_plate(picture: Picture, values: Values) -> Plate:
    """How much of the picture lies at each value, over the painter's scale of 0 to 10."""
    share = np.histogram(picture.lab[..., 0], bins=BINS, range=(0, 100))[0] / picture.lab[..., 0].size
    figure = sheet(*HISTOGRAM_SIZE)
    axes = drawing_area(figure, 0.035, 0.02, 0.93, 0.96)
    axes.set_xlim(-0.05, 10.05)
    axes.set_ylim(-0.35, 1.16)
    _draw_heap(axes, share / max(float(share.max()), 1e-9))
    _draw_scale(axes)
    _draw_span(axes, values)
    image = drawn(figure)
    p = values.percentiles
    alt = (
        f"Histogram of value from 0 (black) to 10 (white): nine tenths of the picture lie between {number(p['p5'])} "
        f"and {number(p['p95'])}, half of it below {number(p['p50'])}."
    )
    caption = "How much lies at each value. The bar above spans nine tenths of the picture; its dot is the middle."
    return Plate("value_histogram", image, alt, caption, photographic=False)


def _draw_heap(axes: Any, heights: np.ndarray[Any, np.dtype[np.float64]]) -> None:
    """Each column in the grey that it counts, under one ink outline."""
    from matplotlib.collections import PolyCollection

    edges = np.linspace(0, 10, BINS + 1)
    middles = (edges[:-1] + edges[1:]) * 5
    right = edges[:-1] + 10 / BINS + 0.01  # a hair over the next, so that no ground shows between them
    columns = [
        [(start, 0), (end, 0), (end, height), (start, height)]
        for start, end, height in zip(edges[:-1], right, heights, strict=True)
    ]
    axes.add_collection(PolyCollection(columns, facecolors=[grey_hex(L) for L in middles], linewidths=0), autolim=False)
    axes.stairs(heights, edges, color=INK, linewidth=1.1 * SCREEN_DOTS)


def _draw_scale(axes: Any) -> None:
    """The value scale under the heap, as painters mix it: eleven chips."""
    from matplotlib.patches import Rectangle

    for value in range(11):
        left, right = max(value - 0.5, 0), min(value + 0.5, 10)
        axes.add_artist(Rectangle((left, -0.15), right - left, 0.11, facecolor=grey_hex(value * 10), edgecolor="none"))
        axes.text((left + right) / 2, -0.19, str(value), ha="center", va="top", fontsize=17 * SCREEN_DOTS)
    axes.add_artist(Rectangle((0, -0.15), 10, 0.11, facecolor="none", edgecolor=INK, linewidth=0.6 * SCREEN_DOTS))


def _draw_span(axes: Any, values: Values) -> None:
    p = values.percentiles
    axes.plot([p["p5"], p["p95"]], [1.1, 1.1], color=INK, linewidth=1.1 * SCREEN_DOTS)
    for end in ("p5", "p95"):
        axes.plot([p[end], p[end]], [1.075, 1.125], color=INK, linewidth=1.1 * SCREEN_DOTS)
    axes.plot([p["p50"]], [1.1], marker="o", markersize=7 * SCREEN_DOTS, color=INK)


def _plan_caption(plan: ValuePlan) -> str:
    masses = ", ".join(
        f"{number(mean)} ({percent(share)})" for mean, share in zip(plan.means, plan.shares, strict=True)
    )
    name = "Notan" if plan.levels == 2 else f"{PLAN_WORDS[plan.levels].capitalize()} masses"
    return f"{name}, dark to light: {masses}."


def _plan_alt(plan: ValuePlan) -> str:
    masses = ", ".join(
        f"value {number(mean)} over {percent(share)} of the area"
        for mean, share in zip(plan.means, plan.shares, strict=True)
    )
    return f"The picture reduced to {PLAN_WORDS[plan.levels]} values: {masses}."
