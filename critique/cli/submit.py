"""The command that makes pictures ready for a call."""

import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from critique.cli.doing import doing, progress
from critique.cli.in_photograph import InPhotograph, elsewhere, photograph_options
from critique.cli.options import (
    EXIT_IN_PART,
    EXIT_NOTHING,
    EXIT_USAGE,
    FILE,
    PICTURE,
    json_option,
    one_line_errors,
    out_option,
    say,
    tell,
    tell_fault,
)
from critique.errors import CritiqueError, WrongUsage

if TYPE_CHECKING:
    from critique.sending.call import Metadata, Paper
    from critique.sending.submit import Sent


@click.command()
@click.argument("pictures", metavar="PICTURE...", nargs=-1, required=True, type=PICTURE)
@out_option("submission", "the files")
@click.option("--long-edge", default=1920, show_default=True, metavar="PX", help="Long edge; nothing is enlarged.")
@click.option("--max-mb", default=5.0, show_default=True, metavar="MB", help="The most that a file may have.")
@click.option(
    "--name",
    "pattern",
    metavar="PATTERN",
    help="Names of the files, of {artist}, {title}, {n}, {size}, {medium}, {year}, {price} and {file}; {n:02} counts "
    "01, 02.  [default: {artist}_{title}_{n}]",
)
@click.option("--list", "price_list", type=FILE, help="Price list, a CSV: file,artist,title,size,medium,year,price.")
@click.option("--artist", default="", help="Where the price list names none.")
@click.option(
    "--metadata", type=click.Choice(["keep", "strip"]), default="strip", show_default=True, help="The camera's notes."
)
@click.option("--keep-location", is_flag=True, help="Leave in where the picture was taken; else it's always stripped.")
@click.option("--dpi", default=300, show_default=True, help="Dots an inch, for printers.")
@click.option(
    "--paper", type=click.Choice(["A4", "Letter"]), default="A4", show_default=True, help="Of the contact sheet."
)
@click.option("--prices/--no-prices", default=True, show_default=True, help="Prices on the contact sheet.")
@photograph_options
@json_option("the record of each picture")
def submit(
    pictures: tuple[Path, ...],
    folder: Path,
    long_edge: int,
    max_mb: float,
    pattern: str | None,
    price_list: Path | None,
    artist: str,
    metadata: "Metadata",
    keep_location: bool,
    dpi: int,
    paper: "Paper",
    prices: bool,
    shown: InPhotograph,
    as_json: bool,
) -> None:
    """Make pictures ready for a call: straightened JPEGs in sRGB within its limits, a price list, a contact sheet.

    Photographs are cropped to the painting where its edge is sure, and made neutral by a grey, a card or a chart. The
    numbers {n} follow the price list. What still falls short is told of each picture; a file that stood in the folder
    before is laid aside, not overwritten. A price list that isn't complete ends with 3.

    Example: critique submit *.jpg --list prices.csv --long-edge 1920 --max-mb 5 --name "{artist}_{title}_{n}"
    """
    from critique.plain import json_line
    from critique.sending.call import Call
    from critique.sending.price_list import read_price_list
    from critique.sending.submit import Failed, finished, made_ready, send

    call = Call(
        long_edge=long_edge,
        max_mb=max_mb,
        name=pattern,
        artist=artist.strip(),
        metadata=metadata,
        keep_location=keep_location,
        dpi=dpi,
        paper=paper,
        prices=prices,
    )
    with one_line_errors():
        rows = read_price_list(price_list) if price_list is not None else None
    try:
        ready, held = made_ready(pictures, call, rows, folder)
    except CritiqueError as error:
        tell(error)
        sys.exit(EXIT_USAGE)
    for note in held.notes:
        say(f"critique: {note}", err=True)
    sent: list[Sent] = []
    failed: list[Failed] = []
    with progress(list(ready), "Making ready") as bar:
        for one in bar:
            try:
                with doing("Reading, straightening and packing", told=len(ready) == 1):
                    asked = shown.of(one.path, folder, *elsewhere(one.path))
                    done = send(
                        one, folder, call, corners=asked.corners, whole=asked.whole, light=asked.light, before=sent
                    )
                    shown.keep(one.path, folder, asked)
            except WrongUsage as error:  # a place that is none: nothing was read yet
                tell(error)
                sys.exit(EXIT_USAGE)
            except CritiqueError as error:
                failed.append(Failed(one.path.name, error.what))
                tell(error)
            except Exception as error:
                failed.append(Failed(one.path.name, "a fault of the program"))
                tell_fault(error, one.path)
            else:
                sent.append(done)
                say(json_line(done.as_dict()) if as_json else _told(done))
    with one_line_errors(), doing("Laying out the contact sheet"):
        made, aside = finished(sent, failed, held, folder, call)
    for path in aside:
        say(f"critique: an earlier file was laid aside: {path}", err=True)
    if not as_json and made.price_list is not None:
        number = "1 picture" if len(sent) == 1 else f"{len(sent)} pictures"
        lacking = "" if made.complete else "; the price list isn't complete, as told above"
        say(f"{number}, the price list and the contact sheet are in {folder}{lacking}")
    sys.exit(EXIT_NOTHING if not sent else EXIT_IN_PART if failed or not made.complete else 0)


def _told(done: "Sent") -> str:
    """A picture in lines for the painter."""
    from critique.photograph.light_words import light_said

    size = f"{done.width} × {done.height} px, {done.bytes / 1e6:.1f} MB"
    lines = [f"{Path(done.picture).name}: {size}{_HOW.get(done.how, '')}"]
    lines += light_said(done.light) if done.light is not None else ()
    if done.earlier is not None:
        lines.append(f"the file that was there lies in {done.earlier}")
    return "\n  ".join([*lines, *(one.text for one in done.falls_short)])


_HOW = {"found": ", straightened", "given": ", straightened by its corners"}
