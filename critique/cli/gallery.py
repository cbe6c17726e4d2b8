"""The command that shows a picture under the lamps of a gallery."""

from pathlib import Path

import click

from critique.cli.doing import doing
from critique.cli.in_photograph import InPhotograph, photograph_options
from critique.cli.options import (
    PICTURE,
    box_option,
    json_option,
    one_line_errors,
    out_option,
    painting_of,
    plan_option,
    read_box,
    say,
    told_where,
)


@click.command()
@click.argument("picture", type=PICTURE)
@box_option()
@plan_option()
@photograph_options
@out_option(what="the painting's folder")
@json_option()
def gallery(
    picture: Path,
    box_file: Path | None,
    plan_folder: Path | None,
    shown: InPhotograph,
    folder: Path,
    as_json: bool,
) -> None:
    """Show a picture under gallery light: warm LEDs, halogen, north light and a tube poor in green.

    With --box or --plan colours have the spectra of the mixtures that make them; otherwise the smoothest they can have.

    Example: critique gallery meadow.jpg --box mine.toml
    """
    if box_file is not None and plan_folder is not None:
        raise click.UsageError("give --box or --plan, not both: a plan has its own paints")
    from critique.painting.keep import Done, keep
    from critique.picture.read import read_picture
    from critique.report.gallery_page import write_gallery
    from critique.report.view_words import file_said
    from critique.tasks.gallery import gallery_of
    from critique.tasks.plan_mixtures import mixtures_of_plan

    with one_line_errors(picture):
        place = painting_of(folder, picture, plan_folder)
        box = read_box(box_file) if box_file is not None else None
        mixtures = mixtures_of_plan(plan_folder) if plan_folder is not None else ()
        with doing("Reading the picture"):
            asked = shown.of(picture, place)
            read = read_picture(picture, corners=asked.corners, whole=asked.whole, light=asked.light)
        with doing("Hanging it under each lamp"):
            done = gallery_of(read, box, mixtures)
        kept = Done("gallery", picture, picture, read, " ".join(done.verdict), within=plan_folder is not None)
        (page,) = keep(place, kept, lambda inside: [write_gallery(done, inside)])
        shown.keep(picture, place, asked)
    lines = [read.file, *(f"  {line}" for line in file_said(read)), *(f"  {sentence}" for sentence in done.verdict)]
    lines += [f"  {one.lamp.title}, {one.lamp.kelvin} K: {one.text}" for one in done.lamps]
    say(done.as_line() if as_json else told_where("\n".join([*lines, f"  page: {page}"]), place))
