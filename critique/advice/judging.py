"""What every finding is made from."""

from dataclasses import dataclass

from critique.advice.finding import Level
from critique.advice.norms import Norms, figures_of
from critique.measures.measure import Measures
from critique.paints.box import PaintBox
from critique.picture.picture import Picture


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
        if rank >= 55:
            return f"more than in {min(rank, 99):.0f} of 100 {norms.kind}"
        if rank > 45:
            return f"as in the middle {norms.one}"
        return f"less than in {min(100 - rank, 99):.0f} of 100 {norms.kind}"


def level_above(figure: float, watch: float, rework: float) -> Level:
    """``holds`` up to ``watch``, ``rework`` above ``rework``."""
    return "rework" if figure > rework else "watch" if figure > watch else "holds"


def level_below(figure: float, watch: float, rework: float) -> Level:
    """``holds`` down to ``watch``, ``rework`` below ``rework``."""
    return "rework" if figure < rework else "watch" if figure < watch else "holds"
