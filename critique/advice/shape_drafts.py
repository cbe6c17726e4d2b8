"""Changes of frame, of value and of accent: what is done to the picture's shapes."""

from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from critique.advice.change_light import Gather, LabColour, Widen
from critique.advice.change_shape import Crop, QuietPlace, Touch
from critique.advice.colour_findings import OWN_AREA, OWN_RED
from critique.advice.draft import Draft, Figure
from critique.advice.frame import Frame
from critique.advice.previews import soft_spot
from critique.advice.trial import Trial
from critique.perception.cielab import lab_to_lch, lch_to_lab
from critique.perception.names import colour_name
from critique.picture.places import place_of, spot
from critique.words.aloud import sentence
from critique.words.figures import percent

MOST_CROPPED = 0.3  # of the height that a trial crop may take
GATHERED = 0.45  # of the way that each value is drawn to the middle of its mass; our choice
QUIET_REACH = 0.16  # of the long edge: how far around a pull its contrast is quieted
QUIET_TO = 0.35  # of the contrast that is left at the pull itself
QUIET_DARKER, QUIET_GREYER = 8.0, 0.7  # L* by which it is darkened there, most of a value; of its chroma that stays
ACCENT_AREA = 0.004  # of the picture: a touch, not a field
ACCENT_WIDE = 2.4  # times as wide as high: a brush laid on its side
OWN_AT_FOCUS = 0.15  # of width and height: a red this near the focal place is where the eye settles already
STRONGER = 1.2  # times its chroma when a colour is repeated
ACCENT = (46.0, 38.0, 38.0)  # L*, C*, h: a brick or earth red, the complement that landscapes carry; common practice

HEIGHT = Figure("height of the line", lambda case: case.measures.division.height, percent)
OFF_MIDDLE = Figure(
    "distance from the middle",
    lambda case: abs(case.measures.division.height - 0.5),
    lambda away: percent(away),
    rises=True,
)
RANGE = Figure("range of values", lambda case: case.measures.values.range, lambda value: f"{value:.1f}", rises=True)
SEPARATION = Figure(
    "contrast that three masses hold", lambda case: case.measures.values.plan(3).separation, percent, rises=True
)
PULL = Figure(
    "strongest pull beside the focal place",
    lambda case: case.measures.eyepath.strongest_pull.strength,
    lambda strength: f"{strength:.2f}",
)
RELIEF = Figure("chroma of reds and violets", lambda case: case.measures.greens.relief_share, percent, rises=True)


def crops(trial: Trial, quieted: bool) -> Iterator[Draft]:
    """Crops that bring the line to an offered height, the one that loses least first."""
    division, lab = trial.case.measures.division, trial.lab
    detail = np.abs(np.diff(lab[..., 0], axis=0)).mean(axis=1)
    found = []
    for aim in division.alternatives:
        side = "bottom" if aim > 0.5 else "top"
        cut = 1 - division.height / aim if side == "bottom" else (division.height - aim) / (1 - aim)
        rows = round(len(lab) * cut)
        if 0 < cut <= MOST_CROPPED and rows > 0:
            lost = float(detail[-rows:].mean() if side == "bottom" else detail[:rows].mean())
            found.append((lost * cut, cut, side, aim))
    for _, cut, side, aim in sorted(found):
        text = (
            f"move the line out of the middle. The quickest trial is a crop: cover {percent(cut)} of the picture at the "
            f"{side}, which takes the line toward {percent(aim)} of the height. In a repaint, move the line itself and "
            "keep the format"
        )
        yield Draft.of(
            "move_division",
            Crop(0.0, 0.0, 1.0 - cut, 1.0) if side == "bottom" else Crop(cut, 0.0, 1.0, 1.0),
            sentence(text),
            (HEIGHT, OFF_MIDDLE),
            f"Cropped at the {side}, where the least is lost.",
            redrawn=True,
        )


def widen(trial: Trial, quieted: bool) -> Iterator[Draft]:
    """Spread the values wider."""
    values = trial.case.measures.values
    low, high = 10 * values.percentiles["p5"], 10 * values.percentiles["p95"]
    grow = max(10 * trial.case.norms.at("values.range", 25) - (high - low), 0.0)
    room_below, room_above = max(low - 8, 0.0), max(94 - high, 0.0)
    down = min(room_below, grow * room_below / max(room_below + room_above, 1e-6))
    to_low, to_high = low - down, min(high + grow - down, 94.0)
    text = (
        f"push the darks to about value {to_low / 10:.1f} and the lights to {to_high / 10:.1f}, the darkest darks and "
        "lightest lights only where you want to be looked at"
    )
    yield Draft.of(
        "widen_values",
        Widen(low, high, to_low, to_high),
        sentence(text),
        (RANGE,),
        "The same picture with its values spread wider.",
        redrawn=True,
    )


def gather(trial: Trial, quieted: bool) -> Iterator[Draft]:
    """Draw each value toward the middle of its mass, so that the masses part."""
    plan = trial.case.measures.values.plan(3)
    dark, middle, light = (f"{mean:.1f}" for mean in plan.means)
    text = (
        f"gather the values into three masses, around {dark}, {middle} and {light}. Keep small lights out of the darks and "
        "small darks out of the lights, and let the middle stay in the middle"
    )
    yield Draft.of(
        "gather_values",
        Gather(_tenfold(plan.thresholds), _tenfold(plan.means), GATHERED),
        sentence(text),
        (SEPARATION,),
        "Each value drawn halfway to the middle of its mass; colours as they are.",
        redrawn=True,
    )


def _tenfold(values: tuple[float, ...]) -> tuple[float, ...]:
    """Values as L*."""
    return tuple(10 * value for value in values)


def quiet_edge(trial: Trial, quieted: bool) -> Iterator[Draft]:
    """Soften and darken what pulls at an edge or a corner."""
    pull = trial.case.measures.eyepath.strongest_pull
    lab = trial.lab
    weight = soft_spot(Frame(*lab.shape[:2]), pull.x, pull.y, QUIET_REACH)[..., None]
    L, a, b = (float(part) for part in (lab * weight).sum(axis=(0, 1), dtype=np.float64) / weight.sum())
    calm: LabColour = (L - QUIET_DARKER, a * QUIET_GREYER, b * QUIET_GREYER)
    text = (
        f"quiet the {pull.place}. Bring its lights and darks together, a value darker and greyer than now, until it is "
        "seen last"
    )
    yield Draft.of(
        "quiet_edge",
        QuietPlace(pull.x, pull.y, QUIET_REACH, calm, 1 - QUIET_TO),
        sentence(text),
        (PULL,),
        f"The {pull.place} softened and darkened; all else as it is.",
        redrawn=True,
    )


def accent(trial: Trial, quieted: bool) -> Iterator[Draft]:
    """Put a small touch of the complement where the eye settles: of the picture's own, where it has one."""
    lab, eye = trial.lab, trial.case.measures.eyepath.focus
    own = OWN_RED.contains(lab)
    x, y = eye.x, eye.y
    if own.mean() >= OWN_AREA:
        L, C, h = (float(part) for part in lab_to_lch(np.median(lab[own], axis=0)))
        name = colour_name(lch_to_lab(np.array((L, C, h))))
        red = lch_to_lab(np.array((L, STRONGER * C, h)))
        where = f"{spot(x, y)}, where the eye settles"
        if _lies_at(own, x, y):
            x = 1 - x if abs(x - 0.5) > OWN_AT_FOCUS else 0.25
            where = f"{spot(x, y)}, across from it"
        text = (
            f"let the {name} that the picture has {place_of(own)} answer the green once more, {where}, and a little "
            "stronger. A touch is enough"
        )
        caption = f"A touch of its own {name}, only to show how little it takes."
    else:
        red = lch_to_lab(np.array(ACCENT))
        text = (
            f"let one small red or violet answer the green, {spot(x, y)}, where the eye settles: a roof, a figure, a bare "
            "bank. A touch is enough"
        )
        caption = "A touch of earth red at the focal place, only to show how little it takes."
    yield Draft.of(
        "add_relief",
        Touch(x, y, _reach(*lab.shape[:2]), ACCENT_WIDE, (float(red[0]), float(red[1]), float(red[2]))),
        sentence(text),
        (RELIEF,),
        caption,
        redrawn=True,
    )


def _lies_at(mask: NDArray[np.bool_], x: float, y: float) -> bool:
    """Whether the middle of what is marked lies at a place."""
    rows, columns = np.nonzero(mask)
    away = np.hypot(np.median(columns) / mask.shape[1] - x, np.median(rows) / mask.shape[0] - y)
    return bool(away < OWN_AT_FOCUS)


def _reach(rows: int, columns: int) -> float:
    """How far a touch reaches, of the long edge, to cover its part of a picture of that shape."""
    return float(np.sqrt(ACCENT_AREA * rows * columns / np.pi)) / max(rows, columns)
