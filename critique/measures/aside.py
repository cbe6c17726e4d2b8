"""Does what would hold the eye stand at one side, with nothing beside it?"""

from dataclasses import dataclass

import numpy as np

from critique.measures.eye_chances import eye_weights, held_by
from critique.measures.rivals import dominance
from critique.measures.salience import Float

# What says how far a place lies from the middle across: without it the eye would go as soon to a side.
FROM_MIDDLE = ("across", "edge")
FIRST, HALF, MOST = 0.1, 0.5, 0.9  # of what holds the eye, from the side inwards
BEYOND = 0.3  # of the width: what lies farther from the side than this doesn't stand at it
# Of the long edge: within so much of its middle the contrast of what stands there is looked for, and farther than so
# much away all else's.
REACH, APART = 0.08, 0.2


@dataclass(frozen=True, slots=True)
class Aside:
    """What would hold the eye if it didn't look first near the middle, seen from the side that it is nearer to.

    ``x`` and ``y`` are its middle (0–1), ``first``, ``half`` and ``most`` the part of the width within which a tenth,
    half and nine tenths of it lie, ``tall`` that of the height between its highest and its lowest tenth, ``beyond`` how
    much of it (0–1) lies farther from the side than 0.3. ``opposite`` is how much (0–1) of all that differs from the
    middle of its own row lies in the other half of the picture, ``dominance`` the strongest contrast about its middle
    beside the strongest elsewhere. Where nothing holds the eye it is all of the picture.
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


def off_its_row(lab: Float) -> Float:
    """By how much each place (height, width) of ``lab`` (…, 3) differs from the middle of its row, ΔE*ab squared."""
    return np.asarray(np.square(lab - np.median(lab, axis=1, keepdims=True)).sum(axis=2), dtype=np.float32)


def measure_aside(differs: Float, channels: dict[str, Float], places: dict[str, Float], contrast: Float) -> Aside:
    """See how near a side all lies that would hold the eye.

    Parameters
    ----------
    differs : (height, width), of `off_its_row`.
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
    return Aside(
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
