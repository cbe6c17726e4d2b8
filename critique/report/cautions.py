"""What to mind when handling the paints that a text names."""

import re
from collections.abc import Iterable

from critique.paints.catalogue import Facts, known_paints

SAID = "don't sand"  # a recipe that brings its own caution needs no second one


def cautions_for(texts: Iterable[str]) -> tuple[str, ...]:
    """One sentence for every paint with a listed hazard that ``texts`` name and do not caution about themselves."""
    found: dict[str, str] = {}
    for text in texts:
        if SAID in text:
            continue
        for facts in known_paints():
            if facts.hazard and _names(text, facts):
                found[facts.name] = (
                    f"{facts.name[:1].upper()}{facts.name[1:]} contains {facts.hazard}: don't sand, spray or eat near "
                    "it; read the label and safety data sheet; follow local rules."
                )
    return tuple(found.values())


def _names(text: str, facts: Facts) -> bool:
    """Whether a text names a paint. Earths share a Colour Index name: it counts only where none of them is named."""
    if _holds(text, facts.name):
        return True
    sharing = [other for other in known_paints() if other.colour_index == facts.colour_index]
    return _holds(text, facts.colour_index) and not any(_holds(text, other.name) for other in sharing)


def _holds(text: str, name: str) -> bool:
    return re.search(rf"\b{re.escape(name)}(?!\w)", text, re.IGNORECASE) is not None
