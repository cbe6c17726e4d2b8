"""Commands as a page gives them, quoted so that they can be pasted."""

import shlex
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from critique.picture.picture import Picture
from critique.report.greyest import grey_in

USUAL_FOLDER = "review"  # where the folders of paintings are unless told otherwise


@dataclass(frozen=True, slots=True)
class GoingOn:
    """The commands by which a page of a picture says how to go on."""

    plan: str
    review: str  # the same again
    gallery: str


def going_on(source: str | Path, *, box: Path | None = None, out: Path | None = None) -> GoingOn:
    """The commands that go on from a review of a file, with the paint box and the folder that were given."""
    return GoingOn(
        plan_command(source, box=box, out=out),
        review_command(source, box=box, out=out),
        _command("gallery", source, box, out, ()),
    )


def plan_command(
    source: str | Path, *, box: Path | None = None, out: Path | None = None, more: Sequence[str] = ()
) -> str:
    """The command that makes the plan of a picture's file, with the paint box, the folder and what else was given."""
    return _command("plan", source, box, out, more)


def review_command(source: str | Path, *, box: Path | None = None, out: Path | None = None) -> str:
    """The command that reviews the file again, as it was reviewed."""
    return _command("review", source, box, out, ())


PLACE_IT = "Put the place of your own grey into the command (how far from the left, then from the top, 0 to 1):"


def compare_command(
    original: str | Path,
    repaint: str | Path,
    *,
    box: Path | None = None,
    plan: Path | None = None,
    out: Path | None = None,
) -> str:
    """The command that compares two files again, toward the same plan."""
    return _of_several("compare", (original, repaint), box, out, plan)


def passes_command(states: Sequence[str | Path], *, plan: Path | None = None, out: Path | None = None) -> str:
    """The command that follows the states of a painting again, toward the same plan."""
    return _of_several("passes", states, None, out, plan)


def with_greys(command: str, options: Sequence[str], pictures: Sequence[Picture]) -> str:
    """A command with the greyest place of each picture as an example of a grey; empty where one has none."""
    places = [grey_in(picture) for picture in pictures]
    if any(place is None for place in places):
        return ""
    told = (f"{option} {place[0]:g},{place[1]:g}" for option, place in zip(options, places, strict=True) if place)
    return " ".join([command, *told])


def _command(verb: str, source: str | Path, box: Path | None, out: Path | None, more: Sequence[str]) -> str:
    return " ".join([_of_several(verb, (source,), box, out), *(shlex.quote(word) for word in more)])


def _of_several(
    verb: str, sources: Sequence[str | Path], box: Path | None, out: Path | None, plan: Path | None = None
) -> str:
    # A name that begins with a dash is no option.
    words = ["critique", verb, *(f"./{source}" if str(source).startswith("-") else str(source) for source in sources)]
    if box is not None:
        words += ["--box", str(box)]
    if plan is not None:
        words += ["--plan", str(plan)]
    if out is not None and str(out) != USUAL_FOLDER:
        words += ["--out", str(out)]
    return " ".join(shlex.quote(word) for word in words)
