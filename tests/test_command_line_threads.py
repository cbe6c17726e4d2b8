"""How many threads the commands let the libraries of linear algebra have."""

import os
import subprocess
import sys

import pytest

COMMAND = """
from critique.cli.main import main
main(["paints", "list"], standalone_mode=False)
import numpy
from threadpoolctl import threadpool_info
print("threads", *sorted({library["num_threads"] for library in threadpool_info()}))
"""


@pytest.mark.parametrize(("asked", "given"), [(None, "1"), ("2", "2")])
def test_a_command_takes_one_thread_unless_the_person_asks_for_more(asked, given):
    environment = {name: value for name, value in os.environ.items() if not name.endswith("_THREADS")}
    if asked is not None:
        environment["OPENBLAS_NUM_THREADS"] = asked
    done = subprocess.run([sys.executable, "-c", COMMAND], capture_output=True, text=True, check=True, env=environment)
    # OpenBLAS never takes more threads than there are cores.
    assert done.stdout.splitlines()[-1] == f"threads {min(int(given), os.cpu_count() or 1)}"
