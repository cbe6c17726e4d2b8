"""How many worker processes a portfolio starts."""

from collections.abc import Iterable, Iterator
from typing import Any

import pytest

from critique.portfolio import engine


@pytest.mark.parametrize(("asked", "tasks", "started"), [(2000, 4, 4), (3, 50, 3), (8, 1, 2)])
def test_no_more_workers_are_started_than_there_are_pictures(
    monkeypatch: pytest.MonkeyPatch, asked: int, tasks: int, started: int
):
    # Each loads the libraries and some 200 MB: 2000 for four pictures took a machine down before the first was read.
    seen = []

    def parallel(given: Iterable[Any], jobs: int) -> Iterator[Any]:
        seen.append(jobs)
        yield from given

    monkeypatch.setattr(engine, "_parallel", parallel)
    numbers: Any = range(tasks)
    assert list(engine.local_engine(asked)(numbers)) == list(numbers)
    assert seen == [started]
