"""What a finding is."""

from dataclasses import dataclass, field
from typing import Literal

Level = Literal["holds", "watch", "rework"]
LEVELS: tuple[Level, ...] = ("holds", "watch", "rework")


@dataclass(frozen=True, slots=True)
class Finding:
    """Something measured and judged.

    ``kind`` is the id by which ``kinds.py`` knows it, ``subject`` what people call it. ``figure`` is the number behind
    it (a share is 0–1), ``figure_text`` the same as it is read aloud, ``norm`` what it is held to, ``percentile`` where it
    stands among the reference landscapes (0–100; None when there is no such scale), and ``text`` the sentence for the
    painter.

    What follows is None where it is as for all of its kind: ``said_first`` is how often a teacher would mend it first,
    ``stands_on`` the name in the record of the figure that it stands on, ``limit`` the one that this went past, and
    ``spoken`` what a verdict calls it.
    """

    kind: str
    subject: str
    level: Level
    text: str
    figure: float
    figure_text: str
    norm: str
    percentile: float | None = None
    said_first: float | None = field(default=None, metadata={"record": False}, repr=False)
    stands_on: str | None = field(default=None, metadata={"record": False}, repr=False)
    limit: float | None = field(default=None, metadata={"record": False}, repr=False)
    spoken: str | None = field(default=None, metadata={"record": False}, repr=False)
