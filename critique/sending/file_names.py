"""What each file that is sent is called: a pattern filled in, in letters that every file system and form takes."""

import re
import unicodedata
from collections import defaultdict
from collections.abc import Mapping, Sequence
from string import Formatter

from critique.errors import CritiqueError
from critique.report.naming import DEVICES
from critique.words.lists import listed

FIELDS = ("artist", "title", "n", "size", "medium", "year", "price", "file")
USUAL, WITHOUT_ARTIST = "{artist}_{title}_{n}", "{title}_{n}"
LONGEST = 100  # bytes of a name without its suffix: forms cut longer ones, file systems take 255
CUTS = (60, 40, 25, 15, 8)  # letters of each field that are tried in turn until the whole is short enough
MOST_DIGITS = 6
# Letters with a usual spelling in others; accents are taken off the rest.
SPELT = {"ä": "ae", "ö": "oe", "ü": "ue", "ß": "ss", "æ": "ae", "œ": "oe", "ø": "o", "ł": "l", "đ": "d", "þ": "th",
         "ð": "d", "×": "x", "&": "and"}  # fmt: skip

Parts = list[tuple[str, str | None, str]]  # literal text, the field behind it or None, and how it is written


def parsed_pattern(pattern: str) -> Parts:
    """A pattern such as ``{artist}_{title}_{n:02}``; raises ``CritiqueError`` for one that can't be filled."""
    try:
        parts = [(text, field, form or "") for text, field, form, _ in Formatter().parse(pattern)]
    except ValueError:
        raise CritiqueError(f"the name “{pattern}” has a brace without its other: write fields as {{title}}") from None
    for _, field, form in parts:
        if field is not None and field not in FIELDS:
            known = listed([f"{{{one}}}" for one in FIELDS])
            raise CritiqueError(f"the name “{pattern}” asks for {{{field}}}, which isn't known: there are {known}")
        digits = re.fullmatch(r"0?(\d)", form) if field == "n" else None
        if form and not (digits and 1 <= int(digits[1]) <= MOST_DIGITS):
            raise CritiqueError(f"the name “{pattern}” asks for “:{form}”: only {{n:02}} and the like can be")
    if not any(field for _, field, _ in parts):
        raise CritiqueError(f"the name “{pattern}” would be the same for every picture: put {{n}} or {{title}} in it")
    return parts


def needed(pattern: str) -> tuple[str, ...]:
    """The fields that a pattern asks for."""
    return tuple(dict.fromkeys(field for _, field, _ in parsed_pattern(pattern) if field))


def filled(pattern: str, fields: Mapping[str, str | int]) -> str:
    """A file's name without its suffix; fields that are too long for it are cut, all alike."""
    parts = parsed_pattern(pattern)
    for cut in CUTS:
        stem = _safe("".join(_literal(text) + _value(field, form, fields, cut) for text, field, form in parts))
        if len(stem.encode("utf-8")) <= LONGEST:
            if not stem:
                raise CritiqueError(f"the name “{pattern}” comes out empty for {fields['file']}")
            return stem
    raise CritiqueError(f"the name “{pattern}” is too long: {LONGEST} letters are the most")


def names_apart(names: Sequence[str], pattern: str, files: Sequence[str]) -> None:
    """Raise ``CritiqueError``, one line, where one name would stand for two pictures."""
    by_name: dict[str, list[str]] = defaultdict(list)
    for name, file in zip(names, files, strict=True):
        by_name[name.casefold()].append(file)
    same = next((group for group in by_name.values() if len(group) > 1), None)
    if same is not None:
        more = f" and {len(same) - 3} more" if len(same) > 3 else ""
        raise CritiqueError(
            f"the name “{pattern}” would be the same for {', '.join(same[:3])}{more}: put {{n}} in it, or mend the list"
        )


def spelt(text: str) -> str:
    """Text in letters, digits and hyphens; letters of other scripts than Latin stay."""
    letters = []
    for letter in unicodedata.normalize("NFC", text):
        low = letter.lower()
        if low in SPELT:
            letters.append(SPELT[low] if letter == low else SPELT[low].capitalize())
            continue
        plain = "".join(part for part in unicodedata.normalize("NFKD", letter) if part.isascii() and part.isalnum())
        other = letter.isalnum() or unicodedata.category(letter) in ("Mn", "Mc")
        letters.append(plain or (letter if other else "" if letter in "'’" else "-"))
    return re.sub("-{2,}", "-", "".join(letters)).strip("-")


def _value(field: str | None, form: str, fields: Mapping[str, str | int], cut: int) -> str:
    if field is None:
        return ""
    value = fields[field]
    return f"{value:{form}}" if isinstance(value, int) else spelt(value)[:cut].strip("-")


def _literal(text: str) -> str:
    """What stands between the fields; underscores stay."""
    return "_".join(re.sub(r"[^\w-]", "-", part) for part in text.split("_"))


def _safe(stem: str) -> str:
    stem = re.sub("-{2,}", "-", stem).strip("-")  # what begins with a hyphen is an option to many a program
    return f"{stem}_" if stem.lower() in DEVICES else stem
