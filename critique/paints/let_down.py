"""The steps by which a pale mixture is got from a strong one."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class LetDown:
    """``strong`` is the mixture to begin with, paints and parts; each of ``steps`` is parts of white to one of it."""

    strong: tuple[tuple[str, float], ...]
    steps: tuple[int, ...]
