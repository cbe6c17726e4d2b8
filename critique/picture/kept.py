"""What several ask of one picture is found once: kept as long as the picture is."""

from collections.abc import Callable
from functools import wraps
from operator import is_not
from typing import TypeVar, TypeVarTuple
from weakref import WeakKeyDictionary

from critique.picture.picture import Picture

Beside = TypeVarTuple("Beside")
Found = TypeVar("Found")


def kept(asked: Callable[[Picture, *Beside], Found]) -> Callable[[Picture, *Beside], Found]:
    """A function of a picture whose answer is kept; what it gives must be frozen, for all get the same.

    What was measured of the picture may be given beside it: the answer is kept for what was given last, and found anew
    for any other object. None of that may hold the picture, or both would stay for ever.
    """
    answers: WeakKeyDictionary[Picture, tuple[tuple[object, ...], Found]] = WeakKeyDictionary()

    @wraps(asked)
    def answered(picture: Picture, *beside: *Beside) -> Found:
        given: tuple[object, ...] = beside
        before = answers.get(picture)
        if before is None or any(map(is_not, before[0], given)):
            before = answers[picture] = given, asked(picture, *beside)
        return before[1]

    return answered
