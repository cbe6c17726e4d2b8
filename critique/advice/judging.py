"""What every finding is made from."""

from dataclasses import dataclass

from critique.advice.norms import Norms, figures_of
from critique.measures.measure import Measures
from critique.paints.box import PaintBox
from critique.picture.picture import Picture

MIDDLE = (45, 55)  # percentiles between which a figure is as in the middle picture


@dataclass(frozen=True, slots=True)
class Case:
    """A picture with its measures, the norms it is held to, its figures by the norms' names, and the painter's box."""

    picture: Picture
    measures: Measures
    norms: Norms
    figures: dict[str, float]
    box: PaintBox | None = None  # None for the landscape set

    @classmethod
    def of(cls, picture: Picture, measures: Measures, norms: Norms, box: PaintBox | None = None) -> "Case":
        """The case of a measured picture."""
        return cls(picture, measures, norms, figures_of(measures), box)

    def percentile(self, figure: str) -> float | None:
        """Where this picture's figure stands among the reference landscapes, 0–100."""
        return self.norms.percentile(figure, self.figures[figure])

    def standing(self, figure: str) -> str:
        """The same in words: how many of the reference landscapes stay below."""
        rank = self.percentile(figure)
        if rank is None:
            return "no norm"
        norms, value = self.norms, self.figures[figure]
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
