"""What to mind when handling paints: each substance once, worst first."""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cache, lru_cache
from typing import Protocol

from critique.perception.reference import read_table
from critique.words.lists import listed

UNLISTED = 1.5  # rank of what a painter's own label warns of and the table doesn't know: taken seriously, after lead
# What parts the substances of a label, but not within the brackets of chromium(II, III).
BETWEEN = re.compile(r"(?:[;,/&+\n]|\band\b)(?![^()]*\))", re.IGNORECASE)
NOTHING = frozenset({"none", "nothing", "no"})  # how a painter writes that the label was read and warns of nothing
# Of a painter's own tube of which no label was told; its rank is after all that is known.
UNREAD, LAST = "not told", 10.0
# Where no better words are known.
USUAL_WORDS = "don't sand, spray or eat near {it}; read the label and safety data sheet; follow local rules"


class Labelled(Protocol):
    """A paint, or the facts of one: whatever has a name and says what its label warns of."""

    @property
    def name(self) -> str: ...
    @property
    def hazards(self) -> tuple[str, ...]: ...
    @property
    def label_unread(self) -> bool: ...


@dataclass(frozen=True, slots=True)
class Caution:
    """One substance that labels warn of, and the paints that contain it."""

    substance: str
    paints: tuple[str, ...]  # in the order they were given
    rank: float  # 1 is worst
    text: str  # one sentence


def substances(hazard: str) -> tuple[str, ...]:
    """What a label warns of, each once, out of "cadmium;cobalt", "lead, chromium" or "Lead and nickel"."""
    return tuple(dict.fromkeys(name for name in _told(hazard) if name not in NOTHING))


def label_is_told(hazard: str) -> bool:
    """Whether anything is said of a label, be it that it warns of nothing."""
    return bool(_told(hazard))


@lru_cache(maxsize=128)
def _told(hazard: str) -> tuple[str, ...]:
    """The words between the commas, in the table's spelling where it knows them."""
    spelt = {_bare(name): name for name in (*_table(), *NOTHING)}
    words = [word.strip() for word in BETWEEN.split(hazard)]
    return tuple(spelt.get(_bare(word), word) for word in words if any(letter.isalpha() for letter in word))


def _bare(name: str) -> str:
    return "".join(name.lower().split())


@cache
def _table() -> dict[str, tuple[float, str]]:
    return {row["substance"]: (float(row["rank"]), row["words"]) for row in read_table("paint_hazards.csv")}


def cautions_for(paints: Iterable[Labelled]) -> tuple[Caution, ...]:
    """One caution for every substance that labels of these paints warn of, worst first, and no paint twice.

    A painter's own paint of which no hazard was told is no harmless one: it comes last, and its label is to be read.
    """
    holders: dict[str, dict[str, None]] = {}
    unread: dict[str, None] = {}
    for paint in paints:
        if paint.label_unread:
            unread[paint.name] = None
        for substance in paint.hazards:
            holders.setdefault(substance, {})[paint.name] = None
    found = [_caution(substance, tuple(names)) for substance, names in holders.items()]
    known = sorted(found, key=lambda caution: (caution.rank, caution.substance))
    return (*known, *((_unread(tuple(unread)),) if unread else ()))


def in_one(cautions: Sequence[Caution]) -> str:
    """Several cautions in one sentence for a sheet that is read at the easel: each paint, each thing to mind once."""
    known = [one for one in cautions if one.substance != UNREAD]
    rest = [one.text for one in cautions if one.substance == UNREAD]
    if len(known) < 2:
        return " ".join([*(one.text for one in known), *rest])
    usual = USUAL_WORDS.split("; ")
    own = [words for one in known for words in _row(one.substance)[1].split("; ") if words not in usual]
    own = [words.format(it="them") for words in dict.fromkeys(own) if "so don't sand" not in words]  # said of all
    holding = ", ".join(f"{listed(one.paints)} ({one.substance})" for one in known)
    minded = [usual[0].format(it="them"), *own, *usual[1:]]
    return " ".join([f"Mind {holding}: {'; '.join(minded)}.", *rest])


def _unread(paints: tuple[str, ...]) -> Caution:
    named, its = listed(paints), "its" if len(paints) == 1 else "their"
    text = f"What {named} may hold isn't known here: read {its} label and safety data sheet; follow local rules."
    return Caution(UNREAD, paints, LAST, text)


def _caution(substance: str, paints: tuple[str, ...]) -> Caution:
    rank, words = _row(substance)
    contain, it = ("contains", "it") if len(paints) == 1 else ("contain", "them")
    named = listed(paints)
    text = f"{named[:1].upper()}{named[1:]} {contain} {substance}: {words.format(it=it)}."
    if substance.endswith(" dust"):  # the paint doesn't hold dust, it becomes dust
        text = f"{named[:1].upper()}{named[1:]} holds {substance.removesuffix(' dust')}: {words.format(it=it)}."
    return Caution(substance, paints, rank, text)


def _row(substance: str) -> tuple[float, str]:
    """Rank and words; "chromium" on a painter's own label is found as chromium(III).

    What only holds a name of the table, such as "lead carbonate", gets that one's words; which compound is the worse
    isn't known, so that it ranks no milder than the unknown.
    """
    table, asked = _table(), substance.lower()
    near = next((name for name in table if name.split("(")[0] == asked), substance)
    if near in table:
        return table[near]
    held = [table[name] for name in table if re.split(r"[ (]", name)[0] in re.findall(r"\w+", asked)]
    rank, words = min(held, default=(UNLISTED, USUAL_WORDS))
    return min(rank, UNLISTED), words
