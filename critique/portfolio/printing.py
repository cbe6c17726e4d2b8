"""A portfolio as it is printed in a terminal."""

from critique.plain import json_line
from critique.portfolio.run import Summary


def summary_line(done: Summary) -> str:
    """The summary as one line of JSON."""
    return json_line(done.as_dict())


def summary_text(done: Summary) -> str:
    """The summary in a few lines; files that failed were named while the work went on."""
    known = done.standing - done.reviewed
    more = ((known, "known already"), (done.renamed, "renamed"), (done.removed, "no longer there"))
    work = [f"{done.reviewed} reviewed", *(f"{number} {word}" for number, word in more if number)]
    if done.failed:
        work.append(f"{len(done.failed)} not reviewed")
    return "\n".join(
        [
            f"{done.pictures} {'picture' if done.pictures == 1 else 'pictures'}: {', '.join(work)}",
            f"  · {done.holds} hold  ~ {done.watch} to watch  × {done.rework} to rework",
            f"  page: {done.page}",
        ]
    )
