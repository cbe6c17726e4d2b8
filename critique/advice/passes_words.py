"""What each pass over a painting did, and whether it is time to stop."""

from critique.advice.answers import Answer
from critique.advice.comparison import Changes
from critique.advice.comparison_words import asides_of, told_of
from critique.advice.finding_moves import FindingMove, subjects
from critique.advice.wording import listed, sentence


def pass_in_words(
    changes: Changes, moves: tuple[FindingMove, ...], answers: tuple[Answer, ...], in_places: bool
) -> str:
    """What one pass fixed, broke and left open, and what it made of the picture; ``in_places`` where maps show a change."""
    if not changes.changed and not in_places:
        return "This pass moved nothing that a photograph couldn't move."
    parts = [
        f"{verb} {listed(names)}"
        for verb, names in (
            ("fixed", subjects(moves, "fixed")),
            ("bettered", subjects(moves, "better")),
            ("broke", subjects(moves, "broke")),
            ("worsened", subjects(moves, "worse")),
        )
        if names
    ]
    still = [
        move.subject for move in moves if move.after != "holds" and move.outcome in ("open", "on the edge", "better")
    ]
    told, aside = told_of(answers), asides_of(answers, changes)
    made = ([f"the picture is {listed(told)}"] if told else []) + aside
    sentences = [sentence(f"this pass {listed(parts)}") if parts else "This pass moved no finding."]
    if made:
        sentences.append(sentence("; ".join(made)))
    elif not parts:
        sentences = [
            "This pass changed it in places, and no finding." if in_places else "This pass hardly moved anything."
        ]
    if still:
        sentences.append(f"Still open: {listed(still)}.")
    return " ".join(sentences)


def stop_or_go(steps: tuple[tuple[Changes, tuple[FindingMove, ...]], ...]) -> str:
    """Advice after the last pass; ``steps`` are the changes and moves from each state to the next."""
    changes, moves = steps[-1]
    left = [move.subject for move in moves if move.after != "holds"]
    lost, won = subjects(moves, "broke", "worse"), subjects(moves, "fixed", "better")
    if lost and not won:
        return sentence(
            f"stop and go back: the last pass lost {listed(lost)} and gained nothing. The state before it stood better"
        )
    if lost:
        return sentence(
            f"the last pass gained {listed(won)} and lost {listed(lost)}. Win back what was lost, and touch nothing else"
        )
    idle = not won
    if idle and not left:
        before = steps[-2] if len(steps) > 1 else None
        if before and not subjects(before[1], "fixed", "better", "broke", "worse"):
            return "Stop here. Neither of the last two passes moved anything that matters, and everything holds."
        return "Stop here. The last pass moved nothing that matters, and everything holds."
    if idle:
        moved = "nothing that a photograph couldn't move" if not changes.changed else "figures, but none that decides"
        return sentence(
            f"the last pass moved {moved}, and {listed(left)} {'is' if len(left) == 1 else 'are'} still open. Either go for that, or stop here"
        )
    if left:
        return sentence(
            f"go on: the last pass gained {listed(won)}, and {listed(left)} {'is' if len(left) == 1 else 'are'} still open"
        )
    return f"Stop here. The last pass gained {listed(won)}, and now everything holds."
