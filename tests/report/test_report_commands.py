"""A command on a page is the one that a shell runs, whatever the file is called."""

import shlex
from pathlib import Path

import pytest

from critique.report.commands import compare_command, passes_command, plan_command


@pytest.mark.parametrize(
    "name", ["meadow.jpg", "two words.jpg", "it's; rm -rf $HOME `x`.jpg", "ünï 日本.jpg", "a\nb.jpg"]
)
def test_any_name_comes_back_from_the_shells_own_words(name):
    command = plan_command(name, box=Path("my box.toml"), out=Path("on the wall"))
    assert shlex.split(command) == ["critique", "plan", name, "--box", "my box.toml", "--out", "on the wall"]


def test_a_name_is_never_taken_for_an_option_and_the_usual_folder_is_not_named():
    assert shlex.split(plan_command("--leave.jpg", out=Path("review"))) == ["critique", "plan", "./--leave.jpg"]


def test_a_command_that_is_run_again_keeps_the_plan_it_was_held_against():
    assert (
        passes_command(["a.jpg", "b.jpg"], plan=Path("review/a b")) == "critique passes a.jpg b.jpg --plan 'review/a b'"
    )
    assert compare_command("a.jpg", "b.jpg", plan=Path("p"), out=Path("o")).endswith("--plan p --out o")
