"""A recipe with what it is for."""

from dataclasses import dataclass

from critique.paints.muting import Muting
from critique.paints.paint import Paint
from critique.paints.recipes import Recipe


@dataclass(frozen=True, slots=True)
class RecipeFor:
    """The paint of one colour of a change.

    ``recipe`` mixes the colour; where a paint is added to a mixture that is on the palette already, ``adds`` is that
    paint, ``instead`` are others that would do, and ``recipe`` is the mixture that it goes into.
    """

    use: str  # what the colour is for, in words; only shown
    recipe: Recipe
    share: float | None = None  # of the picture, 0–1, where the colour is one of the picture's
    adds: Muting | None = None
    instead: tuple[Muting, ...] = ()
    box: str = ""  # what the box is called that it was mixed from, where that has to be said

    @property
    def lab(self) -> tuple[float, float, float]:
        """CIELAB of what is mixed in the end."""
        return self.adds.lab if self.adds is not None else self.recipe.lab

    @property
    def paints(self) -> tuple[Paint, ...]:
        """All that it names: of the mixture, of what is added, and of what would do instead."""
        ways = [one for one in (self.adds, *self.instead) if one is not None]
        return (*self.recipe.paints, *(paint for way in ways for paint in way.paints))
