"""A comparison, the passes or a line-up becomes a folder: the page, the record and the plates."""

from pathlib import Path
from typing import Any

from critique.pair.compare import Comparison, Lineup, Passes
from critique.report.comparison_page import comparison_html, draw_comparison
from critique.report.folder import PLATES, replace_files
from critique.report.lineup_page import lineup_html
from critique.report.passes_page import passes_html, passes_plates
from critique.report.record import json_bytes


def write_comparison(comparison: Comparison, folder: Path, *, again: str = "") -> Path:
    """Write ``comparison.html``, ``comparison.json`` and ``plates/*.png``; gives the path of the page.

    ``again`` is the command that compares them again, from which the page makes others.

    Raises
    ------
    OutputError
        When the folder or a file in it cannot be written; nothing half-written is left then.
    """
    drawn = draw_comparison(comparison)
    files = {f"{PLATES}/{name}.png": plate.png for name, plate in drawn.all()}
    return _write(folder, "comparison", comparison_html(comparison, drawn, again), comparison.as_dict(), files)


def write_passes(passes: Passes, folder: Path, *, again: str = "") -> Path:
    """Write ``passes.html``, ``passes.json`` and the strip's ``plates/pass_*.png``; gives the path of the page."""
    files = {f"{PLATES}/pass_{number}.png": plate.png for number, plate in enumerate(passes_plates(passes), start=1)}
    return _write(folder, "passes", passes_html(passes, again), passes.as_dict(), files)


def write_lineup(lineup: Lineup, folder: Path) -> Path:
    """Write ``lineup.html`` and ``lineup.json``; gives the path of the page."""
    return _write(folder, "lineup", lineup_html(lineup), lineup.as_dict(), {})


def _write(folder: Path, name: str, page: str, record: dict[str, Any], plates: dict[str, bytes]) -> Path:
    files = {
        **plates,
        f"{name}.json": json_bytes(record),
        f"{name}.html": page.encode("utf-8", errors="backslashreplace"),
    }
    replace_files(folder, files)
    return folder / f"{name}.html"
