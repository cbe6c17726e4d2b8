"""What each pass over a painting did, and whether it is time to stop."""

from critique.pair.answer import Answer
from critique.pair.change_maps import ChangeMaps
from critique.pair.changed_words import things_in_words
from critique.pair.comparison import Changes
from critique.pair.comparison_words import asides_of, told_of
from critique.pair.definition import Definition, definition_in_words
from critique.pair.finding_moves import (
    FindingMove,
    any_better_or_worse,
    better_and_worse,
    no_longer_matters,
    on_the_edge,
    open_beside_others,
    still_open,
    subjects,
)
from critique.pair.scattered import patches_in_words, share_in_patches
from critique.words.aloud import sentence
from critique.words.lists import listed

JUDGED_ALIKE = "Of what the review judges, this pass made nothing surely better or worse."
LAST_IS_ANOTHER = "The last file looks like another picture: whether to stop can't be said by it."


def pass_in_words(
    changes: Changes,
    moves: tuple[FindingMove, ...],
    answers: tuple[Answer, ...],
    maps: ChangeMaps | None,
    definition: Definition | None = None,
) -> str:
    """What one pass made better and worse, what it left open, and what it made of the picture.

    ``maps`` show where it changed, None where the two don't lie on each other; ``definition`` is what became of its
    strokes, where they alone changed.
    """
    in_places = maps is not None and bool(maps.places or maps.things)
    in_patches = share_in_patches(maps) if maps is not None else 0.0
    finer = [definition_in_words(definition)] if definition is not None else []
    if not changes.changed and not in_places and in_patches == 0 and not finer:
        return "This pass moved nothing that a photograph couldn't move."
    still, edge = still_open(moves), on_the_edge(moves)
    told, aside = told_of(answers, changes), asides_of(answers, changes)
    made = ([f"the picture is {listed(told)}"] if told else []) + aside
    sentences = better_and_worse(moves) or [JUDGED_ALIKE]
    if made:
        sentences.append(sentence("; ".join(made)))
    elif not any_better_or_worse(moves):
        sentences = (
            []
            if finer
            else [
                f"Parts of it were painted otherwise. {JUDGED_ALIKE}"
                if in_places
                else "This pass hardly moved anything."
            ]
        )
    if still:
        sentences.append(f"Still open: {listed(still)}.")
    sentences += open_beside_others(moves)
    if edge:
        sentences.append(f"On the edge, where another photograph could decide: {listed(edge)}.")
    things = things_in_words(maps.things) if maps is not None else ()
    patches = [patches_in_words(in_patches)] if in_patches > 0 else []
    return " ".join([*things, *patches, *finer, *sentences])


def stop_or_go(steps: tuple[tuple[Changes, tuple[FindingMove, ...]], ...], definition: Definition | None = None) -> str:
    """Advice after the last pass; ``steps`` are the changes and moves from each state to the next.

    ``definition`` is what became of its strokes in the last, where they alone changed.
    """
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
        if before and not any_better_or_worse(before[1]):
            return (
                "Stop here. Neither of the last two passes moved anything that the review judges, and everything holds."
            )
        return "Stop here. The last pass moved nothing that the review judges, and everything holds."
    if definition is not None:
        return sentence(f"the last pass worked on edges and strokes alone, and {are}. Either go for that, or stop here")
    moved = "nothing that a photograph couldn't move" if not changes.changed else "figures, but none that decides"
    return sentence(f"the last pass moved {moved}, and {are}. Either go for that, or stop here")
