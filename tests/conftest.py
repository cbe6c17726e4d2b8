"""What every test may import: the modules that lie beside this file."""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))
