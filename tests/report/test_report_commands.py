"""A command on a page is the one that a shell runs, whatever the file is called."""

import shlex
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner
from demo_pictures import demo_path

from critique.cli.main import main
from critique.cli.terminal import started_as
from critique.report.commands import compare_command, going_on, passes_command, plan_command


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


def test_a_file_below_the_folder_that_one_works_in_is_told_from_there(tmp_path, monkeypatch):
    """A file that was dragged into the terminal stood on the page with every folder from the disk's root on."""
    work = tmp_path / "work"
    work.mkdir()
    monkeypatch.chdir(work)
    told = plan_command(work / "may" / "hill 2.jpg", box=work / "mine.toml", out=work / "wall")
    assert shlex.split(told)[2:] == ["may/hill 2.jpg", "--box", "mine.toml", "--out", "wall"]
    assert shlex.split(plan_command(work / "-a.jpg", out=work / "review"))[2:] == ["./-a.jpg"]
    elsewhere = tmp_path / "home" / "hill.jpg"
    assert shlex.split(compare_command(elsewhere, "b.jpg", plan=work))[2:] == [str(elsewhere), "b.jpg", "--plan", "."]


@pytest.mark.slow
def test_the_bundled_demo_has_a_word_that_every_command_takes(tmp_path, monkeypatch):
    """Its path within an installed program is longer than the page's column."""
    monkeypatch.chdir(tmp_path)
    command = going_on(demo_path("tolvesk_01_ostermell_meadow.jpg"), out=Path("review")).plan
    assert command == "critique plan demo"
    done = CliRunner().invoke(main, ["study", "demo", "--json"])
    assert done.exit_code == 0 and '"file":"tolvesk_01_ostermell_meadow.jpg"' in done.output.replace(": ", ":")
    (tmp_path / "demo").mkdir()  # what has that name is meant by it
    assert CliRunner().invoke(main, ["study", "demo"]).exit_code == 1
    assert "tolvesk_01" in going_on(demo_path("tolvesk_01_ostermell_meadow.jpg")).plan


def test_commands_begin_with_what_the_shell_finds(tmp_path, monkeypatch):
    """After the two commands of the first page a painter has no `critique` on the path, but one in `.venv`."""
    script = tmp_path / ".venv" / "bin" / "critique"
    script.parent.mkdir(parents=True)
    script.touch(mode=0o755)
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("PATH", str(tmp_path / "nothing"))
    monkeypatch.setattr(sys, "argv", [".venv/bin/critique", "demo"])
    assert started_as() == ".venv/bin/critique"
    assert plan_command("a.jpg", program=started_as()) == ".venv/bin/critique plan a.jpg"
    monkeypatch.chdir(script.parent)
    monkeypatch.setattr(sys, "argv", ["./critique"])
    assert started_as() == "./critique"
    monkeypatch.setenv("PATH", str(script.parent))
    assert started_as() == "critique"
    monkeypatch.setattr(sys, "argv", [str(tmp_path / "lib" / "__main__.py")])
    assert started_as() == "critique"
