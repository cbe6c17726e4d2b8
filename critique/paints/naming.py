"""Which paint a person means by a name: forgiving of spelling, case, order and Colour Index names."""

import difflib
import re
import unicodedata
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Protocol, TypeVar

from critique.errors import PaintError

Found = TypeVar("Found")

CLOSE_SPELLING = 0.84  # difflib ratio from which a name is taken as a slip of the keyboard; two letters in a dozen
HINT_SPELLING = 0.6  # ratio from which a name is worth offering: below it names share letters, not a meaning
HINTS = 3
LONGEST_NAME = 200  # characters of a paint's name; likeness is told in the square of them
HUE = "hue"  # on a tube: made of other pigments than the one it is named after; from memory of ASTM D5098
FILLERS = frozenset({"paint", "acrylic", "colour", "color", "the", "of", "pigment"})
SPELLINGS = {
    "thalo": "phthalo",
    "phtalo": "phthalo",
    "pthalo": "phthalo",
    "phthalocyanine": "phthalo",
    "ocher": "ochre",
}
# Names of the trade for colours that the program has no paint of, with what a painter would take in their place, by
# hue; common practice, no source.
STAND_INS = {
    "crimson": ("alizarin crimson hue", "quinacridone red", "quinacridone magenta"),
    "carmine": ("quinacridone red", "quinacridone magenta", "pyrrole red"),
    "madder": ("alizarin crimson hue", "quinacridone red", "quinacridone magenta"),
    "rose": ("quinacridone red", "quinacridone magenta"),
    "vermilion": ("cadmium red light", "pyrrole red", "pyrrole orange"),
    "scarlet": ("naphthol red light", "cadmium red light", "pyrrole red"),
    "emerald": ("phthalo green (yellow shade)", "cobalt teal", "viridian"),
    "indigo": ("indanthrone blue", "payne's grey", "phthalo blue (red shade)"),
    "manganese": ("phthalo blue (green shade)", "cerulean blue", "cobalt turquoise"),
    "gamboge": ("indian yellow hue", "nickel azo yellow", "diarylide yellow"),
    "aureolin": ("hansa yellow opaque", "lemon yellow", "nickel azo yellow"),
    "sepia": ("raw umber", "burnt umber"),
    "vandyke": ("burnt umber", "raw umber", "bone black"),
}

# What tubes called a "hue" hold in place of the pigment that they are named after; common practice, no source.
HUES_OF = {
    "cadmium red": ("pyrrole red", "naphthol red light"),
    "cadmium orange": ("pyrrole orange",),
    "cadmium yellow": ("hansa yellow opaque", "diarylide yellow"),
    "vermilion": ("pyrrole red", "pyrrole orange"),
    "cobalt blue": ("ultramarine blue", "phthalo blue (red shade)"),
    "cerulean": ("phthalo blue (green shade)",),
    "manganese blue": ("phthalo blue (green shade)",),
    "prussian blue": ("phthalo blue (green shade)", "indanthrone blue"),
    "viridian": ("phthalo green (blue shade)",),
}

# Pigments that the program has no figures of, with the paints of like chemistry or like colour that it has: a near
# number of the Colour Index is no near colour. From memory of the Colour Index.
PIGMENT_STAND_INS = {
    "pw1": ("titanium white",),  # lead white, which is no acrylic
    "pbk6": ("bone black", "mars black"),
    "pbk7": ("bone black", "mars black"),  # carbon
    "py37": ("cadmium yellow medium", "cadmium yellow light"),  # cadmium sulfide
    "py40": ("hansa yellow opaque", "lemon yellow"),  # cobalt nitrite, aureolin
    "py65": ("diarylide yellow", "hansa yellow opaque"),  # arylides
    "py73": ("hansa yellow opaque", "lemon yellow"),
    "py151": ("hansa yellow opaque", "lemon yellow"),  # benzimidazolones
    "py154": ("hansa yellow opaque", "lemon yellow"),
    "po62": ("pyrrole orange", "diarylide yellow"),
    "po48": ("quinacridone gold hue", "quinacridone burnt orange"),
    "po49": ("quinacridone gold hue", "quinacridone burnt orange"),
    "pr102": ("red oxide", "venetian red", "indian red"),  # natural iron oxide
    "pr112": ("naphthol red light", "pyrrole red"),  # naphthols
    "pr170": ("naphthol red light", "pyrrole red"),
    "pr188": ("naphthol red light", "pyrrole red"),
    "pr177": ("alizarin crimson hue", "quinacridone red"),  # anthraquinone
    "pr255": ("pyrrole red",),  # pyrroles
    "pr264": ("pyrrole red", "alizarin crimson hue"),
    "pr202": ("quinacridone magenta", "quinacridone red"),  # quinacridones
    "pr207": ("quinacridone red",),
    "pv14": ("quinacridone magenta", "dioxazine purple"),  # cobalt phosphate
    "pv15": ("dioxazine purple", "ultramarine blue"),  # ultramarine violet
    "pv16": ("dioxazine purple", "quinacridone magenta"),  # manganese violet
    "pb33": ("phthalo blue (green shade)", "cerulean blue", "cobalt turquoise"),  # barium manganate
    "pb35": ("cerulean blue",),  # cobalt stannate, the other cerulean
    "pb74": ("cobalt blue",),  # cobalt zinc silicate
    "pg19": ("chromium oxide green", "viridian"),  # cobalt zinc oxide
    "pg26": ("chromium oxide green", "viridian"),  # cobalt chromite
}

# Such as "PB 15:3": a pigment, its hue, its number and its crystal form. Each part counts: PB15:3 is not PB15.
COLOUR_INDEX = re.compile(r"(pbr|pbk|p[a-z])\s*(\d+)(?:\s*:\s*(\d+))?")


class Named(Protocol):
    """Anything with a name, a Colour Index name and other names."""

    @property
    def name(self) -> str: ...
    @property
    def colour_index(self) -> str: ...
    @property
    def also(self) -> tuple[str, ...]: ...


# Words for a hue, and the letters with which the Colour Index names its pigments. [Colour Index, generic names]
HUES = {
    "yellow": "py",
    "orange": "po",
    "red": "pr",
    "violet": "pv",
    "purple": "pv",
    "blue": "pb",
    "green": "pg",
    "brown": "pbr",
    "black": "pbk",
    "white": "pw",
}


@dataclass(frozen=True, slots=True)
class Match:
    """The candidate that a name was taken for, and whether that wants saying."""

    index: int
    guessed: bool  # by spelling, or one of several of a pigment or a name: never leave it unsaid


def which(query: str, candidates: Sequence[Named]) -> int:
    """Index of the candidate that a person means; see ``match``."""
    return match(query, candidates).index


def match(query: str, candidates: Sequence[Named]) -> Match:
    """The candidate that a person means, by name, Colour Index name, other name, or a slip of the keyboard.

    A Colour Index name stands for that pigment alone, and is never taken for a neighbour.

    Raises
    ------
    PaintError
        When none fits or more than one does; the message gives the nearest names.
    """
    if len(query) > LONGEST_NAME:
        raise PaintError(f"no paint has a name of {len(query):,} characters ({query[:20]!r} …)")
    words = _words(query)
    if not words:
        raise PaintError("a paint without a name was asked for: give a pigment or Colour Index name, such as PG7")
    pigment = COLOUR_INDEX.fullmatch(query.strip().lower())
    if pigment:
        forms = [COLOUR_INDEX.fullmatch(candidate.colour_index.lower()) for candidate in candidates]
        kin = [i for i, own in enumerate(forms) if own is not None and own.groups()[:2] == pigment.groups()[:2]]
        exact = [i for i in kin if (own := forms[i]) is not None and own[3] == pigment[3]]
        if not exact and pigment[3] is None:  # PB15 alone names every form of it
            exact = kin
        # Several paints share a pigment: where the trade means one of them by it, that one also goes by the pigment.
        usual = [i for i in exact if any(pigment[0] == name.lower() for name in candidates[i].also)]
        if len(exact) == 1 or len(usual) == 1:
            return Match((usual or exact)[0], len(exact) > 1)
        if exact:
            raise PaintError(f"{query!r} could be {_either([candidates[i].name for i in exact])}: say which")
        raise _unknown(query, candidates)
    for fits in (_same_name, _same_words, _also_called, _holds_every_word):
        found = [index for index, candidate in enumerate(candidates) if fits(words, candidate)]
        if len(found) == 1:
            # "Cadmium yellow" goes for the medium one, and the light one is a cadmium yellow too.
            shared = fits is _also_called and any(
                _holds_every_word(words, one) for one in _others(candidates, found[0])
            )
            return Match(found[0], shared)
        if found:
            raise PaintError(f"{query!r} could be {_either([candidates[i].name for i in found])}: say which")
    if HUE in words:
        raise _a_hue(query, words, candidates)
    meant = _misspelt(words, candidates)
    if len(meant) == 1:
        return Match(meant.pop(), True)
    raise _unknown(query, candidates)


def each_found(queries: Sequence[str], find: Callable[[str], Found]) -> list[Found]:
    """What ``find`` makes of every name.

    Raises
    ------
    PaintError
        When it fails at any; one line that gives every one of them.
    """
    found: list[Found] = []
    wrong: list[PaintError] = []
    for query in queries:
        try:
            found.append(find(query))
        except PaintError as error:
            wrong.append(error)
    if wrong:
        raise PaintError("; ".join(map(str, wrong)), mend=next((error.mend for error in wrong if error.mend), None))
    return found


def _a_hue(query: str, words: list[str], candidates: Sequence[Named]) -> PaintError:
    """Of a tube that is named after a pigment which it doesn't hold: its colour may be alike, its cautions aren't."""
    held = {candidate.name for candidate in candidates}
    near = [one for name, kin in HUES_OF.items() if set(name.split()) <= set(words) for one in kin if one in held]
    instead = f", or take {_either(near)}" if near else ""
    return PaintError(f"{query!r} holds other pigments than its name says: give those on its label{instead}")


def _unknown(query: str, candidates: Sequence[Named]) -> PaintError:
    hints = nearest_names(query, candidates)
    if not hints:
        return PaintError(f"no paint is called {query!r}", mend="paint_names")
    return PaintError(f"no paint is called {query!r}: nearest {'is' if len(hints) == 1 else 'are'} {_either(hints)}")


def nearest_names(query: str, candidates: Sequence[Named]) -> list[str]:
    """Up to three names to take for the one asked for, nearest first: by hue where the trade knows it, or by spelling.

    Empty when no name is near.
    """
    wanted = " ".join(_words(query))
    held = {candidate.name for candidate in candidates}
    taken = dict.fromkeys(name for word in wanted.split() for name in STAND_INS.get(word, ()))
    near = [name for name in taken if name in held]
    index = COLOUR_INDEX.fullmatch(query.strip().lower())
    if index:
        kin = PIGMENT_STAND_INS.get(f"{index[1]}{index[2]}", ())
        near = [name for name in kin if name in held] or _of_one_hue(index[1], int(index[2]), candidates) or near
    if near:
        return near[:HINTS]

    def likeness(candidate: Named) -> float:
        spelt = [_joined(name) for name in (candidate.name, candidate.colour_index, *candidate.also) if name]
        spelt += _words(candidate.name)
        whole = max(difflib.SequenceMatcher(None, wanted, name).ratio() for name in spelt)
        shared = len(set(wanted.split()) & set(_words(candidate.name)))
        return whole + 0.3 * shared

    # "Permanent green light" asks for a green: a red whose name is spelt more alike is none.
    hue = next((word for word in reversed(wanted.split()) if word in HUES), None)
    of_hue = [candidate for candidate in candidates if hue is not None and _is_of(hue, candidate)]
    if of_hue:
        return [candidate.name for candidate in sorted(of_hue, key=likeness, reverse=True)][:HINTS]
    ranked = sorted(candidates, key=likeness, reverse=True)
    return [candidate.name for candidate in ranked if likeness(candidate) >= HINT_SPELLING][:HINTS]


def _is_of(hue: str, candidate: Named) -> bool:
    """Whether a paint goes by a hue: in its name, or by its Colour Index name."""
    own = COLOUR_INDEX.fullmatch(candidate.colour_index.lower())
    return hue in _words(candidate.name) or (own is not None and own[1] == HUES[hue])


def _of_one_hue(letters: str, number: int, candidates: Sequence[Named]) -> list[str]:
    """Names of the paints whose Colour Index names begin alike, such as every PR, nearest number first."""
    found = []
    for candidate in candidates:
        own = COLOUR_INDEX.fullmatch(candidate.colour_index.lower())
        if own and own[1] == letters:
            found.append((abs(int(own[2]) - number), candidate.name))
    return [name for _, name in sorted(found)]


def name_key(text: str) -> str:
    """By which names are the same: however their letters were typed, in capitals or small. [Unicode 3.13, 5.18]"""
    return unicodedata.normalize("NFC", unicodedata.normalize("NFC", text).casefold()).strip()


def _words(text: str) -> list[str]:
    """The words of a name in any script; of a name that is all signs, those."""
    folded = name_key(text.replace("'", "").replace("’", ""))
    letters = "".join(sign if unicodedata.category(sign)[0] in "LNM" else " " for sign in folded)
    found = letters.split() or folded.split()
    return [SPELLINGS.get(word, word) for word in found if word not in FILLERS]


def _joined(text: str) -> str:
    return " ".join(_words(text))


def _same_name(words: list[str], candidate: Named) -> bool:
    return words == _words(candidate.name)


def _same_words(words: list[str], candidate: Named) -> bool:
    return sorted(words) == sorted(_words(candidate.name))


def _also_called(words: list[str], candidate: Named) -> bool:
    return any("".join(words) == "".join(_words(name)) for name in candidate.also)


def _holds_every_word(words: list[str], candidate: Named) -> bool:
    """Every word begins a word of the name, in any order; a word may also be the Colour Index name."""
    held = _words(candidate.name)
    return all(word == candidate.colour_index.lower() or any(name.startswith(word) for name in held) for word in words)


def _others(candidates: Sequence[Named], index: int) -> Sequence[Named]:
    return [*candidates[:index], *candidates[index + 1 :]]


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
