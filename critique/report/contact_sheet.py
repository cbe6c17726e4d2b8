"""The contact sheet: many pictures on one page, with the levels of each beside it."""

import base64
import hashlib
import json
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import chain, islice

from critique import __version__
from critique.advice.finding import LEVELS, Level
from critique.report.plates.look import INK, SURROUND
from critique.report.templating import TEMPLATES, environment, styles

PAGED_FROM = 240  # pictures: from here on the sheet is cut into pages
PAGE_OF = 120  # pictures on one
LISTED = 200  # pictures that are listed where scripts are switched off, and files in the lists below the sheet
LEVEL_LETTERS = {level: level[0] for level in LEVELS}
ABSENT_LETTER = "-"
# What could end the script element or start a comment in it is written as an escape that JSON knows.
ESCAPES = {ord(sign): f"\\u{ord(sign):04x}" for sign in "<>&\u2028\u2029"}


@dataclass(frozen=True, slots=True)
class Card:
    """A picture on the sheet.

    ``href`` and ``thumbnail`` are percent-encoded and relative to the page; ``width`` and ``height`` (px) give the
    picture's shape; ``levels`` has one level, or None, for each of the sheet's subjects.
    """

    rank: int
    name: str
    folder: str
    href: str
    thumbnail: str
    width: int
    height: int
    level: Level
    levels: tuple[Level | None, ...]
    key: str
    green: float
    value: float
    alt: str
    uncropped: bool = False  # whether it may have been judged with the wall around it
    word: str = ""  # one small thing to say of it, where nothing is open

    def as_json(self) -> str:
        """One line for the script, safe inside a script element."""
        letters = "".join(LEVEL_LETTERS[level] if level else ABSENT_LETTER for level in self.levels)
        fields = [self.rank, self.name, self.folder, self.href, self.thumbnail, self.width, self.height]
        fields += [
            letters,
            self.key,
            round(self.green, 4),
            round(self.value, 2),
            self.alt,
            int(self.uncropped),
            self.word,
        ]
        return json.dumps(fields, ensure_ascii=False, separators=(",", ":"), allow_nan=False).translate(ESCAPES)


@dataclass(frozen=True, slots=True)
class Wall:
    """A few pictures that hang well together, in the order of the wall, why, and the colours they share.

    A colour is words and an sRGB hex.
    """

    cards: tuple[Card, ...]
    text: str
    colours: tuple[tuple[str, str], ...]

    @property
    def shapes(self) -> float:
        """Width of the row over its height."""
        return sum(card.width / card.height for card in self.cards)


@dataclass(frozen=True, slots=True)
class Remark:
    """A sentence on the whole body of work, with its colour if it is about one."""

    text: str
    srgb: str | None = None


@dataclass(frozen=True, slots=True)
class Crop:
    """A photograph that a picture was cropped out of; or ``unsure`` where its canvas ends, and nothing was cropped."""

    name: str
    href: str
    outline: str  # the photograph, outlined, relative to the page
    unsure: bool


@dataclass(frozen=True, slots=True)
class Sheet:
    """Everything on the page but its cards."""

    title: str
    pictures: int
    counts: tuple[tuple[Level, int], ...]
    subjects: tuple[str, ...]  # as they are called beside every level
    faults: tuple[str, ...]  # the same, as they are called where they stand open
    walls: tuple[Wall, ...]
    considered: int  # pictures at most from which the walls were chosen
    remarks: tuple[Remark, ...]
    failed: tuple[str, ...]
    removed: tuple[str, ...]
    columns: tuple[tuple[str, str], ...]
    crops: tuple[Crop, ...] = ()
    cleared: tuple[tuple[str, str], ...] = ()  # files with transparent parts: name, place of the review
    twins: tuple[tuple[str, ...], ...] = ()  # names of files that show one painting

    @property
    def paintings(self) -> int:
        """How many paintings the pictures show, each counted once."""
        return self.pictures - sum(len(group) - 1 for group in self.twins)

    @property
    def parts(self) -> int:
        """How many parts the page has that are worth a way to them."""
        return 1 + sum(
            bool(part)
            for part in (self.walls, self.remarks, self.twins, self.crops, self.cleared, self.failed, self.removed)
        )


def sheet_html(sheet: Sheet, cards: Iterable[Card]) -> Iterator[str]:
    """The page, in pieces; ``cards`` come by rank and are not kept. Every text is escaped."""
    coming = iter(cards)
    first = list(islice(coming, LISTED))
    script = (TEMPLATES / "contact_sheet.js").read_text(encoding="utf-8")
    pieces: Iterator[str] = (
        environment()
        .get_template("contact_sheet.html.j2")
        .generate(
            version=__version__,
            sheet=sheet,
            first=first,
            lines=(card.as_json() for card in chain(first, coming)),
            listed=LISTED,
            paged_from=PAGED_FROM,
            page_of=PAGE_OF,
            css=styles("contact_sheet.css"),
            script=script,
            script_hash=base64.b64encode(hashlib.sha256(f"\n{script}".encode()).digest()).decode(),
            surround=SURROUND,
            ink=INK,
        )
    )
    return pieces
