"""`python -m critique`, where the command isn't on the path."""

from critique.cli.main import run

run()
