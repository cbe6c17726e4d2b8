"""The command that shows a picture under the lamps of a gallery."""

from pathlib import Path

import click

from critique.cli.doing import doing
from critique.cli.options import (
    FILE,
    box_option,
    canvas_of,
    canvas_options,
    json_option,
    one_line_errors,
    out_option,
    plan_option,
    read_box,
    say,
)


@click.command()
@click.argument("picture", type=FILE)
@box_option()
@plan_option()
@canvas_options()
@out_option("gallery")
@json_option()
def gallery(
    picture: Path,
    box_file: Path | None,
    plan_folder: Path | None,
    corners: str | None,
    whole: bool,
    folder: Path,
    as_json: bool,
) -> None:
    """Show a picture under gallery light: warm LEDs, halogen, north light and a tube poor in green.

    With --box or --plan colours have the spectra of the mixtures that make them; otherwise the smoothest they can have.

    Example: critique gallery meadow.jpg --out gallery --box mine.toml
    """
    if corners is not None and whole:
        raise click.UsageError("give --corners or --whole, not both")
    if box_file is not None and plan_folder is not None:
        raise click.UsageError("give --box or --plan, not both: a plan has its own paints")
    from critique.picture.read import read_picture
    from critique.report.gallery_page import write_gallery
    from critique.report.naming import folder_names
    from critique.tasks.gallery import gallery_of
    from critique.tasks.plan_mixtures import mixtures_of_plan

    place = folder / folder_names([picture])[0]
    with one_line_errors(picture):
        box = read_box(box_file) if box_file is not None else None
        mixtures = mixtures_of_plan(plan_folder) if plan_folder is not None else ()
        with doing("Reading the picture"):
            read = read_picture(picture, corners=canvas_of(picture, place, corners, whole), whole=whole)
        with doing("Hanging it under each lamp"):
            done = gallery_of(read, box, mixtures)
        page = write_gallery(done, place)
    lines = [read.file, *(f"  {sentence}" for sentence in done.verdict)]
    lines += [f"  {one.lamp.title}, {one.lamp.kelvin} K: {one.text}" for one in done.lamps]
    say(done.as_line() if as_json else "\n".join([*lines, f"  page: {page}"]))
