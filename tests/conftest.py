"""What every test may import: the modules that lie beside this file."""

import gc
import os
import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))

# Tests run as many at a time as there are cores: were each to share its products of matrices out over all of them,
# they would wait for each other.
if "PYTEST_XDIST_WORKER" in os.environ:
    for library in ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS"):
        os.environ.setdefault(library, "1")

# Two hundred files of tests are read before the first runs, and nothing of them is garbage: to look for some again and
# again takes a third of that time.
gc.disable()


def pytest_collection_finish() -> None:
    """From now on there is garbage, of which what was read is none."""
    gc.freeze()
    gc.enable()
