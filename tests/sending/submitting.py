"""The command that makes pictures ready, called as from a shell."""

import json

from click.testing import CliRunner
from demo_pictures import demo_path

from critique.cli.main import main

MEADOW = demo_path("tolvesk_01_ostermell_meadow.jpg")


def ran(*arguments):
    return CliRunner().invoke(main, ["submit", *map(str, arguments)])


def told(*arguments, code=0):
    done = ran(*arguments, "--json")
    assert done.exit_code == code, done.output
    return [json.loads(line) for line in done.stdout.splitlines()]
