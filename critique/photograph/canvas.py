"""Where the painting lies in a photograph of it, and how sure that is."""

import math
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from critique.one_thread import in_one_thread
from critique.perception.srgb import Codes, Float, linear_to_srgb8
from critique.photograph.canvas_base import Base, best_candidate
from critique.photograph.canvas_joint import Chosen, chosen
from critique.photograph.canvas_near import with_near
from critique.photograph.canvas_onward import GOES_ON, onward_beyond
from critique.photograph.canvas_part import WHOLE_AREA, part_seen
from critique.photograph.canvas_pool import Pool, pooled
from critique.photograph.canvas_quads import PLAIN, Quads, candidate_quads
from critique.photograph.canvas_refit import refitted, wavering
from critique.photograph.canvas_strip import surround_beyond
from critique.photograph.canvas_told import COMMON, FIGURES, Told, told
from critique.photograph.corners import ALL, Corners, as_corners
from critique.photograph.scale import area_average

Array = NDArray[np.float64]

# Why a canvas isn't sure, or why nothing was found.
Reason = Literal[
    "no four sides",
    "perhaps cut off",
    "hardly a surround",
    "weak evidence",
    "another is as likely",
    "another edge beside it",
    "a border of one width",
    "drawn by hand",
    "its sides go on",
]

SEARCHED = 400  # px along the long edge: a thin frame is still two px wide
LARGEST = 470  # px: a copy by a whole step may be as large before it is scaled

# What speaks for the likeliest being right to 1 %, as the log of its odds; by tests/benchmarks/canvas_sureness.py, on
# 1513 photographs of 57 paintings of seeds 4000000–8000229, each with its sides chosen by a fit that didn't know its
# painting, and on files that are all painting and parts. Fitted anew to 2109 photographs it calls as many sure.
SURENESS = {
    "share": -0.985,  # log of the likelihood that other sides have
    "odds": 0.251,  # of the candidate whose sides were chosen among
    "moved": -1.201,  # farthest that a side of it lay from where it was looked for
    "apart": 0.402,  # how different the inside of each side is from the outside of the others
    "kept": -0.230,  # how many of its sides were chosen
    "ahead": 0.021,  # of worth, of any other that isn't its frame
    "choice_ahead": 0.046,  # of worth, of any other choice of sides
}
SURENESS_BIAS = 0.169
# Log odds from which a canvas is sure: of 2109 photographs of 75 paintings, each left out of the choice, 72.1 % are
# called so rightly, 0.5 % wrongly. At 2.5 it would be 74.7 and 0.7 %, and of 142 others two wrongly.
SURE = 2.75
LIKELY = 1.5  # from which an unsure one is shown as a guess to be taken: of those 92 in 100 are right, below 67
LEAST_SHARE = 1e-3  # that other sides are given, so that its log stays small
CLEAR = 4.0  # of worth between it and any other that isn't its frame: with less, that one is named as a reason
SECOND_EDGE = 0.63  # strength of an edge inside a side, from which that one is named
PAIRS = 12  # of sides, each counted twice
PHOTOGRAPH = 200  # px along the long edge: in a smaller file a canvas would be too small to judge; it is all painting
# Of the long edge: distances from the photograph's border that differ by less, all around, are those of a border that
# was painted, or of a scan's margin; of 2125 drawn photographs the least that they differ is 1.3 %.
ONE_WIDTH = 0.01
# Of the long edge, by which its sides may waver: of 67 drawn photographs that are called sure the most is 0.00042, of
# 26 windows with a hand's edges in painted walls the middle is 0.00081, and 5 have less than this.
STRAIGHT = 0.00045
# Share of surround beyond a side from which lines run on, below which the painting goes on there: in 695 drawn
# photographs the 7 sides that were land or sky taken for the canvas have −0.23 at most, the 44 from which seams of
# planks or bricks ran on 0.10 at least. Half of what makes a strip surround by itself leaves no doubt.
SEAMS, PLAIN_SEAMS = 0.05, 0.3
LEAST_AREA = 0.1  # of the photograph: what is smaller may be a window, a stamp or a patch, and is never sure


@dataclass(frozen=True, slots=True)
class Canvas:
    """Where the painting lies: corners clockwise from its upper left, fractions of the photograph seen upright.

    ``whole`` says that no surround was found: the corners are the photograph's own. ``sure`` belongs to either.
    ``odds`` is the natural log of the odds that the best candidate is a canvas; 0 where none was looked at closely.
    ``likely`` says of one that isn't sure whether it is likely right: of others the painter's own eye has to tell.
    ``beside`` is what speaks, at the size that is searched, for a further one that lies wholly to one side of it.
    """

    corners: Corners
    sure: bool
    whole: bool
    odds: float
    reasons: tuple[Reason, ...] = ()
    likely: bool = True
    beside: float = -math.inf


@dataclass(frozen=True, slots=True, eq=False)
class Likeliest:
    """The likeliest canvas: ``corners`` (4, 2) in px, its odds as a log, what tells whether it is right.

    ``cut_off`` says that a border of the photograph is taken for one of its sides at least. ``beyond`` is the least
    share of surround beyond the sides from which lines run on; 1 where none do. There are no ``signs`` where too little
    of it shows to tell. ``look`` is what all of it was told by.
    """

    corners: Array
    odds: float
    signs: dict[str, float]
    cut_off: bool
    beyond: float
    look: "CloseLook"

    @property
    def goes_on(self) -> bool:
        """Whether the painting goes on beyond one of the sides."""
        return self.beyond < SEAMS

    def beside(self) -> float:
        """That of `Canvas`."""
        return self.look.quads.beside(self.corners / self.look.scale - 0.5)


def find_canvas(pixels: Codes | Float) -> Canvas:
    """Find the canvas in a photograph, upright: sRGB codes or linear light; up to 1600 px are of use.

    Long straight edges are looked for in a small copy; every four of them are held to what speaks for the four sides of
    a canvas; the best are laid on the painted edge in the photograph itself, and judged again; of all edges near the
    best, those four are chosen that tell the same of what lies around it, and laid through the edge itself.
    """
    # It is looked at in many places: as light, each place asked for would be made a code anew.
    codes = pixels.astype(np.uint8, copy=False) if pixels.dtype == np.uint8 else linear_to_srgb8(pixels)
    best = likeliest(codes) if max(codes.shape[:2]) >= PHOTOGRAPH else None
    if best is None:
        return Canvas(ALL, True, True, 0.0, ("no four sides",))
    height, width = pixels.shape[:2]
    if _area(best.corners) > WHOLE_AREA * height * width:
        return Canvas(ALL, True, True, best.odds, ("hardly a surround",))
    found = Canvas(as_corners(best.corners / [width, height]), False, False, best.odds, beside=best.beside())
    if best.cut_off:
        return replace(found, reasons=("perhaps cut off",), likely=False)
    if not best.signs:
        return replace(found, reasons=("weak evidence",), likely=False)
    if best.goes_on:
        return replace(found, reasons=("its sides go on",), likely=False)
    right = sureness(best.signs)
    if _bordered(best.corners, height, width):
        return replace(found, reasons=("a border of one width",), likely=right >= LIKELY)
    sure = right >= SURE and _area(best.corners) >= LEAST_AREA * height * width
    if sure and best.beyond < PLAIN_SEAMS:
        return replace(found, reasons=("its sides go on",))
    if sure and wavering(codes, best.corners) > STRAIGHT:
        return replace(found, reasons=("drawn by hand",))
    return replace(found, sure=sure, reasons=() if sure else _reasons(best), likely=right >= LIKELY)


def _bordered(corners: Array, height: int, width: int) -> bool:
    """Whether what lies around is of one width on all four sides: part of the picture, or of its sheet."""
    (left, right), (upper, lower) = ([0, 3], [1, 2]), ([0, 1], [2, 3])
    across, down = corners.T
    away = np.concatenate([across[left], width - across[right], down[upper], height - down[lower]])
    return bool(np.ptp(away) < ONE_WIDTH * max(height, width))


@dataclass(frozen=True, slots=True, eq=False)
class CloseLook:
    """All candidates, the best of them, the edges that could be its sides, and what is told of them."""

    small: Float  # the copy that candidates were found in
    quads: Quads
    scale: Array  # px of the photograph for each of that copy
    base: Base
    pool: Pool
    seen: Told


@in_one_thread
def likeliest(pixels: Codes) -> Likeliest | None:
    """The likeliest canvas of a photograph, however unlikely; None where nothing there could be one."""
    look = close_look(pixels)
    if look is None:
        return None
    best = _with_sides(pixels, look)
    if not best.goes_on:
        return best
    # A part of a canvas outshines the whole where a border of the photograph hides one of the other sides.
    larger = part_seen(pixels, look.small, look.quads.with_cut())
    if larger is None:
        return best
    other = _with_sides(pixels, _around(pixels, look.small, look.quads, larger), part=False)
    return best if other.goes_on else other


def _with_sides(pixels: Codes, look: CloseLook, *, part: bool = True) -> Likeliest:
    """The likeliest sides around the best candidate; ``part`` says that they may be of a part of a canvas."""

    def surround_along(corners: Array) -> float:
        runs_on = onward_beyond(pixels, corners[None])[0] > GOES_ON
        at = corners / look.scale - 0.5
        return min((surround_beyond(look.small, at, int(side)) for side in np.flatnonzero(runs_on)), default=1.0)

    def goes_on_beyond(corners: Array) -> NDArray[np.bool_]:
        goes_on = onward_beyond(pixels, corners).max(axis=1) > GOES_ON
        if goes_on[0]:  # seams are asked about beside the worthiest alone, for it takes time
            goes_on[0] = surround_along(corners[0]) < SEAMS
        return np.asarray(goes_on)

    four = chosen(look.pool, look.seen, pixels.shape[:2], None if part else goes_on_beyond)
    border = look.pool.border[four.lines]
    corners = refitted(pixels, four.corners, border)
    signs = _signs(look, four) if look.base.signs else {}
    odds = look.base.signs.get("odds", 0.0)
    return Likeliest(corners, odds, signs, bool(border.any()), surround_along(corners), look)


def close_look(pixels: Codes) -> CloseLook | None:
    """What is seen around the best candidate; None where there is none."""
    small = _smaller(pixels)
    quads = candidate_quads(small)
    plain = quads.score.max(initial=-np.inf) >= PLAIN
    base = best_candidate(pixels, small, quads) if plain else part_seen(pixels, small, quads)
    if base is None:
        return None
    return _around(pixels, small, quads, base)


def _around(pixels: Codes, small: Float, quads: Quads, base: Base) -> CloseLook:
    """What is seen around one candidate."""
    scale = np.array([pixels.shape[1] / small.shape[1], pixels.shape[0] / small.shape[0]])
    pool = pooled(base.corners, base.candidates, (quads.lines + 0.5) * scale, pixels.shape[:2], base.border)
    pool = with_near(pixels, pool, base.corners)
    return CloseLook(small, quads, scale, base, pool, told(pixels, pool, base.corners))


def _signs(look: CloseLook, four: Chosen) -> dict[str, float]:
    """What tells whether four sides are right."""
    each, common = look.seen.figures[four.lines], look.seen.common[np.ix_(four.lines, four.lines)]
    return look.base.signs | {
        "share": float(np.log(1 + LEAST_SHARE - four.share)),
        "choice_ahead": four.ahead,
        "kept": float(each[:, FIGURES.index("found")].sum()),
        "apart": float(common[..., COMMON.index("apart")].sum() / PAIRS),
    }


def sureness(signs: dict[str, float]) -> float:
    """The log odds that a candidate is right."""
    return SURENESS_BIAS + sum(weight * signs[name] for name, weight in SURENESS.items())


def _reasons(best: Likeliest) -> tuple[Reason, ...]:
    reasons: list[Reason] = ["weak evidence"]
    if best.signs["ahead"] < CLEAR:
        reasons.append("another is as likely")
    if best.signs["within"] > SECOND_EDGE:
        reasons.append("another edge beside it")
    return tuple(reasons)


def _area(corners: Array) -> float:
    after = np.roll(corners, -1, axis=0)
    return float(abs((corners[:, 0] * after[:, 1] - after[:, 0] * corners[:, 1]).sum()) / 2)


def _smaller(pixels: Codes) -> Float:
    """Codes of 0–1 near the size that is searched; averaged as codes, for edges are the eye's."""
    step = max(1, round(max(pixels.shape[:2]) / SEARCHED))
    high, wide = (length // step for length in pixels.shape[:2])
    # Four px of each block are enough against noise; fetched channel by channel they would take twice as long.
    places = sorted({0, step // 2})
    whole = np.ascontiguousarray(pixels).view(np.dtype((np.void, 3)))[..., 0]
    blocks = whole[: high * step, : wide * step].reshape(high, step, wide, step)
    total = np.zeros((high, wide, 3), dtype=np.uint16)
    for row in places:
        some = np.ascontiguousarray(blocks[:, row, :, :: max(1, step // 2)][..., : len(places)])
        codes = some.view(np.uint8).reshape(high, wide, len(places), 3)
        for place in range(len(places)):
            total += codes[:, :, place]
    small: Float = total.astype(np.float32) / np.float32(255 * len(places) ** 2)
    return area_average(small, SEARCHED) if max(small.shape) > LARGEST else small
