"""What a body of work has in common: the same green in all, one halved line, one key throughout."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from critique.advice.finding import LEVELS
from critique.advice.green_findings import MATTERS
from critique.advice.wording import listed, percent
from critique.perception.cielab import lab_to_srgb8
from critique.perception.difference import delta_e_2000
from critique.perception.hue import nearest_station
from critique.perception.munsell import munsell_notation
from critique.perception.names import colour_name
from critique.perception.srgb import hex_of
from critique.portfolio.body import KEYS, Body, Float

FEWEST = 3  # pictures; of fewer nothing can be said in common
MOST_OF = 2 / 3  # of the pictures: from here on it is a habit; our choice
OFTEN = 1 / 3  # of the pictures in which a finding doesn't hold: from here on it is worth a thought; our choice
ONE_COLOUR = (
    6.0  # ΔE00 within which colours of different pictures pass for one mixture; a little over the 5 of one picture
)
CANDIDATES = 200  # colours tried as the one that most pictures share; evenly taken, so that time stays in bounds
FAMILY_MATTERS = 0.06  # of a picture's area: a colour seen from across the room; our choice
ONE_HEIGHT = 0.05  # of the height, to either side: lines that read as the same; as for halving
LEANS = 6.0  # C* of the mean over all pictures: half of what one picture may lean before it is noticed


@dataclass(frozen=True, slots=True)
class Trait:
    """Something that many pictures share: a sentence, in how many of how many, and the colour if it is one."""

    subject: str
    text: str
    pictures: int
    of: int
    srgb: str | None = None


def common_traits(body: Body) -> tuple[Trait, ...]:
    """What the pictures have in common, each kind of trait at most once; nothing of fewer than three pictures."""
    if len(body) < FEWEST:
        return ()
    traits = (_findings(body), _green(body), _line(body), _key(body), _colour(body), _lean(body))
    return tuple(trait for trait in traits if trait is not None)


def _findings(body: Body) -> Trait | None:
    """The finding that most often doesn't hold."""
    open_in = (body.levels > LEVELS.index("holds")).sum(axis=0)
    order = np.argsort(-open_in, kind="stable")
    often = [int(subject) for subject in order if open_in[subject] >= max(2, OFTEN * len(body))]
    if not often:
        return None
    counts = [f"{body.subjects[subject]} ({open_in[subject]})" for subject in often]
    text = (
        f"What comes back for another look in many pictures: {listed(counts)}. What recurs is a habit and no accident."
    )
    return Trait("findings", text, int(open_in[often[0]]), len(body))


def _green(body: Body) -> Trait | None:
    """Whether one green serves in most pictures that have green enough to matter."""
    green = np.flatnonzero((body.green_share >= MATTERS) & np.isfinite(body.green).all(axis=1))
    if len(green) < FEWEST:
        return None
    lab, alike = _most_shared(body.green[green], np.arange(len(green)))
    if alike < MOST_OF * len(green):
        text = (
            f"{len(green)} of {len(body)} pictures have green enough to matter, and it is not one and the same green: "
            f"at most {alike} of them share one."
        )
        return Trait("green", text, alike, len(green))
    text = (
        f"The same green in {alike} of the {len(green)} pictures that have green enough to matter: {_named(lab)}. "
        "Each place has its own; mix it anew for each."
    )
    return Trait("green", text, alike, len(green), _hex(lab))


def _line(body: Body) -> Trait | None:
    """Whether the pictures are cut in half, or divided at one height."""
    halved = int(body.halved.sum())
    if halved >= max(2, OFTEN * len(body)):
        text = f"{halved} of {len(body)} pictures are cut in half by their line: begin the next one off the middle."
        return Trait("division", text, halved, len(body))
    heights = body.line[np.isfinite(body.line)]
    if len(heights) < FEWEST:
        return None
    near = [np.count_nonzero(np.abs(heights - height) <= ONE_HEIGHT) for height in np.linspace(0.1, 0.9, 81)]
    best = int(np.argmax(near))
    if near[best] < MOST_OF * len(body):
        return None
    text = (
        f"The line lies at about {percent(float(np.linspace(0.1, 0.9, 81)[best]))} of the height in {near[best]} of "
        f"{len(body)} pictures: side by side they will read as one horizon."
    )
    return Trait("division", text, int(near[best]), len(body))


def _key(body: Body) -> Trait:
    """Whether one key runs through all."""
    counts = np.bincount(body.key, minlength=len(KEYS))
    best = int(counts.argmax())
    if counts[best] >= MOST_OF * len(body):
        text = f"One key in most: {counts[best]} of {len(body)} pictures are in the {KEYS[best]} key."
        if best == KEYS.index("middle"):
            text += " A light and a dark one among them would lift the whole wall."
    else:
        parts = [f"{counts[place]} {KEYS[place]}" for place in range(len(KEYS)) if counts[place]]
        text = f"The keys vary: {listed(parts)}."
    return Trait("key", text, int(counts[best]), len(body))


def _colour(body: Body) -> Trait | None:
    """The colour that recurs in most pictures."""
    picture, family = np.nonzero(body.shares >= FAMILY_MATTERS)
    if not len(picture):
        return None
    lab, alike = _most_shared(body.families[picture, family], picture)
    if alike < MOST_OF * len(body):
        return None
    text = f"One colour runs through {alike} of {len(body)} pictures: {_named(lab)}."
    return Trait("colour", text, alike, len(body), _hex(lab))


def _lean(body: Body) -> Trait | None:
    """Whether the pictures as a whole lean to one hue."""
    mean = body.cast.mean(axis=0, dtype=np.float64)
    chroma = float(np.hypot(*mean))
    same = int((body.cast @ mean > np.cos(np.radians(45)) * np.hypot(*body.cast.T) * chroma).sum())
    if chroma < LEANS or same < MOST_OF * len(body):
        return None
    word = nearest_station(float(np.degrees(np.arctan2(mean[1], mean[0])) % 360)).name
    text = (
        f"{same} of {len(body)} pictures lean toward {word}. If they were photographed in one light, that may be the "
        "light; look at a grey card beside one of them."
    )
    return Trait("cast", text, same, len(body))


def _most_shared(colours: Float, owner: NDArray[np.intp]) -> tuple[Float, int]:
    """The colour (3,) of ``colours`` (m, 3) that most owners have, and how many; tried are at most CANDIDATES."""
    candidates = colours[np.unique(np.linspace(0, len(colours) - 1, CANDIDATES).astype(np.intp))]
    best, most = 0, 0
    for place, candidate in enumerate(candidates):
        alike = delta_e_2000(candidate, colours) <= ONE_COLOUR
        number = len(np.unique(owner[alike]))
        if number > most:
            best, most = place, number
    return candidates[best], most


def _named(lab: Float) -> str:
    return f"{colour_name(lab)}, {munsell_notation(lab)}"


def _hex(lab: Float) -> str:
    return hex_of(lab_to_srgb8(lab))
