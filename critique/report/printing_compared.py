"""A comparison, passes and a line-up as they are printed in a terminal."""

from pathlib import Path

from critique.compare import Comparison, Lineup, Passes
from critique.report.printing import LEVEL_MARKS


def comparison_summary(comparison: Comparison, page: Path) -> str:
    """The verdict, each question with its answer, and where the page is."""
    return "\n".join(
        [
            f"{comparison.first.picture.file} → {comparison.second.picture.file}",
            *(f"  {sentence}" for sentence in comparison.verdict),
            *(f"  {answer.question} {answer.text}" for answer in comparison.held.answers),
            *(f"  {place}" for place in comparison.held.places),
            f"  {comparison.light}",
            f"  page: {page}",
        ]
    )


def passes_summary(passes: Passes, page: Path) -> str:
    """What each pass did, the advice, and where the page is."""
    names = [state.picture.file for state in passes.states]
    steps = [f"  {name}: {text}" for name, text in zip(names[1:], passes.texts, strict=True)]
    return "\n".join([" → ".join(names), *steps, f"  {passes.advice}", f"  page: {page}"])


def lineup_summary(lineup: Lineup, page: Path) -> str:
    """Each picture with the levels of its findings, in the order given, and where the page is."""
    width = max(len(state.picture.file) for state in lineup.states)
    lines = [
        f"  {state.picture.file:<{width}}  {' '.join(LEVEL_MARKS[finding.level] for finding in state.findings)}"
        for state in lineup.states
    ]
    return "\n".join([f"{len(lineup.states)} pictures, side by side", *lines, f"  page: {page}"])
