"""Is a picture cut in half by its dividing line, and how surely?"""

from typing import Literal

from critique.measures.division import Division

Fault = Literal["watch", "rework"]


def halving_fault(division: Division) -> Fault | None:
    if division.halved:
        return "rework"
    return "watch" if division.nearly_halved else None
