"""Does an even strip run along a side, as a frame or a wall does that a photograph was left with?"""

import numpy as np

from critique.measures.salience import Float
from critique.perception.ranks import middle_colour

OUTERMOST = 0.008  # of the height or width: what is looked at along the side, where a frame is itself alone
WITHIN = (0.025, 0.06)  # of the same: the picture beside it
ALONG = 0.03  # of the side's length: a brush mark or a nail within it doesn't count
STEP = 10.0  # ΔE*ab between the strip and the picture beside it, that a frame's edge has
ALL_ALONG = 0.9  # of the side's length with such a step
EVEN = 0.3  # of the middle step, by which nine in ten parts of the strip differ at most from its middle colour


def framed_sides(lab: Float) -> tuple[str, ...]:
    """The sides of a picture (height, width, 3) that an even strip runs along from end to end."""
    turned = {
        "top": lab,
        "bottom": lab[::-1],
        "left": lab.transpose(1, 0, 2),
        "right": lab.transpose(1, 0, 2)[::-1],
    }
    return tuple(side for side, rows in turned.items() if _strip(rows))


def _strip(lab: Float) -> bool:
    """Whether the first rows are a strip of one colour that steps all along to what lies within."""
    deep, parts = lab.shape[0], max(1, round(1 / ALONG))
    strip = _parts(lab[: max(1, round(OUTERMOST * deep))], parts)
    first, last = (round(way * deep) for way in WITHIN)
    inside = _parts(lab[first : max(last, first + 1)], parts)
    steps = np.linalg.norm(strip - inside, axis=-1)
    uneven = np.linalg.norm(strip - middle_colour(strip), axis=-1)
    return bool((steps >= STEP).mean() >= ALL_ALONG and np.quantile(uneven, 0.9) <= EVEN * np.median(steps))


def _parts(rows: Float, number: int) -> Float:
    """Mean colours (number, 3) of rows (n, width, 3), from end to end."""
    line = rows.mean(axis=0)
    return np.stack([part.mean(axis=0) for part in np.array_split(line, min(number, len(line)))])
