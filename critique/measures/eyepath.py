"""Where does a picture lead the eye, and what keeps it in or takes it out?"""

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import NDArray

from critique.measures.figure import LINES, OWN, PLACE, PRACTICE, VALUE, Figure, Words, rounded
from critique.measures.figure import PULL as PULL_WORTH
from critique.measures.lines import LEAST_LENGTH, Segment, long_lines
from critique.measures.salience import Salience, highest_near, salience
from critique.perception.cielab import lab_to_linear, linear_to_lab
from critique.photograph.scale import area_average
from critique.picture.picture import Picture, lab_at
from critique.words.figures import number, percent

if TYPE_CHECKING:
    from critique.measures.measure import Measures

Float = NDArray[np.float32]

LINES_LONG_EDGE = 400  # px; a line one pixel wide is then a quarter of a percent of the picture
LEAST_SIDE = 32  # px of the short side; a panorama is scaled less
SALIENCE_LONG_EDGE = 200  # px; spots of a hundredth of the picture are two pixels

# People look first near the middle of any picture (the central bias of gaze; Tatler, 2007, from memory), and in a
# landscape below it, where its figures and its ground are. What lies far from there must stand out more to be the
# focal place. The middle and the spread hold the places that one of us marked by eye in 36 paintings (mean height
# 0.58, and 0.65 in 30 others). Pull at the edges is measured without this.
FAVOURED = (0.5, 0.6)  # of the width and of the height
FAVOURED_SPREAD = 0.3  # of the width and of the height: standard deviation of a Gaussian
LEAST_FAVOUR = 0.3  # of the favour at its middle that even a corner keeps
MOST_PLACES = 3
LEAST_PLACE = 0.25  # of the strength of the first place, below which there is no second or third; chosen by eye
APART = 0.2  # of the long edge: two focal places are two when farther apart than this
PARTED = 0.8  # of its height down to which salience must fall between a place and a stronger one; else they are one
PEAK_REACH = 0.04  # of the long edge: a peak is the highest within it
RIVAL = 0.92  # of the strength of the first place, from which a second competes with it: so in 4 of 76 landscapes
GATHERED = 0.08  # of the long edge: a focal place is the middle of what stands out within this

KINDS = ("value", "chroma", "edges")  # of pull; red is a kind of chroma
CORNER = 0.2  # of the width and height that a corner takes; common practice, no source
BORDER = 0.1  # of the width and height that a border takes
DARKER_CORNER = 0.5  # values below the interior that make a corner dark: half a step of the painter's scale
PULL_BORDER = 0.08  # of the width and height: what lies this close to an edge pulls over it
PULL = 0.7  # of the salience of the focal place, from which an edge competes with it; chosen by eye
LIGHT_PULL = 2.0  # values by which a corner outshines the picture before it holds the eye as much as the focal place

AIM = 0.08  # of the long edge: a line that passes the focal place this close points at it
EDGE_TOUCH = 0.04  # of the long edge: a line that comes this close to an edge leads over it
LEVEL = 4.0  # degrees from level or upright within which a line rests and leads nowhere


@dataclass(frozen=True, slots=True)
class FocalPlace:
    """A place that gathers contrast. ``x``, ``y`` are 0–1 from the left and the top.

    ``strength`` is 0–1: how far it stands out over the middling part of the picture.
    """

    x: float
    y: float
    strength: float


@dataclass(frozen=True, slots=True)
class Pull:
    """Contrast near an edge or corner. ``place`` is such as 'left edge' or 'top right corner', ``x``, ``y`` its peak.

    ``sides`` are the sides of the picture that it lies at ('top', 'bottom', 'left', 'right'): two for a corner.
    ``strength`` is its salience beside that of the focal place (1 is as strong); ``kind`` is what makes it: 'value',
    'chroma', 'edges' or 'light' (a corner lighter than the picture).
    """

    place: str
    x: float
    y: float
    strength: float
    kind: str
    sides: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class LeadingLine:
    """A long straight line, ends as 0–1 from the left and the top; ``length`` is a part of the long edge.

    ``leads`` is 'toward' the focal place, 'out' over an edge, or 'past' (it does neither). ``miss`` is how far its
    course passes from the focal place, as a part of the long edge.
    """

    x1: float
    y1: float
    x2: float
    y2: float
    length: float
    miss: float
    leads: str


@dataclass(frozen=True, slots=True)
class EyePath:
    """What leads the eye in a picture. Places are 0–1 from the left and the top, values 0–10.

    ``focus`` is the first of ``places`` (strongest first). ``from_middle`` and ``from_thirds`` are its distance from
    the middle and from the nearest crossing of thirds, where 1 is from the middle to a corner. ``competing`` says that
    another place holds the eye nearly as much. ``corner_values`` run top left, top right, bottom left, bottom right;
    ``framing`` is the value of the interior less that of the corners (above 0: darker corners), ``border_framing``
    the same of the whole border. ``pulls`` are the edges and corners that compete with the focal place, strongest
    first, ``strongest_pull`` the strongest there is, competing or not. ``lines`` are the long lines, longest first.
    ``salience`` (height, width) is 0–1 of its peak, for drawing.
    """

    focus: FocalPlace
    places: tuple[FocalPlace, ...]
    competing: bool
    from_middle: float
    from_thirds: float
    interior_value: float
    border_value: float
    corner_values: tuple[float, float, float, float]
    framing: float
    border_framing: float
    dark_corners: int
    pulls: tuple[Pull, ...]
    strongest_pull: Pull
    lines_toward: int
    lines_out: int
    lines: tuple[LeadingLine, ...] = field(repr=False)
    salience: Float = field(metadata={"record": False}, repr=False)


def measure_eyepath(picture: Picture) -> EyePath:
    """Measure where the picture leads the eye.

    Parameters
    ----------
    picture : Picture
        Its ``lab`` is (height, width, 3), CIELAB under D65.
    """
    least = round(LEAST_SIDE * max(picture.height, picture.width) / min(picture.height, picture.width))
    lab = lab_at(picture, max(LINES_LONG_EDGE, least))
    small = linear_to_lab(area_average(lab_to_linear(lab), max(SALIENCE_LONG_EDGE, least)))
    value = np.asarray(small[..., 0] / 10, dtype=np.float32)
    caught = salience(small)
    places = _focal_places(caught.total)
    focus = places[0]
    size = (lab.shape[1], lab.shape[0])
    interior, border, corners = _frame_values(picture.lab[..., 0])
    pulls = sorted(_pulls(caught, value, interior), key=lambda pull: -pull.strength)
    lines = tuple(_leading(segment, focus, size) for segment in long_lines(lab))
    return EyePath(
        focus=focus,
        places=places,
        competing=len(places) > 1 and places[1].strength >= RIVAL * focus.strength > 0,
        from_middle=_distance(focus, ((0.5, 0.5),), size),
        from_thirds=_distance(focus, tuple((x / 3, y / 3) for x in (1, 2) for y in (1, 2)), size),
        interior_value=interior,
        border_value=border,
        corner_values=corners,
        framing=interior - float(np.mean(corners)),
        border_framing=interior - border,
        dark_corners=sum(interior - corner >= DARKER_CORNER for corner in corners),
        pulls=tuple(pull for pull in pulls if pull.strength >= PULL),
        strongest_pull=pulls[0],
        lines_toward=sum(line.leads == "toward" for line in lines),
        lines_out=sum(line.leads == "out" for line in lines),
        lines=lines,
        salience=caught.total / max(float(caught.total.max()), 1e-9),
    )


def _focal_places(total: Float) -> tuple[FocalPlace, ...]:
    """The strongest places that lie apart, with a valley between any two of them, strongest first."""
    height, width = total.shape
    long_edge = max(height, width)
    y, x = np.mgrid[0:height, 0:width] + 0.5
    favoured = total * _favour(x / width, y / height)
    highest = max(float(favoured.max()), 1e-9)
    middling = float(np.median(favoured))
    left = favoured * (favoured >= highest_near(favoured, PEAK_REACH))
    peaks: list[tuple[int, int]] = []
    places: list[FocalPlace] = []
    while len(places) < MOST_PLACES and (peak := float(left.max())) > 0:
        strength = (peak - middling) / highest
        if places and strength < LEAST_PLACE * places[0].strength:
            break
        row, column = (int(number) for number in np.unravel_index(int(left.argmax()), left.shape))
        away = np.hypot(x - column - 0.5, y - row - 0.5)
        own = _parted(favoured, (row, column), peaks)
        left[away <= (APART if own else PEAK_REACH) * long_edge] = 0
        if own:
            near = (away <= GATHERED * long_edge) * np.clip(total - total[row, column] / 2, 0, None)
            mass = float(near.sum())
            at = (float((near * x).sum() / mass / width), float((near * y).sum() / mass / height))
            peaks.append((row, column))
            places.append(FocalPlace(*at, strength))
    return tuple(places) or (FocalPlace(0.5, 0.5, 0.0),)


def _favour(x: Any, y: Any) -> Any:
    """How much a place is favoured, 0–1, by where it lies, 0–1 from the left and the top."""
    off = ((x - FAVOURED[0]) ** 2 + (y - FAVOURED[1]) ** 2) / FAVOURED_SPREAD**2
    return LEAST_FAVOUR + (1 - LEAST_FAVOUR) * np.exp(-off / 2)


def _parted(favoured: Float, peak: tuple[int, int], peaks: list[tuple[int, int]]) -> bool:
    """Whether salience falls to ``PARTED`` of the peak on every way from it to the stronger ``peaks``."""
    from scipy.ndimage import label

    if not peaks:
        return True
    islands, _ = label(favoured >= PARTED * favoured[peak])
    return all(islands[peak] != islands[stronger] for stronger in peaks)


def _distance(place: FocalPlace, marks: tuple[tuple[float, float], ...], size: tuple[int, int]) -> float:
    """To the nearest of ``marks``; 1 is from the middle to a corner."""
    width, height = size
    away = min(np.hypot((place.x - x) * width, (place.y - y) * height) for x, y in marks)
    return float(away / np.hypot(width / 2, height / 2))


def _frame_values(lightness: Float) -> tuple[float, float, tuple[float, float, float, float]]:
    """Mean value of the interior, of the border, and of the corners."""
    value = lightness / np.float32(10)
    height, width = value.shape
    high, wide = max(1, round(BORDER * height)), max(1, round(BORDER * width))
    inside = value[high : height - high, wide : width - wide]
    interior = float(inside.mean(dtype=np.float64))
    outside = value.size - inside.size
    border = (float(value.sum(dtype=np.float64)) - interior * inside.size) / outside
    down, across = max(1, round(CORNER * height)), max(1, round(CORNER * width))
    top_left, top_right = value[:down, :across], value[:down, width - across :]
    bottom_left, bottom_right = value[height - down :, :across], value[height - down :, width - across :]
    means = [float(part.mean(dtype=np.float64)) for part in (top_left, top_right, bottom_left, bottom_right)]
    return interior, border, (means[0], means[1], means[2], means[3])


def _pulls(caught: Salience, value: Float, interior: float) -> list[Pull]:
    """The pull of every edge and corner."""
    height, width = caught.total.shape
    high, wide = max(1, round(PULL_BORDER * height)), max(1, round(PULL_BORDER * width))
    down, across = max(1, round(CORNER * height)), max(1, round(CORNER * width))
    strips = {
        ("top",): np.s_[:high, across : width - across],
        ("bottom",): np.s_[height - high :, across : width - across],
        ("left",): np.s_[down : height - down, :wide],
        ("right",): np.s_[down : height - down, width - wide :],
        ("top", "left"): np.s_[:down, :across],
        ("top", "right"): np.s_[:down, width - across :],
        ("bottom", "left"): np.s_[height - down :, :across],
        ("bottom", "right"): np.s_[height - down :, width - across :],
    }
    total = caught.total
    crest = total >= highest_near(total, GATHERED)
    # A skyline has contrast along its whole course: where it meets an edge, only what exceeds that pulls.
    beside = {"left": np.median(total, axis=1, keepdims=True), "top": np.median(total, axis=0, keepdims=True)}
    beside |= {"right": beside["left"], "bottom": beside["top"]}
    focal = max(float((total - np.median(total)).max()), 1e-9)
    found = []
    for sides, where in strips.items():
        rows, columns = where
        usual = np.maximum.reduce([np.broadcast_to(beside[side], total.shape) for side in sides])
        region = (np.clip(total - usual, 0, None) * crest)[where]
        row, column = np.unravel_index(int(region.argmax()), region.shape)
        strength = float(region.max()) / focal
        at = (int(row) + (rows.start or 0), int(column) + (columns.start or 0))
        kind = max(KINDS, key=lambda name: float(caught.parts[name][at]))
        if len(sides) == 2:  # a corner
            shine = float(value[where].mean()) - max(interior, float(value[rows].mean()))
            if shine / LIGHT_PULL > strength:
                strength, kind = shine / LIGHT_PULL, "light"
        place = f"{' '.join(sides)} {'corner' if len(sides) == 2 else 'edge'}"
        found.append(Pull(place, (at[1] + 0.5) / width, (at[0] + 0.5) / height, strength, kind, sides))
    return found


def _leading(segment: Segment, focus: FocalPlace, size: tuple[int, int]) -> LeadingLine:
    width, height = size
    long_edge = max(width, height)
    across, down = segment.x2 - segment.x1, segment.y2 - segment.y1
    aim_x, aim_y = focus.x * width - 0.5 - segment.x1, focus.y * height - 0.5 - segment.y1
    miss = abs(across * aim_y - down * aim_x) / segment.length / long_edge
    return LeadingLine(
        x1=(segment.x1 + 0.5) / width,
        y1=(segment.y1 + 0.5) / height,
        x2=(segment.x2 + 0.5) / width,
        y2=(segment.y2 + 0.5) / height,
        length=segment.length / long_edge,
        miss=float(miss),
        leads=_leads(segment, float(miss), size),
    )


def _leads(segment: Segment, miss: float, size: tuple[int, int]) -> str:
    if miss <= AIM:
        return "toward"
    width, height = size
    touch = EDGE_TOUCH * max(size)
    ends = ((segment.x1, segment.y1), (segment.x2, segment.y2))
    touches = any(x < touch or x > width - 1 - touch or y < touch or y > height - 1 - touch for x, y in ends)
    tilt = abs(np.degrees(np.arctan2(segment.y2 - segment.y1, segment.x2 - segment.x1)))
    rests = min(tilt, abs(tilt - 90), abs(tilt - 180)) <= LEVEL
    return "out" if touches and not rests else "past"


def _focal_place(measures: "Measures") -> str:
    focus = measures.eyepath.focus
    return f"{percent(focus.x)}, {percent(focus.y)}"


def _pull_told(measures: "Measures") -> str:
    pull = measures.eyepath.strongest_pull
    return f"{number(pull.strength, 2)}, {pull.place}"


FIGURES = (
    Words(
        page="eyepath",
        label="Focal place",
        meaning="where contrast gathers, from the left and from the top",
        definition="Peak of contrast of value, chroma, edges and reds between spots and their surroundings, favoured "
        "where "
        "most pictures have it: in the middle and a little below.",
        source="after Itti, Koch and Niebur, 1998; Tatler, 2007, on gaze",
        told=_focal_place,
        stands_on=("eyepath.focus.x", "eyepath.focus.y"),
    ),
    Figure(name="eyepath.focus.x", unit="share", worth=PLACE, jumps=True),
    Figure(name="eyepath.focus.y", unit="share", worth=PLACE, jumps=True),
    Figure(
        name="eyepath.from_middle",
        label="Away from the middle",
        meaning="0 is the very middle, 1 a corner",
        definition="Distance of the focal place from the middle over that from the middle to a corner.",
        source=OWN,
        show=rounded(2),
        worth=PLACE,
        jumps=True,
    ),
    Figure(
        name="eyepath.from_thirds",
        label="Away from the thirds",
        meaning="0 is on a crossing of thirds",
        definition="Distance of the focal place from the nearest crossing of thirds, on the same scale.",
        source=PRACTICE,
        show=rounded(2),
        worth=PLACE,
        jumps=True,
    ),
    Figure(
        name="eyepath.framing",
        label="Corners darker by",
        meaning="darker corners keep the eye in",
        definition="Mean value of the interior less that of the four corners.",
        source=PRACTICE,
        unit="value",
        norm=True,
        worth=VALUE,
    ),
    Figure(
        name="eyepath.border_framing",
        label="Border darker by",
        meaning="the same for the whole border",
        definition="Mean value of the interior less that of the outer tenth on every side.",
        source=PRACTICE,
        unit="value",
        worth=VALUE,
    ),
    Figure(
        name="eyepath.strongest_pull.strength",
        label="Strongest pull at an edge",
        meaning=f"1 is as strong as the focal place; from {PULL} it is marked on the plate",
        definition="Highest contrast near an edge or corner over that of the focal place.",
        source=OWN,
        show=rounded(2),
        told=_pull_told,
        norm=True,
        column="strongest pull at an edge, 1 is as strong as the focal place",
        worth=PULL_WORTH,
        jumps=True,
    ),
    Words(
        page="eyepath",
        label="Long lines",
        meaning="how many lead to the focal place, and how many out",
        definition=f"Straight edges over {LEAST_LENGTH:.0%} of the long edge; they lead to the focal place when they "
        "pass "
        f"within {AIM:.0%} of it.",
        source="Hough transform with gradient directions (O'Gorman and Clowes, 1976)",
        told=lambda measures: f"{measures.eyepath.lines_toward} toward, {measures.eyepath.lines_out} out",
        stands_on=("eyepath.lines_toward", "eyepath.lines_out"),
    ),
    Figure(name="eyepath.lines_toward", show=rounded(0), worth=LINES, jumps=True),
    Figure(name="eyepath.lines_out", show=rounded(0), worth=LINES, jumps=True),
)
