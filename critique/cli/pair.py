"""The commands of two pictures and more: comparison, passes and a line-up."""

import sys
from collections.abc import Sequence
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

import click

from critique.cli.doing import doing, progress
from critique.cli.in_photograph import InEach, each_options, homes_beside, homes_in
from critique.cli.options import (
    EXIT_IN_PART,
    EXIT_NOTHING,
    PICTURE,
    attempted,
    box_option,
    json_option,
    one_line_errors,
    out_option,
    painting_of,
    plan_option,
    read_box,
    read_plan,
    say,
    told_where,
)
from critique.cli.terminal import started_as
from critique.steps import step

if TYPE_CHECKING:
    from critique.pair.hold import State


@click.command()
@click.argument("original", type=PICTURE)
@click.argument("repaint", type=PICTURE)
@out_option(what="the painting's folder")
@click.option("--grey-original", metavar="X,Y", help="Where something grey lies in the original, 0–1 from upper left.")
@click.option(
    "--corners-original", metavar='"X,Y X,Y X,Y X,Y"', help="Of the canvas in the original's photograph; remembered."
)
@click.option(
    "--corners-repaint", metavar='"X,Y X,Y X,Y X,Y"', help="Of the canvas in the repaint's photograph; remembered."
)
@click.option("--whole", is_flag=True, help="Both files are all painting, but for one with corners.")
@click.option("--grey-repaint", metavar="X,Y", help="Where the same grey lies in the repaint.")
@box_option()
@plan_option()
@json_option()
def compare(
    original: Path,
    repaint: Path,
    folder: Path,
    grey_original: str | None,
    grey_repaint: str | None,
    corners_original: str | None,
    corners_repaint: str | None,
    whole: bool,
    box_file: Path | None,
    plan_folder: Path | None,
    as_json: bool,
) -> None:
    """Compare an original with its repaint: is it quieter, is it richer, what is better, what is worse?

    A change counts when it is larger than another photograph could make it. Two photographs in different light are
    balanced by a grey that both have; name one with --grey-original and --grey-repaint, such as a card beside them.
    How many paints each would need is counted in your box, where you give one with --box.

    Example: critique compare meadow.jpg repaint.jpg --out comparison
    """
    if (grey_original is None) != (grey_repaint is None):
        raise click.UsageError("give both --grey-original and --grey-repaint, or neither")
    neutrals = (_place(grey_original), _place(grey_repaint)) if grey_original and grey_repaint else None
    from critique.painting.keep import Done, keep
    from critique.pair.compare import compare_files
    from critique.photograph.corners import parse_corners
    from critique.report.commands import compare_command
    from critique.report.printing_compared import comparison_summary
    from critique.report.write_compared import write_comparison

    with one_line_errors(original, repaint):
        plan = read_plan(plan_folder)
        corners = [None if text is None else parse_corners(text) for text in (corners_original, corners_repaint)]
        pictures, written = (original, repaint), InEach((corners[0], corners[1]), (None, None), whole)
        place = painting_of(folder, original, plan_folder)
        homes = homes_in(folder, place, pictures)
        first, second = written.with_remembered(homes, pictures).corners
        with doing("Reading both and comparing them"):
            done = compare_files(
                original, repaint, neutrals, read_box(box_file), plan, corners=(first, second), whole=whole
            )
        with doing("Drawing the page"):
            again = compare_command(original, repaint, box=box_file, plan=plan_folder, out=folder, program=started_as())
            told, within = first_of(done.verdict), plan_folder is not None
            kept = Done("comparison", original, repaint, done.second.picture, told, within)
            (page,) = keep(place, kept, lambda inside: [write_comparison(done, inside, again=again)])
            written.keep(homes, pictures)
    say(done.as_line() if as_json else told_where(comparison_summary(done, page), place))


@click.command()
@click.argument("pictures", metavar="FIRST SECOND...", nargs=-1, required=True, type=PICTURE)
@out_option(what="the painting's folder")
@each_options
@plan_option()
@json_option()
def passes(pictures: tuple[Path, ...], folder: Path, each: InEach, plan_folder: Path | None, as_json: bool) -> None:
    """Follow one painting through its states: what each pass made better and worse, and whether to stop.

    Photographs in different light are balanced by a grey that they share, named with --grey once for each. With --plan
    each state is held against the aim: what came nearer, the next things to do, and when to stop. One
    state is enough then.

    Example: critique passes block-in.jpg second.jpg third.jpg --plan review/meadow
    """
    if len(pictures) < 2 and plan_folder is None:
        raise click.UsageError("give at least two pictures: the states of one painting, in order")
    from critique.painting.keep import Done, keep
    from critique.pair.compare import compare_passes
    from critique.report.commands import passes_command
    from critique.report.printing_compared import passes_summary
    from critique.report.write_compared import write_passes

    with one_line_errors():
        plan = read_plan(plan_folder)
        homes = homes_in(folder, painting_of(folder, pictures[0], plan_folder), pictures)
        known = each.with_remembered(homes, pictures)
    states, failed = _states(pictures, known)
    with one_line_errors(), doing("Comparing the passes"):
        neutrals = [each.greys[number] for number, _ in states]
        done = compare_passes([state for _, state in states], plan, neutrals)
        step("Drawing the page")
        first, last = pictures[states[0][0]], pictures[states[-1][0]]
        place = painting_of(folder, first, plan_folder)
        again = passes_command(
            [pictures[number] for number, _ in states], plan=plan_folder, out=folder, program=started_as()
        )
        kept = Done(
            "passes",
            first,
            last,
            states[-1][1].picture,
            done.advice or (done.told.standing if done.told else ""),
            within=plan_folder is not None,
        )
        (page,) = keep(place, kept, lambda inside: [write_passes(done, inside, again=again)])
        each.keep(homes, pictures)
    say(done.as_line() if as_json else told_where(passes_summary(done, page), place))
    sys.exit(EXIT_IN_PART if failed else 0)


@click.command()
@click.argument("pictures", metavar="PICTURE...", nargs=-1, required=True, type=PICTURE)
@out_option("lineup")
@each_options
@json_option()
def lineup(pictures: tuple[Path, ...], folder: Path, each: InEach, as_json: bool) -> None:
    """Lay versions of one subject side by side, for a class or a jury: ranked by nothing.

    A grey named in a photograph with --grey makes its light neutral.

    Example: critique lineup anna.jpg ben.jpg clara.jpg --out lineup
    """
    from critique.pair.compare import Lineup
    from critique.report.printing_compared import lineup_summary
    from critique.report.write_compared import write_lineup

    with one_line_errors():
        homes = homes_beside(folder, pictures)
        known = each.with_remembered(homes, pictures)
    states, failed = _states(pictures, known, neutral=True)
    if not states:
        sys.exit(EXIT_NOTHING)
    with one_line_errors(), doing("Drawing the page"):
        done = Lineup(tuple(state for _, state in states))
        page = write_lineup(done, folder)
        each.keep(homes, pictures)
    say(done.as_line() if as_json else lineup_summary(done, page))
    sys.exit(EXIT_IN_PART if failed else 0)


def _states(
    pictures: tuple[Path, ...], each: InEach, *, neutral: bool = False
) -> "tuple[list[tuple[int, State]], int]":
    """Measure each picture, name those that fail, and count them; each state with the number of its file.

    ``neutral`` makes the light of each neutral by its own grey; otherwise they are held to each other by it later.
    """
    from critique.pair.hold import state_of
    from critique.photograph.light_asked import NOTHING_ASKED, LightAsked
    from critique.picture.read import read_picture

    def measured(number: int) -> "State":
        grey = each.greys[number] if neutral else None
        light = NOTHING_ASKED if grey is None else LightAsked(grey=grey)
        corners, whole = each.corners[number], each.is_whole(number)
        return state_of(read_picture(pictures[number], corners=corners, whole=whole, light=light))

    states, failed = [], 0
    with doing("Measuring", told=len(pictures) == 1), progress(list(enumerate(pictures)), "Measuring") as bar:
        for number, picture in bar:
            state = attempted(picture, partial(measured, number))
            if state is None:
                failed += 1
            else:
                states.append((number, state))
    return states, failed


def first_of(sentences: Sequence[str]) -> str:
    """What is told of a result in one line: its first sentence."""
    return next(iter(sentences), "")


def _place(text: str) -> tuple[float, float]:
    """A place such as "0.8,0.95", as fractions of width and height."""
    try:
        x, y = (float(part) for part in text.split(","))
    except ValueError:
        raise click.UsageError(f"{text!r} is no place: give two fractions such as 0.8,0.95") from None
    return x, y
