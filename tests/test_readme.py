"""What the README says in figures is what the tables and the commands give."""

import re
from pathlib import Path

import pytest
from click.testing import CliRunner

from critique.advice.norms import read_norms
from critique.cli.main import main
from critique.painting.kinds import MOST_KEPT
from critique.paints.box import whole_box

README = Path(__file__).resolve().parent.parent / "README.md"


@pytest.fixture(scope="module")
def said():
    return README.read_text(encoding="utf-8")


def number_in(said, pattern):
    (found,) = re.findall(pattern, said)
    return int(found)


def test_the_norms_are_those_of_the_table(said):
    norms = read_norms()
    assert number_in(said, r"among (\d+) landscapes") == norms.number
    for pattern, figure, unit in (
        (r"yellow-green below (\d+) %", "greens.area_share", 100),
        (r"chroma of their greens below (\d+)", "greens.median_chroma", 1),
    ):
        middle = unit * norms.at(figure, 50)
        assert 0 < number_in(said, pattern) - middle < 1.5, figure  # the next whole number, or the one after it


def test_so_many_paints_are_measured(said):
    measured = [paint for paint in whole_box().with_white if paint.origin.startswith("measured")]
    assert "twenty-five acrylics" in said and len(measured) == 25


def test_so_many_earlier_results_are_kept(said):
    assert "twelve earlier pages" in said and MOST_KEPT == 12


def test_every_command_is_in_its_table_and_none_that_is_not_there(said):
    told = set(re.findall(r"^\| `critique ([a-z]+)", said, re.M))
    assert told == set(main.commands)
    for name in told:
        assert CliRunner().invoke(main, [name, "--help"]).exit_code == 0


def test_every_option_that_it_names_is_there(said):
    named = set(re.findall(r"`(?:critique [a-z]+ )?(--[a-z-]+)", said))
    offered = {option for command in main.commands.values() for one in command.params for option in one.opts}
    assert len(named) >= 8 and named <= offered | {"--help"}, named - offered
