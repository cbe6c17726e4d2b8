"""The same work on a Dask cluster that already runs: its workers read the files from a path that all share."""

from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from itertools import islice
from typing import Any

from critique.errors import CritiqueError
from critique.picture.files import printable_name
from critique.portfolio.engine import Engine, lost
from critique.portfolio.work import Outcome, Task, review_elsewhere

CONNECT_SECONDS = 20.0
WAITING_A_THREAD = 3  # tasks handed to the scheduler for each thread of its workers; more would only fill its memory
FEWEST_WAITING = 8  # while workers are still joining


@contextmanager
def cluster_engine(address: str) -> Iterator[Engine]:
    """While it is open, an engine that hands tasks to the scheduler at ``address``, such as ``tcp://studio:8786``.

    A task whose worker dies is given to another by the scheduler; one on which several die is reported by name.

    Raises
    ------
    CritiqueError
        When Dask is not installed or the scheduler does not answer.
    """
    try:
        import distributed
    except ImportError:
        raise CritiqueError("--cluster needs Dask: pip install 'critique[cluster]'") from None
    try:
        client: Any = distributed.Client(  # type: ignore[no-untyped-call]
            address, timeout=CONNECT_SECONDS, set_as_default=False
        )
    except (OSError, ValueError, ImportError) as error:
        reason = str(error) or type(error).__name__
        raise CritiqueError(f"{address}: no Dask scheduler answers there ({reason}); check --cluster") from None
    with client:
        yield lambda tasks: _on_cluster(client, tasks)


def _on_cluster(client: Any, tasks: Iterable[Task]) -> Iterator[Outcome]:
    """Outcomes as they come; a new task is handed out for each that comes back."""
    import distributed

    waiting = iter(tasks)
    handed: dict[str, Task] = {}

    def hand_out(number: int) -> list[Any]:
        futures = []
        for task in islice(waiting, number):
            future = client.submit(review_elsewhere, task, pure=False)
            handed[future.key] = task
            futures.append(future)
        return futures

    finished: Any = distributed.as_completed(hand_out(_room(client)), loop=client.loop)  # type: ignore[no-untyped-call]
    for future in finished:
        task = handed.pop(future.key)
        yield _outcome(future, task)
        future.release()
        for fresh in hand_out(max(1, _room(client) - len(handed))):
            finished.add(fresh)


def _room(client: Any) -> int:
    threads: int = sum(client.nthreads().values())
    return max(FEWEST_WAITING, WAITING_A_THREAD * threads)


def _outcome(future: Any, task: Task) -> Outcome:
    import distributed

    try:
        outcome: Outcome = future.result()
        return outcome
    except distributed.KilledWorker:
        return Outcome(task.number, None, lost(task.picture))
    except Exception as error:  # whatever the cluster makes of it: this picture was not reviewed, the rest may be
        name = printable_name(task.picture)
        return Outcome(task.number, None, f"{name}: the cluster gave it up ({type(error).__name__}); run again")
