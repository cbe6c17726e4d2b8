"""What every test may import: the modules that lie beside this file."""

import os
import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))

# Tests run as many at a time as there are cores: were each to share its products of matrices out over all of them,
# they would wait for each other.
if "PYTEST_XDIST_WORKER" in os.environ:
    for library in ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS"):
        os.environ.setdefault(library, "1")
