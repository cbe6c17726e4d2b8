"""The portfolio for a spreadsheet and for a script, written line by line."""

import csv
import json
import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any, TextIO

from critique.errors import unwritten
from critique.plain import plain
from critique.portfolio.columns import Column
from critique.publish import settle, written_beside
from critique.records import heading

FORMULA_SIGNS = "=+-@"  # with which a spreadsheet takes a cell for a formula


@contextmanager
def written(path: Path, encoding: str = "utf-8") -> Iterator[TextIO]:
    """A text file that is written beside its place and renamed into it, or not at all."""
    try:
        with written_beside(path) as beside:
            with beside.open("w", encoding=encoding, errors="backslashreplace", newline="") as stream:
                yield stream
            settle(beside)
            os.replace(beside, path)
    except OSError as error:
        raise unwritten(f"{path}: can't be written", error) from error


class CsvTable:
    """``portfolio.csv``: UTF-8 with a byte-order mark, which spreadsheets need to read names right."""

    encoding = "utf-8-sig"

    def __init__(self, stream: TextIO, columns: tuple[Column, ...]) -> None:
        self._writer = csv.writer(stream)
        self._names = [column.name for column in columns]
        self._writer.writerow(self._names)

    def add(self, record: dict[str, Any]) -> None:
        """Write one picture."""
        self._writer.writerow(_cell(record[name]) for name in self._names)


def _cell(value: Any) -> Any:
    if isinstance(value, list):
        return " ".join(value)
    if isinstance(value, str) and value.startswith(tuple(FORMULA_SIGNS)):
        return f"./{value}"  # the same path, which no spreadsheet calculates
    return "" if value is None else value


class JsonTable:
    """``portfolio.json``: one object; its pictures come last, one a line."""

    encoding = "utf-8"

    def __init__(self, stream: TextIO, columns: tuple[Column, ...], about: dict[str, Any]) -> None:
        self._stream = stream
        head = {
            **heading(),
            "columns": {column.name: column.meaning for column in columns},
            **plain(about),
        }
        text = json.dumps(head, ensure_ascii=False, indent=1, allow_nan=False)
        stream.write(text.removesuffix("\n}") + ',\n "pictures": [')
        self._separator = "\n"

    def add(self, record: dict[str, Any]) -> None:
        """Write one picture."""
        self._stream.write(self._separator + json.dumps(record, ensure_ascii=False, allow_nan=False))
        self._separator = ",\n"

    def close(self) -> None:
        """Write what ends the object."""
        self._stream.write("\n ]\n}\n")
