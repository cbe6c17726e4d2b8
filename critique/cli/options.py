"""What the commands share: where pages go, whose paint box, records as JSON, and errors told in one line."""

import sys
from collections.abc import Callable, Iterator, Sequence
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
    from critique.photograph.corners import Corners
    from critique.photograph.light_asked import LightAsked

EXIT_NOTHING = 1  # nothing could be done
EXIT_USAGE = 2  # what was asked can't be
EXIT_IN_PART = 3  # some files failed, each of them named

# Whether a file may be read is told in its own line, by whoever reads it: click would end the whole command.
FILE = click.Path(path_type=Path, readable=False)

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


def painting_of(folder: Path, source: Path, plan_folder: Path | None = None, name: str = "") -> Path:
    """The painting's folder within ``folder``; the plan's own, where one is given and no other folder was named."""
    from critique.painting.history import FILE as HISTORY
    from critique.painting.identity import painting_folder

    if plan_folder is not None:
        asked = click.get_current_context().get_parameter_source("folder")
        for own in (plan_folder, plan_folder.parent):
            if asked is click.core.ParameterSource.DEFAULT and (own / HISTORY).is_file():
                return own
    return painting_folder(folder, source, name)


def told_where(text: str, folder: Path) -> str:
    """What was done, and where all that was made of this painting is."""
    from critique.painting.page import PAGE

    return f"{text}\n  all of this painting: {folder / PAGE}"


def canvas_options() -> Decorator:
    """``--corners`` and ``--whole``: which part of a photograph is the painting."""

    def both(command: Callable[..., Any]) -> Callable[..., Any]:
        whole = click.option("--whole", is_flag=True, help="Judge the whole file; forget corners given before.")
        corners = click.option(
            "--corners",
            metavar='"X,Y X,Y X,Y X,Y"',
            help="Corners of the canvas in its photograph, clockwise from the painting's upper left, as fractions; "
            "remembered beside the result.  [default: the canvas is looked for]",
        )
        return corners(whole(command))

    return both


def canvas_of(picture: Path, folder: Path, corners: str | None, whole: bool) -> "Corners | None":
    """The corners that were given for a picture, now or on an earlier run into the same folder."""
    from critique.photograph.corners import forget_corners, parse_corners, remember_corners, remembered_corners

    if whole:
        forget_corners(folder, picture.name)
        return None
    if corners is None:
        return remembered_corners(folder, picture.name)
    given = parse_corners(corners)
    remember_corners(folder, picture.name, given)
    return given


def light_options() -> Decorator:
    """``--grey``, ``--card``, ``--chart``, ``--even``: by what the light of a photograph is put right."""

    def all_of_them(command: Callable[..., Any]) -> Callable[..., Any]:
        for option in reversed(
            (
                click.option("--grey", metavar="X,Y", help="A spot in the photograph that is grey or white."),
                click.option(
                    "--card",
                    metavar='"X,Y ..."',
                    help="A spot on a grey or white card in the photograph, or its four corners, clockwise.",
                ),
                click.option("--card-value", type=float, help="The card's value (18 % grey is 5): sets brightness."),
                click.option(
                    "--chart",
                    metavar='"X,Y X,Y X,Y X,Y"',
                    help='Of a 24-patch chart, from the brown one; or "find".',
                ),
                click.option(
                    "--even/--no-even",
                    default=None,
                    help="Even the light across the canvas by the wall.  [default: where that is one even wall]",
                ),
                click.option("--as-photographed", is_flag=True, help="Leave the light; forget greys named before."),
            )
        ):
            command = option(command)
        return command

    return all_of_them


NO_LIGHT_GIVEN: dict[str, Any] = {"as_photographed": False}


def light_of(picture: Path, folder: Path, given: dict[str, Any]) -> "LightAsked":
    """By what a picture's light is put right, named now or on an earlier run into the same folder."""
    from critique.photograph.light_asked import LightAsked, forget_light, parse_light, remembered_light

    asked = dict(given)
    if asked.pop("as_photographed"):
        forget_light(folder, picture.name)
        return LightAsked(even=False)
    named = any(value is not None for value in asked.values())
    return parse_light(**asked) if named else remembered_light(folder, picture.name)


def keep_light(picture: Path, folder: Path, light: "LightAsked") -> None:
    """Remember what the light was put right by, once that has worked."""
    from critique.photograph.light_asked import NOTHING_ASKED, LightAsked, remember_light

    if light not in (NOTHING_ASKED, LightAsked(even=False)):
        remember_light(folder, picture.name, light)


def check_light(pictures: Sequence[Path], given: dict[str, Any]) -> None:
    """What was named belongs to one photograph, and is not taken back in the same breath."""
    named = [name for name in ("grey", "card", "chart") if given[name] is not None]
    if named and len(pictures) > 1:
        raise click.UsageError(f"--{named[0]} belongs to one photograph: give one at a time")
    if given["as_photographed"] and (named or given["even"]):
        raise click.UsageError(f"give --{(named or ['even'])[0]} or --as-photographed, not both")


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
