"""A price list as painters keep it: a CSV file with a row for each picture, read as it comes and written clean."""

import csv
import io
import os
import unicodedata
from dataclasses import dataclass, field
from pathlib import Path

from critique.errors import CritiqueError
from critique.photograph.source import printable_name
from critique.regular_file import open_regular
from critique.text_file import MOST_BYTES
from critique.words.lists import listed
from critique.words.printed import shown_line

COLUMNS = ("file", "artist", "title", "size", "medium", "year", "price")
# Headings that mean the same, in the languages that lists are likely to come in.
HEADINGS = {
    "file": ("picture", "image", "filename", "file name", "datei", "dateiname", "bild", "fichier"),
    "artist": ("painter", "name", "künstler", "künstlerin", "maler", "malerin", "artiste"),
    "title": ("titel", "titre"),
    "size": ("dimensions", "format", "größe", "masse", "maße", "grösse"),
    "medium": ("technique", "technik", "material"),
    "year": ("date", "jahr", "année"),
    "price": ("preis", "prix"),
}
LONGEST_CELL = 300  # characters: a title that a catalogue can print
SEPARATORS = ",;\t"
FORMULA_SIGNS = ("=", "+", "-", "@")  # with which a spreadsheet takes a cell for a formula
# Marks at the start of a text by which its encoding is known. [The Unicode Standard, 23.8]
MARKS = ((b"\xef\xbb\xbf", "utf-8-sig"), (b"\xff\xfe", "utf-16"), (b"\xfe\xff", "utf-16"))


@dataclass(frozen=True, slots=True)
class PriceRow:
    """One picture as its painter lists it; ``line`` of the file it stands on, 0 where it stands on none."""

    line: int
    file: str = ""
    artist: str = ""
    title: str = ""
    size: str = ""
    medium: str = ""
    year: str = ""
    price: str = ""


@dataclass(frozen=True, slots=True)
class PriceList:
    """Its ``name``, its rows, and what was odd in how it is written, a line each."""

    name: str
    rows: tuple[PriceRow, ...]
    notes: tuple[str, ...] = field(default=())


def read_price_list(path: Path) -> PriceList:
    """Read a price list: commas, semicolons or tabs; UTF-8, UTF-16 or Windows-1252.

    Raises
    ------
    CritiqueError
        One line, when it can't be read or has no column for the files.
    """
    name = printable_name(path)
    text, notes = _text(path, name)
    lines = text.splitlines(keepends=True)
    before = next((index for index, line in enumerate(lines) if line.strip()), len(lines))
    if before < len(lines) and lines[before].lower().startswith("sep="):  # a spreadsheet's own first line
        before += 1
    if before >= len(lines):
        raise CritiqueError(f"{name}: is empty; its first line names the columns: {','.join(COLUMNS)}")
    separator = max(SEPARATORS, key=lines[before].count)
    reader = csv.reader(io.StringIO("".join(lines[before:]), newline=""), delimiter=separator, strict=True)
    rows: list[PriceRow] = []
    try:
        columns = _columns(next(reader), name, notes)
        noted = len(notes)  # what is noted after is why a row was left out
        for cells in reader:
            row = _row(cells, columns, before + reader.line_num, name, notes)
            rows += [row] if row is not None else []
    except csv.Error:
        raise CritiqueError(
            f"{name}, line {before + reader.line_num}: a quotation mark isn't closed, or the line is too long"
        ) from None
    if not rows:
        raise CritiqueError(next(iter(notes[noted:]), f"{name}: has no rows below its first line"))
    return PriceList(name, tuple(rows), tuple(notes))


def price_list_bytes(rows: list[PriceRow]) -> bytes:
    """The rows as a CSV file: UTF-8 with the mark that spreadsheets need to read names right. [RFC 4180]"""
    written = io.StringIO(newline="")
    writer = csv.writer(written)
    writer.writerow(COLUMNS)
    writer.writerows([_guarded(getattr(row, column)) for column in COLUMNS] for row in rows)
    return written.getvalue().encode("utf-8-sig", errors="backslashreplace")


def _text(path: Path, name: str) -> tuple[str, list[str]]:
    try:
        with open_regular(path) as stream:
            data = stream.read(MOST_BYTES + 1)
    except OSError as error:
        reason = (error.strerror or str(error)).lower()
        raise CritiqueError(f"{name}: the price list can't be read ({reason})") from None
    if len(data) > MOST_BYTES:
        raise CritiqueError(f"{name}: is larger than {MOST_BYTES / 1e6:.0f} MB: is it the price list?")
    encoding = next((encoding for mark, encoding in MARKS if data.startswith(mark)), None)
    if encoding is None and (b"\0" in data or data.startswith(b"PK\x03\x04")):
        raise CritiqueError(f"{name}: is no text; save the price list as CSV (UTF-8)")
    try:
        return data.decode(encoding or "utf-8"), []
    except UnicodeDecodeError:
        if encoding is not None:
            raise CritiqueError(f"{name}: is damaged; save the price list as CSV (UTF-8)") from None
    try:
        return data.decode("cp1252"), [f"{name}: isn't in UTF-8, read as Windows-1252: look at its accents"]
    except UnicodeDecodeError:
        raise CritiqueError(f"{name}: is in an encoding that isn't known; save the price list as CSV (UTF-8)") from None


def _columns(headings: list[str], name: str, notes: list[str]) -> list[str | None]:
    """Which column each place holds; None where it is none of ours."""
    known = {other: column for column in COLUMNS for other in (column, *HEADINGS[column])}
    columns = [known.get(_squeezed(heading).casefold()) for heading in headings]
    for column in ("file", "title"):
        if column not in columns:
            raise CritiqueError(
                f"{name}: has no column “{column}”; its first line names the columns: {','.join(COLUMNS)}"
            )
    twice = [column for column in COLUMNS if columns.count(column) > 1]
    if twice:
        raise CritiqueError(f"{name}: has two columns for {listed(twice)}")
    unknown = [f"“{_squeezed(h)}”" for h, column in zip(headings, columns, strict=True) if column is None and h.strip()]
    if unknown:
        notes.append(f"{name}: {listed(unknown)} left out, the columns are {listed(COLUMNS)}")
    return columns


def _row(cells: list[str], columns: list[str | None], line: int, name: str, notes: list[str]) -> PriceRow | None:
    if not any(cell.strip() for cell in cells):
        return None
    if any(cell.strip() for cell in cells[len(columns) :]):
        notes.append(
            f"{name}, line {line}: has {len(cells)} cells for {len(columns)} columns, and is left out: put “…” around "
            "what has a comma in it"
        )
        return None
    found = {}
    for column, cell in zip(columns, cells, strict=False):
        if column is None:
            continue
        value = _squeezed(cell)
        if value[:1] == "'" and value[1:2] in FORMULA_SIGNS:  # as it is written below
            value = value[1:]
        if len(value) > LONGEST_CELL:
            notes.append(f"{name}, line {line}: its {column} has {len(value):,} letters, {LONGEST_CELL} are kept")
            value = value[:LONGEST_CELL].rstrip() + "…"
        found[column] = value
    return PriceRow(line, **found)


def _squeezed(text: str) -> str:
    return shown_line(unicodedata.normalize("NFC", text))


def _guarded(value: str) -> str:
    """A cell that no spreadsheet calculates."""
    return f"'{value}" if value.startswith(FORMULA_SIGNS) else value


def file_key(name: str) -> str:
    """By what a file's name in a list is found again: no folder, whichever way it is written, and no capitals."""
    return unicodedata.normalize("NFC", os.path.basename(name.replace("\\", "/"))).casefold()
