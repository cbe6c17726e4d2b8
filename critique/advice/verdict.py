"""The review in a few sentences."""

from critique.advice.finding import Finding, Suggestion
from critique.advice.judging import Case
from critique.advice.wording import listed, percent, share_words


def verdict(case: Case, findings: tuple[Finding, ...], suggestions: tuple[Suggestion, ...]) -> tuple[str, ...]:
    """What the picture is, whether it holds, and what to do first."""
    rework = [finding.subject for finding in findings if finding.level == "rework"]
    watch = [finding.subject for finding in findings if finding.level == "watch"]
    return (_portrait(case), _judgement(rework, watch), _first_step(suggestions, rework))


def _portrait(case: Case) -> str:
    """What kind of picture this is: its key, its main colours and its line."""
    measures = case.measures
    families = measures.families[:2]
    colours = listed([f"{family.name} ({percent(family.share)})" for family in families])
    key = {"high": "A light picture", "middle": "A picture in the middle key", "low": "A dark picture"}[
        measures.values.key
    ]
    green = measures.greens.area_share
    climate = f", with green over {share_words(green)} of it" if green >= 0.05 else ", with almost no green"
    line = (
        f", parted at {percent(measures.division.height)} of its height" if measures.division.present else ", undivided"
    )
    return f"{key}, mostly {colours}{climate}{line}."


def _judgement(rework: list[str], watch: list[str]) -> str:
    if rework:
        also = f" Keep an eye on its {listed(watch)}." if watch else ""
        return f"It isn't ready for a wall yet: rework its {listed(rework)}.{also}"
    if len(watch) > 2:
        return f"It nearly holds. Look again at these before it goes out: {listed(watch)}."
    if watch:
        return f"It holds. Before it goes out, look once more at its {listed(watch)}."
    return "It holds: its greens, its values and its division all stand where landscapes that have lasted stand."


def _first_step(suggestions: tuple[Suggestion, ...], rework: list[str]) -> str:
    if not suggestions:
        return (
            "There is nothing here to repaint for the sake of repainting."
            if not rework
            else "Begin with a small study."
        )
    first = suggestions[0]
    change = next((c for c in first.changes if c.before_text != c.after_text), first.changes[0])
    return f"First step: {first.subject}. Tried on this picture, {change.figure} goes from {change.before_text} to {change.after_text}."
