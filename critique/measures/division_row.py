"""At which height would a person say that a picture divides?"""

from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from critique.measures import part_chances
from critique.measures.division_evidence import Exact
from critique.measures.level_lines import level_agreement
from critique.measures.parts import Parts
from critique.measures.smoothing import means_of_parts
from critique.perception.ranks import quantiles_of
from critique.perception.reference import read_table

Float = NDArray[np.float32]

ROWS = 100  # heights that are weighed against each other: a hundredth of the picture apart
FIRST, LAST = 0.1, 0.92  # of the height: what lies outside edges a picture and doesn't part it
STRIPS = 24  # upright strips that the picture is cut into
SEEN_WITHIN = 3  # hundredths of the height in which an edge may lie: painted horizons waver
NEAR, FAR = 4, 12  # hundredths of the height that are compared above and below: the edge, and the masses
AT = 1.5  # hundredths: how far what lies at a height is looked for
QUANTILES = (50, 75, 90, 97)  # percentiles of the heights at which the sky ends, column by column
UNDER_SKY = (0.0, 0.05, 0.1, 0.18)  # of the height below those: a far shore, hills, the foot of a wood
WIDTH = 0.03  # of the height: how near to such a place counts as there
SOME_SKY = 0.1  # of the columns that must have a sky, or nothing is said of where it ends
FAINT = 0.3  # L* a pixel: weaker steps are canvas
PARTED = 0.5  # of the evidence: from there on a column is parted
AGREED = 9  # hundredths of the height that count as one line when the likeliest is chosen: 0.05 either way is the same


def dividing_row(cues: dict[str, Float]) -> float:
    """The height (0–1 from the top) at which most people would draw the line, from `row_cues`.

    The softmax of weighted cues over all heights [division_weights.csv]; of those, the one with most chance within
    the reach that counts as the same line.
    """
    names, weights = _weights()
    return likeliest(np.stack([cues[name] for name in names], axis=1) @ weights)


def likeliest(leaning: Float) -> float:
    """The height around which most of the chance lies; ``leaning`` is a log chance a row of `heights`."""
    chance = np.exp(leaning - leaning.max())
    best = int(np.convolve(chance, np.ones(AGREED), "same").argmax())
    alike = slice(max(0, best - AGREED // 2), best + AGREED // 2 + 1)
    return float(np.average(heights()[alike], weights=np.square(chance[alike])))


def heights() -> Float:
    """The heights that are weighed, 0–1 from the top."""
    rows = np.arange(round(FIRST * ROWS), round(LAST * ROWS) + 1)
    return (rows / ROWS).astype(np.float32)


@lru_cache(maxsize=1)
def _weights() -> tuple[tuple[str, ...], Float]:
    rows = {row["cue"]: float(row["weight"]) for row in read_table("division_weights.csv")}
    return tuple(rows), np.array(list(rows.values()), dtype=np.float32)


def row_cues(lab: Float, evidence: Exact, parts: Parts) -> dict[str, Float]:
    """All that speaks for a line at each of `heights`, an array (n,) a cue.

    ``lab`` (height, width, 3) is the picture at a few hundred pixels; ``evidence`` (borders, columns) how well level
    borders part it; ``parts`` tell where its sky and its water are.
    """
    cues = _edge_cues(lab, evidence) | _sky_cues(parts) | _water_cues(parts) | _stroke_cues(lab, parts) | _place_cues()
    kept = slice(round(FIRST * ROWS) - 1, round(LAST * ROWS))
    return {name: np.asarray(cue[kept], dtype=np.float32) for name, cue in cues.items()}


def _borders() -> NDArray[np.float64]:
    return np.arange(1, ROWS) / ROWS


def _place_cues() -> dict[str, NDArray[np.floating]]:
    y = _borders()
    return {
        "place": y,
        "off_place": np.square(y - 0.6),
        "low": np.maximum(y - 0.7, 0),
        "high": np.maximum(0.45 - y, 0),
        "log_above": np.log(y),
        "log_below": np.log(1 - y),
    }


def _edge_cues(lab: Float, evidence: Exact) -> dict[str, NDArray[np.floating]]:
    """How plainly masses part there, in how many columns, and how far all strips step alike."""
    inside = (_borders() >= FIRST) & (_borders() <= LAST)
    parted = _seen(evidence.mean(axis=1))
    alike = _seen(level_agreement(lab))
    return {
        "parted": parted,
        "parted_at_least": _seen(np.quantile(evidence, 0.25, axis=1)),
        "parted_share": _seen((evidence > PARTED).mean(axis=1)),
        "parted_rank": _rank(parted, inside),
        "alike": alike,
        "alike_squared": np.square(alike),
        "alike_rank": _rank(alike, inside),
    }


def _sky_cues(parts: Parts) -> dict[str, NDArray[np.floating]]:
    """How much sky lies above and below, and how near this is to where it ends."""
    y = _borders()
    sky = _rows(parts.chance[:, part_chances.SKY][parts.regions.labels].mean(axis=1))
    up, down = _means_to_the_edges(sky)
    near, far, at = _step(sky, NEAR), _step(sky, FAR), _at(sky)
    ends = parts.sky_ends[parts.sky_ends > 0]
    cues: dict[str, NDArray[np.floating]] = {
        "sky_step": near,
        "sky_step_far": far,
        "sky_above": up,
        "sky_below": down,
        "sky_at": at,
        "sky_below_log": np.log(down + 0.01),
        "sky_at_log": np.log(at + 0.02),
        "sky_ended": np.searchsorted(np.sort(parts.sky_ends), y, side="right") / len(parts.sky_ends),
        "no_sky": np.full_like(y, up.max() < SOME_SKY) * np.exp(-np.square((y - 0.5) / 0.2) / 2),
    }
    enough = len(ends) > SOME_SKY * len(parts.sky_ends)
    for quantile in QUANTILES:
        end = quantiles_of(ends, (quantile / 100,))[0] if enough else np.inf
        for under in UNDER_SKY:
            cues[f"under_{quantile}_by_{under:g}"] = np.exp(-np.square((y - end - under) / WIDTH) / 2)
    return cues


def _water_cues(parts: Parts) -> dict[str, NDArray[np.floating]]:
    """How much more water lies below than above: its far edge is a horizon or a shore, whatever clouds do over it."""
    water = _rows(parts.chance[:, part_chances.WATER][parts.regions.labels].mean(axis=1))
    return {"water_step": np.maximum(_step(water, NEAR), 0)}


def _stroke_cues(lab: Float, parts: Parts) -> dict[str, NDArray[np.floating]]:
    """How strokes change there: ground and water lie, trunks and houses stand."""
    L = lab[..., 0]
    right, down = np.abs(np.diff(L, axis=1)), np.abs(np.diff(L, axis=0))[:, :-1]
    cuts = np.linspace(0, right.shape[1], min(STRIPS, right.shape[1]) + 1).round().astype(np.intp)
    across, upright = (
        np.log(_rows(np.add.reduceat(step, cuts[:-1], axis=1) / np.diff(cuts)) + FAINT) for step in (right, down)
    )
    level = _rows(parts.regions.level[parts.regions.labels].mean(axis=1))
    cues: dict[str, NDArray[np.floating]] = {
        "level_step": _step(level, NEAR),
        "level_step_far": _step(level, FAR),
        "level_at": _at(level),
    }
    cues["level_above"], cues["level_below"] = _means_to_the_edges(level)
    for name, map_ in (("across", across), ("upright", upright), ("lying", upright - across)):
        for reach, of in ((NEAR, ""), (FAR, "_far")):
            above, below = _boxes(map_, reach)
            cues[f"{name}_step{of}"] = np.median(below - above, axis=1)
        cues[f"{name}_above"], cues[f"{name}_below"] = _means_to_the_edges(map_.mean(axis=1))
    return cues


def _rows(values: NDArray[np.floating]) -> NDArray[np.float64]:
    """Means of a profile or map (height, …) over `ROWS` strips of even height (rows, …)."""
    return means_of_parts(values, ROWS)


def _seen(profile: NDArray[np.floating]) -> NDArray[np.float64]:
    """The most of a profile (borders,) within reach of each border between rows."""
    from scipy.ndimage import maximum_filter1d

    size = max(1, round(SEEN_WITHIN / ROWS * len(profile)) | 1)
    most = maximum_filter1d(profile, size)
    return np.asarray(np.interp(_borders(), np.linspace(0, 1, len(profile)), most))


def _rank(values: NDArray[np.float64], inside: NDArray[np.bool_]) -> NDArray[np.float64]:
    """The share of the heights inside that each exceeds."""
    return np.asarray(np.searchsorted(np.sort(values[inside]), values) / inside.sum())


def _boxes(values: NDArray[np.float64], reach: int) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Means of so many rows above and below each border between rows (rows − 1, …)."""
    sums = np.zeros((len(values) + 1, *values.shape[1:]))
    np.cumsum(values, axis=0, out=sums[1:])
    border = np.arange(1, len(values))
    top, bottom = np.maximum(border - reach, 0), np.minimum(border + reach, len(values))
    shape = (-1, *[1] * (values.ndim - 1))
    above = (sums[border] - sums[top]) / (border - top).reshape(shape)
    return above, (sums[bottom] - sums[border]) / (bottom - border).reshape(shape)


def _step(values: NDArray[np.float64], reach: int) -> NDArray[np.float64]:
    above, below = _boxes(values, reach)
    return below - above


def _means_to_the_edges(values: NDArray[np.float64]) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    return _boxes(values, len(values))


def _at(values: NDArray[np.float64]) -> NDArray[np.float64]:
    from scipy.ndimage import gaussian_filter1d

    return np.asarray(np.interp(_borders(), (np.arange(ROWS) + 0.5) / ROWS, gaussian_filter1d(values, AT)))
