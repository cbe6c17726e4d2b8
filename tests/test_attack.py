"""The attacks that take a moment, a few of each; tests/benchmarks/attack.py --full makes them by the thousand."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

ATTACK = Path(__file__).parent / "benchmarks" / "attack.py"


@pytest.mark.slow
def test_no_damaged_file_and_no_odd_text_escapes():
    done = subprocess.run(
        [sys.executable, str(ATTACK), "--only", "files", "texts"],
        capture_output=True,
        text=True,
        env={**os.environ, "PYTHONPATH": os.pathsep.join([str(ATTACK.parents[2]), os.environ.get("PYTHONPATH", "")])},
    )
    assert done.returncode == 0, done.stdout + done.stderr
    tried = {words[0]: [int(word) for word in words[1:]] for words in map(str.split, done.stdout.splitlines()[1:])}
    for name, most in (("files", 300), ("texts", 40)):
        number, right, refused, escaped, _ = tried[name]
        assert number == right + refused == most and min(right, refused) > 0 and escaped == 0
