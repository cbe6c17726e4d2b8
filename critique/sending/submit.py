"""Pictures made ready for a call: each straightened, at the call's size, named, listed, and told what falls short."""

import os
import re
from collections.abc import Sequence
from dataclasses import asdict, dataclass, field, replace
from pathlib import Path
from typing import Any

from critique.errors import CritiqueError
from critique.perception.srgb import Codes, Float, linear_to_srgb8
from critique.photograph.corners import ALL, Corners, remembered_corners
from critique.photograph.light_asked import NOTHING_ASKED, LightAsked
from critique.photograph.painting import How, Painting, in_proportion, painting_of
from critique.photograph.proportions import Size
from critique.photograph.read import read_photograph
from critique.photograph.righting import Lighting
from critique.photograph.scale import area_average
from critique.photograph.source import printable_name
from critique.picture.twins import Cells, cells_of, same_painting
from critique.plain import plain
from critique.records import heading
from critique.report.record import json_bytes
from critique.sending.call import Call, checked_call
from critique.sending.camera_notes import notes_to_keep
from critique.sending.contact_sheet import THUMBNAIL, Shown, contact_sheet
from critique.sending.file_names import USUAL, WITHOUT_ARTIST, filled, names_apart, needed
from critique.sending.list_checks import UNTITLED, Held, Listed, in_order_of_list
from critique.sending.placing import placed
from critique.sending.price_list import PriceList, PriceRow, price_list_bytes, read_price_list
from critique.sending.shortcomings import Shortcoming, of_photograph, of_proportion
from critique.sending.sized import sized_light
from critique.sending.sizes import listed_size
from critique.sending.within import jpeg_within
from critique.words.aloud import sentence
from critique.words.lists import listed

NO_ROW = "it has no row in the price list: its title is left blank there and on the contact sheet"
LIST, SHEET, RECORD = "price_list.csv", "contact_sheet.pdf", "submission.json"


@dataclass(frozen=True, slots=True)
class Ready:
    """A picture before it is sent: its number, its row (complete), the name of its file, and what the row lacks."""

    number: int
    path: Path
    row: PriceRow
    name: str
    lacks: tuple[str, ...]


@dataclass(frozen=True, slots=True, eq=False)
class Sent:
    """A picture as it is sent: ``picture`` is its new file, ``file`` the one that it is made from.

    ``how`` and ``corners`` say how the painting was found in it, ``light`` what was done about its light, ``earlier``
    where an older file of that name went, ``like`` which pictures of the same run show the same painting.
    """

    number: int
    file: str
    picture: str
    artist: str
    title: str
    medium: str
    size: str
    year: str
    price: str
    width: int
    height: int
    bytes: int
    quality: int
    how: How
    corners: Corners
    light: Lighting | None
    earlier: str | None
    like: tuple[str, ...]
    falls_short: tuple[Shortcoming, ...]
    thumbnail: Codes = field(metadata={"record": False}, repr=False)
    cells: Cells = field(metadata={"record": False}, repr=False)

    def as_dict(self) -> dict[str, Any]:
        """Its record."""
        return {**heading(), **plain(self)}


@dataclass(frozen=True, slots=True)
class Failed:
    """A picture that can't be sent, and why."""

    file: str
    text: str


@dataclass(frozen=True, slots=True)
class Submission:
    """All that was made for a call. ``notes`` are what is wrong with the price list, a line each."""

    call: Call
    pictures: tuple[Sent, ...]
    failed: tuple[Failed, ...]
    notes: tuple[str, ...]
    complete: bool  # each picture has its row in the list, each row its picture, and none lacks anything
    price_list: str | None
    contact_sheet: str | None

    def as_dict(self) -> dict[str, Any]:
        """Its record."""
        return {**heading(), **plain(self)}


def made_ready(
    paths: Sequence[Path], call: Call, prices: PriceList | None, folder: Path
) -> tuple[tuple[Ready, ...], Held]:
    """Pictures in the order of the price list with the names of their files, and what is wrong with the list.

    Unless told otherwise a file is named after its artist where that is known, whatever is known of the others.

    Raises
    ------
    CritiqueError
        One line, when the call is none, or the names can't be given.
    """
    checked_call(call)
    if prices is None:
        held = Held(tuple(Listed(path, PriceRow(0)) for path in paths))
    else:
        held = in_order_of_list(paths, prices, call.artist)
    ready = []
    for number, one in enumerate(held.pictures, start=1):
        row, name = _complete(one, call, has_list=prices is not None), printable_name(one.path)
        pattern = call.name or (USUAL if row.artist else WITHOUT_ARTIST)
        fields = {**{key: value for key, value in asdict(row).items() if key != "line"}, "n": number}
        fields["file"] = one.path.stem
        fields["title"] = row.title or _title_of_file(one.path)
        empty = [f"{{{key}}}" for key in needed(pattern) if fields[key] == ""]
        if empty:
            raise CritiqueError(f"{name}: the name “{pattern}” asks for {listed(empty)}, which isn't known of it")
        lacks = one.lacks if row.title else (*one.lacks, NO_ROW)
        ready.append(Ready(number, one.path, row, f"{filled(pattern, fields)}.jpg", lacks))
    names_apart([one.name for one in ready], call.name or USUAL, [printable_name(one.path) for one in ready])
    for made in ready:
        _not_in_place_of(folder / made.name, paths)
    return tuple(ready), held


def send(
    ready: Ready,
    folder: Path,
    call: Call,
    *,
    corners: Corners | None = None,
    whole: bool = False,
    light: LightAsked = NOTHING_ASKED,
    before: Sequence[Sent] = (),
) -> Sent:
    """Write one picture into ``folder`` as the call wants it.

    Parameters
    ----------
    corners, whole : as given; corners of an earlier run into the same folder are taken where neither is.
    light : by what the light is put right.
    before : what was sent already, to be held against it.

    Raises
    ------
    CritiqueError
        One line, when it can't be read or written, or the call's limit can't be met.
    """
    name = printable_name(ready.path)
    if corners is None and not whole:
        corners = remembered_corners(folder, ready.path.name)
    photograph = read_photograph(ready.path)
    painting = painting_of(photograph, corners=corners, whole=whole, light=light)
    width, height, size = photograph.original_width, photograph.original_height, ready.row.size
    proportion = of_proportion(painting, width, height, size, focal=photograph.focal)
    if proportion is None and painting.cropped and (known := _size(size)) is not None:
        painting = in_proportion(photograph, painting, known, light)
    seen = sized_light(ready.path, painting, call.long_edge)
    right = _put_right(seen, painting)
    packed = jpeg_within(right, call.max_bytes, name, dpi=call.dpi, exif=notes_to_keep(ready.path, call))
    target = folder / ready.name
    earlier = placed(target, packed.data)
    cells = cells_of(right)
    like = tuple(one.file for one in before if same_painting(one.cells, cells))
    short = [Shortcoming("list", sentence(text)) for text in ready.lacks]
    short += of_photograph(seen, painting, call.long_edge, str(ready.path))
    short += [proportion] if proportion is not None else []
    if like:
        short.append(Shortcoming("twin", f"Shows the same painting as {listed(like)}."))
    row = ready.row
    found = painting.canvas.corners if painting.how == "unsure" and painting.canvas else painting.corners
    return Sent(
        ready.number, name, str(target), row.artist, row.title, row.medium, row.size, row.year, row.price,
        right.shape[1], right.shape[0], len(packed.data), packed.quality, painting.how,
        found if painting.how != "whole" else ALL, painting.lighting, str(earlier) if earlier else None, like,
        tuple(short), linear_to_srgb8(area_average(right, THUMBNAIL)), cells,
    )  # fmt: skip


def finished(
    sent: Sequence[Sent], failed: Sequence[Failed], held: Held, folder: Path, call: Call
) -> tuple[Submission, list[Path]]:
    """Write the price list, the contact sheet and the record, if anything was sent; and where older ones went."""
    rows = [
        PriceRow(0, Path(one.picture).name, one.artist, one.title, one.size, one.medium, one.year, one.price)
        for one in sent
    ]
    aside = []
    done = Submission(call, tuple(sent), tuple(failed), held.notes, held.complete, None, None)
    if sent:
        done = replace(done, price_list=str(folder / LIST), contact_sheet=str(folder / SHEET))
        aside.append(placed(folder / LIST, price_list_bytes(rows)))
        aside.append(placed(folder / SHEET, _sheet(sent, call)))
        aside.append(placed(folder / RECORD, json_bytes(done.as_dict())))
    return done, [path for path in aside if path is not None]


def submitted(paths: Sequence[Path], folder: Path, call: Call, price_list: Path | None = None) -> Submission:
    """All of it at once; a picture that fails is left out and named.

    Raises
    ------
    CritiqueError
        One line, when the call, the price list or the names can't be used, or the folder can't be written to.
    """
    prices = read_price_list(price_list) if price_list is not None else None
    ready, held = made_ready(paths, call, prices, folder)
    sent: list[Sent] = []
    failed: list[Failed] = []
    for one in ready:
        try:
            sent.append(send(one, folder, call, before=sent))
        except CritiqueError as error:
            failed.append(Failed(printable_name(one.path), error.what))
    return finished(sent, failed, held, folder, call)[0]


def _sheet(sent: Sequence[Sent], call: Call) -> bytes:
    artists = list(dict.fromkeys(one.artist for one in sent if one.artist))
    own = len(artists) > 1
    shown = []
    for one in sent:
        price = one.price if call.prices else ""
        price = f"price {price}" if price.strip().isdigit() else price  # beside a year, a bare number reads as one
        lines = (one.artist if own else "", _joined(_set(one.size), one.medium), _joined(one.year, price))
        shown.append(Shown(one.number, one.title, tuple(line for line in lines if line), one.thumbnail))
    return contact_sheet(shown, heading=artists[0] if len(artists) == 1 else "", paper=call.paper)


def _set(size: str) -> str:
    """A size as it is printed: "40x30cm" as "40 × 30 cm"."""
    crossed = re.sub(r"(?<=[\d½¼¾])\s*[xX×]\s*(?=\d)", " × ", size)
    return re.sub(r"(?<=\d)(cm|mm|in)\b", r" \1", crossed)


def _joined(*texts: str) -> str:
    return ", ".join(text for text in texts if text)


def _complete(one: Listed, call: Call, *, has_list: bool) -> PriceRow:
    """The row as it goes out: a title is the list's to give; only where there is no list, the file's name serves."""
    title = one.row.title or (UNTITLED if one.row.line else "" if has_list else _title_of_file(one.path))
    return replace(one.row, artist=one.row.artist or call.artist, title=title)


def _title_of_file(path: Path) -> str:
    named = path if path.name else path.resolve()  # "." has no name; that it is a folder is told when it is read
    return " ".join(named.stem.replace("_", " ").split())


def _size(text: str) -> Size | None:
    """The size that a list gives; None where it gives none, or none that can be, which is told with its row."""
    try:
        return listed_size(text) if text else None
    except CritiqueError:
        return None


def _put_right(light: Float, painting: Painting) -> Float:
    if painting.righting is None:
        return light
    if painting.cropped:
        return painting.righting.on_canvas(light, painting.corners)
    return painting.righting.on_photograph(light)


def _not_in_place_of(target: Path, paths: Sequence[Path]) -> None:
    for path in paths:
        try:
            same = os.path.lexists(target) and os.path.samefile(target, path)
        except OSError:
            continue
        if same:
            raise CritiqueError(f"{target}: is one of the pictures given, and would be replaced: choose another folder")
