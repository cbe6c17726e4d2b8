"""What a picture and the folder of its review are called."""

import re
from collections.abc import Iterable

FORBIDDEN = '/\\:*?"<>|'  # on Windows and on most sticks and cards [Microsoft, Naming Files, Paths, and Namespaces]
# Names that stand for devices, with any suffix. [The same]
DEVICES = frozenset(["con", "prn", "aux", "nul", *(f"{port}{n}" for port in ("com", "lpt") for n in range(10))])
LONGEST_NAME = 120  # characters: file systems take 255 bytes, and a character may need four


class TakenNames:
    """Names that are in use. Those that differ in capitals only are one, as they are to many file systems."""

    def __init__(self, names: Iterable[str] = ()) -> None:
        self._taken = {name.casefold() for name in names}
        self._numbers: dict[str, int] = {}  # the next to try for a name, so that thousands of one name stay quick

    def __contains__(self, name: str) -> bool:
        return name.casefold() in self._taken

    def free(self, wanted: str) -> str:
        """Take ``wanted``, or where it is in use ``wanted (2)``, ``wanted (3)`` and so on, the first that is free."""
        name, number = wanted, self._numbers.get(wanted.casefold(), 2)
        while name in self:
            name, number = f"{wanted} ({number})", number + 1
        self._numbers[wanted.casefold()] = number
        self._taken.add(name.casefold())
        return name


def title_in(stem: str) -> str:
    """A file's name as a title, such as "lake road 2" for ``lake_road_2``."""
    return re.sub("[_ ]+", " ", stem).strip() or stem or "untitled"


def safe_name(name: str) -> str:
    """A name that any file system takes and any page can show; what cannot be printed or written becomes ``_``."""
    printable = "".join(letter if letter.isprintable() and letter not in FORBIDDEN else "_" for letter in name)
    printable = printable[:LONGEST_NAME].strip().rstrip(".") or "picture"
    return f"{printable}_" if printable.partition(".")[0].strip().lower() in DEVICES else printable
