"""The command that shows a picture under the lamps of a gallery."""

from pathlib import Path
from typing import Any

import click

from critique.cli.doing import doing
from critique.cli.options import (
    FILE,
    box_option,
    canvas_of,
    canvas_options,
    check_light,
    json_option,
    keep_light,
    light_of,
    light_options,
    one_line_errors,
    out_option,
    painting_of,
    plan_option,
    read_box,
    say,
    told_where,
)


@click.command()
@click.argument("picture", type=FILE)
@box_option()
@plan_option()
@canvas_options()
@light_options()
@out_option(what="the painting's folder")
@json_option()
def gallery(
    picture: Path,
    box_file: Path | None,
    plan_folder: Path | None,
    corners: str | None,
    whole: bool,
    folder: Path,
    as_json: bool,
    **light: Any,
) -> None:
    """Show a picture under gallery light: warm LEDs, halogen, north light and a tube poor in green.

    With --box or --plan colours have the spectra of the mixtures that make them; otherwise the smoothest they can have.

    Example: critique gallery meadow.jpg --box mine.toml
    """
    if corners is not None and whole:
        raise click.UsageError("give --corners or --whole, not both")
    if box_file is not None and plan_folder is not None:
        raise click.UsageError("give --box or --plan, not both: a plan has its own paints")
    check_light([picture], light)
    from critique.painting.keep import Done, keep
    from critique.picture.read import read_picture
    from critique.report.gallery_page import write_gallery
    from critique.tasks.gallery import gallery_of
    from critique.tasks.plan_mixtures import mixtures_of_plan

    with one_line_errors(picture):
        place = painting_of(folder, picture, plan_folder)
        box = read_box(box_file) if box_file is not None else None
        mixtures = mixtures_of_plan(plan_folder) if plan_folder is not None else ()
        with doing("Reading the picture"):
            canvas, asked = canvas_of(picture, place, corners, whole), light_of(picture, place, light)
            read = read_picture(picture, corners=canvas, whole=whole, light=asked)
        with doing("Hanging it under each lamp"):
            done = gallery_of(read, box, mixtures)
        kept = Done("gallery", picture, picture, read, " ".join(done.verdict))
        (page,) = keep(place, kept, lambda inside: [write_gallery(done, inside)])
        keep_light(picture, place, asked)
    lines = [read.file, *(f"  {sentence}" for sentence in done.verdict)]
    lines += [f"  {one.lamp.title}, {one.lamp.kelvin} K: {one.text}" for one in done.lamps]
    say(done.as_line() if as_json else told_where("\n".join([*lines, f"  page: {page}"]), place))
