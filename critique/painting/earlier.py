"""Results that newer ones took the place of: set aside first, a few of each kind kept, nothing else ever touched."""

import hashlib
import shutil
from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime
from pathlib import Path

from critique.painting.history import History
from critique.painting.kinds import Kind, kind_of
from critique.publish import settle, written_beside

FOLDER = "earlier"


def digest_of(path: Path) -> str:
    """What tells one record from another; empty where there is none."""
    try:
        return hashlib.sha256(path.read_bytes()).hexdigest()[:20]
    except OSError:
        return ""


def digest_of_all(paths: Sequence[Path]) -> str:
    """The same of several files, where no record tells one result from another."""
    return hashlib.sha256("".join(digest_of(path) for path in paths).encode()).hexdigest()[:20]


def set_aside(folder: Path, kind: Kind, replaced: Sequence[Path] = ()) -> Path | None:
    """Keep what there is of a kind in a folder of its own below ``earlier``; None where there is nothing.

    ``replaced`` are the files in question where the kind has no record.

    The files stay where they are too, so that there is a result at every moment. A folder that a killed run left is
    the same one again.
    """
    if kind.record:
        record, digest = folder / kind.path(kind.record), digest_of(folder / kind.path(kind.record))
        sources = [folder / kind.path(name) for name in kind.kept]
        if not (folder / kind.path(kind.page)).is_file() or not record.is_file():
            return None
    else:
        sources = [path for path in replaced if path.is_file()]
        if not sources:
            return None
        record, digest = sources[0], digest_of_all(sources)
    day = datetime.fromtimestamp(record.stat().st_mtime).strftime("%Y-%m-%d")
    target = folder / FOLDER / f"{day}_{kind.id}_{digest[:6]}"
    if target.is_dir():
        return target
    target.parent.mkdir(parents=True, exist_ok=True)
    with written_beside(target, folder=True) as beside:
        for source in sources:
            if source.is_file() and not source.is_symlink():
                # A copy, no second name of the same bytes: either may be changed.
                settle(Path(shutil.copy2(source, beside / source.name)))
        settle(beside)
        beside.rename(target)
    settle(target.parent)
    return target


def page_aside(folder: Path, kind: Kind, page: str, result: str) -> str:
    """Where the page of a result that was set aside lies, relative to the painting's folder; empty where it doesn't."""
    asides = sorted((folder / FOLDER).glob(f"*_{kind.id}_{result[:6]}")) if result else []
    found = [aside / page for aside in asides if (aside / page).is_file()]
    return found[-1].relative_to(folder).as_posix() if found else ""


def take_back(earlier: Path, kind: Kind, page: str) -> None:
    """Let a result that was set aside go again: only its own files, and its folder when nothing else is in it."""
    for name in {*kind.kept, page}:
        (earlier / name).unlink(missing_ok=True)
    for folder in (earlier, earlier.parent):
        try:
            folder.rmdir()
        except OSError:  # something else lies in it
            return


def within_bounds(folder: Path, history: History) -> History:
    """The history with the pages of all but the last few earlier results of each kind let go."""
    runs = list(history.runs)
    for kind in {run.kind for run in runs}:
        kept = [place for place, run in enumerate(runs) if run.kind == kind and run.page.startswith(f"{FOLDER}/")]
        for place in kept[: -kind_of(kind).most_kept]:
            page = runs[place].page
            runs[place] = replace(runs[place], page="")
            if not any(run.page == page for run in runs):
                take_back((folder / page).parent, kind_of(kind), Path(page).name)
    return replace(history, runs=tuple(runs))
