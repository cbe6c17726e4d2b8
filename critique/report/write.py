"""A review becomes a folder: the page, the record and the plates."""

from pathlib import Path

from critique.report.commands import GoingOn
from critique.report.folder import PLATES, replace_files
from critique.report.page import page_html
from critique.report.plates.review_plates import draw_plates
from critique.report.record import record_bytes
from critique.steps import step
from critique.tasks.review import Review

PAGE, RECORD = "report.html", "report.json"


def write_review(review: Review, folder: Path, plates: bool = True, *, commands: GoingOn | None = None) -> Path:
    """Write ``report.html``, ``report.json`` and ``plates/*.png`` into ``folder``; gives the path of the page.

    Without ``plates`` the page still shows every one of them; only their own files are left out, which are most of
    what a review takes on disk.

    Raises
    ------
    OutputError
        When the folder or a file in it cannot be written. Nothing half-written is left then, and an earlier report
        stays as it was.
    """
    step("Drawing the page")
    drawn = draw_plates(review)
    files = {f"{PLATES}/{plate.name}.png": plate.png for plate in drawn.all()} if plates else {}
    files[RECORD] = record_bytes(review)
    files[PAGE] = page_html(review, drawn, commands).encode("utf-8", errors="backslashreplace")
    replace_files(folder, files)
    return folder / PAGE
