"""How large the canvas is, as a painter writes it."""

from dataclasses import dataclass
from typing import Literal

from critique.photograph.proportions import parse_size

USUAL_LONG_SIDE = 40.0  # cm, where nobody said: a panel that is carried outdoors; common practice, no source
ANOTHER_SHAPE = 0.03  # of the ratio of the sides, beyond which the canvas has another shape than the picture


@dataclass(frozen=True, slots=True)
class CanvasSize:
    """Width and height in cm; ``given`` is whether the painter said so, ``written`` how it is told."""

    width: float
    height: float
    given: bool
    written: str
    unit: Literal["cm", "in"] = "cm"  # in which it was told

    @property
    def area(self) -> float:
        """In cm²."""
        return self.width * self.height

    @property
    def unit_cm(self) -> float:
        """Centimetres of the unit in which it was told."""
        return 2.54 if self.unit == "in" else 1.0

    def shows(self, width: int, height: int) -> tuple[float, float]:
        """The parts of a picture's width and height that its shape leaves, cut evenly from both sides; 1 is all."""
        ratio = (self.width / self.height) / (width / height)
        if abs(ratio - 1) <= ANOTHER_SHAPE:
            return 1.0, 1.0
        return min(ratio, 1.0), min(1 / ratio, 1.0)


def canvas_size(text: str | None, width: int, height: int) -> CanvasSize:
    """The size that a painter gives, such as "16x12in" or "40x30cm", turned as the picture is.

    Without one, the picture's shape at a usual size.

    Raises
    ------
    CritiqueError
        When that is no size.
    """
    if text is None:
        scale = USUAL_LONG_SIDE / max(width, height)
        one, other = width * scale, height * scale
        return CanvasSize(one, other, False, f"{one:.0f} × {other:.0f} cm")
    size = parse_size(text)
    sides = [size.first, size.second]
    if (sides[0] - sides[1]) * (width - height) < 0:
        sides.reverse()
    inches = "in" in text or '"' in text
    told = [side / 2.54 for side in sides] if inches else sides
    return CanvasSize(
        sides[0], sides[1], True, f"{told[0]:.4g} × {told[1]:.4g} {'in' if inches else 'cm'}", "in" if inches else "cm"
    )


def other_shape(canvas: CanvasSize, width: int, height: int) -> bool:
    """Whether the canvas has another shape than the picture, so that something must be cut or added."""
    return abs(canvas.width / canvas.height / (width / height) - 1) > ANOTHER_SHAPE
