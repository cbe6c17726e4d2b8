"""Which paints the painter owns: the default landscape box, or one read from a small TOML file.

name = "field box"
paints = ["PY74", "yellow ochre", "red oxide", "ultramarine", "phthalo green"]

[[own]]
name = "old green tube"
masstone = [24, -14, 10]      # L*a*b*, or "#283e2a"
tint = [66, -22, 14]
white_parts = 10              # of white to one of paint; 10 when left out
third = [53, -25, 15]         # one more tint, if there is one
third_white_parts = 3
hazard = "cobalt, nickel"     # the substances that the label warns of; "none" if it warns of none
measured_by = "weight"        # or "dabs": the parts of white were dabs of one size

[[own.mixed]]                 # a mixture that you made, by which the paint is corrected; as many as you like
parts = 3                     # of the paint
with = "white"
with_parts = 1
colour = [38, -20, 13]
"""

import math
import re
import textwrap
import tomllib
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np

from critique.errors import PaintError
from critique.paints.catalogue import (
    Facts,
    known_paints,
    measured_colours,
    paint_of,
    titanium_white,
)
from critique.paints.dabs import USUAL_WHITE_PARTS, Dab, Trial, paint_from_dabs
from critique.paints.naming import each_found, match, name_key, which
from critique.paints.paint import OPACITIES, USUAL_DENSITY, Paint
from critique.perception.cielab import srgb8_to_lab
from critique.text_file import TextFault, read_text, toml_of
from critique.words.printed import may_be_shown, shown_line

# A landscape set as teachers commonly give it (common practice, no source): a cool and a warm yellow, earths, reds, a
# magenta, a purple, two blues and one strong green. All are measured; the only hazard is white's dust.
DEFAULT_NAMES = (
    "hansa yellow opaque",
    "diarylide yellow",
    "yellow oxide",
    "burnt sienna",
    "red oxide",
    "quinacridone burnt orange",
    "pyrrole red",
    "quinacridone magenta",
    "dioxazine purple",
    "ultramarine blue",
    "phthalo blue (green shade)",
    "phthalo green (blue shade)",
)
FEWEST_PAINTS = 2  # beside white: one paint and white make a row of tints, not mixtures
MOST_PAINTS = 70  # triples grow with the cube: seventy make 55,000
KEYS = {"name", "paints", "white", "own"}
MIXED_KEYS = {"parts", "with", "with_parts", "colour"}
BY_WEIGHT, BY_DABS = "weight", "dabs"
OWN_KEYS = {
    "name", "masstone", "tint", "white_parts", "third", "third_white_parts",
    "pigment", "colour_index", "opacity", "hazard", "measured_by", "mixed",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Taken:
    """A name that was asked for, and the paint that it was taken for."""

    asked: str
    paint: str

    @property
    def text(self) -> str:
        """The same in a sentence."""
        return f"{self.asked!r} was taken for {self.paint}."


@dataclass(frozen=True, slots=True, eq=False)
class PaintBox:
    """The paints that the painter owns; white stands apart because every palette has it."""

    name: str
    paints: tuple[Paint, ...]
    white: Paint
    taken: tuple[Taken, ...] = ()  # names that were guessed, which whoever uses the box must say

    def __post_init__(self) -> None:
        if len(self.paints) < FEWEST_PAINTS:
            raise PaintError(
                f"the paint box {self.name!r} holds {('no paints', 'one paint')[len(self.paints)]} beside white: "
                f"it needs at least {FEWEST_PAINTS}"
            )
        if len(self.paints) > MOST_PAINTS:
            raise PaintError(f"the paint box {self.name!r} holds {len(self.paints)} paints: {MOST_PAINTS} is the most")
        names = [name_key(paint.name) for paint in (*self.paints, self.white)]
        twice = sorted({paint.name for paint in self.paints if names.count(name_key(paint.name)) > 1})
        if twice:
            raise PaintError(f"the paint box {self.name!r} names {twice[0]} twice: keep one")

    @property
    def with_white(self) -> tuple[Paint, ...]:
        """All paints, white last."""
        return (*self.paints, self.white)

    def find(self, query: str) -> Paint:
        """The paint of this box that a person means; PaintError with the nearest names when there is none."""
        paints = self.with_white
        return paints[which(query, [_Entry.of(paint) for paint in paints])]


@dataclass(frozen=True, slots=True)
class _Entry:
    name: str
    colour_index: str
    also: tuple[str, ...]

    @classmethod
    def of(cls, paint: Paint) -> "_Entry":
        also = next((facts.also for facts in known_paints() if facts.name == paint.name), ())
        return cls(paint.name, paint.colour_index, also)


def find_paint(query: str) -> Paint:
    """Any paint that the program knows, by pigment name or Colour Index name, forgivingly.

    Raises
    ------
    PaintError
        When no paint or more than one fits; the message gives the nearest names.
    """
    return paint_of(find_facts(query).name)


def find_facts(query: str) -> Facts:
    """The same without computing the paint."""
    return known_paints()[which(query, known_paints())]


@cache
def default_box() -> PaintBox:
    """A sensible landscape set of twelve measured paints and titanium white."""
    return PaintBox("landscape", tuple(paint_of(name) for name in DEFAULT_NAMES), titanium_white())


@cache
def measured_box() -> PaintBox:
    """The eighteen acrylics that were measured as one set, and titanium white."""
    return PaintBox("measured acrylics", measured_colours(), titanium_white())


@cache
def whole_box() -> PaintBox:
    """Every paint that the program knows, typical ones too."""
    white = titanium_white()
    every = [paint_of(facts.name) for facts in known_paints()]
    return PaintBox("all paints", tuple(paint for paint in every if paint is not white), white)


def box_of(names: Sequence[str], name: str = "chosen paints", own: Sequence[Paint] = (), white: str = "") -> PaintBox:
    """A box of named paints and of the painter's own; white may be among the names and is not counted twice.

    Raises
    ------
    PaintError
        When paints are too few or too many, or names can't be told; every such name is given.
    """
    lid = find_paint(white) if white else titanium_white()
    found, taken = paints_named(names)
    return PaintBox(name, tuple([paint for paint in found if paint is not lid] + list(own)), lid, taken)


def paints_named(names: Sequence[str]) -> tuple[list[Paint], tuple[Taken, ...]]:
    """The paints that names stand for, and which of them were guessed.

    Raises
    ------
    PaintError
        When any can't be told; one line that gives every one of them.
    """
    known = known_paints()
    meant = each_found(names, lambda query: match(query, known))
    found = [known[one.index].name for one in meant]
    guessed = (Taken(query, name) for query, name, one in zip(names, found, meant, strict=True) if one.guessed)
    return [paint_of(name) for name in found], tuple(guessed)


def taken_among(queries: Sequence[str], box: PaintBox | None = None) -> tuple[Taken, ...]:
    """Which of some names would be guessed, among a box's paints or all that are known; unknown ones are left out."""
    candidates: Sequence[_Entry | Facts] = known_paints() if box is None else [_Entry.of(p) for p in box.with_white]
    found = []
    for query in queries:
        try:
            meant = match(query, candidates)
        except PaintError:
            continue
        if meant.guessed:
            found.append(Taken(query, candidates[meant.index].name))
    return tuple(found)


def load_box(path: str | Path) -> PaintBox:
    """Read a painter's box from a TOML file (see the top of this module).

    Raises
    ------
    PaintError
        When the file can't be read, is empty or not TOML, or names a paint that can't be used.
    """
    path = Path(path)
    try:
        text = read_text(path)
    except TextFault as fault:
        what = f"{path}: can't read this paint box ({fault}): give a TOML file that names paints"
        raise PaintError(shown_line(what)) from None
    return box_of_text(text, path)


def box_of_text(text: str, path: Path) -> PaintBox:
    """The same from what stands in the file, or would."""
    table = _table(text, path)
    unknown = sorted(set(table) - KEYS)
    if unknown:
        raise PaintError(f"{path.name}: no setting is called {unknown[0]!r}: use {', '.join(sorted(KEYS))}")
    try:
        names = _strings(table.get("paints", []), "paints")
        entries = _tables(table.get("own", []))
        if len(names) + len(entries) > MOST_PAINTS + 1:  # white may be among them
            raise PaintError(f"it holds {len(names) + len(entries)} paints: {MOST_PAINTS} is the most")
        own = [_own_paint(entry) for entry in entries]
        return box_of(names, _text(table, "name") or path.stem, own, _text(table, "white"))
    except PaintError as error:
        raise PaintError(f"{path.name}: {error}", mend=error.mend) from None


def _table(text: str, path: Path) -> dict[str, Any]:
    if not text.strip():
        raise PaintError(f'{path.name}: the paint box is empty: write paints = ["PY74", "PB29", "red oxide"]')
    try:
        return toml_of(text)
    except tomllib.TOMLDecodeError as error:
        raise PaintError(f"{path.name}: {_slip(error, text)}") from None
    except TextFault as fault:
        raise PaintError(f"{path.name}: can't read this paint box ({fault})") from None


def _slip(error: tomllib.TOMLDecodeError, text: str) -> str:
    """Where a box file stops making sense, in a painter's words."""
    place, lines = re.search(r"at line (\d+)", str(error)), text.splitlines()
    number = min(int(place.group(1)), len(lines)) if place else len(lines)
    shown = textwrap.shorten(lines[number - 1], 40, placeholder=" …")
    return (
        f"line {number} can't be read as part of a paint box ({shown!r}): write such as "
        'paints = ["PY74", "PB29"], each name in quotes, with commas between'
    )


def _strings(value: Any, key: str) -> list[str]:
    if not isinstance(value, list) or not all(isinstance(item, str) for item in value):
        raise PaintError(f'{key} must be a list of names: write {key} = ["PY74", "PB29"]')
    return value


def _tables(value: Any) -> list[dict[str, Any]]:
    if not isinstance(value, list) or not all(isinstance(item, dict) for item in value):
        raise PaintError("own paints stand each under its own line [[own]]")
    return value


def _text(table: dict[str, Any], key: str) -> str:
    value = table.get(key, "")
    if not isinstance(value, str):
        raise PaintError(f"{key} must be a word in quotes")
    if not may_be_shown(value):
        raise PaintError(f"{key} = {value!r} holds signs that can't be shown")
    return value


def _own_paint(entry: dict[str, Any]) -> Paint:
    name = _text(entry, "name")
    if not name.strip():
        raise PaintError('an own paint has no name: write name = "old green tube"')
    unknown = sorted(set(entry) - OWN_KEYS)
    if unknown:
        raise PaintError(f"{name}: no setting is called {unknown[0]!r}: use {', '.join(sorted(OWN_KEYS))}")
    missing = [key for key in ("masstone", "tint") if key not in entry]
    if missing:
        raise PaintError(f"{name}: its {missing[0]} is missing: write {missing[0]} = [L, a, b]")
    opacity = _text(entry, "opacity")
    if opacity and opacity not in OPACITIES:
        raise PaintError(f"{name}: opacity {opacity!r} is none of {', '.join(OPACITIES)}")
    heavier = _white_to_paint(entry, name)
    dabs = [
        Dab(_colour(entry["masstone"], name)),
        Dab(_colour(entry["tint"], name), heavier * _number(entry, "white_parts", USUAL_WHITE_PARTS, name)),
    ]
    if "third" in entry:
        if "third_white_parts" not in entry:
            raise PaintError(f"{name}: say how much white the third dab holds: write third_white_parts = 3")
        third = heavier * _number(entry, "third_white_parts", 0.0, name)
        dabs.append(Dab(_colour(entry["third"], name), third))
    return paint_from_dabs(
        name,
        dabs,
        titanium_white(),
        measured_colours(),
        pigment=_text(entry, "pigment"),
        colour_index=_text(entry, "colour_index"),
        opacity=opacity,
        hazard=_text(entry, "hazard"),
        trials=[_trial(mixed, name, _text(entry, "measured_by")) for mixed in _tables(entry.get("mixed", []))],
    )


def _white_to_paint(entry: dict[str, Any], name: str) -> float:
    """By weight, how much white one part of it was: dabs of one size hold more of the heavier paint."""
    how = _text(entry, "measured_by") or BY_WEIGHT
    if how not in (BY_WEIGHT, BY_DABS):
        raise PaintError(f"{name}: measured_by {how!r} is neither {BY_WEIGHT} nor {BY_DABS}")
    return titanium_white().density / USUAL_DENSITY if how == BY_DABS else 1.0


def _trial(entry: dict[str, Any], name: str, how: str) -> Trial:
    """A mixture that the painter made, its parts by weight."""
    unknown, missing = sorted(set(entry) - MIXED_KEYS), sorted(MIXED_KEYS - set(entry))
    if unknown or missing:
        wrong = f"no setting of a mixture is called {unknown[0]!r}" if unknown else f"a mixture lacks {missing[0]}"
        raise PaintError(f"{name}: {wrong}: write parts, with, with_parts and colour")
    other = find_paint(_text(entry, "with"))
    parts, others = _number(entry, "parts", 0.0, name), _number(entry, "with_parts", 0.0, name)
    if min(parts, others) <= 0:
        raise PaintError(f"{name}: the parts of a mixture must be above 0")
    return Trial(
        _colour(entry["colour"], name),
        parts,
        other,
        others * (other.density / USUAL_DENSITY if how == BY_DABS else 1.0),
    )


def _number(entry: dict[str, Any], key: str, default: float, name: str) -> float:
    value = entry.get(key, default)
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        raise PaintError(f"{name}: {key} must be a number")
    if not math.isfinite(value):
        raise PaintError(f"{name}: {key} is not a number that can be")
    return float(value)


def _colour(value: Any, name: str) -> tuple[float, float, float]:
    """L*a*b* from a list of three numbers or from '#rrggbb'."""
    if isinstance(value, str):
        digits = value.strip().lstrip("#")
        if len(digits) != 6 or any(digit not in "0123456789abcdefABCDEF" for digit in digits):
            raise PaintError(f"{name}: {value!r} is no colour: write [L, a, b] or '#rrggbb'")
        codes = np.frombuffer(bytes.fromhex(digits), dtype=np.uint8)
        L, a, b = (float(number) for number in srgb8_to_lab(codes))
        return L, a, b
    good = isinstance(value, list) and len(value) == 3
    if not good or any(isinstance(item, bool) or not isinstance(item, (int, float)) for item in value):
        raise PaintError(f"{name}: {value!r} is no colour: write [L, a, b] or '#rrggbb'")
    return float(value[0]), float(value[1]), float(value[2])
