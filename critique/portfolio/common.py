"""What a body of work has in common: the same green in all, one halved line, one key throughout."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from critique.advice.colour_words import word_of_lab
from critique.advice.finding import LEVELS
from critique.advice.green_share import MATTERS
from critique.measures.cast import NOTICEABLE, SAME_LEAN
from critique.perception.cielab import lab_to_srgb8
from critique.perception.difference import delta_e_2000
from critique.perception.hue import turn
from critique.perception.srgb import hex_of
from critique.portfolio.body import KEYS, Body, Float
from critique.words.figures import percent
from critique.words.hues import hue_word
from critique.words.lists import listed

FEWEST = 3  # pictures; of fewer nothing can be said in common
MOST_OF = 2 / 3  # of the pictures: from here on it is a habit; our choice
OFTEN = 1 / 3  # of the pictures in which a finding doesn't hold: from here on it is worth a thought; our choice
# ΔE00 within which colours of different pictures pass for one mixture; a little over the 5 of one picture.
ONE_COLOUR = 6.0
CANDIDATES = 200  # colours tried as the one that most pictures share; evenly taken, so that time stays in bounds
FAMILY_MATTERS = 0.06  # of a picture's area: a colour seen from across the room; our choice
ONE_HEIGHT = 0.05  # of the height, to either side: lines that read as the same; as for halving
HEIGHTS = np.linspace(0.1, 0.9, 81)  # of the height, tried as the one at which most lines lie
LEANS = 6.0  # C* of the mean colour from which on its hue says something; four in five landscapes have more [norms.csv]
# Spans of CIELAB hue in degrees, from the end of pink to that of yellow and on to that of blue-green.
WARM = (20.0, 108.0)  # where most landscapes lean, to warm earth and golden light; see NOTICEABLE
GREEN = (108.0, 220.0)  # leans that the finding on green cast judges, by its own limit


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
    """The findings that most often don't hold."""
    open_in = (body.levels > LEVELS.index("holds")).sum(axis=0)
    titles = list(body.subjects.values())
    order = [int(place) for place in np.argsort(-open_in, kind="stable")]
    most = int(open_in[order[0]])
    if most < 2:
        return None
    often = [place for place in order if open_in[place] >= max(2, OFTEN * len(body))]
    if often:
        counts = [f"{titles[place]} (in {open_in[place]} of {len(body)})" for place in often]
        text = f"What asks for another look again and again: {listed(counts)}. What recurs is a habit and no accident."
    else:
        first = [titles[place] for place in order if open_in[place] == most]
        text = f"No finding recurs in a third of the pictures; what asks for another look most often is {listed(first)}"
        text += f", in {most} of {len(body)}{' each' if len(first) > 1 else ''}."
    return Trait("findings", text, most, len(body))


def _green(body: Body) -> Trait:
    """Whether one green serves in most pictures that have green enough to matter."""
    green = np.flatnonzero((body.green_share >= MATTERS) & np.isfinite(body.green).all(axis=1))
    if len(green) < FEWEST:
        having = f"only {len(green)} of {len(body)} pictures" if len(green) else f"none of the {len(body)} pictures"
        text = f"Green is enough to matter in {having}{', too few to compare' if len(green) else ''}."
        return Trait("green", text, len(green), len(body))
    lab, alike = _most_shared(body.green[green], np.arange(len(green)))
    if alike >= MOST_OF * len(green):
        text = (
            f"The same green in {alike} of the {len(green)} pictures that have green enough to matter: {_as_leaf(lab)}."
            " Each place has its own; mix it anew for each."
        )
        return Trait("green", text, alike, len(green), _hex(lab))
    text = f"{len(green)} of {len(body)} pictures have green enough to matter, and it is not one and the same green"
    if alike < 2:
        return Trait("green", f"{text}: no two of them share one.", alike, len(green))
    text += f". Most often shared is {_as_leaf(lab)}, in {alike} of them."
    return Trait("green", text, alike, len(green), _hex(lab))


def _line(body: Body) -> Trait | None:
    """Whether the pictures are cut in half, or divided at one height."""
    halving = body.column("halving")
    halved = 0 if halving is None else int((halving > LEVELS.index("holds")).sum())
    if halved >= max(2, OFTEN * len(body)):
        text = (
            f"{halved} of {len(body)} pictures are cut in half by their line, or nearly. Begin the next off the middle."
        )
        return Trait("division", text, halved, len(body))
    heights = body.line[np.isfinite(body.line)]
    if len(heights) < FEWEST:
        return None
    near = [np.count_nonzero(np.abs(heights - height) <= ONE_HEIGHT) for height in HEIGHTS]
    best = int(np.argmax(near))
    those = heights[np.abs(heights - HEIGHTS[best]) <= ONE_HEIGHT]
    where, most = percent(float(np.median(those))), int(near[best])  # told is where they lie, not what they lie near
    if most >= MOST_OF * len(body):
        text = (
            f"The line lies about {where} of the way down in {most} of {len(body)} pictures: side by "
            "side they will read as one horizon."
        )
    else:
        divided = f"{len(heights)} of" if len(heights) < len(body) else "All"
        text = f"{divided} {len(body)} pictures are plainly divided by a line, "
        if most >= MOST_OF * len(heights):
            text += f"{'all' if most == len(heights) else most} of them about {where} of the way down."
        else:
            text += "and at differing heights"
            text += f": no more than {most} of them near one height, {where} of the way down." if most > 1 else "."
    return Trait("division", text, most, len(body))


def _key(body: Body) -> Trait:
    """Whether one key runs through all."""
    counts = np.bincount(body.key, minlength=len(KEYS))
    best = int(counts.argmax())
    rest = [f"{counts[place]} {KEYS[place]}" for place in range(len(KEYS)) if counts[place] and place != best]
    if not rest:
        text = f"One key throughout: all {len(body)} pictures are in the {KEYS[best]} key."
    elif counts[best] >= MOST_OF * len(body):
        text = f"One key in most: {counts[best]} of {len(body)} pictures are in the {KEYS[best]} key, beside "
        text += f"{listed(rest)}."
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
    """Whether most pictures lean to one hue."""
    a, b = body.cast.mean(axis=0, dtype=np.float64)
    hue = float(np.degrees(np.arctan2(b, a)) % 360)
    own = np.degrees(np.arctan2(body.cast[:, 1], body.cast[:, 0]))
    same = (np.hypot(*body.cast.T) >= LEANS) & (np.abs(turn(own, hue)) <= SAME_LEAN)
    number = int(same.sum())
    if number < MOST_OF * len(body):
        return None
    text = f"{number} of {len(body)} pictures lean toward {hue_word(hue)}"
    if GREEN[0] <= hue < GREEN[1]:
        text += _green_casts(body, same)
    elif WARM[0] <= hue < WARM[1] and np.hypot(a, b) < NOTICEABLE:
        text += ", no further than landscapes mostly do."
    else:
        text += (
            ", further than landscapes mostly do. That may be the light they were photographed in: hold a grey card "
            "beside one of them and look again."
        )
    return Trait("cast", text, number, len(body))


def _green_casts(body: Body, leaning: NDArray[np.bool_]) -> str:
    """In how many of those leaning their own review finds a green cast, so that the sheet never says otherwise."""
    levels = body.column("green_cast")
    number = 0 if levels is None else int(((levels > LEVELS.index("holds")) & leaning).sum())
    if not number:
        return ", none of them so far that it is a green cast."
    if number == leaning.sum():
        return ", all of them so far that it is a green cast; hung side by side it will show."
    return f", {number} of them so far that it is a green cast."


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
    return word_of_lab(np.asarray(lab))


def _as_leaf(lab: Float) -> str:
    """A green by the word for foliage: a dark one is an olive where a wall of that colour would be an olive-brown."""
    return word_of_lab(np.asarray(lab), in_foliage=1.0)


def _hex(lab: Float) -> str:
    return hex_of(lab_to_srgb8(lab))
