"""Whether two results hold the same, where ``==`` stumbles over arrays and NaN."""

import dataclasses
from typing import Any, TypeVar

import numpy as np

Result = TypeVar("Result")


def by_value(kind: type[Result]) -> type[Result]:
    """Make two results of a class equal when every figure is, to the last bit, and every array kept for drawing.

    For dataclasses that hold arrays, made with ``eq=False``; NaN is equal to NaN. They have no hash.
    """

    def equal(self: Any, other: object) -> bool:
        return alike(self, other)

    kind.__eq__ = equal  # type: ignore[method-assign]
    kind.__hash__ = None  # type: ignore[assignment]
    return kind


def alike(one: Any, other: Any) -> bool:
    """Whether two results hold the same."""
    if type(one) is not type(other):
        return False
    if dataclasses.is_dataclass(one):
        names = [field.name for field in dataclasses.fields(one)]
        return all(alike(getattr(one, name), getattr(other, name)) for name in names)
    if isinstance(one, np.ndarray):
        return np.array_equal(one, other, equal_nan=one.dtype.kind == "f")
    if isinstance(one, dict):
        return one.keys() == other.keys() and all(alike(one[name], other[name]) for name in one)
    if isinstance(one, tuple):
        return len(one) == len(other) and all(map(alike, one, other))
    return bool(one == other or (one != one and other != other))
