"""Changes that follow the masses: gather values, quiet what is loud or pulls, open darks, wake colour."""

from collections.abc import Iterator

import numpy as np

from critique.advice.change_guided import DARK_UNTIL, HUE_GONE, Hush, OpenDarks, QuietThing, Settle, Wake
from critique.advice.colour_findings import loudest_told
from critique.advice.draft import Draft, Figure
from critique.advice.eye_findings import sides_of_frame
from critique.advice.fault_limits import darks_seen_as, is_raw_spot, stands_alone
from critique.advice.gives_way import gives_way
from critique.advice.guiding import WORKED_AT, guide, guided_mask, resized
from critique.advice.small_map import SmallMap
from critique.advice.surroundings import surroundings, within
from critique.advice.trial import Trial
from critique.measures.closed_darks import measure_closed_darks
from critique.measures.detail import measure_detail
from critique.measures.loudest import measure_loudest, usual_chroma
from critique.measures.masses import how_gathered
from critique.perception.channels import chroma_of
from critique.perception.hue import hue_of, turn
from critique.perception.ranks import middle_colour, quantiles_of
from critique.picture.picture import lab_at
from critique.picture.places import offsets, spot
from critique.words.aloud import sentence
from critique.words.figures import percent

# Half a window and what is no edge in it, for masses told by colour more than by value: confetti is of value alone.
MASS_REACH, MASS_SOFTNESS = 0.055, (26.0, 3.5, 3.5)
CALM_REACH, CALM_SOFTNESS = 0.03, (14.0, 8.0, 8.0)  # for brush marks to be calmed and shapes to be kept
PARTED = 1.3  # times as far from the middle: masses that are drawn together lose contrast between them
SETTLED = 0.85  # of the way to the mass; our choice
# The same of what is equal all over: in value toward the darker and toward the lighter, and in colour. A busy foreground is
# joined no more: of 72 judgements of such pairs, joined in three ways, 42 were for its marks left crisp and 22 for the other.
RESTED = (0.82, 0.82, 0.78)
THING_REACH, THING_APART = 0.11, 14.0  # of the long edge, and ΔE*ab from what surrounds it that makes a thing
QUIETED = (0.6, 0.85)  # of the way to its surroundings: a thing that pulls is still there afterwards
QUIET_APART = (25.0, 50.0)  # ΔE*ab from them: what stands out less goes the lesser way; our choice
STROKES_KEPT = 0.75  # of a thing's own contrast: a smear pulls as a hole does
# Of the usual most, of the excess that is left, of the way; our choice.
LOUD_START, LOUD_RATIO, LOUD_PART = 0.42, 0.22, 0.3
# Of the picture: a patch goes into its surroundings, a field, such as a sky, stays itself.
LOUD_PATCH, LOUD_FIELD = 0.02, 0.10
LEAST_LOUD = 1.1  # of the usual most: another photograph moves it by a tenth, and what is hardly louder won nothing
ALL_ELSE = 0.995  # of what lies away from a raw spot: quieting the spot leaves so much of it alone
LOUD_BY, LOUD_AMOUNT = (1.0, 1.3), (0.6, 1.0)  # of the usual most: what is hardly too loud is quieted by so much less
# Of the usual most: how loud a field is, what its strongest comes to, and how far below that it is quieted from. What is
# hardly too loud, as a sunset is, stays near that; no large field of 76 landscapes has more than 0.96, most 0.4 to 0.9.
FIELD_BY, FIELD_LEFT, FIELD_START = (LEAST_LOUD, 1.5), (0.95, 0.65), 0.25
OPENED_LIFT, OPENED_COLOUR = 10.0, 0.45  # L* and part of the colour around; our choice
OPENED_UNDER = 4.0  # L*: darks up to there are lifted in full; our choice
OWN_REACH = 0.03  # of the long edge: about so much of a dark its strokes are told by
WOKEN, MOST_GAIN = 17.0, 4.0  # C* of the strongest tenth that colour is woken to, at most so many times; our choice

SCRAPS = Figure(
    "values by which small marks stand out of the big shapes",
    lambda case: how_gathered(case.picture).scraps,
    lambda scraps: f"{scraps / 10:.2f}",
)
LOUDNESS = Figure(
    "strength of the loudest colour (1 is the most that landscapes have)",
    lambda case: measure_loudest(case.picture).excess,
    lambda excess: f"{excess:.2f}",
)
ALONE = Figure(
    "how far the loudest colour stands alone (1.3 is the most that landscapes have)",
    lambda case: measure_loudest(case.picture).alone,
    lambda alone: f"{alone:.1f}",
)
CLOSED = Figure("closed darks", lambda case: measure_closed_darks(case.picture).share, percent)
ONE_BLACK = Figure("the near-black mass", lambda case: measure_closed_darks(case.picture).one_black_covers, percent)
STRONG = Figure(
    "chroma of the strongest tenth of the picture",
    lambda case: measure_loudest(case.picture).strong,
    lambda chroma: f"{chroma:.0f}",
    rises=True,
    record="loudest.strong",
)
PULL = Figure(
    "strongest pull at an edge (1 is that of the focal place)",
    lambda case: case.measures.eyepath.strongest_pull.strength,
    lambda strength: f"{strength:.2f}",
    record="eyepath.strongest_pull.strength",
)
EVENNESS = Figure(
    "detail where it is quietest, as part of that where it is busiest",
    lambda case: measure_detail(case.picture).evenness,
    percent,
)


def gather(trial: Trial, quieted: bool) -> Iterator[Draft]:
    """Draw scattered values to the masses that colour and place make."""
    lab = lab_at(trial.case.picture, WORKED_AT)
    middle = float(lab[..., 0].mean())
    parted = np.clip(middle + (lab[..., 0] - middle) * PARTED, 4, 97)
    yield Draft.of(
        "gather_values",
        Settle(SETTLED, SETTLED, 0.0, guide(lab, parted, MASS_REACH, MASS_SOFTNESS)),
        sentence(
            "gather the values. Decide for each mass (sky, trees, ground, water) whether it is light, middle or dark, "
            "and repaint the scraps in it that belong to another, small lights in the darks first"
        ),
        (SCRAPS,),
        "Each mass brought together in value; its colours as they are.",
        redrawn=True,
    )


def rest_for_eye(trial: Trial, quieted: bool) -> Iterator[Draft]:
    """Leave the marks at the focal place, and join them elsewhere."""
    focus = trial.case.measures.eyepath.focus
    lab = lab_at(trial.case.picture, WORKED_AT)
    height, width = lab.shape[:2]
    down, across = np.mgrid[:height, :width]
    away = np.hypot((down + 0.5) / height - focus.y, ((across + 0.5) / width - focus.x)) / 0.35
    lines = [guide(lab, lab[..., channel], CALM_REACH, CALM_SOFTNESS) for channel in range(3)]
    cells = [np.frombuffer(one.data, np.float16).reshape(one.rows, one.columns, -1) for one in lines]
    masses = SmallMap.of(np.concatenate(cells, axis=-1).astype(np.float32))
    yield Draft.of(
        "rest_for_eye",
        Settle(*RESTED, masses, SmallMap.of(np.clip(away - 0.3, 0, 1))),
        sentence(
            f"give the eye a rest. Keep small marks {spot(focus.x, focus.y)}, where it settles, and join them elsewhere into "
            "larger strokes, the sky and the ground most"
        ),
        (EVENNESS,),
        "The marks joined away from the focal place.",
        redrawn=True,
    )


def quiet_edge(trial: Trial, quieted: bool) -> Iterator[Draft]:
    """Bring what pulls at an edge or a corner nearer to what surrounds it."""
    pull = trial.case.measures.eyepath.strongest_pull
    if sides_of_frame(trial.case.picture, pull):
        return  # nobody repaints a frame
    if not _within_reach(trial, pull.x, pull.y):
        return  # a hole in the middle of a long one would pull no less
    parameters = _quiet(trial, pull.x, pull.y)
    if parameters is None:
        return
    yield Draft.of(
        "quiet_edge",
        parameters,
        sentence(
            f"quiet the {pull.place}. Mix what stands there toward the colour and value of what is around it, and let its "
            "edges go soft, until it is seen last"
        ),
        (PULL,),
        f"What pulls at the {pull.place} brought near its surroundings; all else as it is.",
        redrawn=True,
    )


def quiet_second(trial: Trial, quieted: bool) -> Iterator[Draft]:
    """Bring the second of two places that compete nearer to what surrounds it."""
    one, other = trial.case.measures.eyepath.rivals
    (x, y), _ = gives_way((one.x, one.y), (other.x, other.y))
    parameters = _quiet(trial, x, y) if _within_reach(trial, x, y) else None  # half a tower gone pale is a smear
    if parameters is None:
        return

    yield Draft.of(
        "quiet_second",
        parameters,
        sentence(
            f"let one of the two places lead. Quiet what stands {spot(x, y)}: nearer in value and colour to what is around "
            "it, and softer at its edges"
        ),
        (
            Figure(
                "how much the weaker of two places stands out beside all else",
                lambda case: case.measures.eyepath.rivalry,
                lambda strength: f"{strength:.2f}",
            ),
        ),
        "The second place brought near its surroundings.",
        redrawn=True,
    )


def _within_reach(trial: Trial, x: float, y: float) -> bool:
    """Whether the shape of one colour at a place is small enough to be quieted whole."""
    from scipy.ndimage import label

    lab = lab_at(trial.case.picture, WORKED_AT)
    height, width = lab.shape[:2]
    row, column = min(int(y * height), height - 1), min(int(x * width), width - 1)
    pieces, _ = label(np.linalg.norm(lab - lab[row, column], axis=-1) < THING_APART)
    away = np.hypot(*offsets(lab.shape, x, y)) / max(height, width)
    return bool(away[pieces == pieces[row, column]].max() <= THING_REACH)


def _quiet(trial: Trial, x: float, y: float) -> QuietThing | None:
    lab = lab_at(trial.case.picture, WORKED_AT)
    away = np.hypot(*offsets(lab.shape, x, y)) / max(lab.shape[:2])
    spot_there = np.clip(1.6 - away / THING_REACH, 0, 1)
    around = surroundings(lab, (away < THING_REACH).astype(np.float32))
    apart = np.linalg.norm(lab - around, axis=-1) / THING_APART
    thing = np.clip(apart - 0.5, 0, 1) * spot_there
    if thing.max() < 0.3:
        return None
    whole = np.clip(2 * thing, 0, 1)
    around, own = surroundings(lab, whole), surroundings(lab, 1 - whole)
    apart = float(np.average(np.linalg.norm(own - around, axis=-1), weights=whole))
    part = float(np.interp(apart, QUIET_APART, QUIETED))
    return QuietThing(
        x, y, THING_REACH, part, STROKES_KEPT, guided_mask(lab, thing), SmallMap.of(own), SmallMap.of(around)
    )


def quiet_loudest(trial: Trial, quieted: bool) -> Iterator[Draft]:
    """Quiet a garish colour toward its neighbours."""
    loud = measure_loudest(trial.case.picture)
    if loud.share == 0 or (loud.excess < LEAST_LOUD and not stands_alone(loud)):
        return
    lab = lab_at(trial.case.picture, WORKED_AT)
    mask = resized(loud.mask, lab.shape)
    usual = float(usual_chroma(np.array([loud.hue]))[0])
    patch = 1 - float(np.clip((loud.share - LOUD_PATCH) / (LOUD_FIELD - LOUD_PATCH), 0, 1))
    field_left = float(np.interp(loud.excess, FIELD_BY, FIELD_LEFT))
    start = min((LOUD_START * patch + (field_left - FIELD_START) * (1 - patch)) * usual, 0.7 * loud.chroma)
    if is_raw_spot(loud) or stands_alone(loud):  # what is as strong of its hue in the rest of the picture stays
        from scipy.ndimage import binary_dilation

        alike = np.abs(turn(loud.hue, hue_of(lab[..., 1], lab[..., 2]))) <= HUE_GONE
        start = max(
            start,
            quantiles_of(np.where(alike, chroma_of(lab), 0)[~binary_dilation(mask > 0, iterations=5)], (ALL_ELSE,))[0],
        )
    left = np.clip((field_left * usual - start) / max(loud.chroma - start, 1e-6), LOUD_RATIO, 1)
    amount = 1.0 if stands_alone(loud) else float(np.interp(loud.excess, LOUD_BY, LOUD_AMOUNT))
    ratio = float(1 - amount * (1 - LOUD_RATIO) * patch - (1 - left) * (1 - patch))
    part = amount * LOUD_PART * patch
    if ratio >= 1 and part <= 0:
        return  # a field no louder than a field may be
    name, where = loudest_told(loud)
    from scipy.ndimage import maximum_filter

    around = surroundings(lab, maximum_filter(mask, 5))
    yield Draft.of(
        "quiet_loudest",
        Hush(loud.hue, start, ratio, part, SmallMap.of(around)),
        sentence(
            f"quiet the {name} {where}. Grey it with a little of its complement and with the colours that lie "
            "beside it, until it belongs to the picture; its full strength stays on the palette for one small touch"
        ),
        (LOUDNESS,) if loud.excess >= LEAST_LOUD else (ALONE,),
        f"The {name} quieted toward its neighbours; all else as it is.",
        regrouped=True,
        redrawn=True,
    )


def open_darks(trial: Trial, quieted: bool) -> Iterator[Draft]:
    """Open darks in which nothing is to be seen."""
    lab = lab_at(trial.case.picture, WORKED_AT)
    dark = np.clip((22 - lab[..., 0]) / 8, 0, 1)
    if dark.mean() < 0.005:
        return
    seen = darks_seen_as(measure_closed_darks(trial.case.picture))
    # What lies in shadow beside them, and not the sky behind: that would fog a dark tree.
    closed_or_light = np.clip(dark + np.clip((lab[..., 0] - 45) / 15, 0, 0.97), 0, 1)
    yield Draft.of(
        "open_darks",
        OpenDarks(
            OPENED_UNDER,
            OPENED_LIFT,
            OPENED_COLOUR,
            SmallMap.of(surroundings(lab, closed_or_light)),
            SmallMap.of(within(lab[..., 0], np.clip(1 - lab[..., 0] / DARK_UNTIL, 0.01, 1), OWN_REACH)),
        ),
        sentence(
            "open the darks. No black: mix them from the colours that lie around them, a value lighter, warm where "
            "ground throws light into them and cool where the sky does, and keep the darkest for a few small places"
        ),
        (ONE_BLACK if seen == "one black" else CLOSED,),
        "The closed darks lighter, with the colour of what is around them.",
        redrawn=True,
    )


def wake_colour(trial: Trial, quieted: bool) -> Iterator[Draft]:
    """Bring out what colour there is."""
    strong = measure_loudest(trial.case.picture).strong
    gain = float(np.clip(WOKEN / max(strong, 0.5), 1.0, MOST_GAIN))
    if gain < 1.1:
        return
    a, b = (float(part) for part in middle_colour(trial.lab[..., 1:].reshape(-1, 2)))
    yield Draft.of(
        "wake_colour",
        Wake(a, b, gain),
        sentence(
            "wake the colour. The hues are there and stirred too long: mix each passage again from two paints and leave "
            "them half mixed, warm against cool; let one small place have a clean colour"
        ),
        (STRONG,),
        "The colours that are there, stronger; the values as they are.",
        regrouped=True,
    )
