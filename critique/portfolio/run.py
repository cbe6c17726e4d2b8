"""A folder of pictures becomes a portfolio: surveyed, reviewed, gathered."""

import sqlite3
from collections.abc import Callable, Iterable, Iterator
from contextlib import AbstractContextManager, contextmanager, nullcontext
from dataclasses import asdict, dataclass
from itertools import count
from pathlib import Path
from typing import Any

from critique.errors import CritiqueError, OutputError
from critique.portfolio.engine import Engine, WorkersGone, local_engine, usual_jobs
from critique.portfolio.gathering import Gathered, gather
from critique.portfolio.ledger import Ledger
from critique.portfolio.places import Found, found_below, shown_path
from critique.portfolio.progress import Progress
from critique.portfolio.reviewing import Reviewing
from critique.portfolio.rules import Rules
from critique.portfolio.survey import Survey, survey
from critique.portfolio.version import measuring_version
from critique.publish import followed
from critique.report.naming import safe_name
from critique.words.printed import shown_line


class StoppedInPart(CritiqueError):
    """The work had to stop; what was reviewed until then is kept, and the next run goes on from there."""


@dataclass(frozen=True, slots=True)
class Summary:
    """What a run did: counts of pictures, the page, and a line for each file that could not be reviewed.

    ``reviewed`` were measured in this run; ``renamed`` kept their review under another name; ``removed`` are gone
    since the last run; ``holds``, ``watch`` and ``rework`` are all pictures by the gravest of their findings.
    """

    pictures: int
    reviewed: int
    renamed: int
    changed: int
    removed: int
    holds: int
    watch: int
    rework: int
    failed: tuple[str, ...]
    cropped: int  # of the pictures, out of a photograph that shows more
    unsure: tuple[str, ...]  # photographs in which the canvas's edge is unsure
    page: Path
    cleared: tuple[str, ...] = ()  # files with transparent parts, which were taken as white
    twins: tuple[tuple[str, ...], ...] = ()  # files of one painting
    unjudged: int = 0  # reviewed, with nothing to say: a blank canvas

    @property
    def standing(self) -> int:
        """How many pictures have a review."""
        return self.holds + self.watch + self.rework + self.unjudged

    def as_dict(self) -> dict[str, Any]:
        """Ready for JSON."""
        return {**asdict(self), "failed": list(self.failed), "unsure": list(self.unsure), "page": str(self.page)}


def make_portfolio(
    folder: Path,
    out: Path | None = None,
    *,
    jobs: int | None = None,
    cluster: str | None = None,
    rules: Rules | None = None,
    plates: bool = False,
    paintings: Path | None = None,
    say: Callable[[str], None] | None = None,
) -> Summary:
    """Review every picture below ``folder`` and write the portfolio into ``out``.

    Parameters
    ----------
    folder, out : Path
        Pictures are read below the one; the page, tables, reviews, thumbnails and the ledger go into the other, which
        is called after the one unless told otherwise.
    jobs : int, optional
        Worker processes; as many as there are cores unless told otherwise.
    cluster : str, optional
        Address of a Dask scheduler that does the work in their place.
    rules : Rules, optional
        Which findings matter, and their limits.
    paintings : Path, optional
        Where reviews of single paintings lie: corners and greys that are remembered there are used here too.
    plates : bool
        Whether the plates of each review are written as files too.
    say : callable, optional
        Takes lines for the person while the work goes on; they go to stderr unless told otherwise.

    Raises
    ------
    CritiqueError
        When there are no pictures, the output can't be written, or the cluster doesn't answer.
    StoppedInPart
        When the cluster's workers are gone in mid-run and none comes.
    """
    if out is not None and _same(out, folder):
        raise OutputError(f"{out}: holds the pictures", mend="portfolio_apart")
    found = found_below(folder, out)
    if not found.pictures:
        raise CritiqueError(_nothing_in(folder, found))
    where = [out] if out is not None else _usual_places(folder)
    try:
        with _engine(jobs, cluster, Progress("Reviewing", say=say).say) as engine:
            return _made(folder, where, found, engine, rules or Rules(), plates, paintings, say)
    except (OSError, sqlite3.Error) as error:  # a full disk, or a folder that may not be written to, in mid-run
        reason = getattr(error, "strerror", None) or error
        raise OutputError(
            f"{out or folder}: the portfolio can't be kept ({reason}): see to it and run again"
        ) from error


def _same(out: Path, folder: Path) -> bool:
    try:
        return followed(out) == followed(folder)
    except OSError as error:
        raise OutputError(
            f"{out}: can't be the portfolio's folder ({error.strerror})", mend="other_portfolio_folder"
        ) from None


def _nothing_in(folder: Path, found: Found) -> str:
    if reason := found.unread.get("."):
        return f"{folder}: the folder can't be read ({reason}); what is known of its pictures is left as it was"
    if found.unread:
        name, reason = next(iter(found.unread.items()))
        return f"{folder}: there are no pictures that can be read; {shown_path(name)} can't be read ({reason})"
    return f"{folder}: there are no pictures in it or below it; give the folder that holds them"


def _usual_places(folder: Path) -> Iterator[Path]:
    """Where a folder's portfolio goes unless told otherwise: beside whoever asks, called after the folder."""
    name = f"{safe_name(followed(folder).name or 'pictures')}-portfolio"
    return (Path(name if number == 1 else f"{name} ({number})") for number in count(1))


@contextmanager
def _ledger_of(folder: Path, where: Iterable[Path], say: Callable[[str], None]) -> Iterator[tuple[Path, Ledger]]:
    """The first place that is not another folder's portfolio, with its ledger."""
    for out in where:
        with Ledger(out, say) as ledger:
            other = ledger.claim(folder)
            if other is None:
                yield out, ledger
                return
    raise OutputError(
        f"{out}: holds the portfolio of another folder, {shown_line(str(other))}", mend="other_portfolio_folder"
    )


def _made(
    folder: Path,
    where: Iterable[Path],
    found: Found,
    engine: Engine,
    rules: Rules,
    plates: bool,
    paintings: Path | None,
    say: Callable[[str], None] | None,
) -> Summary:
    progress = Progress("Reviewing", say=say)
    with _ledger_of(folder, where, progress.say) as (out, ledger):
        seen = survey(folder, found, ledger, measuring_version(), Progress("Looking", say=say), paintings)
        reviewing = Reviewing(folder, out, ledger, plates, paintings)
        try:
            reviewing.bring_up_to_date(engine, progress)
        except WorkersGone as gone:
            raise _stopped(gone, reviewing.reviewed) from None
        title = shown_line(folder.resolve().name) or "Portfolio"
        gathered = gather(ledger, rules, out, title, seen.unread)
    return _summary(seen, reviewing.reviewed, gathered)


def _stopped(gone: WorkersGone, reviewed: int) -> CritiqueError:
    if not reviewed:
        return CritiqueError(f"{gone}; nothing was reviewed: start workers and run again")
    done = "1 picture was reviewed and is" if reviewed == 1 else f"{reviewed} pictures were reviewed and are"
    return StoppedInPart(f"{gone}; {done} kept: start workers and run again to go on from there")


def _engine(jobs: int | None, cluster: str | None, say: Callable[[str], None]) -> AbstractContextManager[Engine]:
    if cluster is not None:
        from critique.portfolio.cluster import cluster_engine

        return cluster_engine(cluster, say)
    return nullcontext(local_engine(jobs if jobs is not None else usual_jobs()))


def _summary(seen: Survey, reviewed: int, gathered: Gathered) -> Summary:
    return Summary(
        pictures=seen.pictures,
        reviewed=reviewed,
        renamed=seen.renamed,
        changed=seen.changed,
        removed=seen.removed,
        holds=gathered.holds,
        watch=gathered.watch,
        rework=gathered.rework,
        failed=gathered.failed,
        cropped=gathered.cropped,
        unsure=gathered.unsure,
        page=gathered.page,
        cleared=gathered.cleared,
        twins=gathered.twins,
        unjudged=gathered.unjudged,
    )
