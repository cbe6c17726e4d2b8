"""The command that crops photographs to the painting in them and takes the perspective out."""

import sys
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from critique.cli.doing import doing, progress
from critique.cli.options import (
    EXIT_IN_PART,
    EXIT_NOTHING,
    FILE,
    attempted,
    check_light,
    json_option,
    keep_light,
    light_of,
    light_options,
    one_line_errors,
    out_option,
    painting_of,
    say,
)

if TYPE_CHECKING:
    from critique.photograph.saving import FileFormat

FOLDER = "straightened"  # within the painting's


@click.command()
@click.argument("photographs", metavar="PHOTO...", nargs=-1, required=True, type=FILE)
@out_option(what="the paintings' folders")
@click.option(
    "--corners",
    metavar='"X,Y X,Y X,Y X,Y"',
    help="The canvas's corners, clockwise from the painting's upper left, as fractions of the photograph seen upright; "
    "remembered for the next run into the same folder.",
)
@click.option("--whole", is_flag=True, help="The whole photograph is the painting; forget corners given before.")
@click.option("--size", metavar="16x12in", help="The canvas's size, in or cm, for its true proportions.")
@light_options()
@click.option(
    "--format",
    "file_format",
    type=click.Choice(["jpeg", "tiff", "png"]),
    default="jpeg",
    show_default=True,
    help="TIFF and PNG are written with 16 bits a channel.",
)
@json_option("one line for each photograph")
def straighten(
    photographs: tuple[Path, ...],
    folder: Path,
    corners: str | None,
    whole: bool,
    size: str | None,
    file_format: "FileFormat",
    as_json: bool,
    **light: Any,
) -> None:
    """Crop photographs to the painting in them, seen square on, at full size.

    A file that is all painting is left as it is. So is one where the canvas's edge is unsure: give its corners then.
    A grey spot, a card or a chart in the photograph makes its light neutral; places are fractions from the upper left.

    The picture comes into the straightened folder of the painting's own.

    Example: critique straighten easel.jpg --size 16x12in
    """
    if corners is not None and whole:
        raise click.UsageError("give --corners or --whole, not both")
    if corners is not None and len(photographs) > 1:
        raise click.UsageError("--corners belong to one photograph: give one at a time")
    check_light(photographs, light)
    from critique.painting.keep import Done, keep
    from critique.photograph.corners import forget_corners, parse_corners, remember_corners, remembered_corners
    from critique.photograph.proportions import parse_size
    from critique.picture.read import read_picture
    from critique.plain import json_line
    from critique.report.naming import folder_names
    from critique.tasks.straightening import straighten_file

    with one_line_errors():
        given = parse_corners(corners) if corners is not None else None
        real = parse_size(size) if size is not None else None

    def straightened(path: Path, name: str) -> str:
        place = painting_of(folder, path, name=name)
        if whole:
            forget_corners(place, path.name)
        own = given if given is not None or whole else remembered_corners(place, path.name)
        asked = light_of(path, place, light)
        with doing("Finding the canvas and putting it straight", told=len(photographs) == 1):
            done = straighten_file(
                path,
                place / FOLDER,
                name=name,
                corners=own,
                whole=whole,
                size=real,
                light=asked,
                file_format=file_format,
            )
        keep_light(path, place, asked)
        if given is not None:
            remember_corners(place, path.name, given)
        if done.picture != path:
            size_told = f"{done.width} × {done.height} px."
            seen = read_picture(done.picture, whole=True)
            keep(place, Done("straightened", path, path, seen, size_told), lambda _: [done.picture])
        return json_line(done.as_dict()) if as_json else done.told()

    failed = 0
    with progress(list(zip(photographs, folder_names(list(photographs)), strict=True)), "Straightening") as bar:
        for path, name in bar:
            told = attempted(path, partial(straightened, path, name))
            if told is None:
                failed += 1
            else:
                say(told)
    sys.exit(EXIT_NOTHING if failed == len(photographs) else EXIT_IN_PART if failed else 0)
