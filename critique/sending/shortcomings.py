"""What still falls short of a picture that is sent: of the photograph, of its size, of what the list says of it."""

import shlex
from dataclasses import dataclass
from typing import Literal

from critique.errors import CritiqueError
from critique.perception.srgb import Float
from critique.photograph.corners import written_corners
from critique.photograph.fitness import Subject, amiss, fitness_of, said
from critique.photograph.light_words import AS_PHOTOGRAPHED, left_as_photographed
from critique.photograph.limits import CLEAR_SEEN, DRAWN_LONG_EDGE
from critique.photograph.painting import Painting
from critique.photograph.proportions import proportion_seen
from critique.photograph.scale import area_average
from critique.sending.sizes import listed_size
from critique.words.figures import percent

What = Subject | Literal["unsure", "light", "too small", "list", "proportion", "transparent", "twin"]

# Of the photograph's size the call says how large is large enough.
LEFT_TO_THE_CALL: frozenset[Subject] = frozenset(("few px",))
# By which a picture may differ from its listed size: corners found a few px off, a lens that isn't the usual one and a
# frame's rebate make less; more would stretch what is painted, and a strip of it may be missing.
PROPORTION = 0.05


@dataclass(frozen=True, slots=True)
class Shortcoming:
    """One thing that falls short, and its sentence for the painter."""

    what: What
    text: str


def of_photograph(light: Float, painting: Painting, asked: int, path: str) -> list[Shortcoming]:
    """Of the light (height, width, 3) at the size that is sent, as it was photographed, against the long edge asked."""
    long_edge = max(light.shape[:2])
    found: list[Shortcoming] = []
    if painting.how == "unsure":
        found.append(
            Shortcoming(
                "unsure",
                "Not cropped: whether there is more than the painting in the file, and where its edge is, is unsure. "
                "Say --whole, or show the edge, as with: "
                f"critique submit {shlex.quote(path)} --corners {_edge(painting)}",
            )
        )
    clear = painting.photograph.transparent
    if clear >= CLEAR_SEEN:
        found.append(
            Shortcoming(
                "transparent",
                f"Transparent parts of the file ({percent(clear)} of it) are sent as white, since a JPEG has none. If "
                "that isn't what lies behind them, crop them off first.",
            )
        )
    if painting.cropped and left_as_photographed(painting.lighting):
        found.append(Shortcoming("light", AS_PHOTOGRAPHED))
    if long_edge < asked:
        found.append(
            Shortcoming(
                "too small",
                f"Only {long_edge} px long where {asked} are asked for; it is not enlarged. Photograph it again from "
                "nearer, or send the camera's own file.",
            )
        )
    seen = area_average(light, DRAWN_LONG_EDGE)
    told = painting.lighting
    judged = fitness_of(
        seen,
        long_edge=long_edge,
        straightened=painting.cropped,
        surround=painting.how == "unsure",
        falloff=None if told is None or not told.one_wall or told.evened == "evened" else told.falloff,
        sure=told is not None and told.one_wall,
    )
    worse = amiss(judged, photographed=painting.cropped or painting.how == "unsure")
    return [*found, *(Shortcoming(one.subject, said(one)) for one in worse if one.subject not in LEFT_TO_THE_CALL)]


def _edge(painting: Painting) -> str:
    """The corners of what is likely the canvas, as they are pasted."""
    canvas = painting.canvas
    return written_corners(canvas.corners if canvas is not None and canvas.likely else None)


def of_proportion(
    painting: Painting, width: int, height: int, size: str, *, focal: float | None = None
) -> Shortcoming | None:
    """Where the painting is wider or higher for the other side than its listed size says; None where that can't be."""
    if not size or painting.how == "unsure":
        return None
    try:
        listed = listed_size(size)
    except CritiqueError:  # told already, with its row
        return None
    seen = proportion_seen(painting.corners, width, height, focal=focal) if painting.cropped else width / height
    ratio = listed.first / listed.second
    off = min(max(one / seen, seen / one) for one in (ratio, 1 / ratio)) - 1
    if off <= PROPORTION:
        return None
    longer, own = max(ratio, 1 / ratio), max(seen, 1 / seen)
    return Shortcoming(
        "proportion",
        f"The list says {size}, {longer:.2f} long for 1 wide. The picture is {own:.2f} and is sent so: is the size "
        "wrong, or is part of the painting cut off?",
    )
