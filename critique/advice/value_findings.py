"""Whether a picture's values reach far enough, gather into masses, and leave its darks open."""

import numpy as np

from critique.advice.fault_limits import CLOSED, judge_closed_darks, judge_scattered
from critique.advice.finding import Finding
from critique.advice.judging import Case
from critique.advice.kind import Kind
from critique.measures.values import apply_plan
from critique.picture.places import place_of, spot
from critique.words.aloud import about, sentence
from critique.words.figures import percent
from critique.words.lists import listed

# Limits beside the landscapes' own percentiles (norms.csv).
RANGE_WATCH: float = 4.6  # values from the 5th to the 95th percentile; 5th percentile 5.4, lowest 4.4
RANGE_REWORK: float = 3.2
TOLD = 0.1  # of the picture: a mass smaller than this isn't one of the big shapes
MOST_TOLD = 3
TONES = ("dark", "middle", "light")  # of the plan in three values, as its plate shows them


def value_range(case: Case, kind: Kind) -> Finding:
    """Whether the values reach far enough."""
    values = case.measures.values
    level = kind.by_limits(values.range)
    if level == "rework" and values.key != "middle":
        level = "watch"  # mist and dusk are close in value on purpose: a high or a low key is a choice, not a fault
    low, high = values.percentiles["p5"], values.percentiles["p95"]
    key = f"{values.key} key"
    if level == "holds":
        text = f"the values run from {low:.1f} to {high:.1f}, in a {key}: {_key_remark(values.key, values.range)}"
    elif values.range < 0.5:
        text = "it is one value all over: there is no light and dark yet to judge"
    else:
        end = "darks" if low > 10 - high else "lights"
        text = (
            f"the values stay between {low:.1f} and {high:.1f}, in a {key}, so the picture will look faint across a room. "
            f"If it isn't mist or dusk that you were after, push the {end} a step or two further"
        )
    return kind.finding(
        level=level,
        text=sentence(text),
        figure=values.range,
        figure_text=f"{values.range:.1f} values from dark to light",
        norm=f"{case.standing('values.range')}; nine in ten reach {case.norms.at('values.range', 10):.1f}",
        percentile=case.percentile("values.range"),
    )


def _key_remark(key: str, spread: float) -> str:
    if key == "low":
        return "a dark picture that keeps some lights" if spread >= 5 else "a dark and close picture"
    if key == "high":
        return "a light picture with darks enough to hold it" if spread >= 5 else "a light and airy picture"
    return "room for full darks and full lights" if spread >= 6.5 else "a calm middle, and that is a choice"


def masses(case: Case, kind: Kind) -> Finding:
    """Whether the values gather into masses."""
    found = case.measures.masses
    level = judge_scattered(found)
    if level == "holds":
        big = _big_shapes(case)
        text = (
            f"squint, and it falls into big shapes: {listed([told for _, told in big])}"
            if len(big) > 1
            else "squint, and one shape holds most of it"
            if big
            else "squint, and it is made of many small shapes, which still keep to a few values"
        )
    else:
        text = (
            f"squint, and the lights and darks don't gather: small pieces, {found.scraps / 10:.1f} values from the shapes "
            "that they lie in, break them up. Join neighbouring darks and neighbouring lights until three or four big shapes carry it, then put back only the "
            "marks that count"
        )
    return kind.finding(
        level=level,
        text=sentence(text),
        figure=found.kept,
        figure_text=f"big shapes hold {percent(found.kept)} of the light and dark; small marks differ from them by "
        f"{found.scraps / 10:.1f} values",
        norm=case.standing("masses.kept"),
        percentile=case.percentile("masses.kept"),
    )


def _big_shapes(case: Case) -> list[tuple[float, str]]:
    """The largest connected shapes of the three-value plan: share, and such as "a dark one on the left (31 %)"."""
    from scipy.ndimage import label

    values = case.measures.values
    plan = apply_plan(values.squinted, values.plan(len(TONES)))
    found = []
    for tone, name in enumerate(TONES):
        pieces, number = label(plan == tone)
        shares = np.bincount(pieces.ravel(), minlength=number + 1)[1:] / plan.size
        for index in np.flatnonzero(shares >= TOLD):
            share = float(shares[index])
            found.append((share, f"a {name} one {place_of(pieces == index + 1)} ({percent(share)})"))
    return sorted(found, reverse=True)[:MOST_TOLD]


def closed_darks(case: Case, kind: Kind) -> Finding | None:
    """Whether the darks are filled in."""
    darks = case.measures.closed_darks
    level = judge_closed_darks(darks, kind.by_limits)
    if level == "holds":
        return None
    text = (
        f"{about(darks.share)} of the picture is dark with nothing to be seen in it, most of it {spot(darks.x, darks.y)}. "
        "Open it: lay a warm dark beside a cool one there, half a value up, and keep the deepest darks for small accents"
    )
    return kind.finding(
        level=level,
        text=sentence(text),
        figure=darks.share,
        figure_text=f"{percent(darks.share)} of the picture closed and dark",
        norm=f"{case.standing('closed_darks.share')}; named from {percent(CLOSED.watch or 0.0)} on",
        percentile=case.percentile("closed_darks.share"),
    )
