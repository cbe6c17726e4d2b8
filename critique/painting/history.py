"""What was done with a painting, run by run, as it is kept in its folder."""

import json
from dataclasses import asdict, dataclass, replace
from pathlib import Path
from typing import Any

from critique.publish import replace_file
from critique.text_file import TextFault, json_of, read_text

FILE = "history.json"
FORMAT = 1
MOST_RUNS = 300  # lines of a history: a painting a day for a year has fewer; the oldest go
LONGEST = 300  # characters of what is told of a run


@dataclass(frozen=True, slots=True)
class Run:
    """One result: what was asked, when, of which file, what came of it, and where its page is.

    ``result`` tells one record from another, ``file_id`` one file from another; ``state`` names the small picture of
    what was looked at. ``page`` is relative to the painting's folder, and empty when the page is no longer kept.
    """

    kind: str
    when: str  # ISO 8601, with the offset from UTC
    file: str
    file_id: str
    told: str
    page: str
    result: str
    state: str


@dataclass(frozen=True, slots=True)
class History:
    """All runs of one painting, the oldest first, and where its picture lay: a digest of the path, not the path."""

    source: str = ""
    runs: tuple[Run, ...] = ()

    def with_run(self, run: Run) -> "History":
        """One run more."""
        return replace(self, runs=(*self.runs, run)[-MOST_RUNS:])

    def latest(self, kind: str) -> Run | None:
        """The last run of a kind."""
        return next((run for run in reversed(self.runs) if run.kind == kind), None)


def read_history(folder: Path) -> History | None:
    """The history of a folder; None where there is none, or none that can be read."""
    try:
        kept = json_of(read_text(folder / FILE))
        runs = tuple(Run(**{name: str(run[name]) for name in Run.__dataclass_fields__}) for run in kept["runs"])
        return History(str(kept["source"]), runs)
    except (TextFault, OSError, KeyError, TypeError):
        return None


def write_history(folder: Path, history: History) -> None:
    """Put a history in its place, whole; raises OSError."""
    record: dict[str, Any] = {"format": FORMAT, "source": history.source, "runs": [asdict(run) for run in history.runs]}
    text = json.dumps(record, ensure_ascii=False, indent=1, allow_nan=False) + "\n"
    replace_file(folder / FILE, text.encode("utf-8", errors="backslashreplace"))
