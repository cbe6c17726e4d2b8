"""Which findings matter to whoever judges, and from which figures on."""

import math
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, field
from difflib import get_close_matches
from pathlib import Path
from typing import Any

from critique.advice.finding import Level
from critique.advice.kind import Kind
from critique.advice.kinds import all_kinds, kind_named
from critique.errors import CritiqueError
from critique.text_file import TextFault, read_text, toml_of
from critique.words.printed import shown_line

NEAREST, ALIKE = 6, 0.35  # names told beside one that isn't there; how like it they must be, 0–1
LIMITS = ("watch_above", "rework_above", "watch_below", "rework_below")


class RulesError(CritiqueError):
    """A rules file that cannot be used."""


@dataclass(frozen=True, slots=True)
class Rule:
    """What holds for one kind of finding: whether it matters, and limits that take the place of the program's own."""

    matters: bool = True
    limits: Mapping[str, float] = field(default_factory=dict)

    def level(self, own: Level, figure: float | None) -> Level:
        """The level of a figure; ``own`` is the program's, kept where the rule sets no limits."""
        if not self.limits:
            return own
        if figure is None or math.isnan(figure):
            return "holds"
        for level in ("rework", "watch"):
            above, below = self.limits.get(f"{level}_above", math.inf), self.limits.get(f"{level}_below", -math.inf)
            if figure > above or figure < below:
                return "rework" if level == "rework" else "watch"
        return "holds"


@dataclass(frozen=True, slots=True)
class Rules:
    """Rules by the id of a kind of finding; a kind without one is judged as in the review."""

    by_kind: Mapping[str, Rule] = field(default_factory=dict)

    def level(self, kind: str, own: Level, figure: float | None) -> Level | None:
        """The level of a finding under these rules; None when it does not matter."""
        rule = self.by_kind.get(kind)
        if rule is None:
            return own
        return rule.level(own, figure) if rule.matters else None


def read_rules(path: Path) -> Rules:
    """Read a rules file: a TOML table for each finding, by title or id, with ``matters = false`` or limits.

    For example::

        ["green area"]
        watch_above = 0.25
        rework_above = 0.40

        [halving]
        matters = false

    Limits are of the finding's ``figure``, in the unit of the record (shares are 0–1). Where a kind has limits,
    they take the place of the program's own; a limit that is left out never applies.

    Raises
    ------
    RulesError
        When the file is no TOML, or names a finding, a setting or a value that there is not.
    """
    try:
        tables = toml_of(read_text(path))
    except TextFault as error:
        raise RulesError(f"{path}: the rules can't be read ({error})", mend="rules_file") from None
    except tomllib.TOMLDecodeError as error:
        raise RulesError(f"{path}: is not TOML ({shown_line(str(error))})", mend="rules_example") from None
    rules: dict[str, Rule] = {}
    for name, table in tables.items():
        kind = _kind(path, name)
        if kind.id in rules:
            raise RulesError(f"{path}: {kind.title!r} has two tables, one of them by its id {kind.id!r}; keep one")
        rules[kind.id] = _rule(path, name, kind, table)
    return Rules(rules)


def _kind(path: Path, name: str) -> Kind:
    try:
        return kind_named(name)
    except KeyError:
        near = get_close_matches(name.lower(), [kind.title for kind in all_kinds()], n=NEAREST, cutoff=ALIKE)
        those = f"the nearest are: {', '.join(near)}" if near else "every page of a picture names those there are"
        raise RulesError(f"{path}: there is no finding on {name!r}; {those}", mend="rules_example") from None


def _rule(path: Path, subject: str, kind: Kind, table: Any) -> Rule:
    if not isinstance(table, dict):
        raise RulesError(f'{path}: {subject!r} needs a table, such as ["{subject}"] and below it matters = false')
    matters = table.get("matters", True)
    if not isinstance(matters, bool):
        raise RulesError(f"{path}: matters of {subject!r} is true or false")
    limits = {name: value for name, value in table.items() if name != "matters"}
    for name, value in limits.items():
        if name not in LIMITS:
            raise RulesError(f"{path}: {subject!r} has no setting {name!r}; there are: matters, {', '.join(LIMITS)}")
        if kind.limits is None:
            raise RulesError(f"{path}: {subject!r} has no limits, only matters = true or false")
        if isinstance(value, bool) or not isinstance(value, (int, float)) or not math.isfinite(value):
            raise RulesError(f"{path}: {name} of {subject!r} is a number")
    return Rule(matters, {name: float(value) for name, value in limits.items()})
