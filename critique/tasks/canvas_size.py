"""How large the canvas is, as a painter writes it."""

import re
from dataclasses import dataclass

from critique.errors import CritiqueError

CM_IN_AN_INCH = 2.54
USUAL_LONG_SIDE = 40.0  # cm, where nobody said: a panel that is carried outdoors; common practice, no source
SMALLEST, LARGEST = 5.0, 500.0  # cm of a side: less is a stamp, more is a wall
ANOTHER_SHAPE = 0.03  # of the ratio of the sides, beyond which the canvas has another shape than the picture
_WRITTEN = re.compile(
    r"^\s*(?P<one>\d+(?:[.,]\d+)?)\s*(?P<first>cm|mm|in|\"|″)?\s*[x×*]\s*(?P<other>\d+(?:[.,]\d+)?)\s*(?P<unit>cm|mm|in|\"|″)?\s*$",
    re.IGNORECASE,
)


@dataclass(frozen=True, slots=True)
class CanvasSize:
    """Width and height in cm; ``given`` is whether the painter said so, ``written`` how it is told."""

    width: float
    height: float
    given: bool
    written: str

    @property
    def area(self) -> float:
        """In cm²."""
        return self.width * self.height


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
    found = _WRITTEN.match(text)
    if found is None:
        raise CritiqueError(f"{text!r} is no size of a canvas: write such as 40x30cm or 16x12in")
    unit = (found["unit"] or found["first"] or "cm").lower()
    factor = {"cm": 1.0, "mm": 0.1}.get(unit, CM_IN_AN_INCH)
    sides = [float(found[name].replace(",", ".")) for name in ("one", "other")]
    in_cm = [side * factor for side in sides]
    if min(in_cm) < SMALLEST or max(in_cm) > LARGEST:
        raise CritiqueError(f"{text!r} is no size of a canvas: its sides are to lie between 5 and 500 cm")
    if (in_cm[0] - in_cm[1]) * (width - height) < 0:
        in_cm.reverse()
        sides.reverse()
    told = {"cm": "cm", "mm": "mm"}.get(unit, "in")
    return CanvasSize(in_cm[0], in_cm[1], True, f"{sides[0]:g} × {sides[1]:g} {told}")


def other_shape(canvas: CanvasSize, width: int, height: int) -> bool:
    """Whether the canvas has another shape than the picture, so that something must be cut or added."""
    return abs(canvas.width / canvas.height / (width / height) - 1) > ANOTHER_SHAPE
