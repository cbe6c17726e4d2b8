"""Which paint a person means by a name: forgiving of spelling, case, order and Colour Index names."""

import difflib
import re
from collections.abc import Sequence
from typing import Protocol

from critique.errors import PaintError

CLOSE_SPELLING = 0.84  # difflib ratio from which a name is taken as a slip of the keyboard; two letters in a dozen
HINT_SPELLING = 0.4  # ratio from which a name is worth offering
HINTS = 3
FILLERS = frozenset({"paint", "acrylic", "colour", "color", "hue", "the", "of", "pigment"})
SPELLINGS = {
    "thalo": "phthalo",
    "phtalo": "phthalo",
    "pthalo": "phthalo",
    "phthalocyanine": "phthalo",
    "ocher": "ochre",
}


class Named(Protocol):
    """Anything with a name, a Colour Index name and other names."""

    @property
    def name(self) -> str: ...
    @property
    def colour_index(self) -> str: ...
    @property
    def also(self) -> tuple[str, ...]: ...


def which(query: str, candidates: Sequence[Named]) -> int:
    """Index of the candidate that a person means.

    Raises
    ------
    PaintError
        When none fits or more than one does; the message gives the nearest names.
    """
    words = _words(query)
    if not words:
        raise PaintError("a paint without a name was asked for: give a pigment or Colour Index name, such as PG7")
    for fits in (_same_name, _same_words, _same_colour_index, _also_called, _holds_every_word):
        found = [index for index, candidate in enumerate(candidates) if fits(words, candidate)]
        if len(found) == 1:
            return found[0]
        if found:
            raise PaintError(f"{query!r} could be {_either([candidates[i].name for i in found])}: say which")
    meant = _misspelt(words, candidates)
    if len(meant) == 1:
        return meant.pop()
    raise PaintError(f"no paint is called {query!r}: nearest are {_either(nearest_names(query, candidates))}")


def nearest_names(query: str, candidates: Sequence[Named]) -> list[str]:
    """Up to three names that look most like the one asked for, nearest first."""
    wanted = " ".join(_words(query))

    def likeness(candidate: Named) -> float:
        spelt = [_joined(name) for name in (candidate.name, candidate.colour_index, *candidate.also) if name]
        whole = max(difflib.SequenceMatcher(None, wanted, name).ratio() for name in spelt)
        shared = len(set(wanted.split()) & set(_words(candidate.name)))
        return whole + 0.3 * shared

    ranked = sorted(candidates, key=likeness, reverse=True)
    close = [candidate.name for candidate in ranked if likeness(candidate) >= HINT_SPELLING]
    return (close or [candidate.name for candidate in ranked])[:HINTS]


def _words(text: str) -> list[str]:
    spaced = re.sub(r"[^a-z0-9]+", " ", text.lower())
    return [SPELLINGS.get(word, word) for word in spaced.split() if word not in FILLERS]


def _joined(text: str) -> str:
    return " ".join(_words(text))


def _same_name(words: list[str], candidate: Named) -> bool:
    return words == _words(candidate.name)


def _same_words(words: list[str], candidate: Named) -> bool:
    return sorted(words) == sorted(_words(candidate.name))


def _same_colour_index(words: list[str], candidate: Named) -> bool:
    return bool(candidate.colour_index) and "".join(words) == "".join(_words(candidate.colour_index))


def _also_called(words: list[str], candidate: Named) -> bool:
    return any("".join(words) == "".join(_words(name)) for name in candidate.also)


def _holds_every_word(words: list[str], candidate: Named) -> bool:
    """Every word begins a word of the name, in any order; a word may also be the Colour Index name."""
    held = [*_words(candidate.name), "".join(_words(candidate.colour_index))]
    return all(any(name.startswith(word) for name in held) for word in words)


def _misspelt(words: list[str], candidates: Sequence[Named]) -> set[int]:
    wanted = " ".join(words)
    best, found = CLOSE_SPELLING, set()
    for index, candidate in enumerate(candidates):
        for name in (candidate.name, *candidate.also):
            ratio = difflib.SequenceMatcher(None, wanted, _joined(name)).ratio()
            if ratio > best:
                best, found = ratio, {index}
            elif ratio == best and found:
                found.add(index)
    return found


def _either(names: Sequence[str]) -> str:
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} or {names[-1]}"
