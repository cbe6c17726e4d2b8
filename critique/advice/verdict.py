"""The review in a few sentences."""

from critique.advice.finding import Finding
from critique.advice.judging import Case
from critique.advice.suggestion import Suggestion
from critique.measures.division import NEAR_HALVING_TOLERANCE
from critique.words.aloud import about, percent, strength_word
from critique.words.lists import listed

PLAIN_SHAPES = 10  # percentile among the landscapes below which three masses are no reason for praise


def verdict(case: Case, findings: tuple[Finding, ...], suggestions: tuple[Suggestion, ...]) -> tuple[str, ...]:
    """What the picture is, whether it holds, and what to do first."""
    rework = [finding.subject for finding in findings if finding.level == "rework"]
    watch = [finding.subject for finding in findings if finding.level == "watch"]
    return (
        _portrait(case),
        _judgement(case, rework, watch),
        _first_step(suggestions, rework, case.measures.values.key),
    )


def _portrait(case: Case) -> str:
    """What kind of picture this is: its key, its main colours and its line."""
    measures = case.measures
    shares: dict[str, float] = {}
    for family in measures.families:
        shares[family.name] = shares.get(family.name, 0.0) + family.share
    largest = sorted(shares, key=lambda name: -shares[name])[:2]
    colours = listed([f"{name} ({percent(shares[name])})" for name in largest])
    key = {"high": "A light picture", "middle": "A picture in the middle key", "low": "A dark picture"}[
        measures.values.key
    ]
    green = measures.greens.area_share
    climate = f", {about(green)} of it green" if green >= 0.05 else ", with almost no green"
    line = (
        f", parted at {percent(measures.division.height)} of its height" if measures.division.present else ", undivided"
    )
    return f"{key}, mostly {colours}{climate}{line}."


def _judgement(case: Case, rework: list[str], watch: list[str]) -> str:
    if rework:
        also = f" Keep an eye on its {listed(watch)}." if watch else ""
        return f"It isn't ready for a wall yet: rework its {listed(rework)}.{also}"
    if len(watch) > 2:
        return f"It nearly holds. Look again at these before it goes out: {listed(watch)}."
    if watch:
        return f"It holds. Before it goes out, look once more at its {listed(watch)}."
    return f"It holds: {listed(_reasons(case))}."


def _reasons(case: Case) -> list[str]:
    """Why a picture holds, from its own figures."""
    measures = case.measures
    greens, values, division = measures.greens, measures.values, measures.division
    reasons = []
    if greens.area_share < 0.05:
        reasons.append("there is hardly any green to go wrong")
    else:
        reasons.append(
            f"its greens stay {strength_word(greens.median_chroma)} (chroma {greens.median_chroma:.0f} at the middle)"
        )
    shapes = {2: "two big shapes carry it", 3: "three big shapes carry it"}.get(values.carried_by)
    if (case.percentile("values.plans.1.separation") or 0) < PLAIN_SHAPES:
        shapes = None
    reasons.append(shapes or f"its values reach from {values.percentiles['p5']:.1f} to {values.percentiles['p95']:.1f}")
    if division.present and abs(division.height - 0.5) <= NEAR_HALVING_TOLERANCE:
        reasons.append("its line is too soft or too broken to cut it in two")
    elif division.present:
        reasons.append(f"its line lies well off the middle, at {percent(division.height)} of the height")
    else:
        reasons.append("no line cuts it in two")
    return reasons


def _first_step(suggestions: tuple[Suggestion, ...], rework: list[str], key: str) -> str:
    if not suggestions:
        return (
            "There is nothing here to repaint for the sake of repainting."
            if not rework
            else "Begin with a small study."
        )
    first = suggestions[0]
    change = next((c for c in first.changes if c.before_text != c.after_text), first.changes[0])
    if first.kind == "widen_values" and key != "middle":
        return (
            f"If it isn't mist or dusk that you were after: {first.subject}. Tried on this picture, {change.figure} goes "
            f"from {change.before_text} to {change.after_text}."
        )
    return f"First step: {first.subject}. Tried on this picture, {change.figure} goes from {change.before_text} to {change.after_text}."
