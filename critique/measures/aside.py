"""Does what would hold the eye stand at one side, with nothing beside it?"""

from dataclasses import dataclass, field, replace

import numpy as np

from critique.alike import by_value
from critique.measures.eye_chances import eye_weights, held_by
from critique.measures.outlined import Outlined
from critique.measures.rivals import dominance
from critique.measures.salience import Float
from critique.measures.side_outline import outlined_at_a_side, stands_alone

# What says how far a place lies from the middle across: without it the eye would go as soon to a side.
FROM_MIDDLE = ("across", "edge")
FIRST, HALF, MOST = 0.1, 0.5, 0.9  # of what holds the eye, from the side inwards
BEYOND = 0.3  # of the width: what lies farther from the side than this doesn't stand at it
# Of the long edge: within so much of its middle the contrast of what stands there is looked for, and farther than so
# much away all else's.
REACH, APART = 0.08, 0.2
# What would hold the eye stands too near a side where the first tenth and half of it lie within so much of the width
# and nothing else answers it: it is one thing, next to none of it lies beyond, no contrast there outdoes its own; or
# nine tenths of it lie so near, and the other half of the picture is nearly empty, or no contrast elsewhere comes near
# its own. Of 176 landscapes and pictures that readers judged one is so, a boat cut off in a corner, that both readers
# asked to be brought in. The nearest others: a house front of which a reader said that it has room has 0.023 beyond, a
# tower and a tree that close a picture are 0.35 tall, a glint has 0.63 of the contrast, a mill's meadow 0.16 in the
# other half and the mill 0.36 of the width, and 1.1 times the contrast is the most. Or it reaches closer, little of it
# lies beyond, and it has more contrast than all elsewhere: of 293 untouched pictures a headland at the left of a bay
# comes nearest, with 1.08 times; of 113 subjects that strangers moved to a side 49 are told without that, 60 with it.
AT_SIDE, NEXT_TO_NONE = (0.155, 0.25), 0.02  # of the width; of all that holds the eye
ONE_THING = 0.28  # of the height
NEAR_CONTRAST, NEAR_OUTDOES = 0.65, 1.5  # of the strongest elsewhere
MOST_NEAR, NEARLY_EMPTY = 0.35, 0.145  # of the width; of all that differs from its own row
CLOSER, LITTLE_BEYOND = 0.12, 0.25  # of the width; of all that holds the eye
HALF_EMPTY, MORE_CONTRAST = 0.45, 1.09  # of all that differs from its own row; of the strongest elsewhere
# Or it is one thing with less contrast, or the other half is so empty and no more than this of it lies beyond, and one
# thing there parts from all about it. Of 76 landscapes and 674 untouched pictures none has one, of 220 that readers
# noted one, a house that the side cuts through; of 149 subjects that strangers moved to a side 75 are told without
# that, with what pulls at the border, and 89 with it.
EMPTY_BESIDE, MOST_BEYOND = 0.3, 0.7  # of all that differs from its own row; of all that holds the eye


@by_value
@dataclass(frozen=True, slots=True, eq=False)
class Aside:
    """What would hold the eye if it didn't look first near the middle, seen from the side that it is nearer to.

    ``x`` and ``y`` are its middle (0–1), ``first``, ``half`` and ``most`` the part of the width within which a tenth,
    half and nine tenths of it lie, ``tall`` that of the height between its highest and its lowest tenth, ``beyond`` how
    much of it (0–1) lies farther from the side than 0.3. ``opposite`` is how much (0–1) of all that differs from the
    middle of its own row lies in the other half of the picture, ``dominance`` the strongest contrast about its middle
    beside the strongest elsewhere. Where nothing holds the eye it is all of the picture. ``thing`` is what parts there
    from all about it, looked for only where no contrast tells that it stands too near, and ``stands_out`` by how much
    (0 without one); ``x`` and ``y`` are then its own.
    """

    x: float
    y: float
    first: float
    half: float
    most: float
    tall: float
    beyond: float
    opposite: float
    dominance: float
    stands_out: float = 0.0
    thing: Outlined | None = field(default=None, metadata={"record": False}, repr=False)

    @property
    def lies_at_side(self) -> bool:
        return all(part <= limit for part, limit in zip((self.first, self.half), AT_SIDE, strict=True))

    @property
    def is_one_thing(self) -> bool:
        """Whether all that would hold the eye is low or short and lies at the side."""
        return self.lies_at_side and self.tall <= ONE_THING and self.beyond <= NEXT_TO_NONE

    @property
    def outdoes_all(self) -> bool:
        """Whether by its contrast it stands too near the side, with nothing farther in to answer it."""
        rest_is_weak = self.opposite <= NEARLY_EMPTY or self.dominance >= NEAR_OUTDOES
        closer = self.first <= CLOSER and self.beyond <= LITTLE_BEYOND and self.opposite <= HALF_EMPTY
        outdoes = closer and self.dominance >= MORE_CONTRAST
        strong = self.is_one_thing and self.dominance >= NEAR_CONTRAST
        return strong or (self.lies_at_side and (outdoes or (self.most <= MOST_NEAR and rest_is_weak)))

    @property
    def is_left_alone(self) -> bool:
        """Whether hardly anything farther in holds the eye."""
        return self.beyond <= NEXT_TO_NONE or self.opposite <= NEARLY_EMPTY or self.dominance >= NEAR_OUTDOES


def off_its_row(lab: Float) -> Float:
    """By how much each place (height, width) of ``lab`` (…, 3) differs from the middle of its row, ΔE*ab squared."""
    return np.asarray(np.square(lab - np.median(lab, axis=1, keepdims=True)).sum(axis=2), dtype=np.float32)


def measure_aside(
    lab: Float, differs: Float, channels: dict[str, Float], places: dict[str, Float], contrast: Float
) -> Aside:
    """See how near a side all lies that would hold the eye.

    Parameters
    ----------
    lab : (height, width, 3), small.
    differs : (height, width), its `off_its_row`.
    channels, places : what its places stand out by and where they lie, of `~critique.measures.salience.salience` and
        `~critique.measures.eye_chances.place_cues`.
    contrast : (height, width), of `~critique.measures.pulls.plain_contrast`.
    """
    anywhere = {name: field for name, field in places.items() if name not in FROM_MIDDLE}
    held = held_by(channels, anywhere, eye_weights()).astype(np.float64)
    width = held.shape[1]
    total = float(held.sum())
    if total <= 0:
        return Aside(0.5, 0.5, FIRST, HALF, MOST, MOST - FIRST, 1.0, HALF, 0.0)
    across = held.sum(axis=0) / total
    row_by_row = differs.sum(axis=0, dtype=np.float64)
    right = float(np.cumsum(across)[(width - 1) // 2]) < HALF
    if right:
        across, row_by_row = across[::-1], row_by_row[::-1]
    summed = np.cumsum(across)
    first, half, most = (float(np.searchsorted(summed, share) + 1) / width for share in (FIRST, HALF, MOST))
    columns = (np.arange(width) + 0.5) / width
    there = held * ((columns[::-1] if right else columns) <= most)
    x = float((there.sum(axis=0) * columns).sum() / there.sum())
    y = float((there.sum(axis=1) * (np.arange(len(there)) + 0.5)).sum() / there.sum() / len(there))
    rows = np.searchsorted(np.cumsum(held.sum(axis=1)) / total, (FIRST, MOST))
    aside = Aside(
        x=x,
        y=y,
        first=first,
        half=half,
        most=most,
        tall=float(rows[1] - rows[0]) / len(held),
        beyond=float(across[columns > BEYOND].sum()),
        opposite=float(row_by_row[columns > 0.5].sum() / max(float(row_by_row.sum()), 1e-9)),
        dominance=dominance(contrast, x, y, reach=REACH, apart=APART),
    )
    return aside if aside.outdoes_all else _outlined(aside, lab)


def _outlined(aside: Aside, lab: Float) -> Aside:
    """The same, with what parts from all about it at that side, where the rest of the picture leaves it alone."""
    beside_nothing = aside.opposite <= EMPTY_BESIDE and aside.beyond <= MOST_BEYOND
    if not aside.is_one_thing and not beside_nothing:
        return aside
    thing = outlined_at_a_side(lab, right=aside.x > 0.5)
    if thing is None:
        return aside
    left, top, right, foot = thing.box
    is_that = aside.is_one_thing and left <= aside.x <= right and top <= aside.y <= foot
    if not is_that and not (beside_nothing and stands_alone(lab, thing)):
        return aside
    return replace(aside, x=thing.x, y=thing.y, stands_out=thing.stands_out, thing=thing)
