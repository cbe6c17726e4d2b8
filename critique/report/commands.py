"""Commands as a page gives them, quoted so that they can be pasted."""

import shlex
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

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


def review_command(
    source: str | Path, *, box: Path | None = None, out: Path | None = None, more: Sequence[str] = ()
) -> str:
    """The command that reviews the file again, as it was reviewed; ``more`` is what to say otherwise."""
    return _command("review", source, box, out, more)


def _command(verb: str, source: str | Path, box: Path | None, out: Path | None, more: Sequence[str]) -> str:
    words = ["critique", verb, str(source)]
    if box is not None:
        words += ["--box", str(box)]
    if out is not None and str(out) != USUAL_FOLDER:
        words += ["--out", str(out)]
    words += more
    # A name that begins with a dash is no option.
    if words[2].startswith("-"):
        words[2] = f"./{words[2]}"
    return " ".join(shlex.quote(word) for word in words)
