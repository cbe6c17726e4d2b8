"""The page of a picture under the lamps of a gallery: the previews first, then what moves."""

from dataclasses import dataclass
from pathlib import Path

from critique.report.folder import PLATES, replace_files
from critique.report.page import title_of
from critique.report.plates.photograph import in_colour
from critique.report.plates.plate import Plate, image_of
from critique.report.record import json_bytes
from critique.report.templating import rendered
from critique.report.view_words import crops_told
from critique.tasks.gallery import Gallery, UnderLamp
from critique.tasks.gallery_words import NEXT_TO_NONE, changed_by

PAGE, RECORD = "gallery.html", "gallery.json"
LONG_EDGE = 1000  # px of a preview: half a page at nearly two dots a px
WORDS = {
    "die": "the greens die",
    "fade": "the greens grow quieter",
    "glare": "the greens glare",
    "gain": "the greens grow stronger",
    "hold": "the greens keep their strength",
    "none": "",
}


@dataclass(frozen=True, slots=True)
class Shown:
    """One lamp as the page shows it."""

    anchor: str
    title: str
    greens: str
    plate: Plate
    under: UnderLamp


def write_gallery(gallery: Gallery, folder: Path) -> Path:
    """Write ``gallery.html``, ``gallery.json`` and ``plates/under_*.png``; gives the path of the page.

    Raises
    ------
    OutputError
        When the folder or a file in it cannot be written; nothing half-written is left then.
    """
    shown = _shown(gallery)
    files = {f"{PLATES}/{one.plate.name}.png": one.plate.png for one in shown}
    files[RECORD] = json_bytes(gallery.as_dict())
    files[PAGE] = gallery_html(gallery, shown).encode("utf-8", errors="backslashreplace")
    replace_files(folder, files)
    return folder / PAGE


def gallery_html(gallery: Gallery, shown: tuple[Shown, ...] | None = None) -> str:
    """The page as one HTML document."""
    picture = gallery.picture
    before = Plate(
        "before", image_of(in_colour(picture, _long_edge(gallery))), "The picture by daylight.", "By daylight."
    )
    return rendered(
        "gallery.html.j2",
        style="gallery.css",
        title=title_of(picture),
        gallery=gallery,
        before=before,
        lamps=_shown(gallery) if shown is None else shown,
        crops=crops_told((picture,)),
    )


def _long_edge(gallery: Gallery) -> int:
    return min(LONG_EDGE, int(max(gallery.picture.drawn.shape[:2])))


def _shown(gallery: Gallery) -> tuple[Shown, ...]:
    codes = in_colour(gallery.picture, _long_edge(gallery))
    shown = []
    for one in gallery.lamps:
        name = one.lamp.name.lower().replace("-", "_")
        title = f"{one.lamp.title[:1].upper()}{one.lamp.title[1:]}, {one.lamp.kelvin} K"
        alt = f"The picture as it looks under: {title}."
        plate = Plate(f"under_{name}", image_of(one.preview(codes)), alt, title)
        shown.append(Shown(name, title, _of_greens(one), plate, one))
    return tuple(shown)


def _of_greens(under: UnderLamp) -> str:
    """What the caption says of the greens: nothing where the text beside it tells what little they change by."""
    held = under.greens.verdict == "hold" and abs(changed_by(under.greens)) >= NEXT_TO_NONE
    return "" if held else WORDS[under.greens.verdict]
