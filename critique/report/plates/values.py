"""What the picture is in two, three and five values, and how its values are spread."""

from collections.abc import Sequence
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from critique.measures.values import ValuePlan, Values, apply_plan
from critique.picture.picture import Picture
from critique.report.plates.look import INK, SCREEN_DOTS, SURROUND, grey, grey_hex
from critique.report.plates.marks import disc, letters, stroke
from critique.report.plates.photograph import plate_size
from critique.report.plates.plate import Plate
from critique.words.figures import number, percent

if TYPE_CHECKING:
    from PIL import Image

PLAN_LONG_EDGE = 760  # px: three plans stand side by side
PLAN_WORDS = {2: "two", 3: "three", 5: "five"}
BINS = 50  # of the histogram: a fifth of a value each
HISTOGRAM_SIZE = (460 * SCREEN_DOTS, 310 * SCREEN_DOTS)  # px
MARGIN = (0.035, 0.02)  # of the sheet's width and height, on every side
ACROSS, UP = (-0.05, 10.05), (-0.35, 1.16)  # values, and heights of the heap, that the sheet spans within its margin


def plan_plates(picture: Picture, values: Values, numbers: Sequence[int]) -> tuple[Plate, ...]:
    """The squinted picture in a few flat masses, each in the grey of its mean value; one plate a number."""
    from PIL import Image

    squinted = Image.fromarray(np.array(values.squinted, dtype=np.float32))
    smooth = np.asarray(squinted.resize(plate_size(picture, PLAN_LONG_EDGE), Image.Resampling.BICUBIC))
    return tuple(_plan_plate(smooth, values.plan(levels)) for levels in numbers)


def plan_plate(picture: Picture, values: Values, levels: int) -> Plate:
    """The same for one number of masses."""
    return plan_plates(picture, values, (levels,))[0]


def _plan_plate(smooth: NDArray[np.float32], plan: ValuePlan) -> Plate:
    from PIL import Image

    image = Image.fromarray(apply_plan(smooth, plan).astype(np.uint8)).convert("P")
    image.putpalette([int(code) for mean in plan.means for code in np.repeat(grey(mean * 10), 3)])
    return Plate(f"values_{plan.levels}", image, _plan_alt(plan), _plan_caption(plan), photographic=False)


def histogram_plate(picture: Picture, values: Values) -> Plate:
    """How much of the picture lies at each value, over the painter's scale of 0 to 10."""
    share = np.histogram(picture.lab[..., 0], bins=BINS, range=(0, 100))[0] / picture.lab[..., 0].size
    image = _scale().copy()
    _draw_heap(image, share / max(float(share.max()), 1e-9))
    _draw_span(image, values)
    p = values.percentiles
    alt = (
        f"Histogram of value from 0 (black) to 10 (white): nine tenths of the picture lie between {number(p['p5'])} "
        f"and {number(p['p95'])}, half of it below {number(p['p50'])}."
    )
    caption = "How much lies at each value. The bar above spans nine tenths of the picture; its dot is the middle."
    return Plate("value_histogram", image, alt, caption, photographic=False)


def _px(value: float, height: float) -> tuple[float, float]:
    """Where a value and a height of the heap lie on the sheet, in px."""
    x, y = (value - ACROSS[0]) / (ACROSS[1] - ACROSS[0]), (UP[1] - height) / (UP[1] - UP[0])
    width, tall = HISTOGRAM_SIZE
    return width * (MARGIN[0] + (1 - 2 * MARGIN[0]) * x), tall * (MARGIN[1] + (1 - 2 * MARGIN[1]) * y)


def _draw_heap(image: "Image.Image", heights: NDArray[np.float64]) -> None:
    """Each column in the grey that it counts, under one ink outline."""
    from PIL import ImageDraw

    draw = ImageDraw.Draw(image)
    edges = np.linspace(0, 10, BINS + 1)
    outline = [_px(0, 0)]  # level and upright lines alone: nothing to be smoothed
    for start, end, height in zip(edges[:-1], edges[1:], heights, strict=True):
        left, right = _px(start, height), _px(end, height)
        if height > 0:
            draw.rectangle((*map(round, left), round(right[0]), round(_px(0, 0)[1])), fill=grey_hex((start + end) * 5))
        outline += [left, right]
    draw.line([(round(x), round(y)) for x, y in [*outline, _px(10, 0)]], fill=INK, width=SCREEN_DOTS)


@lru_cache(maxsize=1)
def _scale() -> "Image.Image":
    """The sheet with the value scale under the heap, as painters mix it: eleven chips; one for all."""
    from PIL import Image, ImageDraw

    image = Image.new("RGB", HISTOGRAM_SIZE, SURROUND)
    draw = ImageDraw.Draw(image)
    for value in range(11):
        left, right = max(value - 0.5, 0), min(value + 0.5, 10)
        corners = (*map(round, _px(left, -0.04)), *map(round, _px(right, -0.15)))
        draw.rectangle(corners, fill=grey_hex(value * 10))
        letters(image, _px((left + right) / 2, -0.19), str(value), 17 * SCREEN_DOTS, anchor="mt")
    corner = [_px(0, -0.04), _px(10, -0.04), _px(10, -0.15), _px(0, -0.15)]
    stroke(image, [*corner, *corner[:2]], 0.6 * SCREEN_DOTS)
    return image


def _draw_span(image: "Image.Image", values: Values) -> None:
    p = values.percentiles
    stroke(image, [_px(p["p5"], 1.1), _px(p["p95"], 1.1)], 1.1 * SCREEN_DOTS)
    for end in ("p5", "p95"):
        stroke(image, [_px(p[end], 1.075), _px(p[end], 1.125)], 1.1 * SCREEN_DOTS)
    disc(image, _px(p["p50"], 1.1), 3.5 * SCREEN_DOTS, INK)


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
