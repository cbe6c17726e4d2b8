"""Whether what a ledger holds is what was written into it: a check a row, and what is saved of a damaged file."""

import hashlib
import sqlite3
from collections.abc import Iterable
from typing import Any

# The columns that a row's check is made of, by table. What decides over a picture is among them.
CHECKED = {
    "files": ("path", "size", "modified", "changed", "content", "folder", "name", "state", "reason"),
    "results": ("content", "version", "row"),
    "pages": ("folder", "content", "version", "name", "plates"),
    "unreadable": ("content", "version", "reason"),
    "about": ("name", "value"),
}
OURS = 0x63726974  # "crit", by which SQLite's header tells whose file it is [SQLite, database file format, 1.3.11]

# How a damaged file shows itself; SQLite's words on it quote it, and may then be no text.
DAMAGE = (sqlite3.DatabaseError, UnicodeDecodeError)

Rows = dict[str, list[tuple[Any, ...]]]


def check_of(table: str, values: Iterable[Any]) -> str:
    """The check of a row, 16 hex digits."""
    return hashlib.blake2b(repr((table, *values)).encode("utf-8", "backslashreplace"), digest_size=8).hexdigest()


def sign_all(connection: sqlite3.Connection) -> None:
    """Give every row its check: of a ledger from before there were any."""
    for table, columns in CHECKED.items():
        found = connection.execute(f"SELECT rowid, {', '.join(columns)} FROM {table} NOT INDEXED").fetchall()
        signed = [(check_of(table, values), rowid) for rowid, *values in found]
        connection.executemany(f"UPDATE {table} SET checked = ? WHERE rowid = ?", signed)


def drop_untrusted(connection: sqlite3.Connection) -> int:
    """Delete rows that are not as they were written; gives how many. Raises ``sqlite3.Error`` on a damaged file."""
    if connection.execute("PRAGMA integrity_check(1)").fetchone() != ("ok",):
        raise sqlite3.DatabaseError("its pages are damaged")
    dropped = 0
    for table in CHECKED:
        wrong = [(rowid,) for rowid, *_ in _rows(connection, table, good=False)]
        connection.executemany(f"DELETE FROM {table} WHERE rowid = ?", wrong)
        dropped += len(wrong)
    return dropped


def trusted_rows(connection: sqlite3.Connection) -> Rows:
    """Every row of a damaged file that can be read and is as it was written, with its check at the end."""
    found: Rows = {}
    for table in CHECKED:
        rows = found[table] = []
        try:
            for _, checked, *values in _rows(connection, table, good=True):
                rows.append((*values, checked))
        except DAMAGE:  # from a damaged page on
            continue
    return found


def put_back(connection: sqlite3.Connection, rows: Rows) -> None:
    """Write rows that were saved into a new file."""
    for table, lines in rows.items():
        marks = ", ".join("?" * (len(CHECKED[table]) + 1))
        connection.executemany(f"INSERT OR REPLACE INTO {table} VALUES ({marks})", lines)


def _rows(connection: sqlite3.Connection, table: str, *, good: bool) -> Iterable[tuple[Any, ...]]:
    query = f"SELECT rowid, checked, {', '.join(CHECKED[table])} FROM {table} NOT INDEXED"
    cursor = connection.cursor()
    for row in cursor.execute(query):
        if (row[1] == check_of(table, row[2:])) == good:
            yield row
