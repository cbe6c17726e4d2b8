"""Whether blacks, whites and strong colours all go to their ends at once, so that nothing leads."""

from critique.advice.finding import Finding
from critique.advice.judging import Case
from critique.advice.kind import Kind, Limits
from critique.words.aloud import sentence

# Values from the 5th to the 95th percentile. Of 76 landscapes eleven reach so far, and one of these with colours nearly as
# strong, a red sunset.
TO_THE_ENDS = Limits("above", 8.2)
# C* of the strongest tenth. Of 130 photographs passed through a brush two reach both, those in which a stranger had overdone
# the contrast: three of their four readers would bring that down first.
AS_STRONG = 40.0


def full_contrast(case: Case, kind: Kind) -> Finding | None:
    """Whether both ends of the values are full and the colours strong as well."""
    values = case.measures.values
    level = kind.by_limits(values.range)
    if level == "holds" or case.measures.loudest.strong < AS_STRONG:
        return None
    low, high = (values.percentiles[rank] for rank in ("p5", "p95"))
    return kind.finding(
        level=level,
        text=sentence(
            f"blacks, whites and strong colours all go to their ends at once, from {low:.1f} to {high:.1f}, and little is left "
            "to lead. Keep the deepest darks and the brightest lights for where the eye should be, and bring the rest a step "
            "nearer the middle; if the painting itself is softer, the photograph is too hard"
        ),
        figure=values.range,
        figure_text=f"{values.range:.1f} of 10 values from dark to light, and the strongest tenth of it has chroma "
        f"{case.measures.loudest.strong:.0f}",
        norm=case.standing("values.range"),
        percentile=case.percentile("values.range"),
    )
