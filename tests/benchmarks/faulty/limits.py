"""What the limits of touch, masses and colour name in a picture, before any finding is made of them."""

from critique.advice.fault_limits import (
    judge_busy_foreground,
    judge_closed_darks,
    judge_dead_colour,
    judge_flecks,
    judge_hard_edges,
    judge_loudest,
    judge_outlines,
    judge_scattered,
)
from critique.measures.closed_darks import measure_closed_darks
from critique.measures.detail import measure_detail
from critique.measures.edges import measure_edges
from critique.measures.loudest import measure_loudest
from critique.measures.masses import measure_masses
from critique.measures.outlines import measure_outlines
from critique.picture.picture import Picture


def named_by_limits(picture: Picture) -> frozenset[str]:
    """The faults, under the names of `kinds.py`, that are beyond their limits."""
    detail, loudest = measure_detail(picture), measure_loudest(picture)
    levels = {
        "scattered values": judge_scattered(measure_masses(picture)),
        "equal flecks": judge_flecks(detail),
        "busy foreground": judge_busy_foreground(detail),
        "outlines": judge_outlines(measure_outlines(picture)),
        "hard edges": judge_hard_edges(measure_edges(picture)),
        "closed darks": judge_closed_darks(measure_closed_darks(picture)),
        "loudest colour": judge_loudest(loudest),
        "dead colour": judge_dead_colour(loudest),
    }
    return frozenset(name for name, level in levels.items() if level != "holds")
