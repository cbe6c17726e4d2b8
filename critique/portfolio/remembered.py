"""What earlier runs were told of a photograph: where the canvas lies in it, and by what its light is put right."""

import json
from dataclasses import dataclass
from pathlib import Path

from critique.painting.history import read_history
from critique.painting.identity import painting_folder
from critique.photograph.corners import Corners, remembered_corners
from critique.photograph.light_asked import NOTHING_ASKED, LightAsked, remembered_light


@dataclass(frozen=True, slots=True)
class Remembered:
    """What is done with a photograph before it is judged; it travels to other processes with the task."""

    corners: Corners | None = None
    light: LightAsked = NOTHING_ASKED

    @property
    def mark(self) -> str:
        """What tells this review of a file from another of the same file; empty where nothing is remembered."""
        if self == NOTHING:
            return ""
        return json.dumps({"corners": self.corners, "light": self.light.as_dict()}, sort_keys=True)


NOTHING = Remembered()


def remembered_of(picture: Path, paintings: Path | None) -> Remembered:
    """What is remembered in a picture's own folder within ``paintings``; raises CritiqueError where it's damaged."""
    if paintings is None or not paintings.is_dir():
        return NOTHING
    own = painting_folder(paintings, picture)
    if read_history(own) is None:
        return NOTHING
    return Remembered(remembered_corners(own, picture.name), remembered_light(own, picture.name))
