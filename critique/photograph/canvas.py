"""Where the painting lies in a photograph of it."""

from dataclasses import dataclass, field

import numpy as np

from critique.perception.srgb import Codes, Float
from critique.photograph.canvas_edge import snapped
from critique.photograph.canvas_quads import Quads, candidate_quads

Corner = tuple[float, float]

TRIED = 6
SEARCHED = 480  # px along the long edge: a thin frame is still two px wide


@dataclass(frozen=True, slots=True)
class Canvas:
    """Where the painting lies: corners clockwise from its upper left, fractions of the photograph seen upright."""

    corners: tuple[Corner, Corner, Corner, Corner]
    sure: bool
    whole: bool
    score: float
    quads: Quads = field(repr=False, default=None, metadata={"record": False})


def find_canvas(codes: Codes) -> Canvas:
    small = _smaller(codes)
    quads = candidate_quads(small)
    h, w = small.shape[:2]
    if not len(quads.score):
        return Canvas(((0.,0.),(1.,0.),(1.,1.),(0.,1.)), False, True, 0.0, quads)
    H, W = codes.shape[:2]
    best = (-np.inf, None)
    for number in range(min(TRIED, len(quads.score))):
        c = (quads.corners[number] + 0.5) * [W / w, H / h]
        for _ in range(2):
            c, figures = snapped(codes, c)
        worth = refined_score(figures, quads, number)
        if worth > best[0]:
            best = (worth, c, figures)
    c = best[1] / [W, H]
    return Canvas(tuple(map(tuple, c)), True, False, float(best[0]), quads)


def refined_score(figures, quads, number):
    support, even, lively = figures.T
    return float((3.0 * support + 0.35 * np.clip(lively, -1.5, 1.5) - 0.15 * np.clip(even, -4.5, -1.5)).sum() + 4 * support.min()) + 0.5 * quads.score[number]


def _smaller(codes: Codes) -> Float:
    from critique.photograph.scale import area_average

    step = max(1, max(codes.shape[:2]) // (2 * SEARCHED))
    part = codes[::step, ::step].astype(np.float32) / 255
    return area_average(part, SEARCHED)
