"""The size of a picture as a price list has it, in one of the many ways in which painters write it."""

import re
import unicodedata

from critique.errors import CritiqueError
from critique.photograph.proportions import CENTIMETRES, Size, parse_size

_NUMBER = r"(\d+(?:\.\d+)?(?:\s+\d+/\d+)?|\d+/\d+)"
_UNIT = r"(centimet(?:re|er)s?|millimet(?:re|er)s?|cm|mm|inches|inch|in|zoll|m|\")?\.?"
_BETWEEN = r"(?:x|×|\*|by|mal)"
_SIZE = re.compile(
    rf"\s*{_NUMBER}\s*{_UNIT}\s*{_BETWEEN}\s*{_NUMBER}\s*{_UNIT}(?:\s*{_BETWEEN}\s*{_NUMBER}\s*{_UNIT})?\s*"
)
_WORDS = {"zoll": "in", '"': "in", "inch": "in", "inches": "in"}


def listed_size(text: str) -> Size:
    """A size such as ``40 × 30 cm``, ``40,5 x 30 cm``, ``16 1/2 x 12 in`` or ``40 x 30 x 2 cm``, its depth left off.

    Raises
    ------
    CritiqueError
        One line, when it can't be read or no canvas has it.
    """
    plain = re.sub(r"(?<=\d),(?=\d)", ".", re.sub("[″”“]|''", '"', text.strip().lower()))
    plain = re.sub(r"(?<=\d)(?=[¼-¾⅐-⅞])", " ", plain)
    found = _SIZE.fullmatch(unicodedata.normalize("NFKC", plain).replace("⁄", "/"))
    if found is None:
        raise CritiqueError(f"size “{text}” can't be read: give both sides and their unit, such as 40 x 30 cm")
    first, one, second, other, _, third = found.groups()
    units = {_WORDS.get(unit, unit) for unit in (one, other, third) if unit}
    if len(units) > 1:
        raise CritiqueError(f"size “{text}” has two units")
    unit = units.pop() if units else ""
    unit = unit if unit in CENTIMETRES else {"c": "cm", "m": "mm"}.get(unit[:1], "") if unit else ""
    try:
        return parse_size(f"{_number(first)}x{_number(second)}{unit}")
    except CritiqueError as error:
        told = str(error).split("” ", 1)[-1] if unit else "lacks its unit, such as cm or in"
        raise CritiqueError(f"size “{text}” {told}") from None


def _number(text: str) -> str:
    """Decimal, from one with a fraction behind it."""
    total = 0.0
    for part in text.split():
        above, _, below = part.partition("/")
        total += float(above) / (float(below) or float("inf")) if below else float(above)
    return f"{total:.6f}".rstrip("0").rstrip(".")
