"""Records, for machines."""

import json
from collections.abc import Mapping
from typing import Any

from critique.tasks.review import Review


def record_bytes(review: Review) -> bytes:
    """``report.json``: the review's own dictionary in its own order, the same bytes on every run."""
    return json_bytes(review.as_dict())


def json_bytes(record: Mapping[str, Any]) -> bytes:
    """Any record of plain values as the bytes of a JSON file."""
    text = json.dumps(record, ensure_ascii=False, indent=1, allow_nan=False)
    # A file name can hold bytes that are no text; as escapes they are still valid JSON.
    return (text + "\n").encode("utf-8", errors="backslashreplace")
