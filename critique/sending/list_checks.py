"""What is wrong or missing in a price list, held to the pictures that are sent: a line for each."""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from critique.errors import CritiqueError
from critique.photograph.source import printable_name
from critique.sending.price_list import PriceList, PriceRow, file_key
from critique.sending.sizes import listed_size
from critique.words.lists import listed

FIRST_YEAR = 1400  # of a painting that is sent anywhere; before it a digit is wrong
NEEDED = ("artist", "size", "medium", "year", "price")  # beside the title, of a list that is complete
UNTITLED = "Untitled"


@dataclass(frozen=True, slots=True)
class Listed:
    """A picture with its row, the first of its name, and what its row lacks, a line each."""

    path: Path
    row: PriceRow
    lacks: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Held:
    """A price list held to the pictures: they in its order, what is odd about it, and what it lacks, a line each."""

    pictures: tuple[Listed, ...]
    odd: tuple[str, ...] = ()
    gaps: tuple[str, ...] = ()

    @property
    def notes(self) -> tuple[str, ...]:
        """All that is wrong with the list itself."""
        return (*self.odd, *self.gaps)

    @property
    def complete(self) -> bool:
        """Whether each picture has its row, each row its picture, and no row lacks anything."""
        return not self.gaps and not any(one.lacks for one in self.pictures)


def in_order_of_list(paths: Sequence[Path], prices: PriceList, artist: str = "") -> Held:
    """Pictures with their rows, in the list's order and those that it lacks at the end; what is wrong with the list.

    ``artist`` stands for all where the list names none.
    """
    odd = list(prices.notes)
    told: list[str] = []
    rows = _each_once(prices, odd, told)
    places = {file_key(row.file): place for place, row in enumerate(rows)}
    stems = {file_key(Path(row.file).stem): place for place, row in enumerate(rows) if not Path(row.file).suffix}
    found: dict[int, int] = {}  # of the picture: of its row
    for index, path in enumerate(paths):
        place = places.get(file_key(path.name), stems.get(file_key(path.stem)))
        if place is None:
            told.append(f"{prices.name}: has no row for {printable_name(path)}")
        else:
            found[index] = place
    for place, row in enumerate(rows):
        if place not in found.values():
            told.append(f"{prices.name}, line {row.line}: {row.file} isn't among the pictures given")
    order = sorted(range(len(paths)), key=lambda index: (found.get(index, len(rows)), index))
    pictures = []
    for index in order:
        row = rows[found[index]] if index in found else PriceRow(0, file=paths[index].name)
        pictures.append(Listed(paths[index], row, tuple(lacking(row, artist)) if index in found else ()))
    return Held(tuple(pictures), tuple(odd), tuple(told))


def lacking(row: PriceRow, artist: str = "", this_year: int | None = None) -> list[str]:
    """What a row lacks that nothing else gives, or has impossibly."""
    about = f"line {row.line} of the list"
    told = [] if row.title else [f"{about} has no title: it goes as “{UNTITLED}”"]
    if row.size:
        try:
            listed_size(row.size)
        except CritiqueError as error:
            told.append(f"{about}: {error}")
    years = [int(found) for found in re.findall(r"\d{4}", row.year)]
    latest = this_year if this_year is not None else date.today().year
    if row.year and (not years or not all(FIRST_YEAR <= year <= latest for year in years)):
        told.append(f"{about}: “{row.year}” is no year")
    if re.search(r"(?<!\d)[-−]\s*\d", row.price) or re.fullmatch(r"\D*0+(?:[.,]0+)?\D*", row.price):
        told.append(f"{about}: “{row.price}” is no price")
    missing = [column for column in NEEDED if not (getattr(row, column) or (column == "artist" and artist))]
    return [*told, f"{about} has no {listed(missing)}"] if missing else told


def _each_once(prices: PriceList, odd: list[str], told: list[str]) -> list[PriceRow]:
    """The first row of each file; two titles alike are odd, a row too many or without its file is a gap."""
    rows: dict[str, PriceRow] = {}
    titles: dict[tuple[str, str], PriceRow] = {}
    for row in prices.rows:
        about = f"{prices.name}, line {row.line}"
        if not row.file:
            told.append(f"{about}: names no file, and is left out")
            continue
        first = rows.setdefault(file_key(row.file), row)
        if first is not row:
            told.append(f"{about}: {row.file} has a row already, line {first.line}, which counts")
            continue
        title = (row.artist.casefold(), row.title.casefold())
        twin = titles.setdefault(title, row)
        if row.title and twin is not row and row.title.casefold() != UNTITLED.casefold():
            odd.append(f"{about}: has the title of line {twin.line}, “{row.title}”")
    return list(rows.values())
