"""One picture of many: read, measured, judged and written, in whichever process does it."""

import os
import threading
import time
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from critique.errors import CritiqueError, TooLittleMemory, UnreadablePicture
from critique.photograph.source import printable_name
from critique.portfolio.content import content_of
from critique.portfolio.memory import give_back
from critique.portfolio.remembered import NOTHING, Remembered
from critique.publish import written_beside

if TYPE_CHECKING:
    from critique.perception.srgb import Codes

THUMBNAIL_LONG_EDGE = 480  # px: twice what the contact sheet shows, for fine screens
THUMBNAIL_QUALITY = 80
PARENT_CHECK_SECONDS = 0.5


@dataclass(frozen=True, slots=True)
class Task:
    """A picture to be reviewed and where its review goes. Everything in it travels to other processes."""

    number: int
    picture: str  # absolute path
    content: str  # SHA-256 of the file
    version: str  # of the measuring that is asked for
    folder: str  # absolute path of the review
    thumbnail: str  # absolute path
    plates: bool
    remembered: Remembered = NOTHING
    outline: str = ""  # absolute path of the photograph that it was cropped out of; empty where that isn't wanted


@dataclass(frozen=True, slots=True)
class Outcome:
    """The row of a picture that was reviewed, or the reason why it could not be.

    ``lasting`` is a reason that lies in the file itself: the same content can't be read another time either.
    """

    number: int
    row: dict[str, Any] | None
    reason: str = ""
    lasting: bool = False


def review_one(task: Task) -> Outcome:
    """Review one picture in one thread and write its page and thumbnail. Never raises: a reason is an outcome too."""
    try:
        return _outcome(task)
    finally:
        give_back()


def _outcome(task: Task) -> Outcome:
    from threadpoolctl import threadpool_limits

    try:
        with threadpool_limits(limits=1):
            return Outcome(task.number, _review(task))
    except CritiqueError as error:
        return Outcome(task.number, None, str(error), lasting=_lasts(error, task))
    except MemoryError:
        return Outcome(task.number, None, _line(task, "there is not enough memory for it; save a smaller copy"))
    except OSError as error:
        return Outcome(task.number, None, _line(task, f"{error.strerror or error}; see to the file and run again"))
    except Exception as error:  # one picture that trips the program must not end the work on a thousand others
        return Outcome(
            task.number, None, _line(task, f"this is a fault of the program ({type(error).__name__}: {error})")
        )


def review_elsewhere(task: Task) -> Outcome:
    """The same on another machine, if the program there measures alike."""
    from critique.portfolio.version import measuring_version

    if task.version != measuring_version():
        return Outcome(task.number, None, _line(task, "a worker has another version of the program; install the same"))
    return review_one(task)


def _review(task: Task) -> dict[str, Any]:
    import numpy as np

    from critique.portfolio.row import row_of
    from critique.report.plates.canvas import canvas_plate
    from critique.report.write import write_review
    from critique.tasks.review import review_file

    review = review_file(task.picture, corners=task.remembered.corners, light=task.remembered.light)
    if _changed(task):
        raise CritiqueError(f"{printable_name(task.picture)}: was changed while it was read; run again")
    write_review(review, Path(task.folder), plates=task.plates)
    _write_small(review.picture.srgb, Path(task.thumbnail))
    outlined = canvas_plate(review.picture.view) if review.picture.view is not None else None
    if outlined is not None and task.outline:
        _write_small(np.asarray(outlined.image), Path(task.outline))
    return row_of(review)


def _lasts(error: CritiqueError, task: Task) -> bool:
    """Whether the file is to blame: it was read whole, as the bytes that are known, and found to be no picture."""
    if not isinstance(error, UnreadablePicture) or isinstance(error, TooLittleMemory):
        return False
    try:
        return not _changed(task)
    except OSError:
        return False


def _changed(task: Task) -> bool:
    return content_of(task.picture, task.remembered.mark) != task.content


def _write_small(codes: "Codes", path: Path) -> None:
    from PIL import Image

    from critique.report.plates.photograph import resized

    height, width = codes.shape[:2]
    scale = min(1.0, THUMBNAIL_LONG_EDGE / max(width, height))
    size = max(1, round(width * scale)), max(1, round(height * scale))
    path.parent.mkdir(parents=True, exist_ok=True)
    with written_beside(path) as beside:
        Image.fromarray(resized(codes, size)).save(beside, "JPEG", quality=THUMBNAIL_QUALITY)
        os.replace(beside, path)


def _line(task: Task, reason: str) -> str:
    return " ".join(f"{printable_name(task.picture)}: {reason}".split())


def leave_with(parent: int) -> None:
    """End this process when ``parent``, the process that started it, is gone.

    After a kill nothing may go on writing beside the next run. The parent may be gone already, if it was killed while
    this process was still starting.
    """

    def watch() -> None:
        while os.getppid() == parent:
            time.sleep(PARENT_CHECK_SECONDS)
        os._exit(1)

    threading.Thread(target=watch, daemon=True).start()
