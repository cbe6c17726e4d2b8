"""The small pictures of a painting's states, one for each picture that was looked at."""

import hashlib
import io
import re
from collections.abc import Collection
from pathlib import Path

from critique.picture.picture import Picture
from critique.publish import replace_file
from critique.report.plates.photograph import in_colour

FOLDER = "states"
LONG_EDGE = 640  # px: half the page's width, and sharp where it is shown small
QUALITY = 85
NAME = re.compile(r"[0-9a-f]{12}")


def keep_state(folder: Path, picture: Picture) -> str:
    """The name of a picture's state; its small picture is put beside the others unless it is there already."""
    from PIL import Image

    name = hashlib.sha256(picture.srgb.tobytes()).hexdigest()[:12]
    target = folder / FOLDER / f"{name}.jpg"
    if not target.exists():
        stream = io.BytesIO()
        edge = min(LONG_EDGE, max(picture.drawn.shape[:2]))
        Image.fromarray(in_colour(picture, edge)).save(stream, "JPEG", quality=QUALITY)
        target.parent.mkdir(exist_ok=True)
        replace_file(target, stream.getvalue())
    return name


def only_these(folder: Path, names: Collection[str]) -> None:
    """Let the small pictures go that no run shows any longer. What else lies there is nobody's here."""
    for path in (folder / FOLDER).glob("*.jpg"):
        if NAME.fullmatch(path.stem) and path.stem not in names:
            path.unlink(missing_ok=True)


def state_bytes(folder: Path, name: str) -> bytes:
    """The JPEG of a state; empty where it is gone."""
    try:
        return (folder / FOLDER / f"{name}.jpg").read_bytes() if name.isalnum() else b""
    except OSError:
        return b""
