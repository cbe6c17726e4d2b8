"""The commands about paint: each parses, calls one function and prints."""

import sys
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from critique.cli.doing import doing
from critique.cli.in_photograph import InPhotograph, photograph_options
from critique.cli.options import (
    FILE,
    PICTURE,
    box_option,
    json_option,
    one_line_errors,
    out_option,
    painting_of,
    read_box,
    say,
    told_where,
)

if TYPE_CHECKING:
    from critique.paints.box import Taken

Numbers = tuple[float, ...]


def _known_light(context: click.Context, parameter: click.Parameter, text: str) -> str:
    """The light's own name; one that is not known is wrong usage, like any other option's wrong value."""
    from critique.errors import PaintError
    from critique.paints.lights import light_named

    try:
        return light_named(text)
    except PaintError as error:
        raise click.BadParameter(str(error), context, parameter) from None


_light_option = click.option(
    "--light", default="D65", show_default=True, callback=_known_light, help="Light to show paint in: D65, D50, A, LED."
)
_json_option = json_option()


@click.command()
@click.argument("picture", type=PICTURE)
@click.option(
    "--paints", "count", type=click.IntRange(3, 6), default=4, show_default=True, help="Paints beside white, 3 to 6."
)
@box_option()
@_light_option
@photograph_options
@out_option(what="the painting's folder")
@_json_option
def palette(
    picture: Path,
    count: int,
    box_file: Path | None,
    light: str,
    shown: InPhotograph,
    folder: Path,
    as_json: bool,
) -> None:
    """Choose limited palettes that carry a picture, with recipes and the picture repainted in each.

    Example: critique palette meadow.jpg --paints 4 --box mine.toml
    """
    from critique.painting.keep import Done, keep
    from critique.picture.read import read_picture
    from critique.report.palette_page import opening, write_palette
    from critique.report.printing_paints import palette_text
    from critique.tasks.palette import plan_palette

    with one_line_errors(picture):
        box = read_box(box_file)
        with doing("Reading the picture"):
            place = painting_of(folder, picture)
            asked = shown.of(picture, place)
            read = read_picture(picture, corners=asked.corners, whole=asked.whole, light=asked.light)
        plan = plan_palette(read, box, count, light, watched=_watched("Repainting"))
        kept = Done("palette", picture, picture, read, opening(plan)[0])
        (page,) = keep(place, kept, lambda inside: [write_palette(plan, inside)])
        shown.keep(picture, place, asked)
        say(plan.as_line() if as_json else told_where(palette_text(plan, page), place))


@click.command()
@click.argument("names", metavar="PAINT...", nargs=-1)
@box_option()
@_light_option
@out_option("chart")
@_json_option
def chart(names: tuple[str, ...], box_file: Path | None, light: str, folder: Path, as_json: bool) -> None:
    """Chart every pair of some paints, stepped, with and without white.

    Paints go by pigment or Colour Index name. With --box and no names the whole box is charted.

    Example: critique chart "yellow ochre" PR101 ultramarine PG7
    """
    from critique.paints.box import load_box
    from critique.paints.chart import mixing_chart
    from critique.report.chart_page import write_chart
    from critique.report.printing_paints import chart_text

    if not names and box_file is None:
        raise click.UsageError('Name some paints, such as "yellow ochre" PR101 ultramarine PG7, or give --box.')
    with one_line_errors():
        own = load_box(box_file) if box_file else None
        with doing("Mixing every pair"):
            done = mixing_chart(names, light, own)
        _say_taken(done.taken)
        with doing("Drawing the chart"):
            page = write_chart(done, folder)
        say(done.as_line() if as_json else chart_text(done, page))


@click.group()
def paints() -> None:
    """List and show paints, and add your own from swatches.

    Example: critique paints show PG7

    \b
    A box for --box is a text file of two lines, such as mine.toml; names are those of `critique paints list`,
    and white is always in it:
      name = "field box"
      paints = ["PY74", "yellow ochre", "red oxide", "ultramarine", "phthalo green"]
    `critique paints add` puts a paint of your own into it.
    """


@paints.command("list")
@click.option("--box", "box_file", type=FILE, help="List this box.  [default: every paint known]")
@_json_option
def list_paints(box_file: Path | None, as_json: bool) -> None:
    """List the paints that the program knows, or those of a box.

    Example: critique paints list --box mine.toml
    """
    from critique.report.printing_paints import listing, listing_line

    with one_line_errors():
        say((listing_line if as_json else listing)(read_box(box_file) if box_file else None))


@paints.command()
@click.argument("name")
@box_option()
@_light_option
@_json_option
def show(name: str, box_file: Path | None, light: str, as_json: bool) -> None:
    """Show one paint: its colour alone and with white, how it covers, and what greys it.

    Example: critique paints show "phthalo green" --light A
    """
    from critique.paints.box import taken_among
    from critique.paints.cards import card_in_box
    from critique.report.printing_paints import card_line, card_text

    with one_line_errors():
        box = read_box(box_file)
        card = card_in_box(name, box, light, only=box_file is not None)
        _say_taken(taken_among([name], box if box_file else None))
        say(card_line(card) if as_json else card_text(card))


def _numbers(context: click.Context, parameter: click.Parameter, text: str | None) -> Numbers | None:
    """Numbers with commas between them, or '#rrggbb' as L*, a*, b*."""
    from critique.paints.swatches import colour_of, numbers_of

    if text is None:
        return None
    try:
        return colour_of(text) if parameter.name in ("masstone", "tint", "third") else numbers_of(text, 2)
    except ValueError as error:
        raise click.BadParameter(str(error), context, parameter) from None


def _mixtures(context: click.Context, parameter: click.Parameter, texts: tuple[str, ...]) -> tuple[Any, ...]:
    """Mixtures such as "3:1 white 38,-20,13"."""
    from critique.paints.swatches import mixed_of

    try:
        return tuple(mixed_of(text) for text in texts)
    except ValueError as error:
        raise click.BadParameter(str(error), context, parameter) from None


@paints.command()
@click.argument("name")
@click.option("--box", "box_file", required=True, type=FILE, help="The box to add it to.")
@click.option("--masstone", callback=_numbers, metavar="COLOUR", help="The paint alone, as L,a,b or '#rrggbb'.")
@click.option("--tint", callback=_numbers, metavar="COLOUR", help="The paint in white.")
@click.option("--white-parts", type=float, default=10.0, show_default=True, help="White to one of paint in the tint.")
@click.option("--third", callback=_numbers, metavar="COLOUR", help="One more tint, if there is one.")
@click.option("--third-white-parts", type=float, help="Parts of white in it.")
@click.option("--photo", type=FILE, help="A photograph of the dabs with plain white beside them.")
@click.option("--masstone-at", callback=_numbers, metavar="X,Y", help="Where the paint is, 0 to 1 from top left.")
@click.option("--tint-at", callback=_numbers, metavar="X,Y", help="Where the tint is.")
@click.option("--white-at", callback=_numbers, metavar="X,Y", help="Where the white is.")
@click.option("--pigment", default="", help="The pigment, as on the label.")
@click.option("--ci", "colour_index", default="", metavar="NAME", help="Its Colour Index name, such as PG18.")
@click.option("--opacity", default="", help="opaque, semi-opaque, semi-transparent or transparent, as on the label.")
@click.option(
    "--hazard",
    default="",
    metavar="SUBSTANCES",
    help="What the label warns of, such as 'lead, chromium'; 'none' if you read it and it warns of nothing.",
)
@click.option(
    "--mixed",
    multiple=True,
    callback=_mixtures,
    metavar="'3:1 white COLOUR'",
    help="A mixture that you made, by which the paint is corrected; as often as you like.",
)
@_json_option
def add(**given: Any) -> None:
    """Add a paint of your own to a box, from two dabs: the paint alone, and a tint with a known part of white.

    \b
    Examples:
      critique paints add "old green" --box mine.toml --masstone 24,-14,10 --tint 66,-22,14
      critique paints add "old green" --box mine.toml --photo dabs.jpg \\
          --masstone-at 0.2,0.5 --tint-at 0.5,0.5 --white-at 0.8,0.5
    """
    from critique.paints.box_file import add_own_paint
    from critique.paints.cards import card_in_box
    from critique.paints.swatches import own_paint
    from critique.picture.read import read_picture
    from critique.report.printing_paints import card_line, card_text

    as_json, box_file = given.pop("as_json"), given.pop("box_file")
    with one_line_errors():
        own = own_paint(**given, read=lambda file: read_picture(file, whole=True).lab)
        begun = not box_file.exists()
        box = add_own_paint(box_file, own)
        card = card_in_box(own.name, box, "D65")
        say(card_line(card) if as_json else f"{card_text(card)}\n  added to {box_file}")
        if begun:
            say(
                f"critique: {box_file} is new: beside {own.name} it lists the {len(box.paints) - 1} paints of the "
                "landscape set; take out those you don't own",
                err=True,
            )


def _say_taken(taken: "Iterable[Taken]") -> None:
    """Names that were guessed, and what they were taken for, on standard error."""
    for one in taken:
        say(f"critique: {one.text}", err=True)


def _watched(label: str) -> Any:
    """Hands items on one by one, with a progress bar on a terminal's stderr."""

    def watch(items: Any) -> Iterator[Any]:
        with click.progressbar(items, label=label, file=sys.stderr, hidden=not sys.stderr.isatty()) as bar:
            yield from bar

    return watch
