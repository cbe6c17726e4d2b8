"""Commands as a page gives them, quoted so that they can be pasted."""

import shlex
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from critique.perception.reference import DEMO, is_demo
from critique.picture.picture import Picture
from critique.report.greyest import grey_in

PROGRAM = "critique"
USUAL_FOLDER = "review"  # where the folders of paintings are unless told otherwise


@dataclass(frozen=True, slots=True)
class GoingOn:
    """The commands by which a page of a picture says how to go on."""

    plan: str
    review: str  # the same again
    gallery: str


def going_on(
    source: str | Path, *, box: Path | None = None, out: Path | None = None, program: str = PROGRAM
) -> GoingOn:
    """The commands that go on from a review of a file, with the paint box and the folder that were given.

    ``program`` is what starts the program where the commands are pasted.
    """
    plan, review, gallery = (
        _command(verb, source, box, out, (), program=program) for verb in ("plan", "review", "gallery")
    )
    return GoingOn(plan, review, gallery)


def plan_command(
    source: str | Path,
    *,
    box: Path | None = None,
    out: Path | None = None,
    more: Sequence[str] = (),
    program: str = PROGRAM,
) -> str:
    """The command that makes the plan of a picture's file, with the paint box, the folder and what else was given."""
    return _command("plan", source, box, out, more, program=program)


def review_command(source: str | Path) -> str:
    """The command that reviews the file again, as it was reviewed."""
    return _command("review", source, None, None, ())


PLACE_IT = "Put the place of your own grey into the command (how far from the left, then from the top, 0 to 1):"


def compare_command(
    original: str | Path,
    repaint: str | Path,
    *,
    box: Path | None = None,
    plan: Path | None = None,
    out: Path | None = None,
    program: str = PROGRAM,
) -> str:
    """The command that compares two files again, toward the same plan."""
    return _of_several("compare", (original, repaint), box, out, plan, program=program)


def passes_command(
    states: Sequence[str | Path], *, plan: Path | None = None, out: Path | None = None, program: str = PROGRAM
) -> str:
    """The command that follows the states of a painting again, toward the same plan."""
    return _of_several("passes", states, None, out, plan, program=program)


def with_greys(command: str, options: Sequence[str], pictures: Sequence[Picture]) -> str:
    """A command with the greyest place of each picture as an example of a grey; empty where one has none."""
    places = [grey_in(picture) for picture in pictures]
    if any(place is None for place in places):
        return ""
    told = (f"{option} {place[0]:g},{place[1]:g}" for option, place in zip(options, places, strict=True) if place)
    return " ".join([command, *told])


def _command(
    verb: str,
    source: str | Path,
    box: Path | None,
    out: Path | None,
    more: Sequence[str],
    *,
    program: str = PROGRAM,
) -> str:
    return " ".join([_of_several(verb, (source,), box, out, program=program), *(shlex.quote(word) for word in more)])


def _of_several(
    verb: str,
    sources: Sequence[str | Path],
    box: Path | None,
    out: Path | None,
    plan: Path | None = None,
    *,
    program: str = PROGRAM,
) -> str:
    words = [program, verb, *(_picture(source) for source in sources)]
    if box is not None:
        words += ["--box", _from_here(box)]
    if plan is not None:
        words += ["--plan", _from_here(plan)]
    if out is not None and _from_here(out) != USUAL_FOLDER:
        words += ["--out", _from_here(out)]
    return " ".join(shlex.quote(word) for word in words)


def _picture(source: str | Path) -> str:
    """A picture as a command is given it. The bundled demo, deep in the installed program, has a word of its own."""
    if is_demo(source) and not Path(DEMO).exists():
        return DEMO
    name = _from_here(source)
    # A name that begins with a dash is no option.
    return f"./{name}" if name.startswith("-") else name


def _from_here(path: str | Path) -> str:
    """A path as it is written from the folder that the program was started in, where it lies below that."""
    if not Path(path).is_absolute():
        return str(path)
    try:
        return str(Path(path).relative_to(Path.cwd()))
    except (ValueError, OSError):  # elsewhere, or started in a folder that is gone
        return str(path)
