"""What each pass over a painting did, and whether it is time to stop."""

from critique.pair.answer import Answer
from critique.pair.change_maps import ChangeMaps
from critique.pair.changed_words import things_in_words
from critique.pair.comparison import Changes
from critique.pair.comparison_words import asides_of, told_of
from critique.pair.finding_moves import (
    FindingMove,
    better_and_worse,
    no_longer_matters,
    on_the_edge,
    still_open,
    subjects,
)
from critique.pair.scattered import patches_in_words
from critique.words.aloud import sentence
from critique.words.lists import listed

JUDGED_ALIKE = "Of what the review judges, this pass made nothing surely better or worse."
LAST_IS_ANOTHER = "The last file looks like another picture: whether to stop can't be said by it."


def pass_in_words(
    changes: Changes, moves: tuple[FindingMove, ...], answers: tuple[Answer, ...], maps: ChangeMaps | None
) -> str:
    """What one pass made better and worse, what it left open, and what it made of the picture.

    ``maps`` show where it changed, None where the two don't lie on each other.
    """
    in_places = maps is not None and bool(maps.places or maps.things)
    told_first = [*things_in_words(maps.things), patches_in_words(maps)] if maps is not None else []
    things = " ".join(one for one in told_first if one)
    if not changes.changed and not in_places and not things:
        return "This pass moved nothing that a photograph couldn't move."
    parts = better_and_worse(moves)
    still, edge = still_open(moves), on_the_edge(moves)
    told, aside = told_of(answers, changes), asides_of(answers, changes)
    made = ([f"the picture is {listed(told)}"] if told else []) + aside
    sentences = parts or [JUDGED_ALIKE]
    if made:
        sentences.append(sentence("; ".join(made)))
    elif not parts:
        sentences = [
            f"Parts of it were painted otherwise. {JUDGED_ALIKE}" if in_places else "This pass hardly moved anything."
        ]
    if still:
        sentences.append(f"Still open: {listed(still)}.")
    if edge:
        sentences.append(f"On the edge, where another photograph could decide: {listed(edge)}.")
    return " ".join([things, *sentences] if things else sentences)


def stop_or_go(steps: tuple[tuple[Changes, tuple[FindingMove, ...]], ...]) -> str:
    """Advice after the last pass; ``steps`` are the changes and moves from each state to the next."""
    changes, moves = steps[-1]
    left = [move.subject for move in moves if move.after != "holds"]
    worse, better = subjects(moves, "broke", "worse"), subjects(moves, "fixed", "better")
    if worse and not better:
        return sentence(
            f"stop and go back: the last pass made {listed(worse)} worse and nothing better. The state before it stood better"
        )
    if worse:
        return sentence(
            f"the last pass made {listed(better)} better and {listed(worse)} worse. Mend what is worse, and touch nothing else"
        )
    are = f"{listed(left)} {'is' if len(left) == 1 else 'are'} still open"
    if better and left:
        return sentence(f"go on: the last pass made {listed(better)} better, and {are}")
    if better:
        return f"Stop here. The last pass made {listed(better)} better, and now everything holds."
    gone = no_longer_matters(moves)
    if gone:
        return " ".join(gone) + " " + (sentence(f"go on: {are}") if left else "Stop here: now everything holds.")
    if not left:
        before = steps[-2] if len(steps) > 1 else None
        if before and not subjects(before[1], "fixed", "better", "broke", "worse", "no longer matters"):
            return (
                "Stop here. Neither of the last two passes moved anything that the review judges, and everything holds."
            )
        return "Stop here. The last pass moved nothing that the review judges, and everything holds."
    moved = "nothing that a photograph couldn't move" if not changes.changed else "figures, but none that decides"
    return sentence(f"the last pass moved {moved}, and {are}. Either go for that, or stop here")
