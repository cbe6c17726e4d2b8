"""Where does a picture lead the eye, and what keeps it in or takes it out?"""

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from critique.alike import by_value
from critique.measures.aside import Aside, measure_aside, off_its_row
from critique.measures.centred import Centred, measure_centred
from critique.measures.cut_off import cut_off
from critique.measures.eye_chances import NOTHING, eye_weights, held_by, place_cues
from critique.measures.figure import LINES, OWN, PLACE, PRACTICE, VALUE, Figure, Words, rounded
from critique.measures.figure import PULL as PULL_WORTH
from critique.measures.focal_places import APART, GATHERED, FocalPlace, attention_of, focal_places
from critique.measures.lines import LEAST_LENGTH, Segment, long_lines
from critique.measures.parts import Parts, measure_parts
from critique.measures.pulls import DARKER_CORNER, INTERIOR, border_pulls, frame_values, plain_contrast
from critique.measures.pulls import PULL as PULL  # handed on: plates and glossary ask the eye path for both
from critique.measures.pulls import Pull as Pull
from critique.measures.rivals import RIVALS, Standing, answered, dominance, large_one, odd_one, rivals_of
from critique.measures.salience import rarity_of, salience
from critique.measures.side_bars import side_bars
from critique.measures.side_strip import side_strip
from critique.measures.sides import measure_sides
from critique.perception.cielab import lab_to_linear, linear_to_lab
from critique.photograph.scale import area_average
from critique.picture.picture import Picture, lab_at
from critique.words.figures import number, percent

if TYPE_CHECKING:
    from critique.measures.measure import Measures

Float = NDArray[np.float32]

LINES_LONG_EDGE = 400  # px; a line one pixel wide is then a quarter of a percent of the picture
BARS_LONG_EDGE = 640  # px; the thinnest bar that a room away is seen as one is a pixel or two
LEAST_SIDE = 32  # px of the short side; a panorama is scaled less
SALIENCE_LONG_EDGE = 200  # px; spots of a hundredth of the picture are two pixels

# What tells at a border: figures' touch and shapes on the light are at home there too, and pull less.
AT_BORDER = {"rarity": 7.0, "upright": 4.0, "red": 2.0}
LEAST_SALIENCE = 1.0  # inside, in its logarithm; a flat picture has 0, landscapes 8 and more
# Of all that holds the eye, within the zone: a place that holds less is no more than a guess. Of 276 pictures left out
# of the fit 191 reach it, and in 62 % of those a reader marked the place; 99 reach 0.7, and in 70 % it was marked, 48
# reach 0.85, and in 79 %. Two readers mark the same place in 86 % [make_eye_weights.py --try].
SURE = 0.5

AIM = 0.08  # of the long edge: a line that passes the focal place this close points at it
EDGE_TOUCH = 0.04  # of the long edge: a line that comes this close to an edge leads over it
LEVEL = 4.0  # degrees from level or upright within which a line rests and leads nowhere


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


@by_value
@dataclass(frozen=True, slots=True, eq=False)
class EyePath:
    """What leads the eye in a picture. Places are 0–1 from the left and the top, values 0–10.

    ``focus`` is the first of ``places`` (strongest first). ``from_middle`` and ``from_thirds`` are its distance from
    the middle and from the nearest crossing of thirds, where 1 is from the middle to a corner. ``competing`` says that
    another place holds the eye nearly as much. ``corner_values`` run top left, top right, bottom left, bottom right;
    ``framing`` is the value of the interior less that of the corners (above 0: darker corners), ``border_framing``
    the same of the whole border. ``pulls`` are the edges and corners that compete with the focal place, strongest
    first, ``strongest_pull`` the strongest there is, competing or not; ``border_salience`` says how much the most
    salient place near an edge catches the eye beside the most salient one inside (1 is as much), ``dominance`` how
    strong the plain contrast at the focal place is beside the strongest elsewhere. ``odd`` is what stands out most by
    contrast in a rare colour, ``large`` of large things. ``aside`` is how near a side all lies that would hold the eye
    if it didn't look first near the middle, ``centred`` whether all lies about the middle. ``answered`` is how much
    (0–1) of the colour of that of ``odd``, ``large`` and the focal place which lies nearest to the middle is found
    elsewhere. ``rivals`` are the two places that most stand out, ``rivalry`` how much the weaker does beside all else
    (0 where they aren't alike). ``side_weight`` says how much what stands along the ``heavier_side`` ('left' or
    'right') holds the eye, as log-odds that a reader speaks of it. ``lines`` are the long lines, longest first.
    ``salience`` (height, width) is 0–1 of its peak, for drawing.
    """

    focus: FocalPlace
    places: tuple[FocalPlace, ...]
    competing: bool
    rivalry: float
    rivals: tuple[Standing, Standing]
    odd: Standing
    large: Standing
    aside: Aside
    centred: Centred
    answered: float
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
    border_salience: float
    dominance: float
    side_weight: float
    heavier_side: str
    lines_toward: int
    lines_out: int
    lines: tuple[LeadingLine, ...] = field(repr=False)
    salience: Float = field(metadata={"record": False}, repr=False)

    @property
    def claimed(self) -> tuple[FocalPlace, ...]:
        """The place that may be spoken of: none where it is no more than a guess.

        A second is never sure enough: of paintings left out of the fit a reader marked it in three of ten.
        """
        return () if self.focus.strength < SURE else (self.focus,)


def measure_eyepath(picture: Picture, parts: Parts | None = None) -> EyePath:
    """Measure where the picture leads the eye.

    Parameters
    ----------
    picture : Picture
        Its ``lab`` is (height, width, 3), CIELAB under D65.
    parts : Parts
        Those of the picture, where they have been measured already.
    """
    least = round(LEAST_SIDE * max(picture.height, picture.width) / min(picture.height, picture.width))
    lab = lab_at(picture, max(LINES_LONG_EDGE, least))
    small = linear_to_lab(area_average(lab_to_linear(lab), max(SALIENCE_LONG_EDGE, least)))
    rarity = rarity_of(small)
    caught = salience(small, rarity)
    sky = (parts if parts is not None else measure_parts(picture)).mask("sky")
    cues = place_cues(small.shape[:2], sky)
    held = held_by(caught, cues, eye_weights())
    attention = attention_of(held)
    places = focal_places(held, attention)
    focus = places[0]
    size = (lab.shape[1], lab.shape[0])
    frame = frame_values(picture.lab[..., 0])
    contrast = plain_contrast(small, rarity)
    bars = side_bars(lab_at(picture, BARS_LONG_EDGE)[..., 0])
    pulls = border_pulls(small, contrast, frame.interior, cut_off(lab), bars, side_strip(lab))
    rivals = rivals_of(contrast.rare, contrast.whole, small)
    sides = measure_sides(small[..., 0], caught)
    lines = tuple(_leading(segment, focus, size) for segment in long_lines(lab))
    odd, large, differs = odd_one(contrast.rare), large_one(small), off_its_row(small)
    standing: tuple[FocalPlace | Standing, ...] = (focus, odd, large)
    middle = min(standing, key=lambda place: max(abs(place.x - 0.5), abs(place.y - 0.5)))
    return EyePath(
        focus=focus,
        places=places,
        competing=rivals[0].strength >= RIVALS,
        rivalry=rivals[0].strength,
        rivals=rivals,
        odd=odd,
        large=large,
        aside=measure_aside(small, differs, caught, cues, contrast.whole),
        centred=measure_centred(differs),
        answered=answered(small, middle.x, middle.y),
        from_middle=_distance(focus, ((0.5, 0.5),), size),
        from_thirds=_distance(focus, tuple((x / 3, y / 3) for x in (1, 2) for y in (1, 2)), size),
        interior_value=frame.interior,
        border_value=frame.border,
        corner_values=frame.corners,
        framing=frame.interior - float(np.mean(frame.corners)),
        border_framing=frame.interior - frame.border,
        dark_corners=sum(frame.interior - corner >= DARKER_CORNER for corner in frame.corners),
        pulls=tuple(pull for pull in pulls if pull.strength >= PULL),
        strongest_pull=pulls[0],
        dominance=dominance(contrast.whole, focus.x, focus.y, reach=GATHERED, apart=APART),
        border_salience=_border_salience(caught),
        side_weight=sides.weight,
        heavier_side=sides.heavier,
        lines_toward=sum(line.leads == "toward" for line in lines),
        lines_out=sum(line.leads == "out" for line in lines),
        lines=lines,
        salience=attention / max(float(attention.max()), NOTHING / attention.size),
    )


def _border_salience(parts: dict[str, Float]) -> float:
    """The highest salience in the border beside the highest inside, in the logarithm that the channels add up to."""
    total = np.asarray(sum(weight * parts[name] for name, weight in AT_BORDER.items()), dtype=np.float32)
    height, width = total.shape
    down, across = round(INTERIOR * height), round(INTERIOR * width)
    inside = float(total[down : height - down, across : width - across].max())
    border = total.copy()
    border[down : height - down, across : width - across] = 0
    return float(border.max()) / max(inside, LEAST_SALIENCE)


def _distance(place: FocalPlace, marks: tuple[tuple[float, float], ...], size: tuple[int, int]) -> float:
    """To the nearest of ``marks``; 1 is from the middle to a corner."""
    width, height = size
    away = min(np.hypot((place.x - x) * width, (place.y - y) * height) for x, y in marks)
    return float(away / np.hypot(width / 2, height / 2))


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
        meaning="where the eye most likely settles, from the left and from the top",
        definition="Where rare colours, upright edges, spots of red or white, large things unlike all about them, lone "
        "detail and large pale lights most likely hold the eye: sooner near the middle, under the skyline and at its "
        "highest land than elsewhere.",
        source="weights fitted to places that two and more machine readings marked in 276 pictures; "
        "Itti, Koch and Niebur, 1998; Tatler, 2007, on gaze",
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
        meaning=f"1 is as strong as the strongest contrast inside; from {PULL} it is marked on the plate",
        definition="Highest contrast within 8 % of an edge or corner over the highest farther in than 12 %; of an even "
        "shape cut off there, how far it differs from all beside it over ΔE 25.",
        source=OWN,
        show=rounded(2),
        told=_pull_told,
        norm=True,
        column="strongest pull at an edge, 1 is as strong as the strongest contrast inside",
        worth=PULL_WORTH,
        jumps=True,
    ),
    Figure(name="eyepath.side_weight", show=rounded(1), worth=PULL_WORTH, jumps=True),
    Words(
        page="eyepath",
        label="Long lines",
        meaning="how many lead to the focal place, and how many out",
        definition=f"Straight edges over {LEAST_LENGTH:.0%} of the long edge; they lead to the focal place when they "
        f"pass within {AIM:.0%} of it.",
        source="Hough transform with gradient directions (O'Gorman and Clowes, 1976)",
        told=lambda measures: f"{measures.eyepath.lines_toward} toward, {measures.eyepath.lines_out} out",
        stands_on=("eyepath.lines_toward", "eyepath.lines_out"),
    ),
    Figure(name="eyepath.lines_toward", show=rounded(0), worth=LINES, jumps=True),
    Figure(name="eyepath.lines_out", show=rounded(0), worth=LINES, jumps=True),
)
