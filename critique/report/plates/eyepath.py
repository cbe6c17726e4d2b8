"""Where the picture leads the eye, and where it leads it out."""

from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import ArrayLike

from critique.measures.eye_judging import keeps_it_in, pull_fault, settles_to_say
from critique.measures.eyepath import EyePath, LeadingLine, Pull
from critique.measures.focal_places import GATHERED
from critique.perception.srgb import Codes
from critique.picture.picture import Picture
from critique.report.plates.look import INK, SURROUND
from critique.report.plates.marks import area, disc, stroke
from critique.report.plates.photograph import in_colour, resized
from critique.report.plates.plate import Plate

if TYPE_CHECKING:
    from PIL import Image

VEIL = 0.82  # of the surround that lies over what catches nothing
CLEAR_AT = 0.85  # salience from which on the picture shows unveiled
MOST_LINES = 8  # longest first: more is a thicket
RING = 3.2  # px of the light line; every mark is light in a dark edge, to read on any ground
ARROW = 0.023  # of the long edge: size of the mark for a pull


def eyepath_plate(picture: Picture, eyepath: EyePath) -> Plate:
    """The picture veiled but for what catches the eye, with the focal place, the pulls and the long lines."""
    image = _veiled(in_colour(picture), eyepath)
    width, height = image.size
    long_edge = max(width, height)
    for line in drawn_lines(eyepath):
        _stroke(image, [line.x1 * width, line.x2 * width], [line.y1 * height, line.y2 * height], line.leads == "out")
    ringed = [(place.x, place.y) for place in (eyepath.rivals if eyepath.competing else eyepath.places[:1])]
    for index, (across, down) in enumerate(ringed):
        _ring(image, (across * width, down * height), GATHERED * long_edge, dashed=index > 0)
    for pull in named_pulls(eyepath):
        _draw_pull(image, pull)
    return Plate("eye_path", image, _alt(eyepath), _caption(eyepath))


def drawn_lines(eyepath: EyePath) -> tuple[LeadingLine, ...]:
    """The longest lines that lead somewhere; none that leads out where nothing at the edges is said to draw it out."""
    told = ("toward",) if keeps_it_in(eyepath) else ("toward", "out")
    return tuple(line for line in eyepath.lines if line.leads in told)[:MOST_LINES]


def named_pulls(eyepath: EyePath) -> tuple[Pull, ...]:
    """What the finding on the edges names, and no more: what is weaker draws nobody out."""
    found = pull_fault(eyepath)
    return (found[1],) if found is not None else ()


def _veiled(codes: Codes, eyepath: EyePath) -> "Image.Image":
    """The picture under a veil of the surround's grey that opens where salience is high."""
    from PIL import Image

    size = (codes.shape[1], codes.shape[0])
    levels = np.clip(np.asarray(eyepath.salience) / CLEAR_AT, 0, 1)
    opening = Image.fromarray(resized(np.rint(levels * 255).astype(np.uint8), size))
    clear = opening.point([round(255 - VEIL * (255 - level)) for level in range(256)])
    return Image.composite(Image.fromarray(codes), Image.new("RGB", size, SURROUND), clear)


def _ring(image: "Image.Image", middle: tuple[float, float], radius: float, *, dashed: bool) -> None:
    if not dashed:
        for edge, ink in ((RING + 3.6, INK), (RING, "white")):
            disc(image, middle, radius, None, edge=edge, ink=ink)
        return
    turn = np.linspace(0, 2 * np.pi, 180)
    _stroke(image, middle[0] + radius * np.cos(turn), middle[1] + radius * np.sin(turn), dashed=True)


def _stroke(image: "Image.Image", x: ArrayLike, y: ArrayLike, dashed: bool = False) -> None:
    """A light line in a dark edge; a dashed one is light and dark in turn."""
    points = np.stack([np.asarray(x, dtype=np.float64), np.asarray(y, dtype=np.float64)], axis=1)
    stroke(image, points, RING + (1.0 if dashed else 3.6))
    stroke(image, points, RING, "white", dashes=(4, 3) if dashed else None)


def _draw_pull(image: "Image.Image", pull: Pull) -> None:
    """A small arrowhead that points out of the picture where it is led out."""
    width, height = image.size
    toward = np.array(
        [
            ("right" in pull.sides) * 1.0 - ("left" in pull.sides),
            ("bottom" in pull.sides) * 1.0 - ("top" in pull.sides),
        ]
    )
    toward /= max(float(np.hypot(*toward)), 1e-9)
    side = np.array([-toward[1], toward[0]])
    size = ARROW * max(width, height)
    room = 1.2 * size  # so that no arrowhead is cut off
    x = float(np.clip(pull.x * width, room, max(width - room, room)))
    y = float(np.clip(pull.y * height, room, max(height - room, room)))
    base = toward * size * 0.5
    corners = np.array([toward * size, side * size * 0.62 - base, -side * size * 0.62 - base])
    area(image, corners + np.array([x, y]), "white", edge=2.0)


def _caption(eyepath: EyePath) -> str:
    sure = settles_to_say(eyepath) is not None or eyepath.competing
    ring = "The ring is the focal place" if sure else "The ring is a guess at where it settles first"
    parts = [f"What holds the eye less is veiled. {ring}"]
    if eyepath.competing:
        parts.append("; the broken ring is a second one that competes with it")
    if named_pulls(eyepath):
        parts.append("; the arrowhead marks what draws it out")
    lines = drawn_lines(eyepath)
    if any(line.leads == "toward" for line in lines):
        parts.append("; lines lead to the ring")
    if any(line.leads == "out" for line in lines):
        parts.append("; broken lines lead out")
    return "".join(parts) + "."


def _alt(eyepath: EyePath) -> str:
    focus = eyepath.focus
    pulls = ", ".join(pull.place for pull in named_pulls(eyepath)) or "nowhere"
    return (
        f"The picture with its focal place ringed, {focus.x * 100:.0f} % from the left and {focus.y * 100:.0f} % from "
        f"the top. The eye is pulled out at: {pulls}."
    )
