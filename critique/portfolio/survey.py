"""What has changed below a folder since the last run: new, renamed, changed and removed pictures."""

import time
from dataclasses import dataclass, replace
from pathlib import Path

from critique.errors import CritiqueError
from critique.photograph.source import check_file, printable_name
from critique.portfolio.content import Signature, content_of, signature_of
from critique.portfolio.ledger import FAILED, PRESENT, REMOVED, UNSEEN, File, Ledger
from critique.portfolio.places import Found, review_folders, shown_path
from critique.portfolio.progress import Progress
from critique.portfolio.remembered import remembered_of

# File systems keep times to 2 s at the coarsest (FAT): a file changed as lately as this may change again and keep its
# time, so its signature is not trusted next time.
COARSEST_TIME_NS = 2_000_000_000
UNTRUSTED: Signature = (-1, -1, -1)


@dataclass(frozen=True, slots=True)
class Survey:
    """How many pictures there are, and how many were renamed, changed or removed since the last run.

    ``unread`` has a line for each folder that couldn't be read.
    """

    pictures: int
    renamed: int
    changed: int
    removed: int
    unread: tuple[str, ...] = ()


def survey(
    folder: Path, found_there: Found, ledger: Ledger, version: str, progress: Progress, paintings: Path | None = None
) -> Survey:
    """Bring the ledger's files up to date with what was found below ``folder``.

    A file whose content this ``version`` could not read before has failed again, without being read. What is known of
    pictures in a folder that can't be read stays as it is. In ``paintings`` earlier runs remember what they were told
    of a photograph: with other corners it counts as changed.
    """
    paths = list(found_there.pictures)
    unseen = [file.path for file in ledger.files(PRESENT, UNSEEN) if found_there.hides(file.path)]
    changed = 0
    fresh: list[tuple[str, str]] = []  # paths not seen before, with their content
    places = review_folders([*paths, *unseen])[: len(paths)]
    for path, place in zip(progress.over(paths, len(paths)), places, strict=True):
        known = ledger.file(path)
        found = _look_at(folder, path, place, known, paintings)
        if found.content and (reason := ledger.unreadable(found.content, version)) is not None:
            found = replace(found, state=FAILED, reason=f"{found.name}: {reason}")
        if found.state == FAILED:
            progress.say(f"critique: {found.reason}")
        if found != known:
            ledger.keep_file(found)
        if known is None or known.state == REMOVED:
            fresh.append((path, found.content))
        elif found.content and known.content and found.content != known.content:
            changed += 1
    for path in unseen:
        ledger.set_state(path, UNSEEN)
    renamed, removed = _gone(ledger, set(paths), fresh, found_there)
    ledger.commit()
    unread = tuple(_unread_line(*told) for told in found_there.unread.items())
    for line in unread:
        progress.say(f"critique: {line}")
    return Survey(len(paths), renamed, changed, removed, unread)


def _unread_line(folder: str, reason: str) -> str:
    return f"{shown_path(folder)}: the folder can't be read ({reason}); what is known of its pictures is left as it was"


def _look_at(folder: Path, path: str, place: str, known: File | None, paintings: Path | None) -> File:
    name = printable_name(path)
    try:
        check_file(folder / path, name)
        mark = remembered_of(folder / path, paintings).mark
        signature = signature_of(folder / path)
        if not mark and known is not None and known.content and known.signature == signature:
            return replace(known, folder=place, state=PRESENT, reason="")
        content = content_of(folder / path, mark)
    except CritiqueError as error:
        return File(path, "", "", name, FAILED, str(error), UNTRUSTED)
    except OSError as error:
        reason = f"{name}: cannot be read ({(error.strerror or str(error)).lower()}); see to the file and run again"
        return File(path, "", "", name, FAILED, reason, UNTRUSTED)
    # What is remembered isn't in the file's signature: it may be forgotten, and the file stays as it is.
    settled = not mark and max(signature[1:]) < time.time_ns() - COARSEST_TIME_NS
    return File(path, content, place, name, PRESENT, "", signature if settled else UNTRUSTED)


def _gone(ledger: Ledger, present: set[str], fresh: list[tuple[str, str]], found_there: Found) -> tuple[int, int]:
    """Mark files that are gone. One whose content has come back under a new name was renamed, and is forgotten."""
    new_names = {content for _, content in fresh if content}
    renamed = removed = 0
    for file in list(ledger.files(PRESENT, FAILED, UNSEEN)):
        if file.path in present or found_there.hides(file.path):
            continue
        if file.content and file.content in new_names:
            ledger.forget_file(file.path)
            renamed += 1
        elif file.content and file.state != FAILED:
            ledger.set_state(file.path, REMOVED)
            removed += 1
        else:
            ledger.forget_file(file.path)
    for file in list(ledger.files(REMOVED)):  # removed in an earlier run, back under another name
        if file.content in new_names:
            ledger.forget_file(file.path)
            renamed += 1
    return renamed, removed
