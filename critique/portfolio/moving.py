"""A review that follows its picture to another name, without being made again."""

import json
import os
from dataclasses import astuple
from pathlib import Path, PurePath

from markupsafe import escape

from critique.report.commands import going_on
from critique.report.folder import PLATES, replace_files
from critique.report.naming import title_in
from critique.report.record import json_bytes
from critique.report.templating import breakable, pasteable
from critique.report.write import PAGE, RECORD

COMMAND = '<code class="command">{}'  # as the templates set one; options may follow


def copy_review(source: Path, target: Path, old_name: str, new_name: str) -> bool:
    """Write the review in ``source`` to ``target`` with the new file name in it; False when it can't be read there.

    It is byte for byte what a review of the file under its new name would be.
    """
    try:
        files = {
            PAGE: renamed_page((source / PAGE).read_bytes(), old_name, new_name),
            RECORD: renamed_record((source / RECORD).read_bytes(), new_name),
            **{f"{PLATES}/{path.name}": path.read_bytes() for path in sorted(source.glob(f"{PLATES}/*.png"))},
        }
    except (OSError, ValueError, KeyError):
        return False
    replace_files(target, files)
    return True


def renamed_page(page: bytes, old_name: str, new_name: str) -> bytes:
    """The page with another picture's name where the name stands: title, heading, text alternative, foot."""
    text = page.decode("utf-8")
    old, new = (title_in(PurePath(name).stem or name) for name in (old_name, new_name))
    for frame in ("<title>{} · a review</title>", 'alt="The picture under review, {}."'):
        text = _exchanged(text, frame.format(escape(old)), frame.format(escape(new)))
    foot = "<p>{}: "
    text = _exchanged(text, foot.format(escape(old_name)), foot.format(escape(new_name)))
    text = _exchanged(text, f"<h1>{breakable(old)}</h1>", f"<h1>{breakable(new)}</h1>")
    # The page's commands: to plan where something asks for it, to see it elsewhere, to say otherwise of a photograph.
    for was, now in zip(astuple(going_on(old_name)), astuple(going_on(new_name)), strict=True):
        text = text.replace(COMMAND.format(pasteable(was)), COMMAND.format(pasteable(now)))
    return text.encode("utf-8")


def _exchanged(text: str, old: str, new: str) -> str:
    if text.count(old) != 1:
        raise ValueError("the name does not stand where it should")
    return text.replace(old, new)


def renamed_record(record: bytes, new_name: str) -> bytes:
    """The record with another file name in it."""
    fields = json.loads(record)
    fields["picture"]["file"] = new_name
    return json_bytes(fields)


def remove_review(folder: Path, top: Path) -> None:
    """Delete a review's own files, and the folders up to ``top`` that are empty then. Files of others stay."""
    for path in (*folder.glob(f"{PLATES}/*.png"), folder / RECORD, folder / PAGE):  # the page last: by it it is known
        path.unlink(missing_ok=True)
    for empty in (folder / PLATES, folder, *folder.parents):
        if empty == top:
            return
        try:
            os.rmdir(empty)
        except OSError:
            if empty.exists():
                return
