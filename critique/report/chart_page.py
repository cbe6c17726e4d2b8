"""The page of a mixing chart: the plate first, then what the paints reach, then pair by pair."""

from pathlib import Path

from critique.paints.chart import STEPS_TOLD, MixingChart
from critique.paints.paint import MEASURED
from critique.paints.recipes import BY_WEIGHT, FROM_MEMORY
from critique.report.folder import PLATES, replace_files
from critique.report.plates.gamut import gamut_plate, planes_only
from critique.report.plates.lettering import numbers_for
from critique.report.plates.mixing_chart import chart_plate, narrow_chart_plate
from critique.report.record import json_bytes
from critique.report.templating import rendered

PAGE, RECORD = "chart.html", "chart.json"
LIGHTS = {"D65": "by daylight (D65)", "D50": "by warm daylight (D50)", "A": "by lamplight (A)"}


def write_chart(chart: MixingChart, folder: Path) -> Path:
    """Write ``chart.html``, ``chart.json`` and ``plates/*.png``; gives the path of the page.

    Raises
    ------
    OutputError
        When the folder or a file in it cannot be written.
    """
    plate, gamut = chart_plate(chart), gamut_plate(chart.slices)
    notes = [FROM_MEMORY] if any(card.origin != MEASURED for card in chart.cards) else []
    if chart.light != "D65":
        notes.append(f"Colours are as an eye sees them that is used to the light {chart.light}.")
    page = rendered(
        "chart.html.j2",
        style="sheet.css",
        title=_title(chart),
        chart=chart,
        plate=plate,
        narrow=narrow_chart_plate(chart),
        gamut=gamut,
        numbers=numbers_for([card.paint for card in chart.cards]),
        planes=planes_only(gamut, chart.slices),
        by_weight=BY_WEIGHT,
        steps_told=STEPS_TOLD,
        light=LIGHTS.get(chart.light, f"under the light {chart.light}"),
        notes=notes,
        cautions=chart.cautions,
    )
    files = {f"{PLATES}/{one.name}.png": one.png for one in (plate, gamut)}
    files[RECORD] = json_bytes(chart.as_dict())
    files[PAGE] = page.encode("utf-8", errors="backslashreplace")
    replace_files(folder, files)
    return folder / PAGE


def _title(chart: MixingChart) -> str:
    names = [card.paint.split(" (")[0] for card in chart.cards]
    return f"{', '.join(names[:-1])} and {names[-1]}"
