"""The same work on a Dask cluster that already runs: its workers read the files from a path that all share."""

import asyncio
import time
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from itertools import islice
from queue import Empty, SimpleQueue
from typing import Any

from critique.errors import CritiqueError
from critique.photograph.source import printable_name
from critique.portfolio.engine import Engine, WorkersGone, lost
from critique.portfolio.work import Outcome, Task, review_elsewhere

CONNECT_SECONDS = 20.0
WAITING_A_THREAD = 3  # tasks handed to the scheduler for each thread of its workers; more would only fill its memory
FEWEST_WAITING = 8  # while workers are still joining
WITHOUT_WORKER_SECONDS = 120.0  # in which workers that were restarted, or are queued for, mostly come; our choice
TELL_SECONDS = 10.0  # in which a task that is done tells what came of it: a row of some kB
ENDED = ("finished", "error", "cancelled")  # what the scheduler calls a task that it won't do again
LOOK_SECONDS = 1.0  # without a task coming back, until the workers are counted

Say = Callable[[str], None]


@contextmanager
def cluster_engine(address: str, say: Say) -> Iterator[Engine]:
    """While it is open, an engine that hands tasks to the scheduler at ``address``, such as ``tcp://studio:8786``.

    A task whose worker dies is given to another by the scheduler; one on which several die is reported by name. While
    there is no worker at all, ``say`` is told so, and after a while the work ends with ``WorkersGone``.

    Raises
    ------
    CritiqueError
        When Dask is not installed or the scheduler does not answer.
    """
    try:
        import distributed
    except ImportError:
        raise CritiqueError("a cluster needs Dask, which is not installed", mend="dask") from None
    try:
        asyncio.run(_knock(address))  # a client that finds nobody would complain on its way out, long after
        client: Any = distributed.Client(  # type: ignore[no-untyped-call]
            address, timeout=CONNECT_SECONDS, set_as_default=False
        )
    except (OSError, ValueError, ImportError) as error:
        reason = str(error) or type(error).__name__
        what = f"{address}: no Dask scheduler answers there ({reason})"
        raise CritiqueError(what, mend="cluster_address") from None
    with client:
        yield lambda tasks: _on_cluster(client, address, tasks, say)


async def _knock(address: str) -> None:
    """Raises OSError or ValueError where nobody answers."""
    from distributed.comm.core import connect

    comm: Any = await connect(address, timeout=CONNECT_SECONDS)  # type: ignore[no-untyped-call]
    await comm.close()


def _on_cluster(client: Any, address: str, tasks: Iterable[Task], say: Say) -> Iterator[Outcome]:
    """Outcomes as they come; a new task is handed out for each that comes back."""
    waiting = iter(tasks)
    handed: dict[str, tuple[Any, Task]] = {}
    back: SimpleQueue[Any] = SimpleQueue()

    def hand_out(number: int) -> None:
        for task in islice(waiting, number):
            future = client.submit(review_elsewhere, task, pure=False)
            handed[future.key] = future, task
            future.add_done_callback(back.put)

    hand_out(_room(client))
    while handed:
        key = _next(back, client, address, say).key
        future, task = handed[key]
        outcome = _outcome(future, task)
        if outcome is None:  # its worker went away before it told, and the scheduler has it done again
            future.add_done_callback(back.put)
            continue
        del handed[key]
        yield outcome
        future.release()
        hand_out(max(1, _room(client) - len(handed)))


def _next(back: "SimpleQueue[Any]", client: Any, address: str, say: Say) -> Any:
    """The next task that is back.

    Raises
    ------
    WorkersGone
        When the scheduler has had no worker for ``WITHOUT_WORKER_SECONDS``, or does not answer any more.
    """
    alone_since: float | None = None
    while True:
        try:
            future = back.get(timeout=LOOK_SECONDS)
        except Empty:
            future = None
        if client.status in ("closing", "closed"):  # it has looked for the scheduler for a while, and given up
            raise WorkersGone(f"{address}: the scheduler does not answer any more")
        if future is not None:
            return future
        if _threads(client):
            alone_since = None
            continue
        if alone_since is None:
            alone_since = time.monotonic()
            say(f"critique: {address}: the scheduler has no worker; waiting {WITHOUT_WORKER_SECONDS:.0f} s for one")
        elif time.monotonic() - alone_since > WITHOUT_WORKER_SECONDS:
            raise WorkersGone(f"{address}: no worker came to the scheduler in {WITHOUT_WORKER_SECONDS:.0f} s")


def _room(client: Any) -> int:
    return max(FEWEST_WAITING, WAITING_A_THREAD * _threads(client))


def _threads(client: Any) -> int:
    """Threads of all workers; one while the scheduler can't be asked: the client is looking for it, or closes soon."""
    try:
        threads: int = sum(client.nthreads().values())
        return threads
    except (OSError, TimeoutError, RuntimeError):
        return 1


def _outcome(future: Any, task: Task) -> Outcome | None:
    """What came of a task that was said to be done; None where that was lost with its worker."""
    import distributed

    try:
        outcome: Outcome = future.result(timeout=TELL_SECONDS)
        return outcome
    except distributed.KilledWorker:
        return Outcome(task.number, None, lost(task.picture))
    except Exception as error:  # whatever the cluster makes of it: this picture was not reviewed, the rest may be
        if isinstance(error, TimeoutError) and future.status not in ENDED:
            return None
        name = printable_name(task.picture)
        return Outcome(task.number, None, f"{name}: the cluster gave it up ({type(error).__name__}); run again")
