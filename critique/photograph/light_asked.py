"""What a person asks to be done about the light of a photograph, and how that is remembered beside the result."""

import json
import math
import os
from dataclasses import dataclass
from numbers import Real
from pathlib import Path
from typing import Any, Literal

from critique.errors import CritiqueError, OutputError, WrongUsage
from critique.photograph.balance import SMALLEST
from critique.photograph.corners import Corners, checked_corners
from critique.publish import replace_file
from critique.text_file import TextFault, json_of, read_text

Spot = tuple[float, float]
Find = Literal["find"]

FILE = "light.json"  # beside the results
LIGHTEST_CARD, DARKEST_CARD = 10.0, 1.0  # value, L*/10


@dataclass(frozen=True, slots=True)
class LightAsked:
    """By what the light is to be put right; places are fractions of the photograph seen upright.

    ``grey`` is a spot that is grey or white, ``card`` a spot on a card or its four corners, ``card_value`` the card's
    value (L*/10) where it is known, ``chart`` the corners of a 24-patch chart or "find"; at most one of the three.
    ``even`` says whether uneven light is evened by the wall around the canvas; unless told otherwise it is where that
    is one even wall, and nothing is said of it elsewhere.
    """

    grey: Spot | None = None
    card: Spot | Corners | None = None
    card_value: float | None = None
    chart: Corners | Find | None = None
    even: bool | None = None

    def __post_init__(self) -> None:
        if sum(one is not None for one in (self.grey, self.card, self.chart)) > 1:
            raise WrongUsage("a grey spot, a card and a chart can't all be believed: give one of them")
        for what, place, most in (("grey spot", self.grey, 2), ("card", self.card, 4)):
            if place is not None and not _is_spot(place) and (most == 2 or not _is_several(place, most)):
                other = ", or its four corners" if most == 4 else ""
                raise WrongUsage(f"the {what} is given by two fractions of the photograph, such as 0.9 and 0.8{other}")
        if self.card_value is not None and self.card is None:
            raise WrongUsage("a card's value needs the card: give its corners, or a spot on it")
        if self.card_value is not None and not DARKEST_CARD <= self.card_value <= LIGHTEST_CARD:
            raise WrongUsage(f"the card's value {self.card_value:g} is no card's: white is near 9.5, grey is near 5")

    @property
    def referenced(self) -> bool:
        """Whether something neutral was named."""
        return self.grey is not None or self.card is not None or self.chart is not None

    def as_dict(self) -> dict[str, Any]:
        """What is kept of it: no more than was asked."""
        kept = {name: getattr(self, name) for name in ("grey", "card", "card_value", "chart", "even")}
        return {name: value for name, value in kept.items() if value is not None}


NOTHING_ASKED = LightAsked()


def parse_light(
    *,
    grey: str | None = None,
    card: str | None = None,
    card_value: float | None = None,
    chart: str | None = None,
    even: bool | None = None,
) -> LightAsked:
    """What was written for it: spots as ``x,y``, corners as four of them, the chart's also as ``find``."""
    return LightAsked(
        grey=None if grey is None else _spot(grey, "the grey spot"),
        card=None if card is None else _spot_or_corners(card),
        card_value=card_value,
        chart=None if chart is None else "find" if chart.strip().lower() == "find" else _corners(chart, "the chart"),
        even=even,
    )


def remember_light(folder: Path, name: str, asked: LightAsked) -> None:
    """Keep what was asked for a photograph, so that the next run does it too."""
    kept = _read(folder)
    kept[name] = asked.as_dict()
    _write(folder, kept, "kept")


def remembered_light(folder: Path, name: str) -> LightAsked:
    """What was asked for a photograph of that name on an earlier run; nothing where nothing was."""
    kept = _read(folder).get(name)
    if kept is None:
        return NOTHING_ASKED
    try:
        grey, card, chart = kept.get("grey"), kept.get("card"), kept.get("chart")
        return LightAsked(
            grey=None if grey is None else _place(grey),
            card=None if card is None else _place(card) if len(card) == 2 else _four(card, "the card"),
            card_value=None if kept.get("card_value") is None else float(kept["card_value"]),
            chart=None if chart is None else "find" if chart == "find" else _four(chart, "the chart"),
            even=None if kept.get("even") is None else bool(kept["even"]),
        )
    except (TypeError, ValueError, AttributeError):  # of a file that was changed by hand
        raise CritiqueError(f"{folder / FILE}: can't be read; delete it, and name the grey again") from None


def forget_light(folder: Path, name: str) -> None:
    """Leave the colours as they were photographed again."""
    kept = _read(folder)
    if kept.pop(name, None) is not None:
        _write(folder, kept, "forgotten")


def _is_spot(given: Any) -> bool:
    """Whether it is two numbers; whether they lie in the photograph is asked where that is known."""
    return _is_several(given, 2) and all(isinstance(one, Real) for one in given)


def _is_several(given: Any, number: int) -> bool:
    return hasattr(given, "__len__") and len(given) == number


def _spot(text: str, what: str) -> Spot:
    try:
        x, y = _place(text.split(","))
    except (TypeError, ValueError):
        raise WrongUsage(
            f"{what} “{text}” can't be read: give two fractions of the photograph, such as 0.9,0.8"
        ) from None
    if not (0 <= x <= 1 and 0 <= y <= 1):
        raise WrongUsage(f"{what} at {x:g},{y:g} lies outside the photograph: give fractions from 0 to 1")
    return x, y


def _place(given: Any) -> Spot:
    x, y = (float(number) for number in given)
    if not (math.isfinite(x) and math.isfinite(y)):
        raise ValueError
    return x, y


def _spot_or_corners(text: str) -> Spot | Corners:
    return _spot(text, "the card") if len(text.replace(";", " ").split()) == 1 else _corners(text, "the card")


def _corners(text: str, what: str) -> Corners:
    try:
        points = [_place(part.split(",")) for part in text.replace(";", " ").split()]
        if len(points) != 4:
            raise ValueError
    except (TypeError, ValueError):
        more = ", or say find" if what == "the chart" else ", or one spot on it"
        raise WrongUsage(
            f"{what} “{text}” can't be read: give four corners clockwise, such as 0.8,0.8 0.9,0.8 0.9,0.9 0.8,0.9{more}"
        ) from None
    try:
        return _four(points, what)
    except CritiqueError as error:
        raise WrongUsage(error.what) from None


def _four(points: Any, what: str) -> Corners:
    return checked_corners(points, of=what, least_area=SMALLEST)


def _read(folder: Path) -> dict[str, Any]:
    if not os.path.lexists(folder / FILE):
        return {}
    try:
        kept = json_of(read_text(folder / FILE))
    except TextFault:
        raise CritiqueError(f"{folder / FILE}: can't be read; delete it, and name the grey again") from None
    return kept if isinstance(kept, dict) else {}


def _write(folder: Path, kept: dict[str, Any], what: str) -> None:
    try:
        folder.mkdir(parents=True, exist_ok=True)
        replace_file(folder / FILE, (json.dumps(kept, indent=1, sort_keys=True) + "\n").encode("ascii"))
    except OSError as error:
        raise OutputError(f"{folder / FILE}: the light can't be {what} ({error.strerror})") from error
