"""A comparison, passes and a line-up as they are printed in a terminal."""

from pathlib import Path
from textwrap import wrap

from critique.pair.answer import NO_CHANGE, stayed_in_words
from critique.pair.compare import Comparison, Lineup, Passes
from critique.pair.finding_moves import subjects_of
from critique.pair.uncropped import OF_A_PAIR
from critique.report.printing import LEVEL_MARKS
from critique.report.view_words import crops_said

WRAPPED = 100  # characters of a line that explains


def comparison_summary(comparison: Comparison, page: Path) -> str:
    """The verdict, each question with its answer, and where the page is."""
    return "\n".join(
        [
            f"{comparison.first.picture.file} → {comparison.second.picture.file}",
            *(f"  {line}" for line in crops_said((comparison.first.picture, comparison.second.picture), OF_A_PAIR)),
            *(f"  {sentence}" for sentence in comparison.verdict),
            *([] if comparison.not_yet else _answered(comparison)),
            f"  page: {page}",
        ]
    )


def _answered(comparison: Comparison) -> list[str]:
    """Each question with its answer, where it changed, and what was done about the light."""
    answers = comparison.held.answers
    stayed = stayed_in_words(answers, alike=comparison.held.alike is not None)
    return [
        *(f"  {answer.question} {answer.text}" for answer in answers if answer.outcome != NO_CHANGE),
        *([f"  {stayed}"] if stayed else []),
        *(f"  {place}" for place in _told_below(comparison)),
        f"  {comparison.light}",
    ]


def _told_below(comparison: Comparison) -> list[str]:
    """Where it changed; not what the verdict tells already."""
    above = " ".join(comparison.verdict).lower()
    return [place for place in comparison.held.places if place.lower() not in above]


def passes_summary(passes: Passes, page: Path) -> str:
    """What each pass did, the advice, and where the page is."""
    names = [state.picture.file for state in passes.states]
    crops = [f"  {line}" for line in crops_said(state.picture for state in passes.states)]
    steps = [f"  {name}: {text}" for name, text in zip(names[1:], passes.texts, strict=True)]
    if passes.told is not None:
        told = passes.told
        steps = [f"  {name}: {text}" for name, text in zip(names[1:], told.passes, strict=True)]
        if passes.toward is not None and passes.toward.states[-1].laid == "another composition":
            steps = steps[:-1]  # how it stands says so too
        steps += [f"  {told.standing}", *(f"  Next: {thing}" for thing in told.next_things)]
        steps += [f"  {passes.advice}"] if passes.advice else []
        return "\n".join([" → ".join(names), *crops, *steps, f"  page: {page}"])
    return "\n".join([" → ".join(names), *crops, *steps, f"  {passes.advice}", f"  page: {page}"])


def lineup_summary(lineup: Lineup, page: Path) -> str:
    """Each picture with the levels of its findings, a column each, in the order given, and where the page is."""
    titles = subjects_of(*(state.findings for state in lineup.states))
    width = max(len(state.picture.file) for state in lineup.states)
    columns = [f"{number:>2}" for number in range(1, len(titles) + 1)]
    lines = []
    for state in lineup.states:
        marks = {finding.kind: LEVEL_MARKS[finding.level] for finding in state.findings}
        row = " ".join(f"{marks.get(kind, ' '):>2}" for kind in titles)
        lines.append(f"  {state.picture.file:<{width}}  {row}".rstrip())
    named = ", ".join(f"{number} {title}" for number, title in enumerate(titles.values(), start=1))
    return "\n".join(
        [
            "1 picture" if len(lineup.states) == 1 else f"{len(lineup.states)} pictures, side by side",
            *(f"  {line}" for line in crops_said(state.picture for state in lineup.states)),
            f"  {'':<{width}}  {' '.join(columns)}",
            *lines,
            f"  {', '.join(f'{mark} {level}' for level, mark in LEVEL_MARKS.items())}, empty: nothing there to judge",
            *wrap(named, WRAPPED, initial_indent="  ", subsequent_indent="  "),
            f"  page: {page}",
        ]
    )
