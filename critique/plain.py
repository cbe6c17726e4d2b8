"""How a result becomes the plain dictionary that the record holds."""

import dataclasses
import json
import math
from typing import Any

import numpy as np

SIGNIFICANT_DIGITS = 6  # float32 carries about seven; six keep the record the same on every run and machine


def plain(value: Any) -> Any:
    """Turn a result into dictionaries, lists, strings, numbers and None, ready for JSON.

    Frozen dataclasses become dictionaries of their fields (those marked ``metadata={"record": False}``
    are left out: arrays kept for drawing). Floats are rounded to six significant digits; NaN becomes None.
    """
    kind = type(value)
    if value is None or kind in (str, bool, int):  # most of a record, asked first
        return value
    if kind is float:
        return _rounded(value)
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        return {
            field.name: plain(getattr(value, field.name))
            for field in dataclasses.fields(value)
            if field.metadata.get("record", True)
        }
    if isinstance(value, dict):
        return {str(key): plain(item) for key, item in value.items()}
    if isinstance(value, np.ndarray):
        return plain(value.tolist())
    if isinstance(value, (list, tuple)):
        return [plain(item) for item in value]
    if isinstance(value, (bool, np.bool_)):
        return bool(value)
    if isinstance(value, (int, np.integer)):
        return int(value)
    if isinstance(value, (float, np.floating)):
        return _rounded(float(value))
    return value


def _rounded(number: float) -> float | None:
    return float(f"{number:.{SIGNIFICANT_DIGITS}g}") if math.isfinite(number) else None


def json_line(record: Any) -> str:
    """A record as one line of JSON for a machine that reads standard output; NaN is an error."""
    return json.dumps(record, ensure_ascii=True, allow_nan=False)
