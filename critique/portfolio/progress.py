"""How far the work has come: a bar with the rate and the time left, on a terminal only."""

import sys
import time
from collections.abc import Callable, Iterable, Iterator
from typing import TextIO, TypeVar

Item = TypeVar("Item")

REDRAW_SECONDS = 0.2
BAR_WIDTH = 24  # characters
PATIENCE = 2.0  # seconds of work before a time left is guessed


class Progress:
    """A bar on ``stream`` (stderr) while items go by; silent where the stream is not a terminal.

    Lines for the person go to ``say``, or to the stream above the bar.
    """

    def __init__(self, label: str, stream: TextIO | None = None, say: Callable[[str], None] | None = None) -> None:
        self.label = label
        self.stream = stream if stream is not None else sys.stderr
        self.shown = self.stream.isatty()
        self._say = say

    def over(self, items: Iterable[Item], total: int) -> Iterator[Item]:
        """The items, counted as they are finished."""
        start = drawn = time.monotonic()
        done = 0
        try:
            for item in items:
                yield item
                done += 1
                now = time.monotonic()
                if self.shown and (now - drawn > REDRAW_SECONDS or done == total):
                    drawn = now
                    self._draw(bar_line(self.label, done, total, now - start))
        finally:
            if self.shown and done:
                self._draw("")

    def say(self, line: str) -> None:
        """Print a line above the bar."""
        if self.shown:
            self._draw("")
        if self._say is not None:
            self._say(line)
        else:
            self.stream.write(f"{line}\n")
            self.stream.flush()

    def _draw(self, line: str) -> None:
        self.stream.write(f"\r\x1b[K{line}")
        self.stream.flush()


def bar_line(label: str, done: int, total: int, seconds: float) -> str:
    """The bar as text: how many of how many, at what rate, and the time that is left at this rate."""
    part = done / total if total else 1.0
    filled = round(BAR_WIDTH * part)
    line = f"{label} [{'#' * filled}{'-' * (BAR_WIDTH - filled)}] {done}/{total}"
    if seconds < PATIENCE or done == 0:
        return line
    rate = done / seconds
    pace = f"{rate:.1f} a second" if rate >= 1 else f"{1 / rate:.1f} s each"
    return f"{line}, {pace}, {span((total - done) / rate)} left"


def span(seconds: float) -> str:
    """A stretch of time as it is read: ``40 s``, ``3 min``, ``2 h 10 min``."""
    if seconds < 90:
        return f"{seconds:.0f} s"
    minutes = round(seconds / 60)
    return f"{minutes} min" if minutes < 90 else f"{minutes // 60} h {minutes % 60:02d} min"
