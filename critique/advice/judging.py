"""What every finding is made from."""

from dataclasses import dataclass

from critique.advice.norms import Norms, figure_of
from critique.measures.figures import figure_named
from critique.measures.measure import Measures
from critique.paints.box import PaintBox
from critique.picture.picture import Picture

MIDDLE = (45, 55)  # percentiles between which a figure is as in the middle picture


@dataclass(frozen=True, slots=True)
class Case:
    """A picture with its measures, the norms it is held to, and the painter's box."""

    picture: Picture
    measures: Measures
    norms: Norms
    box: PaintBox | None = None  # None for the landscape set

    @classmethod
    def of(cls, picture: Picture, measures: Measures, norms: Norms, box: PaintBox | None = None) -> "Case":
        """The case of a measured picture."""
        return cls(picture, measures, norms, box)

    def figure(self, name: str) -> float:
        """A figure that a norm is kept for; NaN where the picture has none."""
        return figure_of(figure_named(name), self.measures)

    def percentile(self, figure: str) -> float | None:
        """Where this picture's figure stands among the reference landscapes, 0–100."""
        return self.norms.percentile(figure, self.figure(figure))

    def standing(self, figure: str) -> str:
        """The same in words: how many of the reference landscapes stay below."""
        rank = self.percentile(figure)
        if rank is None:
            return "no norm"
        norms, value = self.norms, self.figure(figure)
        lowest, highest = norms.at(figure, 0), norms.at(figure, 100)
        if value > highest:
            return f"more than in any of {norms.all_of_them}"
        if value < lowest:
            return f"less than in any of {norms.all_of_them}"
        if value == lowest == norms.at(figure, 20):
            return f"as in most {norms.kind}"
        if rank >= MIDDLE[1]:
            return f"more than in {self._counted(rank)}"
        if rank > MIDDLE[0]:
            return f"as in the middle {norms.one}"
        return f"less than in {self._counted(100 - rank)}"

    def _counted(self, rank: float) -> str:
        """How many of the reference pictures a percentile is: as many as there are, never more."""
        number = self.norms.number
        return f"{min(round(rank * number / 100), number - 1)} of {self.norms.all_of_them}"
