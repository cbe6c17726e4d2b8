"""The commands: each parses, calls one function and prints."""

import os
import shlex
import sys
from functools import partial
from pathlib import Path
from typing import NoReturn

import click

from critique import __version__
from critique.cli import plan as plans
from critique.cli.doing import doing, progress
from critique.cli.gallery import gallery
from critique.cli.group import Commands
from critique.cli.in_photograph import NOTHING_WRITTEN, InPhotograph, photograph_options
from critique.cli.options import (
    EXIT_IN_PART,
    EXIT_NOTHING,
    FILE,
    OUT,
    PICTURE,
    attempted,
    box_option,
    json_option,
    one_line_errors,
    out_option,
    painting_of,
    read_box,
    say,
    tell,
    tell_fault,
    told_where,
)
from critique.cli.paints import chart, paints, palette
from critique.cli.pair import compare, first_of, lineup, passes
from critique.cli.straighten import straighten
from critique.cli.study import study
from critique.cli.submit import submit
from critique.cli.terminal import quiet_libraries, share_one_heap, started_as, take_terminal
from critique.errors import CritiqueError, UnreadablePicture

# Libraries of linear algebra look at these when they are loaded. The arrays of one picture are too small to share out:
# threads that wait for each other make a review three times as much work, and on a busy machine twice as slow.
THREADS = ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS", "VECLIB_MAXIMUM_THREADS")

EXIT_REWORK = 4  # asked to be strict, and a picture needs rework


@click.group(cls=Commands, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, prog_name="critique")
def main() -> None:
    """A second pair of eyes for landscape painters.

    Looks at a picture's greens, values and division, holds them to landscapes that have lasted, and writes a page
    with what to change first.
    """
    quiet_libraries()
    share_one_heap()
    for setting in THREADS:
        os.environ.setdefault(setting, "1")


@main.command()
@click.argument("pictures", metavar="PICTURE...", nargs=-1, required=True, type=PICTURE)
@out_option(what="the paintings' folders")
@click.option("--norms", "norms_file", type=FILE, help="Norms of your own, by `critique norms`.")
@box_option()
@photograph_options
@json_option("the record of each picture")
def review(
    pictures: tuple[Path, ...],
    folder: Path,
    norms_file: Path | None,
    box_file: Path | None,
    shown: InPhotograph,
    as_json: bool,
) -> None:
    """Review finished pictures: one page for each.

    Recipes are mixed from a landscape set of paints, or from your own with --box. A photograph of a painting on a wall
    or an easel is cropped to its canvas first, where that is sure; --corners says where it lies. A grey, a card or a
    chart in the photograph makes its light neutral; places are fractions from the upper left.

    Example: critique review meadow.jpg --out review --box mine.toml
    """
    _review_all(list(pictures), folder, as_json, norms_file, box_file, shown)


@main.command()
@click.argument("folder", type=click.Path(path_type=Path, exists=True, file_okay=False, readable=False))
@click.option("--out", "table", type=FILE, help="Table.  [default: FOLDER-norms.csv]")
@json_option("the middle of every figure")
def norms(folder: Path, table: Path | None, as_json: bool) -> None:
    """Measure a folder of pictures into norms that reviews can be held to, such as your own best.

    Example: critique norms my-best --out my-best.csv
    """
    from critique.advice.norms import write_norms
    from critique.advice.norms_folder import own_norms, usual_table
    from critique.plain import json_line

    failed = 0

    def missed(picture: Path, error: Exception) -> None:
        nonlocal failed
        failed += 1
        tell(error) if isinstance(error, CritiqueError) else tell_fault(error, picture)

    with one_line_errors():
        made = own_norms(folder, missed)
        table = table or usual_table(folder, made)
        write_norms(made, table)
    middles = {figure: round(made.at(figure, 50), 4) for figure in made.quantiles}
    told = f"{made.number} pictures measured into {table}"
    say(json_line({"pictures": made.number, "table": str(table), "middle": middles}) if as_json else told)
    sys.exit(EXIT_IN_PART if failed else 0)


@main.command()
@out_option(what="the painting's folder")
@json_option()
def demo(folder: Path, as_json: bool) -> None:
    """Review the bundled demo picture, a meadow that is too green. Other commands take the word demo for it.

    Example: critique demo --out review
    """
    from critique.perception.reference import DEMO_FILE, demo_path

    _review_all([demo_path(DEMO_FILE)], folder, as_json)


@main.command()
@click.argument("folder", type=click.Path(path_type=Path, exists=True, file_okay=False, readable=False))
@click.option("--out", type=FILE, help="Folder for the portfolio.  [default: FOLDER-portfolio]")
@click.option("--jobs", type=click.IntRange(min=1), help="Worker processes.  [default: one for each core]")
@click.option(
    "--cluster",
    metavar="ADDRESS",
    help="Hand the work to the Dask scheduler at this address; it is given two minutes to find a worker.",
)
@click.option("--rules", "rules_file", type=FILE, help="TOML file: which findings matter, limits.")
@click.option("--strict", is_flag=True, help="Exit with 4 when any picture needs rework.")
@click.option("--plates", is_flag=True, help="Also write the plates of each review as PNG files.")
@json_option("the summary")
def portfolio(
    folder: Path,
    out: Path | None,
    jobs: int | None,
    cluster: str | None,
    rules_file: Path | None,
    strict: bool,
    plates: bool,
    as_json: bool,
) -> None:
    """Review every picture below FOLDER: a contact sheet, a ranking, and what they have in common.

    What was reviewed before and hasn't changed is not measured again. A run that was interrupted goes on where it
    stopped. Corners and greys that a review below was told are used again.

    Example: critique portfolio paintings --out portfolio

    \b
    A rules file has a table for each finding that is to be judged otherwise:
      ["green area"]
      watch_above = 0.25
      rework_above = 0.40
      [halving]
      matters = false
    """
    from critique.portfolio.printing import summary_line, summary_text
    from critique.portfolio.rules import read_rules
    from critique.portfolio.run import StoppedInPart, make_portfolio

    with one_line_errors():
        rules = read_rules(rules_file) if rules_file is not None else None
        try:
            done = make_portfolio(
                folder,
                out,
                jobs=jobs,
                cluster=cluster,
                rules=rules,
                plates=plates,
                paintings=Path(OUT),
                say=lambda line: say(line, err=True),
            )
        except StoppedInPart as error:
            tell(error)
            sys.exit(EXIT_IN_PART)
    say(summary_line(done) if as_json else summary_text(done))
    if strict and done.rework:
        sys.exit(EXIT_REWORK)
    sys.exit(EXIT_NOTHING if not done.standing else EXIT_IN_PART if done.failed else 0)


for command in (compare, passes, lineup, palette, chart, paints, plans.plan, straighten, study, submit, gallery):
    main.add_command(command)


def _review_all(
    pictures: list[Path],
    folder: Path,
    as_json: bool,
    norms_file: Path | None = None,
    box_file: Path | None = None,
    shown: InPhotograph = NOTHING_WRITTEN,
) -> NoReturn:
    """Review each picture, go on past those that fail, and leave with the exit code that says how it went."""
    from critique.advice.norms import read_norms
    from critique.painting.keep import Done, keep
    from critique.report.commands import going_on
    from critique.report.printing import summary
    from critique.report.write import write_review
    from critique.tasks.review import review_file

    with one_line_errors():
        norms = read_norms(norms_file)
        box = read_box(box_file)

    def reviewed(picture: Path) -> str:
        if os.path.isdir(picture):
            raise UnreadablePicture(
                f"{picture}: is a folder; give a picture in it, or take all of it: critique portfolio "
                + shlex.quote(str(picture))
            )
        place = painting_of(folder, picture)
        asked = shown.of(picture, place)
        with doing("Reading, measuring and trying changes", told=len(pictures) == 1):
            done = review_file(
                picture, norms, box, aim=True, corners=asked.corners, whole=asked.whole, light=asked.light
            )
        with doing("Drawing the page", told=len(pictures) == 1):
            commands = going_on(picture, box=box_file, out=folder, program=started_as())
            kept = Done("review", picture, picture, done.picture, first_of(done.advice.verdict))
            (page,) = keep(place, kept, lambda inside: [write_review(done, inside, commands=commands)])
        shown.keep(picture, place, asked)
        return done.as_line() if as_json else told_where(summary(done, page), place)

    failed = 0
    with progress(pictures, "Reviewing") as bar:
        for picture in bar:
            told = attempted(picture, partial(reviewed, picture))
            if told is None:
                failed += 1
            else:
                say(told)
    sys.exit(EXIT_NOTHING if failed == len(pictures) else EXIT_IN_PART if failed else 0)


def run() -> None:
    """The command as a person starts it: its streams are its own, and whatever nobody foresaw ends in one line."""
    take_terminal()
    try:
        main()
    except Exception as error:
        tell_fault(error)
        sys.exit(EXIT_NOTHING)


if __name__ == "__main__":
    run()
