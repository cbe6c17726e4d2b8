"""What is already known of which picture: kept in SQLite beside the output, through kills and restarts."""

import json
import os
import sqlite3
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from critique.errors import OutputError
from critique.portfolio.content import Signature
from critique.portfolio.ledger_trust import (
    CHECKED,
    DAMAGE,
    OURS,
    check_of,
    drop_untrusted,
    put_back,
    sign_all,
    trusted_rows,
)
from critique.portfolio.places import LEDGER

COMMIT_SECONDS = 0.25  # results that come faster than this are written together
WAIT_SECONDS = 0.5  # between two looks at whether another run has ended

# A path is kept as its bytes: names on disk need not be text.
TABLES = """
CREATE TABLE files (
    path BLOB PRIMARY KEY, size INTEGER, modified INTEGER, changed INTEGER, content TEXT,
    folder TEXT, name TEXT NOT NULL, state TEXT NOT NULL, reason TEXT NOT NULL DEFAULT ''
);
CREATE INDEX files_by_content ON files (content);
CREATE TABLE results (content TEXT PRIMARY KEY, version TEXT NOT NULL, row TEXT NOT NULL);
CREATE TABLE pages (
    folder TEXT PRIMARY KEY, content TEXT NOT NULL, version TEXT NOT NULL, name TEXT NOT NULL, plates INTEGER NOT NULL
);
CREATE INDEX pages_by_content ON pages (content);
"""
# What could not be read, by content, with its reason less the file's name.
REMEMBERED = "CREATE TABLE unreadable (content TEXT PRIMARY KEY, version TEXT NOT NULL, reason TEXT NOT NULL);"
# A check for every row, and which folder the ledger is of.
SIGNED = "CREATE TABLE about (name TEXT PRIMARY KEY, value BLOB NOT NULL);" + "".join(
    f"ALTER TABLE {table} ADD COLUMN checked TEXT NOT NULL DEFAULT '';" for table in CHECKED
)
STEPS = (TABLES, REMEMBERED, SIGNED)  # from one version of the schema to the next
UNSIGNED = 2  # versions of the schema before there were checks
# ``UNSEEN``: known, in a folder that couldn't be read this time.
PRESENT, REMOVED, FAILED, UNSEEN = "present", "removed", "failed", "unseen"
ABSOLUTE, RELATIVE = "folder", "folder from here"


@dataclass(frozen=True, slots=True)
class File:
    """A picture's file as the ledger knows it. ``content`` is the SHA-256 of its bytes, '' when it can't be read."""

    path: str
    content: str
    folder: str
    name: str
    state: str
    reason: str
    signature: Signature


@dataclass(frozen=True, slots=True)
class Page:
    """A review on disk: which content it shows, by which version, and under which file name."""

    folder: str
    content: str
    version: str
    name: str
    plates: bool


class Ledger:
    """The ledger of one portfolio, held by one run at a time; use it as a context manager."""

    def __init__(self, folder: Path, wait: Callable[[str], None]) -> None:
        """Open the ledger in ``folder``; while another run holds it, say so once through ``wait`` and wait.

        Of a damaged one it keeps what can be trusted, and says so.
        """
        self.path = folder / LEDGER
        self._committed = 0.0
        try:
            folder.mkdir(parents=True, exist_ok=True)
        except (OSError, ValueError) as error:
            reason = (getattr(error, "strerror", None) or str(error)).lower()
            what = f"{folder}: can't be the portfolio's folder ({reason})"
            raise OutputError(what, mend="other_portfolio_folder") from error
        if os.path.lexists(self.path) and not self.path.is_file():
            raise OutputError(f"{self.path}: is no ledger, and stands in its way", mend="portfolio_ledger")
        try:
            self._open(wait)
            try:
                self._prepare()
                dropped = drop_untrusted(self._connection)
            except DAMAGE as error:
                if isinstance(error, _NotOurs) or _is_of_the_disk(error):
                    raise
                self._begin_anew(wait)
            else:
                if dropped:
                    entries = "1 entry" if dropped == 1 else f"{dropped} entries"
                    wait(
                        f"critique: {self.path}: {entries} of the ledger had been damaged; what they told is made again"
                    )
        except sqlite3.Error as error:
            raise OutputError(
                f"{self.path}: the ledger can't be used ({error}); see to it", mend="portfolio_ledger"
            ) from error

    def _open(self, wait: Callable[[str], None]) -> None:
        self._connection = sqlite3.connect(self.path, isolation_level=None, timeout=0)
        self._connection.text_factory = _text  # of a damaged row too: its check tells
        try:
            self._hold(wait)
        except DAMAGE as error:
            if isinstance(error, sqlite3.OperationalError) or _is_of_the_disk(error):
                raise
            self._begin_anew(wait, readable=False)

    def _begin_anew(self, wait: Callable[[str], None], readable: bool = True) -> None:
        """Set a damaged file aside and go on with what can be trusted of it."""
        saved = trusted_rows(self._connection) if readable else {}
        self._connection.close()
        aside = self.path.with_name(f"{LEDGER}.damaged")
        os.replace(self.path, aside)
        self.path.with_name(f"{LEDGER}-journal").unlink(missing_ok=True)
        self._connection = sqlite3.connect(self.path, isolation_level=None, timeout=0)
        self._connection.text_factory = _text
        self._hold(wait)
        self._prepare()
        self._connection.execute("BEGIN")
        put_back(self._connection, saved)
        self._connection.execute("COMMIT")
        kept = len(saved.get("results", ()))
        what = "nothing in it can be trusted" if not kept else f"what it told of {kept} pictures can be trusted"
        wait(
            f"critique: {self.path}: the ledger was damaged: {what}, the rest is measured again ({aside.name} keeps it)"
        )

    def __enter__(self) -> "Ledger":
        return self

    def __exit__(self, *exception: object) -> None:
        if self._connection.in_transaction:
            self._connection.execute("COMMIT")
        self._connection.close()

    def _hold(self, wait: Callable[[str], None]) -> None:
        """Lock the file until this process ends, in whatever way. SQLite keeps the lock in exclusive mode."""
        said = False
        while True:
            try:
                # Even the settings look into the file, and fail while another run holds it.
                self._connection.execute("PRAGMA locking_mode = EXCLUSIVE")
                self._connection.execute("PRAGMA synchronous = FULL")
                self._connection.execute("BEGIN EXCLUSIVE")
                self._connection.execute("COMMIT")
                return
            except sqlite3.OperationalError as error:
                if error.sqlite_errorcode & 0xFF not in (sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED):
                    raise
            if not said:
                wait(f"critique: another run is at work in {self.path.parent}: waiting until it has finished")
                said = True
            time.sleep(WAIT_SECONDS)

    def _prepare(self) -> None:
        known = self._one("PRAGMA user_version")[0]
        if known > len(STEPS):
            raise _NotOurs("a newer version of the program wrote it")
        tables = {name for (name,) in self._connection.execute("SELECT name FROM sqlite_master WHERE type = 'table'")}
        if known == 0 and tables:
            if {"files", "results"} <= tables:
                raise sqlite3.DatabaseError("its header is damaged")
            raise _NotOurs("another program wrote it")
        if known < len(STEPS):
            steps = " ".join(STEPS[known:])
            self._connection.executescript(f"BEGIN; {steps} PRAGMA user_version = {len(STEPS)};")
            self._connection.execute(f"PRAGMA application_id = {OURS}")
            if 0 < known <= UNSIGNED:
                sign_all(self._connection)
            self._connection.execute("COMMIT")

    def claim(self, folder: Path) -> str | None:
        """Keep that the ledger is of ``folder``; gives another folder that it is of already, which is still there.

        A tree that was moved or copied as a whole has its pictures where they were, as seen from the ledger.
        """
        here = os.path.abspath(self.path.parent)
        there = os.path.realpath(folder)
        mine = {ABSOLUTE: there, RELATIVE: os.path.relpath(there, os.path.realpath(here))}
        found = self._connection.execute("SELECT name, value FROM about").fetchall()
        told = {str(name): os.fsdecode(value) for name, value in found}
        other = told.get(ABSOLUTE)
        inside = os.path.commonpath([there, os.path.realpath(here)]) == there  # it can be of no other folder then
        elsewhere = other is not None and other != there and told.get(RELATIVE) != mine[RELATIVE]
        if other is not None and elsewhere and not inside and os.path.isdir(other):
            return other
        if told != mine:
            for name, value in mine.items():
                self._insert("about", name, os.fsencode(value))
            self.commit()
        return None

    def _one(self, query: str, *values: object) -> Any:
        return self._connection.execute(query, values).fetchone()

    def _write(self, query: str, *values: object) -> None:
        """Within a transaction that ``commit`` ends."""
        if not self._connection.in_transaction:
            self._connection.execute("BEGIN")
        self._connection.execute(query, values)

    def _insert(self, table: str, *values: object) -> None:
        """A row with its check; one of the same key gives way."""
        marks = ", ".join("?" * (len(values) + 1))
        self._write(f"INSERT OR REPLACE INTO {table} VALUES ({marks})", *values, check_of(table, values))

    def commit(self, at_once: bool = True) -> None:
        """Make what was written last, now or, unless ``at_once``, when some time has gone by."""
        if self._connection.in_transaction and (at_once or time.monotonic() - self._committed > COMMIT_SECONDS):
            self._connection.execute("COMMIT")
            self._committed = time.monotonic()

    # Files

    def file(self, path: str) -> File | None:
        """What is known of a path."""
        found = self._one(f"SELECT {_FILE_FIELDS} FROM files WHERE path = ?", os.fsencode(path))
        return _file(found) if found else None

    def files(self, *states: str) -> Iterator[File]:
        """Files in any of ``states``, by path."""
        marks = ", ".join("?" * len(states))
        query = f"SELECT {_FILE_FIELDS} FROM files WHERE state IN ({marks}) ORDER BY path"
        return map(_file, self._connection.execute(query, states))

    def files_of(self, content: str, state: str) -> list[File]:
        """Files of one content in a state, by path."""
        query = f"SELECT {_FILE_FIELDS} FROM files WHERE content = ? AND state = ? ORDER BY path"
        return [_file(found) for found in self._connection.execute(query, (content, state))]

    def count(self, state: str) -> int:
        """How many files are in a state."""
        return int(self._one("SELECT count(*) FROM files WHERE state = ?", state)[0])

    def keep_file(self, file: File) -> None:
        """Keep what is known of a file."""
        self._insert("files", *_values(file))
        self.commit(at_once=False)

    def forget_file(self, path: str) -> None:
        """Forget a path, because its picture is known under another."""
        self._write("DELETE FROM files WHERE path = ?", os.fsencode(path))

    def set_state(self, path: str, state: str, reason: str = "") -> None:
        """Mark a file as present, removed or failed."""
        if (known := self.file(path)) is None:
            return
        check = check_of("files", _values(replace(known, state=state, reason=reason)))
        query = "UPDATE files SET state = ?, reason = ?, checked = ? WHERE path = ?"
        self._write(query, state, reason, check, os.fsencode(path))
        self.commit(at_once=False)

    # Results and pages

    def keep_result(self, content: str, version: str, row: dict[str, Any]) -> None:
        """Keep the row of a picture's content; one of another version gives way."""
        text = json.dumps(row, ensure_ascii=True, allow_nan=False, separators=(",", ":"))
        self._insert("results", content, version, text)

    def row(self, content: str) -> dict[str, Any]:
        """The row of a content that has been reviewed."""
        row: dict[str, Any] = json.loads(self._one("SELECT row FROM results WHERE content = ?", content)[0])
        return row

    def known(self, content: str, version: str) -> bool:
        """Whether this content has been measured by this version."""
        return self._one("SELECT 1 FROM results WHERE content = ? AND version = ?", content, version) is not None

    def keep_unreadable(self, content: str, version: str, reason: str) -> None:
        """Keep why a content can't be read, so that this version does not try again."""
        self._insert("unreadable", content, version, reason)

    def unreadable(self, content: str, version: str) -> str | None:
        """Why this version can't read a content; None when it can, or has not tried."""
        found = self._one("SELECT reason FROM unreadable WHERE content = ? AND version = ?", content, version)
        return str(found[0]) if found else None

    def count_outdated(self, version: str) -> int:
        """How many contents that are there were measured by another version than this."""
        query = (
            "SELECT count(*) FROM results WHERE version != ? AND content IN (SELECT content FROM files WHERE state = ?)"
        )
        return int(self._one(query, version, PRESENT)[0])

    def keep_page(self, page: Page) -> None:
        """Keep which review lies in a folder."""
        self._insert("pages", page.folder, page.content, page.version, page.name, int(page.plates))

    def forget_page(self, folder: str) -> None:
        """Forget a review that is no longer there."""
        self._write("DELETE FROM pages WHERE folder = ?", folder)

    def pages(self) -> list[Page]:
        """Every review on disk."""
        return [_page(found) for found in self._connection.execute(f"SELECT {_PAGE_FIELDS} FROM pages ORDER BY folder")]

    def page_of(self, content: str, version: str, plates: bool) -> Page | None:
        """A review of this content, wherever it lies."""
        found = self._one(
            f"SELECT {_PAGE_FIELDS} FROM pages WHERE content = ? AND version = ? AND plates >= ? ORDER BY folder",
            *(content, version, int(plates)),
        )
        return _page(found) if found else None

    def unserved(self, version: str, plates: bool, after: str = "", most: int = -1) -> list[File]:
        """Present files, by path, whose result or page is missing, old, or another picture's."""
        fields = ", ".join(f"f.{field.strip()}" for field in _FILE_FIELDS.split(","))
        query = f"SELECT {fields} {_UNSERVED} ORDER BY f.path LIMIT ?"
        values = (version, version, int(plates), os.fsencode(after), most)
        return [_file(found) for found in self._connection.execute(query, values)]

    def count_unserved(self, version: str, plates: bool) -> int:
        """How many contents ``unserved`` is about."""
        query = f"SELECT count(DISTINCT f.content) {_UNSERVED}"
        return int(self._one(query, version, version, int(plates), b"")[0])

    def folders(self) -> Iterator[str]:
        """Where the reviews of all files go."""
        return (str(found[0]) for found in self._connection.execute("SELECT folder FROM files WHERE folder != ''"))

    def orphaned_pages(self) -> list[str]:
        """Folders of reviews that belong to no file any more, or to one that has become unreadable."""
        query = "SELECT folder FROM pages WHERE folder NOT IN (SELECT folder FROM files WHERE state != ?)"
        return [str(found[0]) for found in self._connection.execute(query, (FAILED,))]

    def unused_results(self) -> list[str]:
        """Contents with a row that no file has any more."""
        query = f"SELECT content FROM results WHERE {_UNUSED}"
        return [str(found[0]) for found in self._connection.execute(query)]

    def forget_result(self, content: str) -> None:
        """Drop the row of a content."""
        self._write("DELETE FROM results WHERE content = ?", content)

    def forget_unused_reasons(self) -> None:
        """Drop why contents can't be read that no file has any more."""
        self._write(f"DELETE FROM unreadable WHERE {_UNUSED}")


_UNUSED = "content NOT IN (SELECT content FROM files)"
_FILE_FIELDS = "path, content, folder, name, state, reason, size, modified, changed"
_UNSERVED = """
FROM files f
LEFT JOIN results r ON r.content = f.content AND r.version = ?
LEFT JOIN pages p ON p.folder = f.folder AND p.content = f.content AND p.version = ? AND p.name = f.name
    AND p.plates >= ?
WHERE f.state = 'present' AND (r.content IS NULL OR p.folder IS NULL) AND f.path > ?
"""
_PAGE_FIELDS = "folder, content, version, name, plates"


class _NotOurs(sqlite3.DatabaseError):
    """A file that is whole, and that this version of the program may not write to."""


def _is_of_the_disk(error: Exception) -> bool:
    """Whether the disk, and not what is written there, is at fault: full, failing, or not to be written to."""
    disk = (sqlite3.SQLITE_FULL, sqlite3.SQLITE_IOERR, sqlite3.SQLITE_READONLY, sqlite3.SQLITE_CANTOPEN)
    return getattr(error, "sqlite_errorcode", 0) & 0xFF in (*disk, sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED)


def _text(data: bytes) -> str:
    return data.decode("utf-8", errors="replace")


def _values(file: File) -> tuple[object, ...]:
    """A file as its row."""
    return (
        *(os.fsencode(file.path), *file.signature),
        *(file.content, file.folder, file.name, file.state, file.reason),
    )


def _file(found: tuple[Any, ...]) -> File:
    path, content, folder, name, state, reason, *signature = found
    return File(os.fsdecode(path), content, folder, name, state, reason, (signature[0], signature[1], signature[2]))


def _page(found: tuple[Any, ...]) -> Page:
    folder, content, version, name, plates = found
    return Page(folder, content, version, name, bool(plates))
