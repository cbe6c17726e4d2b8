"""The painting's own page: its states, newest first, and what was made of each."""

import base64
import io
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from critique.painting.history import History, Run
from critique.painting.kinds import KINDS, kind_of
from critique.painting.states import state_bytes

PAGE = "index.html"


@dataclass(frozen=True, slots=True)
class Line:
    """One result as the page tells it: what it is, when it was made, what it says, and what can be opened."""

    title: str
    when: str
    told: str
    page: str
    more: tuple[tuple[str, str], ...]
    now: bool  # whether it is the latest of its kind


@dataclass(frozen=True, slots=True)
class State:
    """One picture of the painting with its results, newest first."""

    source: str  # data URI of the small picture; empty where there is none
    width: int
    height: int
    file: str
    lines: tuple[Line, ...]


def painting_html(folder: Path, history: History) -> str:
    """The page as one HTML document, with links to what lies in the same folder."""
    from critique.report.naming import title_in
    from critique.report.templating import rendered

    title = title_in(folder.name)
    return rendered("painting.html.j2", style="painting.css", title=title, states=_states(folder, history))


def _states(folder: Path, history: History) -> list[State]:
    newest = list(reversed(history.runs))
    latest = {kind.id: history.latest(kind.id) for kind in KINDS}
    order = list(dict.fromkeys(run.state for run in newest if run.state))
    states = [_state(folder, [run for run in newest if run.state == name], latest) for name in order]
    before = [run for run in newest if not run.state]
    return [*states, *([_state(folder, before, latest)] if before else [])]


def _state(folder: Path, runs: Sequence[Run], latest: dict[str, Run | None]) -> State:
    data = state_bytes(folder, runs[0].state) if runs[0].state else b""
    width, height = _size(data)
    source = f"data:image/jpeg;base64,{base64.b64encode(data).decode('ascii')}" if width else ""
    lines = tuple(_line(folder, run, latest[run.kind] is run) for run in runs if run.kind in latest)
    return State(source, width, height, runs[0].file, lines)


def _size(data: bytes) -> tuple[int, int]:
    from PIL import Image

    try:
        with Image.open(io.BytesIO(data)) as image:
            return image.size
    except OSError:
        return 0, 0


def _line(folder: Path, run: Run, now: bool) -> Line:
    kind = kind_of(run.kind)
    page = run.page if run.page and (folder / run.page).exists() else ""
    more = tuple((name, kind.path(file)) for name, file in kind.more if now and (folder / kind.path(file)).exists())
    return Line(kind.title, _date(run.when), run.told, page, more, now)


def _date(when: str) -> str:
    try:
        moment = datetime.fromisoformat(when)
    except ValueError:
        return when
    return f"{moment.day} {moment:%B %Y, %H:%M}"
