"""What a finding and a suggestion are."""

from dataclasses import dataclass, field
from typing import Literal

from critique.picture.picture import Picture

Level = Literal["holds", "watch", "rework"]
LEVELS: tuple[Level, ...] = ("holds", "watch", "rework")


@dataclass(frozen=True, slots=True)
class Finding:
    """Something measured and judged.

    ``kind`` is the id by which ``kinds.py`` knows it, ``subject`` what people call it. ``figure`` is the number behind it (a share is 0–1), ``figure_text`` the same as it is read aloud, ``norm`` what
    it is held to, ``percentile`` where it stands among the reference landscapes (0–100; None when there is no such
    scale), and ``text`` the sentence for the painter.
    """

    kind: str
    subject: str
    level: Level
    text: str
    figure: float
    figure_text: str
    norm: str
    percentile: float | None = None


@dataclass(frozen=True, slots=True)
class Target:
    """The colour to move toward: L*, C*ab and CIELAB hue in degrees, with its names and screen colour."""

    lightness: float
    chroma: float
    hue: float
    munsell: str
    name: str
    srgb: str

    @property
    def lch(self) -> tuple[float, float, float]:
        """L*, C*ab and hue alone."""
        return self.lightness, self.chroma, self.hue


@dataclass(frozen=True, slots=True)
class Change:
    """One figure before and after a suggestion, both measured."""

    figure: str  # what is measured, in words
    before: float
    after: float
    before_text: str
    after_text: str


@dataclass(frozen=True, slots=True)
class QuietedGreen:
    """A green that is too strong: its share of the picture (0–1), the colour to make of it and the paint that does."""

    share: float
    source: Target
    target: Target
    recipe: str | None  # None when no paint of the box quiets it


@dataclass(frozen=True, slots=True)
class Suggestion:
    """A change to make, and what the picture measures with that change applied."""

    subject: str
    text: str
    changes: tuple[Change, ...]
    effect: str = ""  # which findings it takes to which level, and at what cost
    greens: tuple[QuietedGreen, ...] = ()  # the largest first, where greens are quieted
    recipe: str | None = None  # the paint that does it, in words
    preview: Picture | None = field(default=None, metadata={"record": False})
    preview_caption: str = ""

    @property
    def before(self) -> dict[str, float]:
        """Figures before, by name."""
        return {change.figure: change.before for change in self.changes}

    @property
    def after(self) -> dict[str, float]:
        """Figures after, by name."""
        return {change.figure: change.after for change in self.changes}
