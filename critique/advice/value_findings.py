"""Whether a picture's values reach far enough and gather into masses."""

from critique.advice.finding import Finding
from critique.advice.judging import Case
from critique.advice.kind import Kind
from critique.measures.values import apply_plan
from critique.picture.places import place_of
from critique.words.aloud import percent, sentence, share_words

# Limits beside the landscapes' own percentiles (norms.csv).
RANGE_WATCH, RANGE_REWORK = 4.6, 3.2  # values from the 5th to the 95th percentile; 5th percentile 5.4, lowest 4.4
MASSES_WATCH, MASSES_REWORK = 0.82, 0.74  # separation of the three-mass plan; lowest of the landscapes 0.81
SCATTERED = 0.16  # largest connected mass of the picture; lowest of the landscapes 0.19
PLAIN_PLACES = {2: ("dark", "light"), 3: ("dark", "middle", "light")}


def value_range(case: Case, kind: Kind) -> Finding:
    """Whether the values reach far enough."""
    values = case.measures.values
    level = kind.by_limits(values.range)
    if level == "rework" and values.key != "middle":
        level = "watch"  # mist and dusk are close in value on purpose: a high or a low key is a choice, not a fault
    low, high = values.percentiles["p5"], values.percentiles["p95"]
    key = f"{values.key} key, {values.spread}"
    if level == "holds":
        text = f"the values run from {low:.1f} to {high:.1f} ({key}): {_key_remark(values.key, values.range)}"
    else:
        end = "darks" if low > 10 - high else "lights"
        text = (
            f"the values stay between {low:.1f} and {high:.1f} ({key}), so the picture will look faint across a room. "
            f"If it isn't mist you were after, push the {end} a step or two further"
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
        return (
            "a dark picture, with its lights kept for where they count" if spread >= 5 else "a dark and close picture"
        )
    if key == "high":
        return "a light picture with darks enough to hold it" if spread >= 5 else "a light and airy picture"
    return "room for full darks and full lights" if spread >= 6.5 else "a calm middle, and that is a choice"


def masses(case: Case, kind: Kind) -> Finding:
    """Whether the values gather into masses."""
    values = case.measures.values
    plan = values.plan(3)
    level = kind.by_limits(plan.separation)
    if level == "holds" and values.largest_mass < SCATTERED:
        level = "watch"
    carried = values.plan(values.carried_by or 3)
    mass_of = apply_plan(values.squinted, carried)
    if level == "holds" and values.carried_by in PLAIN_PLACES:
        words = PLAIN_PLACES[values.carried_by]
        shown = [
            (word, place_of(mass_of == index), percent(carried.shares[index]))
            for index, word in enumerate(words)
            if carried.shares[index] > 0.02
        ]
        interlocked = sum(place.everywhere for _, place, _ in shown) > 1
        parts = [
            f"a {word} mass ({share})" if interlocked and place.everywhere else f"a {word} mass {place} ({share})"
            for word, place, share in shown
        ]
        if interlocked:
            parts[-1] += ", interlocked all over the picture"
        text = f"squint, and {'two' if values.carried_by == 2 else 'three'} shapes carry it: {', '.join(parts)}"
    elif level == "holds":
        text = "squint, and the picture falls into three readable masses"
    elif plan.separation >= MASSES_WATCH:
        text = (
            f"the values are there but scattered: the largest single shape covers only "
            f"{share_words(values.largest_mass)} of the picture. Join neighbouring darks, so that a few big shapes lead"
        )
    else:
        middle = percent(plan.shares[1])
        text = (
            f"squint, and the shapes run into each other: the middle values ({middle} of the picture) reach into the "
            "darks and the lights. Decide for each large shape whether it belongs to light or to dark, and push it there"
        )
    return kind.finding(
        level=level,
        text=sentence(text),
        figure=plan.separation,
        figure_text=f"three masses hold {percent(plan.separation)} of the contrast",
        norm=f"{case.standing('values.plans.1.separation')}; nine in ten hold {percent(case.norms.at('values.plans.1.separation', 10))}",
        percentile=case.percentile("values.plans.1.separation"),
    )
