"""Where the work is done: in this process, in worker processes, or on a cluster that already runs."""

import os
from collections.abc import Callable, Iterable, Iterator
from itertools import islice

from critique.errors import CritiqueError
from critique.photograph.source import printable_name
from critique.portfolio.memory import end_giving_back
from critique.portfolio.work import Outcome, Task, leave_with, review_one


class WorkersGone(CritiqueError):
    """Nobody is left to do the work, and nobody came in time."""


Engine = Callable[[Iterable[Task]], Iterator[Outcome]]

WAITING_A_WORKER = 2  # tasks handed out ahead: keeps workers busy, and memory flat however many pictures there are


def local_engine(jobs: int) -> Engine:
    """Worker processes of this machine, one BLAS thread each; outcomes come in the order of the tasks."""
    if jobs == 1:
        return _in_this_process
    return lambda tasks: _in_workers(list(tasks), jobs)


def _as_many_as_serve(jobs: int, tasks: int) -> int:
    """Workers to start: more than there are tasks would only be loaded, some 200 MB each. One would be none: two."""
    return max(2, min(jobs, tasks))


def _in_this_process(tasks: Iterable[Task]) -> Iterator[Outcome]:
    try:
        yield from map(review_one, tasks)
    finally:
        end_giving_back()


def usual_jobs() -> int:
    """As many as this process may use cores."""
    import joblib

    return int(joblib.cpu_count())


def _in_workers(tasks: list[Task], jobs: int) -> Iterator[Outcome]:
    """Outcomes in order. When a worker dies, those it may have died of are tried alone, and the rest go on."""
    from joblib.externals.loky.process_executor import TerminatedWorkerError

    done, jobs = 0, _as_many_as_serve(jobs, len(tasks))
    while done < len(tasks):
        try:
            for outcome in _parallel(tasks[done:], jobs):
                done += 1
                yield outcome
        except TerminatedWorkerError:
            suspects = tasks[done : done + jobs * (1 + WAITING_A_WORKER)]
            for task in suspects:
                done += 1
                yield _alone(task)


def _parallel(tasks: Iterable[Task], jobs: int) -> Iterator[Outcome]:
    import joblib

    watched = {"initializer": leave_with, "initargs": (os.getpid(),)}
    with joblib.parallel_config(backend="loky", n_jobs=jobs, inner_max_num_threads=1, **watched):
        run = joblib.Parallel(
            return_as="generator", batch_size=1, pre_dispatch=jobs * WAITING_A_WORKER, max_nbytes=None
        )
        yield from run(joblib.delayed(review_one)(task) for task in tasks)


def _alone(task: Task) -> Outcome:
    """One task in a worker of its own, so that only this one can be what ended it."""
    from joblib.externals.loky.process_executor import TerminatedWorkerError

    try:
        return next(iter(islice(_parallel([task], 2), 1)))
    except TerminatedWorkerError:
        return Outcome(task.number, None, lost(task.picture))


def lost(name: str) -> str:
    """What to say of a picture on which workers die."""
    return (
        f"{printable_name(name)}: the process that read it was ended, for want of memory or by a damaged file; "
        "save a smaller copy or a new one"
    )
