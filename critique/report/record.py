"""Records, for machines."""

import json
import math
from collections.abc import Mapping
from json.encoder import encode_basestring
from typing import Any

from critique.tasks.review import Review


def record_bytes(review: Review) -> bytes:
    """``report.json``: the review's own dictionary in its own order, the same bytes on every run."""
    return json_bytes(review.as_dict())


def json_bytes(record: Mapping[str, Any]) -> bytes:
    """Any record of plain values as the bytes of a JSON file."""
    text = _laid_out(record, "\n")
    # A file name can hold bytes that are no text; as escapes they are still valid JSON.
    return (text + "\n").encode("utf-8", errors="backslashreplace")


def _laid_out(value: Any, line: str) -> str:
    """A value as ``json.dumps(…, ensure_ascii=False, indent=1, allow_nan=False)`` lays it out, several times quicker.

    The standard library lays out piece by piece, each through all the generators above it. ``line`` is a new line as
    deep as what holds the value.
    """
    deeper = line + " "
    if isinstance(value, Mapping) and value:
        items = [f"{encode_basestring(key)}: {_laid_out(item, deeper)}" for key, item in value.items()]
        return "{" + deeper + ("," + deeper).join(items) + line + "}"
    if isinstance(value, (list, tuple)) and value:
        return "[" + deeper + ("," + deeper).join([_laid_out(item, deeper) for item in value]) + line + "]"
    if type(value) is str:
        return encode_basestring(value)
    if type(value) is float and math.isfinite(value):
        return repr(value)
    return json.dumps(value, ensure_ascii=False, allow_nan=False)
