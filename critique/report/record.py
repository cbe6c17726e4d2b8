"""The record of a review, for machines."""

import json

from critique.review import Review


def record_bytes(review: Review) -> bytes:
    """``report.json``: the review's own dictionary in its own order, the same bytes on every run."""
    text = json.dumps(review.as_dict(), ensure_ascii=False, indent=1, allow_nan=False)
    # A file name can hold bytes that are no text; as escapes they are still valid JSON.
    return (text + "\n").encode("utf-8", errors="backslashreplace")
