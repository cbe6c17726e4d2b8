"""The command that crops photographs to the painting in them and takes the perspective out."""

import sys
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

import click

from critique.cli.doing import doing, progress
from critique.cli.in_photograph import InPhotograph, photograph_options
from critique.cli.options import (
    EXIT_IN_PART,
    EXIT_NOTHING,
    FILE,
    attempted,
    json_option,
    one_line_errors,
    out_option,
    painting_of,
    say,
)

if TYPE_CHECKING:
    from critique.photograph.saving import FileFormat

FOLDER = "straightened"  # within the painting's


@click.command()
@click.argument("pictures", metavar="PHOTO...", nargs=-1, required=True, type=FILE)
@out_option(what="the paintings' folders")
@click.option("--size", metavar="16x12in", help="The canvas's size, in or cm, for its true proportions.")
@photograph_options
@click.option(
    "--format",
    "file_format",
    type=click.Choice(["jpeg", "tiff", "png"]),
    default="jpeg",
    show_default=True,
    help="TIFF and PNG are written with 16 bits a channel.",
)
@json_option("the record of each photograph")
def straighten(
    pictures: tuple[Path, ...],
    folder: Path,
    size: str | None,
    file_format: "FileFormat",
    shown: InPhotograph,
    as_json: bool,
) -> None:
    """Crop photographs to the painting in them, seen square on, at full size.

    A file that is all painting is left as it is. So is one where the canvas's edge is unsure: give its corners then.
    A grey spot, a card or a chart in the photograph makes its light neutral; places are fractions from the upper left.

    The picture comes into the straightened folder of the painting's own.

    Example: critique straighten easel.jpg --size 16x12in
    """
    from critique.painting.keep import Done, keep
    from critique.photograph.proportions import parse_size
    from critique.picture.read import read_picture
    from critique.plain import json_line
    from critique.report.naming import safe_name
    from critique.tasks.straightening import straighten_file

    with one_line_errors():
        real = parse_size(size) if size is not None else None

    def straightened(path: Path) -> str:
        place = painting_of(folder, path)
        asked = shown.of(path, place)
        with doing("Finding the canvas and putting it straight", told=len(pictures) == 1):
            done = straighten_file(
                path,
                place / FOLDER,
                name=safe_name(path.stem),
                corners=asked.corners,
                whole=asked.whole,
                size=real,
                light=asked.light,
                file_format=file_format,
            )
        shown.keep(path, place, asked)
        if done.data is not None:
            size_told = f"{done.width} × {done.height} px."
            seen = read_picture(done.data, done.picture.name, whole=True)
            kept = Done("straightened", path, path, seen, size_told)
            keep(place, kept, lambda _: done.write(), replaced=[done.picture])
        return json_line(done.as_dict()) if as_json else done.told()

    failed = 0
    with progress(list(pictures), "Straightening") as bar:
        for path in bar:
            told = attempted(path, partial(straightened, path))
            if told is None:
                failed += 1
            else:
                say(told)
    sys.exit(EXIT_NOTHING if failed == len(pictures) else EXIT_IN_PART if failed else 0)
