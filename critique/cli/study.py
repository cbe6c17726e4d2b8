"""The command that makes sheets to paint from."""

import sys
from pathlib import Path

import click

from critique.cli.doing import doing
from critique.cli.in_photograph import InPhotograph, photograph_options
from critique.cli.options import PICTURE, json_option, one_line_errors, out_option, painting_of, say, told_where
from critique.steps import step
from critique.words.figures import percent


@click.command()
@click.argument("picture", type=PICTURE)
@out_option(what="the painting's folder")
@click.option(
    "--grid", "kind", type=click.Choice(["squares", "thirds", "diagonals"]), default="squares", show_default=True
)
@click.option(
    "--squares",
    type=click.IntRange(2, 40),
    default=6,
    show_default=True,
    help="Squares of the grid along the long edge.",
)
@click.option("--size", metavar="40x30cm", help="The canvas, for its proportion and for sheets in true size.")
@click.option(
    "--margin",
    type=click.FloatRange(min=0),
    default=0.0,
    show_default=True,
    help="Unpainted edge of the canvas, in cm.",
)
@click.option("--paper", type=click.Choice(["A4", "Letter"]), default="A4", show_default=True)
@photograph_options
@json_option("the names of the sheets")
def study(
    picture: Path,
    folder: Path,
    kind: str,
    squares: int,
    size: str | None,
    margin: float,
    paper: str,
    shown: InPhotograph,
    as_json: bool,
) -> None:
    """Make sheets to paint from: greyscale, plans in 2, 3 and 5 values, a squint, and a grid for transfer.

    With --size also a PDF in the canvas's own size, over as many sheets of paper as it takes.

    Example: critique study meadow.jpg --size 40x30cm
    """
    if margin and size is None:
        raise click.UsageError("--margin needs --size SIZE")
    from critique.painting.keep import Done, keep
    from critique.photograph.proportions import parse_size
    from critique.picture.read import read_picture
    from critique.plain import json_line
    from critique.records import heading
    from critique.report.folder import replace_files
    from critique.report.record import json_bytes
    from critique.report.study_page import PAGE, RECORD, study_html
    from critique.report.view_words import file_said
    from critique.tasks.study_sheet import png_of, study_sheets, true_size_pdf

    with one_line_errors(picture), doing("Reading"):
        canvas = parse_size(size) if size is not None else None
        place = painting_of(folder, picture)
        asked = shown.of(picture, place)
        read = read_picture(picture, corners=asked.corners, whole=asked.whole, light=asked.light)
        step("Drawing the sheets")
        made = study_sheets(
            read,
            kind=kind,  # type: ignore[arg-type]
            squares=squares,
            size=canvas,
            margin=margin,
        )
        files = {f"{name}.png": png_of(codes) for name, codes in made.sheets.items()}
        files["grid.png"] = png_of(made.sheets["reference"], made.grid)
        if canvas is not None:
            files["true_size.pdf"] = true_size_pdf(made, paper)

        lost = 0.0 if made.fit is None else made.fit.lost
        page = study_html(read, made, files, inches=size is not None and ("in" in size or '"' in size)).encode(
            "utf-8", errors="backslashreplace"
        )

        seen = file_said(read)

        def write(inside: Path) -> list[Path]:
            about = {**heading(), "file": picture.name, "sheets": list(files), "cut_off": lost}
            replace_files(inside, {**files, RECORD: json_bytes(about), PAGE: page})
            return [inside / PAGE, *(inside / name for name in files)]

        written, *sheets = keep(place, Done("study", picture, picture, read, f"{len(files)} sheets."), write)
        shown.keep(picture, place, asked)
    if made.fit is not None and made.fit.lost:
        side = "width" if made.fit.across else "height"
        say(
            f"critique: the canvas has another proportion than the picture: {percent(made.fit.lost)} of the "
            f"picture's {side} is cut off",
            err=True,
        )
    record = {**heading(), "file": picture.name, "sheets": [str(sheet) for sheet in sheets], "cut_off": lost}
    say(
        json_line(record)
        if as_json
        else told_where("\n  ".join([f"{len(files)} sheets in {written.parent}", *seen, f"page: {written}"]), place)
    )
    sys.exit(0)
