"""Does one thing of whatever outline have its middle in the very middle of a picture?"""

from critique.measures.outlined import LONG_EDGE, Box, Cut, Float, Outlined, strongest_elsewhere, things_of
from critique.photograph.scale import area_average

ACROSS, DOWN = 0.03, 0.16  # of the width and the height: how near the middle its own middle lies, and that of its box
WIDEST = 0.75  # of the width: no wood from side to side
# By the same product as what is told row by row it stands out so much, and nothing else more than half as much. Of 76
# landscapes two have one, a pine and a wood behind a herd, and of 160 pictures that readers noted two, a beast and a
# mill that fill the middle. Of 140 things put there by strangers it finds 71; 107 were told without it, 113 with it.
STANDS_OUT, COMPANY = 4.0, 0.5


def outlined_in_the_middle(lab: Float) -> tuple[Outlined, float] | None:
    """The thing in the very middle that stands out most, and how much the strongest elsewhere does, if far less.

    ``lab`` (height, width, 3) is larger than it is looked at, and melted. None where nothing stands out there, or not
    alone.
    """
    lab = area_average(lab, LONG_EDGE)
    things = (thing for thing in things_of(lab, STANDS_OUT, _about_the_middle) if _in_the_middle(thing))
    best = max(things, key=lambda thing: thing.stands_out, default=None)
    if best is None or best.stands_out < STANDS_OUT:
        return None
    strongest = strongest_elsewhere(lab, best, COMPANY * best.stands_out, _whole_across)
    return None if strongest is None else (best, strongest)


def _whole_across(_: Box, cut: Cut) -> bool:
    return not (cut[0] or cut[2])


def _about_the_middle(box: Box, cut: Cut) -> bool:
    off = abs(box[0] + box[2] - 1) > 2 * ACROSS or abs(box[1] + box[3] - 1) > 2 * DOWN
    return _whole_across(box, cut) and not off


def _in_the_middle(thing: Outlined) -> bool:
    fits = thing.fits and thing.width <= WIDEST
    return fits and abs(thing.x - 0.5) <= ACROSS and abs(thing.y - 0.5) <= DOWN
