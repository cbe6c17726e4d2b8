"""The small text files that people write: read whole, as UTF-8, within limits that any honest one keeps."""

import codecs
import json
import math
import tomllib
from pathlib import Path
from typing import Any

from critique.regular_file import open_regular

MOST_BYTES = 1_000_000  # of one file: a box of seventy paints has 30,000
LONGEST_LINE = 10_000  # characters: seventy names on one line take 3,000
LONGEST_VALUE = 500  # characters of one name or remark; the longest of a label is some 200
DEEPEST = 16  # tables and lists within one another; a box has four
LARGEST_NUMBER = 1e9  # of any figure: shares, parts and L*a*b* stay far below
# Marks at the start of a text by which its encoding is known. [The Unicode Standard, 23.8]
_MARKS = (
    (codecs.BOM_UTF32_LE, "UTF-32"),
    (codecs.BOM_UTF32_BE, "UTF-32"),
    (codecs.BOM_UTF16_LE, "UTF-16"),
    (codecs.BOM_UTF16_BE, "UTF-16"),
)


class TextFault(Exception):
    """Why a text file can't be used, as a reason to put behind its name."""


def read_text(path: str | Path) -> str:
    """The text of a file, a byte-order mark left off and line ends as they are.

    Raises
    ------
    TextFault
        When it can't be read, is no ordinary file, is too large, or is no text in UTF-8.
    """
    try:
        with open_regular(path) as stream:
            data = stream.read(MOST_BYTES + 1)
    except OSError as error:
        raise TextFault((error.strerror or str(error)).lower()) from None
    return decoded(data)


def decoded(data: bytes) -> str:
    """The same of bytes that were read already."""
    if len(data) > MOST_BYTES:
        raise TextFault(f"it is larger than {MOST_BYTES / 1e6:.0f} MB")
    for mark, name in _MARKS:
        if data.startswith(mark):
            raise TextFault(f"it is written in {name}: save it as UTF-8")
    if b"\0" in data:
        raise TextFault("it is not a text file")
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        raise TextFault(f"line {line} holds a letter in an older encoding, such as Latin-1: save it as UTF-8") from None
    if any(len(line) > LONGEST_LINE for line in text.split("\n")):
        raise TextFault(f"it has a line of more than {LONGEST_LINE:,} characters")
    return text


def toml_of(text: str) -> dict[str, Any]:
    """A TOML text as its tables, nothing in them too deep, too long or too large.

    Raises
    ------
    tomllib.TOMLDecodeError
        When it is not TOML.
    TextFault
        When it is, and holds what no honest file does.
    """
    try:
        table = tomllib.loads(text)
    except tomllib.TOMLDecodeError:
        raise
    except RecursionError:
        raise TextFault(f"it is nested more than {DEEPEST} deep") from None
    except ValueError:  # Python converts no whole number of thousands of digits
        raise TextFault("it holds a number that is too large") from None
    _check(table)
    return table


def json_of(text: str) -> Any:
    """A JSON text as its values, held to the same limits; raises ``TextFault``."""
    try:
        value = json.loads(text)
    except RecursionError:
        raise TextFault(f"it is nested more than {DEEPEST} deep") from None
    except ValueError:
        raise TextFault("it is not JSON") from None
    _check({"": value})
    return value


def _check(table: dict[str, Any]) -> None:
    waiting: list[tuple[Any, int]] = [(table, 0)]
    while waiting:
        value, depth = waiting.pop()
        if depth > DEEPEST:
            raise TextFault(f"it is nested more than {DEEPEST} deep")
        if isinstance(value, dict):
            waiting += [(part, depth + 1) for pair in value.items() for part in pair]
        elif isinstance(value, list):
            waiting += [(part, depth + 1) for part in value]
        elif isinstance(value, str):
            if len(value) > LONGEST_VALUE:
                raise TextFault(f"it holds a word of more than {LONGEST_VALUE} characters ({value[:20]!r} …)")
        elif isinstance(value, (int, float)) and LARGEST_NUMBER < abs(value) < math.inf:
            raise TextFault("it holds a number that is too large")
