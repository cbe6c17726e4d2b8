"""The command that plans a repaint: it parses, calls one function and prints."""

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
    read_box,
    say,
    told_where,
)
from critique.cli.terminal import started_as
from critique.steps import step

PAINTS = 4  # beside white, unless told otherwise
FEWEST, MOST = 3, 6  # that palettes are chosen of


def _turns(context: click.Context, parameter: click.Parameter, given: tuple[str, ...]) -> dict[str, float]:
    """Such as "mute_greens=0.6", each as a name and how many times as strong."""
    found = {}
    for text in given:
        name, _, by = text.rpartition("=")
        if name in found:
            raise click.BadParameter(f"{name} can't be turned twice", context, parameter)
        try:
            found[name] = float(by)
        except ValueError:
            name = ""
        if not name:
            raise click.BadParameter(f"{text!r}: write such as mute_greens=0.6", context, parameter)
    return found


@click.command()
@click.argument("picture", type=PICTURE)
@box_option()
@click.option(
    "--paints",
    "count",
    type=click.IntRange(FEWEST, MOST),
    default=PAINTS,
    show_default=True,
    help=f"Tubes beside white, {FEWEST} to {MOST}; all of a box that holds fewer.",
)
@click.option("--take", multiple=True, metavar="CHANGE", help="Make this change in any case; names below.")
@click.option("--leave", multiple=True, metavar="CHANGE", help="Leave this change out.")
@click.option("--turn", "turned", multiple=True, metavar="CHANGE=TIMES", callback=_turns, help="Turn it up or down.")
@click.option("--like", type=click.Path(path_type=Path), help="Lead the greens toward those of this picture.")
@click.option("--like-all", is_flag=True, help="With --like: lead all colours, not the greens alone.")
@click.option("--size", metavar="SIZE", help="Of the canvas, such as 40x30cm or 16x12in.")
@click.option("--fresh", is_flag=True, help="For a new white canvas; otherwise the old painting is gone over.")
@photograph_options
@out_option(what="the painting's folder")
@json_option()
def plan(
    picture: Path,
    box_file: Path | None,
    count: int,
    take: tuple[str, ...],
    leave: tuple[str, ...],
    turned: dict[str, float],
    like: Path | None,
    like_all: bool,
    size: str | None,
    fresh: bool,
    shown: InPhotograph,
    folder: Path,
    as_json: bool,
) -> None:
    """Plan a repaint: one aim, the tubes that carry it, its passages with recipes, and a sheet for the easel.

    Writes plan.html to read, sheet.html to print on two pages, and aim.png as large as the picture, into the plan
    folder of the painting's own. The page says how changes are left, turned and taken.

    Example: critique plan meadow.jpg --box mine.toml --paints 4 --size 16x12in --turn mute_greens=0.8

    \b
    Changes, for --take, --leave and --turn:
      gather_values, hold_within_leaf, lead_toward, less_green, move_division,
      mute_greens, open_darks, quiet_edge, quiet_loudest, quiet_light,
      quiet_second, recede_land, rest_for_eye, take_out_cast, vary_greens,
      wake_colour, widen_values
    """
    if like_all and like is None:
        raise click.UsageError("--like-all needs --like OTHER")
    with one_line_errors(), doing("Reading"):
        box = read_box(box_file)
        from critique.painting.keep import Done, keep
        from critique.picture.read import read_picture
        from critique.report.commands import plan_command
        from critique.report.plan_page import opening, write_plan
        from critique.report.printing_plan import plan_text
        from critique.tasks.aim import Wanted, asked_of
        from critique.tasks.plan import plan_repaint

        asked_of(Wanted(take, leave, turned))
        place = painting_of(folder, picture)
        asked = shown.of(picture, place)
        read = read_picture(picture, corners=asked.corners, whole=asked.whole, light=asked.light)
        admired = read_picture(like) if like is not None else None
        done = plan_repaint(
            read,
            box=box,
            paints=count,
            take=take,
            leave=leave,
            turned=turned,
            like=admired,
            like_everything=like_all,
            size=size,
            fresh=fresh,
        )
        step("Writing the aim at full size")
        more = [] if count == PAINTS else ["--paints", str(count)]
        more += [word for name in take for word in ("--take", name)]
        more += [word for name in leave for word in ("--leave", name)]
        more += [word for name, by in turned.items() for word in ("--turn", f"{name}={by:g}")]
        more += [] if like is None else ["--like", str(like), *(["--like-all"] if like_all else [])]
        more += [*([] if size is None else ["--size", size]), *(["--fresh"] if fresh else [])]
        command = plan_command(picture, box=box_file, out=folder, more=more, program=started_as())
        kept = Done("plan", picture, picture, read, " ".join(opening(done)))
        (page,) = keep(place, kept, lambda inside: [write_plan(done, inside, picture, command=command)])
        shown.keep(picture, place, asked)
    say(done.as_line() if as_json else told_where(plan_text(done, page), place))
