"""Text of files, folders and labels as it may be shown: nothing in it moves a cursor or turns a line about."""

import re
from typing import Any

# Controls, marks that turn the direction of writing, line and paragraph separators, and halves of letters. Joiners
# stay: names in Persian and Hindi are written with them. [Unicode categories Cc, Cs, Zl, Zp; bidi controls of UAX 9]
_UNSHOWN = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f\u061c\u200e\u200f\u2028-\u202e\u2066-\u2069\ud800-\udfff\ufeff]")


def shown(text: str) -> str:
    """``text`` with what cannot be shown escaped, as JSON does it; line breaks and tabs stay."""
    if text.isprintable():
        return text
    return _UNSHOWN.sub(lambda found: f"\\u{ord(found.group()):04x}", text)


def shown_line(text: str) -> str:
    """The same on one line."""
    return " ".join(shown(text).split())


def may_be_shown(text: str) -> bool:
    """Whether a name is on one line and all of it can be shown."""
    return text.isprintable() or not (_UNSHOWN.search(text) or "\n" in text or "\t" in text)


def shown_value(value: Any) -> Any:
    """Any value of a page: text as ``shown``, markup too, all else as it is."""
    if not isinstance(value, str) or value.isprintable():
        return value
    return type(value)(shown(value))
