"""Which names a plate can be lettered with: by the faces that come along, by one of the machine, or not at all."""

import unicodedata
from collections.abc import Sequence
from functools import cache, lru_cache

FACES = ("STIXGeneral", "DejaVu Sans")  # come with matplotlib: a book face, and one with more scripts
# Letters that change their shape by their neighbours, or run from the right: matplotlib sets them one by one.
_SHAPED = frozenset(("Mn", "Mc"))
_FROM_THE_RIGHT = frozenset(("R", "AL", "AN"))


def faces_for(text: str) -> tuple[str, ...]:
    """The faces to letter ``text`` with: our own, and one of this machine for letters that they lack."""
    further = _face_of_the_machine(_missing(text))
    return (*FACES, further) if further else FACES


def can_letter(text: str) -> bool:
    """Whether a plate can show all of ``text`` as it is written."""
    composed = unicodedata.normalize("NFC", text)
    if any(
        unicodedata.category(letter) in _SHAPED or unicodedata.bidirectional(letter) in _FROM_THE_RIGHT
        for letter in composed
    ):
        return False
    missing = _missing(composed)
    return not missing or _face_of_the_machine(missing) is not None


def numbers_for(names: Sequence[str]) -> dict[str, str]:
    """For each name that can't be lettered what stands for it on the plate: its number among them all."""
    return {name: f"no. {number}" for number, name in enumerate(names, start=1) if not can_letter(name)}


def _missing(text: str) -> frozenset[str]:
    if text.isascii():
        return frozenset()
    return frozenset(letter for letter in text if ord(letter) not in _own_letters() and not letter.isspace())


@cache
def _own_letters() -> frozenset[int]:
    from matplotlib.font_manager import findfont

    return frozenset().union(*(_letters_of(findfont(face)) for face in FACES))


def _letters_of(file: str) -> frozenset[int]:
    from matplotlib.ft2font import FT2Font

    try:
        return frozenset(FT2Font(file).get_charmap())
    except (OSError, RuntimeError):  # a face of the machine that is damaged or of a kind that isn't read
        return frozenset()


@lru_cache(maxsize=64)
def _face_of_the_machine(missing: frozenset[str]) -> str | None:
    """A face that is installed here and has all of these letters."""
    if not missing:
        return None
    from matplotlib.font_manager import fontManager

    wanted = {ord(letter) for letter in missing}
    for entry in sorted(fontManager.ttflist, key=lambda entry: (entry.style != "normal", entry.name)):
        if wanted <= _letters_of(entry.fname):
            return str(entry.name)
    return None
