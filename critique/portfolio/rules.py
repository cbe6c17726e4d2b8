"""Which findings matter to whoever judges, and from which figures on."""

import math
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from critique.advice.finding import Level
from critique.errors import CritiqueError

# The subjects of findings that are known beforehand, in the order of the review.
SUBJECTS = (
    "green area",
    "green strength",
    "evenness of greens",
    "green cast",
    "relief for the green",
    "distance in the greens",
    "green against its neighbours",
    "value range",
    "value masses",
    "halving",
    "left and right halves",
    "light and dark halves",
    "edges and corners",
    "run of colours",
)
# Whether it is so or not is all there is to these: their figure is a place, and no place is too high.
WITHOUT_LIMITS = ("halving", "left and right halves", "light and dark halves")
LIMITS = ("watch_above", "rework_above", "watch_below", "rework_below")


class RulesError(CritiqueError):
    """A rules file that cannot be used."""


@dataclass(frozen=True, slots=True)
class Rule:
    """What holds for one subject: whether it matters, and limits that take the place of the program's own."""

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
    """Rules by subject; a subject without one is judged as in the review."""

    by_subject: Mapping[str, Rule] = field(default_factory=dict)

    def level(self, subject: str, own: Level, figure: float | None) -> Level | None:
        """The level of a finding under these rules; None when it does not matter."""
        rule = self.by_subject.get(subject)
        if rule is None:
            return own
        return rule.level(own, figure) if rule.matters else None


def read_rules(path: Path) -> Rules:
    """Read a rules file: a TOML table for each subject, with ``matters = false`` or limits.

    For example::

        ["green area"]
        watch_above = 0.25
        rework_above = 0.40

        [halving]
        matters = false

    Limits are of the finding's ``figure``, in the unit of the record (shares are 0–1). Where a subject has limits,
    they take the place of the program's own; a limit that is left out never applies.

    Raises
    ------
    RulesError
        When the file is no TOML, or names a subject, a setting or a value that there is not.
    """
    try:
        tables = tomllib.loads(path.read_text(encoding="utf-8"))
    except OSError as error:
        raise RulesError(f"{path}: the rules can't be read ({error.strerror}); check --rules") from None
    except (tomllib.TOMLDecodeError, UnicodeDecodeError) as error:
        reason = " ".join(str(error).split())
        raise RulesError(f"{path}: is not TOML ({reason}); see critique portfolio --help for an example") from None
    return Rules({subject: _rule(path, subject, table) for subject, table in tables.items()})


def _rule(path: Path, subject: str, table: Any) -> Rule:
    if subject not in SUBJECTS:
        raise RulesError(f"{path}: there is no finding on {subject!r}; there are: {', '.join(SUBJECTS)}")
    if not isinstance(table, dict):
        raise RulesError(f'{path}: {subject!r} needs a table, such as ["{subject}"] and below it matters = false')
    matters = table.get("matters", True)
    if not isinstance(matters, bool):
        raise RulesError(f"{path}: matters of {subject!r} is true or false")
    limits = {name: value for name, value in table.items() if name != "matters"}
    for name, value in limits.items():
        if name not in LIMITS:
            raise RulesError(f"{path}: {subject!r} has no setting {name!r}; there are: matters, {', '.join(LIMITS)}")
        if subject in WITHOUT_LIMITS:
            raise RulesError(f"{path}: {subject!r} has no limits, only matters = true or false")
        if isinstance(value, bool) or not isinstance(value, (int, float)) or not math.isfinite(value):
            raise RulesError(f"{path}: {name} of {subject!r} is a number")
    return Rule(matters, {name: float(value) for name, value in limits.items()})
