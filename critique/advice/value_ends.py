"""Whether the ends of a picture's values are left empty: darks filled in, a sky left white."""

import numpy as np
from numpy.typing import NDArray

from critique.advice.fault_limits import (
    BLACK,
    CLOSED,
    HEAVY,
    ONE_BLACK,
    ByLimits,
    darks_seen_as,
    judge_bare_sky,
    judge_closed_darks,
)
from critique.advice.finding import Finding, Level
from critique.advice.judging import Case
from critique.advice.kind import Kind
from critique.measures.bare_sky import BareSky
from critique.measures.closed_darks import ClosedDarks
from critique.picture.areas import area_aside
from critique.picture.pieces import most_of_it_lies
from critique.words.aloud import about, sentence
from critique.words.figures import number, percent

AS_WHITE = 76.0  # L* of the lightest touches below: readers saw that snow and stones so light are white too
SEEN_AS = {
    "closed": "dark with next to nothing to be seen in it",
    "near black": "near black, with little to be seen in it",
    "heavy": "dark and heavy, with little to be seen in it",
}
# Of readings, those that would mend it first; of one that is closed or near black three in four. Of four pictures with one
# black three readers each would have spoken of it first in six of twelve.
HEAVY_FIRST, ONE_BLACK_FIRST = 0.25, 0.5
OPENED = "a warm dark of ultramarine and burnt sienna beside a cool one with less of the sienna, half a value up"
OPEN_IT = f"If it isn't meant as a silhouette, open it with colour: lay {OPENED}"
MOST_OF_THE_SKY = 0.6  # of it: with as much bare, it is the sky that one sees bare


def closed_darks(case: Case, kind: Kind) -> Finding | None:
    """Whether the darks are filled in."""
    darks = case.measures.closed_darks
    level = judge_closed_darks(darks, kind.by_limits)
    if level == "holds":
        return None
    seen = darks_seen_as(darks, kind.by_limits)
    lies = most_of_it_lies(darks_spoken_of(darks, kind.by_limits))
    if seen == "one black":
        return _one_black(darks, lies, level, kind)
    share = {"closed": darks.share, "near black": darks.black, "heavy": darks.little}[seen]
    text = f"{about(share)} of the picture is {SEEN_AS[seen]}{f', most of it {lies}' if lies else ''}"
    if level == "rework":
        text += f". Open it: lay {OPENED}, and keep the deepest darks for small accents"
    elif seen == "closed":
        text += f", and reads as one flat shape from afar. If something should be found in there, lay {OPENED}"
    else:
        text += f". {OPEN_IT}"
    figure, norm = _figures(case, darks, seen)
    return kind.finding(
        level=level,
        text=sentence(text),
        figure=darks.share,
        figure_text=figure,
        norm=norm,
        percentile=case.percentile("closed_darks.share"),
        said_first=HEAVY_FIRST if seen == "heavy" else None,
    )


def _one_black(darks: ClosedDarks, lies: str, level: Level, kind: Kind) -> Finding:
    """One near-black mass, of which it is told where it ``lies``."""
    share = darks.one_black_covers
    place = f", {lies}," if lies else ""
    return kind.finding(
        level=level,
        text=sentence(
            f"{about(share)} of the picture{place} is one near-black mass with hardly a colour in it. {OPEN_IT}"
        ),
        figure=darks.one_black,
        figure_text=f"{percent(share)} of the picture in one black without colour",
        norm=f"named from {percent(ONE_BLACK)} on",
        said_first=ONE_BLACK_FIRST,
        stands_on="closed_darks.one_black",
        limit=ONE_BLACK,
        spoken="its near-black mass",
    )


def darks_spoken_of(darks: ClosedDarks, by_limits: ByLimits) -> NDArray[np.floating]:
    """Where the darks lie (height, width) that a picture is criticised for, or would be; of heavy ones, the deeper the more."""
    seen = darks_seen_as(darks, by_limits)
    if seen == "heavy":
        return darks.depth
    if seen == "one black":
        return darks.one_black_mask.astype(np.float32)
    return np.asarray(darks.mask if seen == "closed" else darks.black_mask, dtype=np.float32)


def _figures(case: Case, darks: ClosedDarks, seen: str) -> tuple[str, str]:
    """What the darks are named for, measured, and what that is held to."""
    if seen == "heavy":
        figure = f"{percent(darks.little)} of the picture dark with little in it, {percent(darks.heavy)} without form, weighed by its key"
        return figure, f"without form is named from {percent(HEAVY)} on"
    standing = case.standing("closed_darks.share")
    if seen == "near black":
        figure = f"{percent(darks.black)} of the picture near black, {percent(darks.share)} quite closed"
        return figure, f"{standing}; near black is named from {percent(BLACK)} on"
    return (
        f"{percent(darks.share)} of the picture closed and dark",
        f"{standing}; named from {percent(CLOSED.watch or 0.0)} on",
    )


def bare_sky(case: Case, kind: Kind) -> Finding | None:
    """Whether the sky is left white, without a tone, where all else is darker."""
    found = case.measures.bare_sky
    level = judge_bare_sky(found, kind.by_limits, sky_share=case.measures.parts.sky_share)
    if level == "holds":
        return None
    return kind.finding(
        level=level,
        text=sentence(
            f"{_of_the_sky(found, case.measures.parts.sky_share)} is bare white{_outshines(found)}. A little "
            "ochre or grey in it would keep the lightest light for what you want seen; if the painting has tone there, the "
            "photograph is too light"
        ),
        figure=found.share,
        figure_text=f"{percent(found.share)} of the picture is bare white sky; the lights below it have a value of {number(found.lights / 10)}",
        norm=case.standing("bare_sky.share"),
        percentile=case.percentile("bare_sky.share"),
    )


def _outshines(found: BareSky) -> str:
    """What that does to all below, where nothing there is as light: snow, foam or a white wall may be."""
    return " and outshines everything below it" if found.lightest < AS_WHITE else ", much more of it than below"


def _of_the_sky(found: BareSky, sky_share: float) -> str:
    """How much of the sky is bare, and where that part lies."""
    if found.share >= MOST_OF_THE_SKY * sky_share:
        return f"the sky, {about(found.share)} of the picture,"
    return f"part of the sky{area_aside(found.mask)}, {about(found.share)} of the picture,"
