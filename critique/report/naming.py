"""What the folder of each review is called."""

from collections import Counter
from collections.abc import Sequence
from pathlib import Path

LONGEST_NAME = 120  # characters: file systems take 255 bytes, and a character may need four


def folder_names(pictures: Sequence[Path]) -> list[str]:
    """A folder name for each picture: its stem, or its whole name where two stems are the same.

    Characters that cannot be printed become ``_``; a name that stands for a folder itself (``.``) gets a safe one.
    """
    stems = Counter(safe_name(picture.stem) for picture in pictures)
    names: list[str] = []
    for picture in pictures:
        name = safe_name(picture.stem)
        if stems[name] > 1:
            name = safe_name(picture.name)
        number, unique = 2, name
        while unique in names:
            unique, number = f"{name} ({number})", number + 1
        names.append(unique)
    return names


def safe_name(name: str) -> str:
    """A name that any file system takes and any page can show; what cannot be printed becomes ``_``."""
    printable = "".join(letter if letter.isprintable() and letter not in "/\\" else "_" for letter in name)
    printable = printable[:LONGEST_NAME].strip()
    return printable if printable.strip(".") else "picture"
