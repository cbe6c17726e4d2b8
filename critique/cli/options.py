"""What the commands share: where pages go, whose paint box, records as JSON, and errors told in one line."""

import os
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Any, NoReturn, TypeVar

import click

from critique.cli.mending import line_of
from critique.cli.terminal import debugging, fault_in_one_line
from critique.errors import CritiqueError, WrongUsage
from critique.words.printed import shown, shown_line

if TYPE_CHECKING:
    from critique.paints.box import PaintBox
    from critique.pair.kept_plan import KeptPlan

EXIT_NOTHING = 1  # nothing could be done
EXIT_USAGE = 2  # what was asked can't be
EXIT_IN_PART = 3  # some files failed, each of them named

# Whether a file may be read is told in its own line, by whoever reads it: click would end the whole command.
FILE = click.Path(path_type=Path, readable=False)


class PictureFile(click.Path):
    """A picture's file. Where there is none of that name, the word for the bundled demo stands for its file."""

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> Any:
        from critique.perception.reference import DEMO, DEMO_FILE, demo_path

        found = demo_path(DEMO_FILE) if str(value) == DEMO and not os.path.exists(value) else value
        return super().convert(found, param, ctx)


PICTURE = PictureFile(path_type=Path, readable=False)

Result = TypeVar("Result")
Decorator = Callable[[Callable[..., Any]], Callable[..., Any]]


OUT = "review"  # the folder of the paintings' folders, the same for every command that makes something of a painting


def out_option(default: str = OUT, what: str = "the page") -> Decorator:
    """``--out``: the folder that ``what`` goes into."""
    return click.option(
        "--out",
        "folder",
        default=default,
        show_default=True,
        type=FILE,
        help=f"Folder for {what}.",
    )


def json_option(what: str = "the record") -> Decorator:
    """``--json``: ``what`` on standard output, for machines."""
    return click.option("--json", "as_json", is_flag=True, help=f"Print {what} as one line of JSON.")


def box_option() -> Decorator:
    """``--box``: the painter's own paint box."""
    return click.option(
        "--box",
        "box_file",
        type=FILE,
        help='Your box, a TOML file such as: paints = ["PY74", "PB29", "red oxide"]; see `critique paints --help`.  '
        "[default: a landscape set]",
    )


def plan_option() -> Decorator:
    """``--plan``: the folder of the painting's plan."""
    return click.option(
        "--plan", "plan_folder", type=click.Path(path_type=Path), help="The painting's folder, or the plan's in it."
    )


def read_plan(folder: Path | None) -> "KeptPlan | None":
    """The plan of a folder, or None where none was given."""
    if folder is None:
        return None
    from critique.pair.kept_plan import kept_plan

    return kept_plan(folder)


def painting_of(folder: Path, source: Path, plan_folder: Path | None = None) -> Path:
    """The painting's folder within ``folder``; the plan's own, where one is given and no other folder was named."""
    from critique.painting.history import FILE as HISTORY
    from critique.painting.identity import painting_folder

    if plan_folder is not None:
        asked = click.get_current_context().get_parameter_source("folder")
        for own in (plan_folder, plan_folder.parent):
            if asked is click.core.ParameterSource.DEFAULT and (own / HISTORY).is_file():
                return own
    return painting_folder(folder, source)


def told_where(text: str, folder: Path) -> str:
    """What was done, and where all that was made of this painting is."""
    from critique.painting.page import PAGE

    return f"{text}\n  all of this painting: {folder / PAGE}"


def read_box(path: Path | None) -> "PaintBox":
    """The box of a file, or the default one."""
    from critique.paints.box import default_box, load_box

    box = load_box(path) if path else default_box()
    for taken in box.taken:
        say(f"critique: {box.name}: {taken.text}", err=True)
    return box


def say(text: str, *, err: bool = False) -> None:
    """Print, with nothing in it that would move the cursor: names of files and paints may hold anything."""
    click.echo(shown(text), err=err)


def tell(error: CritiqueError) -> None:
    """An error as its one line on standard error."""
    say(f"critique: {shown_line(line_of(error))}", err=True)


def tell_fault(error: Exception, *files: Path) -> None:
    """An error that nobody foresaw, as one line that names the files it arose with; all of it when debugging."""
    if debugging():
        import traceback

        traceback.print_exception(error)
    from critique.photograph.source import printable_name

    about = f"{', '.join(printable_name(file) for file in files)}: " if files else ""
    say(f"critique: {about}{shown_line(fault_in_one_line(error))}", err=True)


def attempted(picture: Path, do: Callable[[], Result]) -> Result | None:
    """What ``do`` makes of a picture; None, with its line told, where that fails, in whatever way."""
    try:
        return do()
    except WrongUsage as error:
        _refuse(error)
    except CritiqueError as error:
        tell(error)
    except Exception as error:
        tell_fault(error, picture)
    return None


def _refuse(error: WrongUsage) -> NoReturn:
    """What was asked is wrong for every picture: there is no going on to the next."""
    tell(error)
    sys.exit(EXIT_USAGE)


@contextmanager
def one_line_errors(*files: Path) -> Iterator[None]:
    """What the program refuses, or nobody foresaw, is told in one line, and nothing was done."""
    try:
        yield
    except WrongUsage as error:
        _refuse(error)
    except CritiqueError as error:
        tell(error)
        sys.exit(EXIT_NOTHING)
    except click.ClickException:
        raise
    except Exception as error:
        tell_fault(error, *files)
        sys.exit(EXIT_NOTHING)
