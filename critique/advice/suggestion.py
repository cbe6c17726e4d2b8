"""What a suggestion is: a change, why, and what the picture measures with it made."""

from dataclasses import dataclass, field
from typing import Any

from critique.advice.change import Change
from critique.advice.recipe_for import RecipeFor
from critique.advice.recipe_words import recipe_in_words, recipes_in_words, steps_at_palette
from critique.picture.picture import Picture
from critique.plain import plain
from critique.words.painters import foliage_word


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

    @property
    def word(self) -> str:
        """What a painter calls it, a green as the colour of leaves."""
        return foliage_word(*self.lch)


@dataclass(frozen=True, slots=True)
class Moved:
    """One figure before and after a change, both measured; None where the picture has nothing left to measure it on."""

    figure: str  # what is measured, in words
    before: float | None
    after: float | None
    before_text: str
    after_text: str


@dataclass(frozen=True, slots=True)
class QuietedGreen:
    """A green that is too strong: its share of the picture (0–1), the colour to make of it and the paint that does."""

    share: float
    source: Target
    target: Target
    paint: RecipeFor | None  # None when no paint of the box quiets it

    @property
    def recipe(self) -> str | None:
        """The paint in words."""
        return recipe_in_words(self.paint) if self.paint is not None else None

    @property
    def steps(self) -> tuple[tuple[str, str], ...]:
        """The same as steps at the palette, each after its name; none without a paint."""
        return steps_at_palette(self.paint) if self.paint is not None else ()

    def as_dict(self) -> dict[str, Any]:
        """What the record holds of it."""
        return {
            "share": plain(self.share),
            "source": plain(self.source),
            "target": plain(self.target),
            "recipe": self.recipe,
        }


@dataclass(frozen=True, slots=True)
class Suggestion:
    """A change to make, and what the picture measures with that change applied."""

    subject: str  # the title of the change's kind
    text: str
    changes: tuple[Moved, ...]
    change: Change | None = None  # None for advice that no function can follow
    upon: tuple[Change, ...] = ()  # changes that come first: the figures before and after are measured with them made
    effect: str = ""  # which findings it takes to which level, and at what cost
    greens: tuple[QuietedGreen, ...] = ()  # the largest first, where greens are quieted
    preview: Picture | None = field(default=None, metadata={"record": False})
    preview_caption: str = ""

    @property
    def kind(self) -> str:
        """The id of the change's kind; empty without a change."""
        return self.change.kind if self.change is not None else ""

    @property
    def recipes(self) -> tuple[RecipeFor, ...]:
        """The paint that does it."""
        return self.change.recipes if self.change is not None else ()

    @property
    def recipe(self) -> str | None:
        """The paint that does it, in words."""
        return recipes_in_words(self.recipes)

    @property
    def before(self) -> dict[str, float | None]:
        """Figures before, by name."""
        return {moved.figure: moved.before for moved in self.changes}

    @property
    def after(self) -> dict[str, float | None]:
        """Figures after, by name."""
        return {moved.figure: moved.after for moved in self.changes}

    def as_dict(self) -> dict[str, Any]:
        """What the record holds of it."""
        return {
            "kind": self.kind,
            "subject": self.subject,
            "text": self.text,
            "parameters": plain(self.change.parameters) if self.change is not None else {},
            "upon": [change.kind for change in self.upon],
            "effect": self.effect,
            "changes": plain(self.changes),
            "before": plain(self.before),
            "after": plain(self.after),
            "greens": [green.as_dict() for green in self.greens],
            "recipe": self.recipe,
            "recipes": plain(self.recipes),
            "preview_caption": self.preview_caption,
        }
