"""Which of a picture's level edges is a shore, about which two others mirror each other?"""

import numpy as np
from numpy.typing import NDArray

from critique.measures.level_lines import LevelLine

Float = NDArray[np.float32]

# Crowns meet the sky as far over a shore as their mirror image meets the sky's below it, light over dark there and dark
# over light here. Of 166 pictures one lake has such a shore, and none of the other 14 with three edges so spaced.
SHORE, ANSWERS = 0.7, 0.6  # agreement of the shore, and of the edges that answer each other
# Of the height: how far they lie from it, and by how much more one may than the other.
APART, AS_FAR = (0.04, 0.2), 0.015
SIDES = (0.008, 0.05)  # of the height, from an edge: what it parts
PARTED = 15.0  # ΔE*ab of the two sides
TURNED = 0.95  # cosine of one step and the other, turned over
AS_STRONG = 0.5  # of the stronger step, that the weaker has: water takes some of it


def mirrored_shore(lab: Float, lines: tuple[LevelLine, ...]) -> LevelLine | None:
    """The edge of ``lines`` that two others mirror each other about; ``lab`` is (height, width, 3)."""
    answering = sorted((line for line in lines if line.agreement >= ANSWERS), key=lambda line: line.y)
    for index, shore in enumerate(answering):
        if shore.agreement < SHORE:
            continue
        for over in answering[:index]:
            for under in answering[index + 1 :]:
                if _as_far(over, shore, under) and _turned_over(lab, over, under):
                    return shore
    return None


def _as_far(over: LevelLine, shore: LevelLine, under: LevelLine) -> bool:
    above, below = shore.y - over.y, under.y - shore.y
    return APART[0] <= min(above, below) and max(above, below) <= APART[1] and abs(above - below) <= AS_FAR


def _turned_over(lab: Float, over: LevelLine, under: LevelLine) -> bool:
    one, other = _step(lab, over), _step(lab, under)
    weaker, stronger = sorted((float(np.linalg.norm(one)), float(np.linalg.norm(other))))
    if weaker < max(PARTED, AS_STRONG * stronger):
        return False
    return float(-(one @ other)) >= TURNED * weaker * stronger


def _step(lab: Float, line: LevelLine) -> NDArray[np.float64]:
    """L*, a*, b* above an edge less those below it (3,)."""
    height, width = lab.shape[:2]
    columns = np.arange(width)
    course = line.y * height + np.tan(np.radians(line.tilt)) * (columns + 0.5 - width / 2)
    away = np.arange(max(1, round(SIDES[0] * height)), max(2, round(SIDES[1] * height)))[:, None]
    above, below = (
        lab[np.clip(np.floor(course + way * away), 0, height - 1).astype(np.intp), columns].mean(
            (0, 1), dtype=np.float64
        )
        for way in (-1, 1)
    )
    return np.asarray(above - below)
