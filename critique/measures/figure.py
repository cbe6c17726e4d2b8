"""What a figure is: one number of a picture, declared once by the measure that makes it."""

import math
from collections.abc import Callable
from dataclasses import dataclass, field
from functools import reduce
from typing import TYPE_CHECKING, Any, Literal

from critique.perception.hue import turn
from critique.words.figures import number

if TYPE_CHECKING:
    from critique.measures.measure import Measures

PRACTICE = "common practice, no source"
CIELAB = "CIE 15:2004 (CIELAB, D65, 2° observer)"
OWN = "our own measure"

ENOUGH_GREEN = 0.02  # of the picture: figures on the quality of less green than this jump with every photograph
PLAIN_LINE = 0.62  # strength of a line that both pictures must have before its place is compared; as for halving
SMALL = 1.0  # added to both sides of a ratio, so that next to nothing over nothing is no change

# The least changes worth a word; common practice, no source.
AREA, SPECKS = 0.02, 0.01  # of the picture, or of its chroma
PART, MASS = 0.08, 0.05  # of the green, of the line or of the lights; of the picture
VALUE, LIGHTNESS = 0.2, 2.0  # values; L*
MASSES, STRENGTH = 0.03, 0.03  # of what three masses or the line explain
HEIGHT, SLOPE = 0.03, 0.04  # of the height; px a px
TENTH = 0.08  # of the logarithm: about a twelfth more or less
HUE, LEAN = 2.0, 1.0  # degrees; C*
NAMES, LINES = 5.5, 3.5  # counts: six names, four lines, because each is counted or not by a hair
PLACE, PULL = 0.05, 0.15  # of the picture's sides; of the focal place's strength
PAIR = 0.08  # of the two-colour model's scale

Scale = Literal["difference", "ratio", "angle"]
Needs = Literal["nothing", "green", "all greens", "line"]


def rounded(decimals: int = 1, unit: str = "") -> Callable[[float], str]:
    """How a number with so many decimals reads on paper; "none" for NaN."""
    return lambda value: number(value, decimals, unit)


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """A row of the page's table: its label, what it means to a painter, its definition and the source of that.

    ``told`` says on paper what was measured. ``stands_on`` names the figures that move when the row does.
    """

    label: str
    meaning: str
    definition: str
    source: str
    told: Callable[["Measures"], str] | None = field(default=None, repr=False)

    def on_paper(self, measures: "Measures") -> str:
        """What was measured, as it reads on the page."""
        return self.told(measures) if self.told is not None else ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Words(Entry):
    """A row that is no number of its own: an answer in words, or several figures side by side.

    ``page`` is the measure under whose figures it stands. A row ``in_words`` has no reach of its own: nobody can say by
    how much of it another photograph moves it.
    """

    page: str
    stands_on: tuple[str, ...] = ()
    in_words: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure(Entry):
    """One number of a picture; everything that reads figures reads this.

    ``name`` is its path in the record. ``read`` finds it in the measures; without it, the name is that path.
    With ``norm`` it is held to reference landscapes. With a ``column`` it stands in a portfolio's table, where that
    says what the column holds. A figure without a label has no row of its own on the page: another row tells it.

    A figure with a ``worth`` is compared between two pictures. A 'difference' is later less earlier, a 'ratio' its
    natural logarithm (for figures whose scatter grows with them), an 'angle' the turn in degrees. ``needs`` is what
    both pictures must have for it to mean something, and ``worth`` the least change worth a word, on its own scale:
    some figures hold so still under a camera that their smallest change is real, and no painter would see it. One that
    ``jumps`` is found by choosing one thing among several (a line, a place, a mass, a count), and another choice by a
    hair moves it far. How far another photograph moves it was measured: it stands under its name in
    ``photograph_spread.csv``.
    """

    name: str
    label: str = ""
    meaning: str = ""
    definition: str = ""
    source: str = ""
    unit: str = ""  # for machines: "share", "C*ab", "L*", "value", "degrees"…; empty for a bare number
    show: Callable[[float], str] = field(default=number, repr=False)
    read: Callable[["Measures"], float] | None = field(default=None, repr=False)
    norm: bool = False
    column: str = ""
    scale: Scale = "difference"
    needs: Needs = "nothing"
    worth: float = math.nan
    jumps: bool = False
    with_it: tuple[str, ...] = ()  # other figures that its row tells of too

    @property
    def group(self) -> str:
        """The measure that it belongs to."""
        return self.name.split(".", 1)[0]

    @property
    def page(self) -> str:
        """The measure under whose figures it stands."""
        return self.group

    @property
    def stands_on(self) -> tuple[str, ...]:
        """The figures that move when its row does: itself first."""
        return (self.name, *self.with_it)

    @property
    def in_words(self) -> bool:
        """Whether its row is an answer in words."""
        return False

    @property
    def compared(self) -> bool:
        """Whether two pictures are compared by it."""
        return not math.isnan(self.worth)

    def value(self, measures: "Measures") -> float:
        """The figure of a picture; NaN when it has none."""
        if self.read is not None:
            return float(self.read(measures))
        found: Any = reduce(_step, self.name.split("."), measures)
        return math.nan if found is None else float(found)

    def of(self, measures: "Measures") -> float:
        """The same for a comparison: NaN too when the picture has too little to measure it on."""
        return self.value(measures) if self._found_in(measures) else math.nan

    def on_paper(self, measures: "Measures") -> str:
        """The figure as it reads on the page."""
        return self.told(measures) if self.told is not None else self.show(self.value(measures))

    def change(self, before: float, after: float) -> float:
        """From ``before`` to ``after``, on the figure's own scale; NaN when one of them is missing."""
        if self.scale == "angle":
            return float(turn(before, after))
        if self.scale == "ratio":
            if math.isnan(before) or math.isnan(after):
                return math.nan
            return math.log((after + SMALL) / (before + SMALL))
        return after - before

    def _found_in(self, measures: "Measures") -> bool:
        if self.needs == "green":
            return measures.greens.area_share >= ENOUGH_GREEN
        if self.needs == "all greens":
            return measures.greens.family.area_share >= ENOUGH_GREEN
        if self.needs == "line":
            return measures.division.strength >= PLAIN_LINE
        return True


def _step(value: Any, name: str) -> Any:
    if value is None:
        return None
    if isinstance(value, dict):
        return value[name]
    if isinstance(value, tuple):
        return value[int(name)]
    return getattr(value, name)
