"""Which part of a picture that is cut in half should be given the room, and why: the same for finding and change."""

from dataclasses import dataclass
from typing import Literal

import numpy as np

from critique.advice.green_area import AREA_WATCH
from critique.advice.judging import Case
from critique.measures.land_greens import MAP_LONG_EDGE, land_greens, sure_sky
from critique.picture.picture import lab_at

BELOW = 0.6  # of that green which must lie below the line for the ground to be what has too much of it
HALF = 0.5  # of what lies above the line that is sky: then that is its name
CLEAR = 0.08  # of the height from the line at which what holds the eye lies on one side of it and not on the line

Way = Literal["down", "up"]


@dataclass(frozen=True, slots=True)
class Room:
    """Which way the line goes, and the reason in words; ``sure`` where more than plainness speaks for it."""

    way: Way
    winner: str  # the part that is given the room
    reason: str
    sure: bool
    guessed: bool = False  # by where the eye most likely settles, which isn't told as a fact


def room_for(case: Case) -> Room:
    """Give the room to the part without the fault, else to that with the subject, else to that with more to see."""
    division, eye = case.measures.division, case.measures.eyepath
    lab = lab_at(case.picture, MAP_LONG_EDGE)
    row = min(max(round(division.height * len(lab)), 1), len(lab) - 1)
    sky = "sky" if sure_sky(case.measures.parts, lab.shape)[:row].mean() > HALF else "part above it"
    winner = {"down": sky, "up": "part below it"}
    green = land_greens(lab, case.measures.parts)
    if green.mean() > AREA_WATCH and green[row:].sum() > BELOW * green.sum():
        return Room("down", sky, "there is so much green below it", sure=True)
    if eye.claimed:
        held = max(eye.claimed, key=lambda place: place.strength)
        if abs(held.y - division.height) >= CLEAR:
            way: Way = "down" if held.y < division.height else "up"
            side = "above" if way == "down" else "below"
            return Room(way, winner[way], f"what holds the eye lies {side} it", sure=True, guessed=True)
    detail = np.abs(np.diff(lab[..., 0], axis=0)).mean(axis=1)
    fuller: Way = "down" if detail[:row].mean() > detail[row:].mean() else "up"
    side = "above" if fuller == "down" else "below"
    return Room(fuller, winner[fuller], f"there is more to see {side} it", sure=False)
