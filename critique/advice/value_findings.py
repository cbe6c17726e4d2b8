"""Whether a picture's values reach far enough and gather into masses."""

from critique.advice.finding import Finding
from critique.advice.judging import Case, level_below
from critique.measures.values import apply_plan
from critique.picture.places import place_of
from critique.words.aloud import percent, sentence, share_words

# Limits beside the landscapes' own percentiles (norms.csv).
RANGE_WATCH, RANGE_REWORK = 4.6, 3.2  # values from the 5th to the 95th percentile; 5th percentile 5.4, lowest 4.4
MASSES_WATCH, MASSES_REWORK = 0.82, 0.74  # separation of the three-mass plan; lowest of the landscapes 0.81
SCATTERED = 0.16  # largest connected mass of the picture; lowest of the landscapes 0.19
PLAIN_PLACES = {2: ("dark", "light"), 3: ("dark", "middle", "light")}


def value_findings(case: Case) -> tuple[Finding, ...]:
    """Findings on the range of values and on their masses."""
    return _range(case), _masses(case)


def _range(case: Case) -> Finding:
    values = case.measures.values
    level = level_below(values.range, RANGE_WATCH, RANGE_REWORK)
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
    return Finding(
        "value range",
        level,
        sentence(text),
        values.range,
        f"{values.range:.1f} values from dark to light",
        f"{case.standing('values.range')}; nine in ten reach {case.norms.at('values.range', 10):.1f}",
        case.percentile("values.range"),
    )


def _key_remark(key: str, spread: float) -> str:
    if key == "low":
        return (
            "a dark picture, with its lights kept for where they count" if spread >= 5 else "a dark and close picture"
        )
    if key == "high":
        return "a light picture with darks enough to hold it" if spread >= 5 else "a light and airy picture"
    return "room for full darks and full lights" if spread >= 6.5 else "a calm middle, and that is a choice"


def _masses(case: Case) -> Finding:
    values = case.measures.values
    plan = values.plan(3)
    level = level_below(plan.separation, MASSES_WATCH, MASSES_REWORK)
    if level == "holds" and values.largest_mass < SCATTERED:
        level = "watch"
    carried = values.plan(values.carried_by or 3)
    masses = apply_plan(values.squinted, carried)
    if level == "holds" and values.carried_by in PLAIN_PLACES:
        words = PLAIN_PLACES[values.carried_by]
        parts = [
            f"a {word} mass {place_of(masses == index)} ({percent(carried.shares[index])})"
            for index, word in enumerate(words)
            if carried.shares[index] > 0.02
        ]
        if sum("all over" in part for part in parts) > 1:
            parts = [part.replace(" all over", "") for part in parts]
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
    return Finding(
        "value masses",
        level,
        sentence(text),
        plan.separation,
        f"three masses hold {percent(plan.separation)} of the contrast",
        f"{case.standing('values.plans.1.separation')}; nine in ten hold {percent(case.norms.at('values.plans.1.separation', 10))}",
        case.percentile("values.plans.1.separation"),
    )
