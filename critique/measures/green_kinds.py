"""Of what kind a picture's greens are: how they change with distance and with light, and where the strongest lie."""

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from critique.measures.figure import OWN, PRACTICE, Figure, Words
from critique.perception.channels import chroma_of, colours_in
from critique.perception.hue import YELLOW_GREEN, turn
from critique.perception.ranks import median_of, quantiles_of
from critique.picture.picture import Picture, lab_at
from critique.words.figures import number, percent

if TYPE_CHECKING:
    from critique.measures.measure import Measures

KINDS_LONG_EDGE = 400  # px: greens are compared in patches, not in strokes
MATTERS = 0.03  # of the picture: less green than this has no kinds
END = 1 / 3  # of the green that counts as its near or far part, its light or its shade
# C* and degrees over which a colour comes to be a green, so that none does by a hair.
CHROMA_FADES, HUE_FADES = 4.0, 12.0
STRONGEST = 0.05  # of the green: the strongest twentieth
STEP_HUE = 4.0  # degrees below which two parts are alike; our choice
EDGE = 0.08  # of the width and height: what lies this close to an edge lies at it


@dataclass(frozen=True, slots=True)
class GreenPart:
    """Mean colour of a part of the green: value (L*/10), C*ab and CIELAB hue in degrees."""

    value: float
    chroma: float
    hue: float


@dataclass(frozen=True, slots=True)
class GreenKinds:
    """The greens by distance, by light, and their strongest place.

    ``near`` is the third of the green that lies lowest in the picture and ``far`` the third that lies highest, which
    outdoors is mostly farther off. ``lit`` is
    the lightest third and ``shaded`` the darkest; ``warms_in_light`` says whether the lit green is yellower.
    ``strongest_x`` and ``strongest_y`` are the middle of the strongest twentieth, 0–1 from the upper left,
    ``strongest_at_edge`` the share of it that lies at an edge. All None when green covers less than 3 % of the picture.
    """

    near: GreenPart | None
    far: GreenPart | None
    lit: GreenPart | None
    shaded: GreenPart | None
    warms_in_light: bool | None
    strongest_x: float | None
    strongest_y: float | None
    strongest_at_edge: float | None


def measure_green_kinds(picture: Picture) -> GreenKinds:
    """Measure of what kind the yellow-greens of a picture are."""
    lab = lab_at(picture, KINDS_LONG_EDGE)
    inside = YELLOW_GREEN.contains(lab)
    if inside.mean() < MATTERS:
        return GreenKinds(None, None, None, None, None, None, None, None)
    rows, columns = np.nonzero(inside)
    greens = colours_in(lab, inside)
    chroma = chroma_of(greens)
    far, near = _far_and_near(lab)
    shaded, lit = _ends(greens, greens[:, 0])
    strongest = chroma >= quantiles_of(chroma, (1 - STRONGEST,))[0]
    x = (columns[strongest] + 0.5) / lab.shape[1]
    y = (rows[strongest] + 0.5) / lab.shape[0]
    at_edge = (np.minimum(x, 1 - x) < EDGE) | (np.minimum(y, 1 - y) < EDGE)
    return GreenKinds(
        near=near,
        far=far,
        lit=lit,
        shaded=shaded,
        warms_in_light=float(turn(shaded.hue, lit.hue)) < -STEP_HUE,
        strongest_x=median_of(x),
        strongest_y=median_of(y),
        strongest_at_edge=float(at_edge.mean()),
    )


def _ends(greens: NDArray[np.float32], order: NDArray[np.float32]) -> tuple[GreenPart, GreenPart]:
    """The parts of the green (n, 3) at the low and the high end of ``order`` (n,)."""
    low, high = np.quantile(order, END), np.quantile(order, 1 - END)
    return _part(greens[order <= low]), _part(greens[order >= high])


def _far_and_near(lab: NDArray[np.float32]) -> tuple[GreenPart, GreenPart]:
    """The highest and the lowest third of the green of a picture (height, width, 3), by how green each colour is."""
    weight = _how_green(lab)
    total = np.einsum("ij,ijk->ik", weight, lab, dtype=np.float64)  # of each row
    rows = weight.sum(axis=1, dtype=np.float64)
    above = np.cumsum(rows) - rows
    high = np.clip((END * rows.sum() - above) / np.maximum(rows, 1e-9), 0, 1)  # of each row, what belongs to the third
    low = np.clip((above + rows - (1 - END) * rows.sum()) / np.maximum(rows, 1e-9), 0, 1)
    far, near = (_of_mean(part @ total / (part @ rows)) for part in (high, low))
    return far, near


def _how_green(lab: NDArray[np.float32]) -> NDArray[np.float32]:
    """How far each colour lies in the yellow-green band, 0–1: a half on its borders."""
    return YELLOW_GREEN.holds(lab, hue_fades=HUE_FADES, chroma_fades=CHROMA_FADES).astype(np.float32)


def _part(greens: NDArray[np.float32]) -> GreenPart:
    return _of_mean(greens.mean(axis=0, dtype=np.float64))


def _of_mean(lab: NDArray[np.float64]) -> GreenPart:
    L, a, b = (float(part) for part in lab)
    return GreenPart(L / 10, float(np.hypot(a, b)), float(np.degrees(np.arctan2(b, a)) % 360))


_TOO_LITTLE = "too little green"


def _near_far(measures: "Measures") -> str:
    near, far = measures.green_kinds.near, measures.green_kinds.far
    if near is None or far is None:
        return _TOO_LITTLE
    return (
        f"value {number(near.value)}, chroma {number(near.chroma, 0)}; "
        f"value {number(far.value)}, chroma {number(far.chroma, 0)}"
    )


def _light_shade(measures: "Measures") -> str:
    lit, shaded = measures.green_kinds.lit, measures.green_kinds.shaded
    return f"{number(lit.hue, 0, '°')}, {number(shaded.hue, 0, '°')}" if lit and shaded else _TOO_LITTLE


def _strongest(measures: "Measures") -> str:
    x, y = measures.green_kinds.strongest_x, measures.green_kinds.strongest_y
    return f"{percent(x)}, {percent(y)}" if x is not None and y is not None else _TOO_LITTLE


def _chroma_fall(measures: "Measures") -> float:
    near, far = measures.green_kinds.near, measures.green_kinds.far
    return near.chroma - far.chroma if near and far else float("nan")


FIGURES = (
    Figure(name="green_kinds.chroma_fall", unit="C*ab", read=_chroma_fall, norm=True),
    Words(
        page="green_kinds",
        label="Greens below, above",
        meaning="distance usually quiets, lightens and cools green",
        definition="Mean value and chroma of the third of the green that lies lowest in the picture, then of the third "
        "that lies highest.",
        source=PRACTICE,
        told=_near_far,
    ),
    Words(
        page="green_kinds",
        label="Greens in light, in shade",
        meaning="sunlight usually turns green toward yellow",
        definition="Mean hue of the lightest third of the green, then of its darkest third; a difference of less than "
        f"{STEP_HUE:.0f}° counts as none.",
        source=PRACTICE,
        told=_light_shade,
    ),
    Words(
        page="green_kinds",
        label="Where the strongest greens lie",
        meaning="at the focal place they help it, at an edge they draw the eye out",
        definition=f"Middle of the strongest {100 * STRONGEST:.0f} % of the green by chroma, as parts of width and "
        "height.",
        source=OWN,
        told=_strongest,
    ),
)
