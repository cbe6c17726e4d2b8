"""What several ask of one picture is found once: kept as long as the picture is."""

from collections.abc import Callable
from functools import wraps
from typing import TypeVar
from weakref import WeakKeyDictionary

from critique.picture.picture import Picture

Found = TypeVar("Found")


def kept(asked: Callable[[Picture], Found]) -> Callable[[Picture], Found]:
    """A function of a picture alone, whose answer is kept; what it gives must be frozen, for all get the same."""
    answers: WeakKeyDictionary[Picture, Found] = WeakKeyDictionary()

    @wraps(asked)
    def answered(picture: Picture) -> Found:
        if picture not in answers:
            answers[picture] = asked(picture)
        return answers[picture]

    return answered
