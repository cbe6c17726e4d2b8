"""A portfolio as it is printed in a terminal."""

from critique.plain import json_line
from critique.portfolio.run import Summary
from critique.words.lists import listed


def summary_line(done: Summary) -> str:
    """The summary as one line of JSON."""
    return json_line(done.as_dict())


NAMED = 5  # photographs at most, by name


def _crops(done: Summary) -> list[str]:
    lines = [f"  {done.cropped} cropped out of their photographs"] if done.cropped else []
    if done.unsure:
        lines.append(f"  {len(done.unsure)} not cropped, for the canvas's edge is unsure: {_named(done.unsure)}")
    if done.cleared:
        lines.append(f"  {len(done.cleared)} judged with transparent parts taken as white: {_named(done.cleared)}")
    return lines


def _named(files: tuple[str, ...]) -> str:
    return ", ".join(files[:NAMED]) + (" and more" if len(files) > NAMED else "")


def summary_text(done: Summary) -> str:
    """The summary in a few lines; files that failed were named while the work went on."""
    known = done.standing - done.reviewed
    more = ((known, "known already"), (done.renamed, "renamed"), (done.removed, "no longer there"))
    work = [f"{done.reviewed} reviewed", *(f"{number} {word}" for number, word in more if number)]
    if done.failed:
        work.append(f"{len(done.failed)} not reviewed")
    blank = f"  {done.unjudged} with nothing to judge yet" if done.unjudged else ""
    return "\n".join(
        [
            f"{done.pictures} {'picture' if done.pictures == 1 else 'pictures'}: {', '.join(work)}",
            f"  · {done.holds} hold  ~ {done.watch} to watch  × {done.rework} to rework{blank}",
            *_crops(done),
            *(f"  the same painting, it seems: {listed(group)}" for group in done.twins[:NAMED]),
            f"  page: {done.page}",
        ]
    )
