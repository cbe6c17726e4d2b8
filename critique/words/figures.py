"""How numbers read on paper."""

import math
import re


def percent(share: float) -> str:
    """A share 0–1 as a percentage: one decimal below ten per cent, where it matters."""
    if not math.isfinite(share):
        return "none"
    if share == 0:
        return "0 %"
    if share < 0.0005:
        return "under 0.1 %"
    number = f"{share * 100:.1f}" if share < 0.0995 else f"{share * 100:.0f}"
    return f"{number} %"


def number(value: float, decimals: int = 1, unit: str = "") -> str:
    """A number with its unit; 'none' when there is none to give."""
    if not math.isfinite(value):
        return "none"
    text = f"{value:.{decimals}f}".replace("-", "−")
    if float(value) != 0 and float(f"{value:.{decimals}f}") == 0:
        text = text.lstrip("−")
    return f"{text}{unit}"


def typeset(text: str) -> str:
    """Text as a printer sets it: a number keeps its per cent sign or its unit on its line, apostrophes are curved."""
    return re.sub(r"(?<=\w)'(?=\w)", "’", re.sub(r"(?<=\d) (?=%|px\b|K\b|\(\d)|(?<=\d)(?=%)", "\u00a0", text))
