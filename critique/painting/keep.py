"""A result comes into its painting's folder, and what was there before is kept."""

import re
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path

from critique.errors import OutputError, unwritten
from critique.painting.earlier import digest_of, digest_of_all, page_aside, set_aside, take_back, within_bounds
from critique.painting.history import LONGEST, History, Run, read_history, write_history
from critique.painting.identity import file_id, painting_folder, source_id
from critique.painting.kinds import Kind, kind_of
from critique.painting.page import PAGE, painting_html
from critique.painting.states import keep_state, only_these
from critique.picture.picture import Picture
from critique.publish import only_one_at, replace_file


@dataclass(frozen=True, slots=True)
class Done:
    """A result to keep: what was asked, of which file and picture, and what came of it in a line."""

    kind: str
    source: Path  # the painting's own file, by which its folder is known
    shown: Path  # the file of the state that was looked at
    picture: Picture
    told: str
    within: bool = False  # the folder was named by its plan: it may show a file from anywhere


def keep(
    folder: Path, done: Done, write: Callable[[Path], Sequence[Path]], replaced: Sequence[Path] = ()
) -> list[Path]:
    """Have a result written into a painting's folder, and tell of it on the painting's page.

    ``write`` is given the place for it and gives the files by which the result is known, its page first. An earlier
    result that differs is set aside before, and the same one again leaves no second line; of a kind without a record
    ``replaced`` are the files that may be there already. One run at a time is at work on a folder of paintings;
    whatever moment a run is stopped at, there is a whole result, and none is lost.

    Raises
    ------
    OutputError
        When something can't be written, or the folder has become another painting's since it was chosen.
    """
    kind = kind_of(done.kind)
    try:
        with _made(folder), only_one_at(folder.parent):
            history = read_history(folder) or History(source_id(done.source))
            if not done.within and _anothers(folder, history, done.source):
                raise OutputError(
                    f"{folder}: another run has begun this folder for another painting of that name: run this one again"
                )
            there = _digest(folder, kind, [path for path in replaced if path.is_file()])
            aside = set_aside(folder, kind, replaced)
            written = list(write(folder / kind.folder if kind.folder else folder))
            result = _digest(folder, kind, written)
            if aside is not None and there == result:
                if not any(run.page.startswith(_relative(aside, folder)) for run in history.runs):
                    take_back(aside, kind, kind.page or written[0].name)
                aside = None
            history = _told(folder, history, done, kind, result, there, aside, written)
            write_history(folder, history)
            only_these(folder, {run.state for run in history.runs})
            replace_file(folder / PAGE, painting_html(folder, history).encode("utf-8", errors="backslashreplace"))
    except OSError as error:
        raise unwritten(f"{folder}: the painting's page can't be written", error) from error
    return written


def _anothers(folder: Path, history: History, source: Path) -> bool:
    """Whether a folder has become another painting's: of two runs that chose a free name at once the first has it."""
    if history.source in ("", source_id(source)):
        return False
    return painting_folder(folder.parent, source) != folder


@contextmanager
def _made(folder: Path) -> Iterator[None]:
    """Make a folder and those above it; those that were made go again, as long as they are empty, when it fails."""
    missing = [each for each in (folder, *folder.parents) if not each.exists()]
    try:
        folder.mkdir(parents=True, exist_ok=True)
        yield
    except BaseException:
        for each in missing:
            try:
                each.rmdir()
            except OSError:  # it was never made, or someone has put something in it
                break
        raise


def _told(
    folder: Path, history: History, done: Done, kind: Kind, result: str, there: str, aside: Path | None,
    written: Sequence[Path],
) -> History:  # fmt: skip
    """The history with this run in it, and with where earlier results are now."""
    page = kind.path(kind.page) if kind.page else _relative(written[0], folder)
    if aside is not None:
        history = _moved(folder, history, kind, page, there, aside)
    latest = history.latest(kind.id)
    if latest is not None and latest.result == result and latest.page == page:
        return history
    now = datetime.now().astimezone().isoformat(timespec="seconds")
    run = Run(
        kind.id, now, done.shown.name, file_id(done.shown), _short(done.told), page, result,
        keep_state(folder, done.picture),
    )  # fmt: skip
    return within_bounds(folder, history.with_run(run))


def _moved(folder: Path, history: History, kind: Kind, page: str, there: str, aside: Path) -> History:
    """Runs whose page is no longer in its place point to where it was set aside; a result without a line gets one."""
    name = kind.page or Path(page).name
    new = f"{_relative(aside, folder)}/{name}"
    runs = tuple(
        replace(run, page=new if run.result == there else page_aside(folder, kind, name, run.result))
        if run.kind == kind.id and run.page == page
        else run
        for run in history.runs
    )
    if not any(run.kind == kind.id and run.page == new for run in runs):
        # Written before there were histories, or by a run that was stopped before it told of it.
        there_since = (aside / (kind.record or name)).stat().st_mtime
        made = datetime.fromtimestamp(there_since).astimezone().isoformat(timespec="seconds")
        runs = (*runs, Run(kind.id, made, "", "", "", new, there, ""))
    return replace(history, runs=runs)


def _digest(folder: Path, kind: Kind, files: Sequence[Path]) -> str:
    """What tells this result of a kind from another; ``files`` do where it has no record."""
    if kind.record:
        return digest_of(folder / kind.path(kind.record))
    return digest_of_all(files) if files else ""


def _relative(path: Path, folder: Path) -> str:
    return path.relative_to(folder).as_posix()


def _short(text: str) -> str:
    """As many whole sentences as a line of the history holds; of a first one that is longer, its beginning."""
    if len(text) <= LONGEST:
        return text
    ends = [end.end(1) for end in re.finditer(r"([.!?])(?= )", text) if end.end(1) <= LONGEST]
    return text[: ends[-1]] if ends else text[: LONGEST - 1].rsplit(" ", 1)[0] + "…"
