"""What a picture measures and what is said of it, for tests that ask little of it: each is found when asked for.

``measure_picture`` takes all of them from the same object, which takes ten times as long as one.
"""

import copy
from functools import lru_cache
from typing import Any, cast

from one_picture import MOST

from critique.advice.finding import Finding
from critique.advice.findings import finding_of
from critique.advice.judging import Case
from critique.advice.kinds import all_kinds
from critique.advice.norms import read_norms
from critique.measures.measure import Measures, MeasuresAsked
from critique.picture.picture import Picture


@lru_cache(maxsize=MOST)
def measured(picture: Picture) -> Measures:
    """Stands for ``measure_picture(picture)``; the same for the same picture, so that each of them is taken once."""
    return cast(Measures, MeasuresAsked(picture))


def with_others(measures: Measures, **others: Any) -> Measures:
    """The measures that ``measured`` gave, some of them set to ``others``."""
    changed = copy.copy(measures)
    vars(changed).update(others)
    return changed


def said(picture: Picture, *subjects: str) -> dict[str, Finding]:
    """The findings of these subjects alone, as ``judge`` has them among all; one without cause is left out."""
    unknown = set(subjects) - {kind.title for kind in all_kinds()}
    assert not unknown, unknown
    case = Case.of(picture, measured(picture), read_norms())
    found = {kind.title: finding_of(case, kind) for kind in all_kinds() if kind.title in subjects}
    return {subject: finding for subject, finding in found.items() if finding is not None}
