"""What a picture measures, for tests that ask few of its measures: each is taken when it is first asked for.

``measure_picture`` takes all of them from the same object, which takes ten times as long as one.
"""

import copy
from typing import Any, cast

from critique.measures.measure import Measures, MeasuresAsked
from critique.picture.picture import Picture


def measured(picture: Picture) -> Measures:
    """Stands for ``measure_picture(picture)``."""
    return cast(Measures, MeasuresAsked(picture))


def with_others(measures: Measures, **others: Any) -> Measures:
    """The measures that ``measured`` gave, some of them set to ``others``."""
    changed = copy.copy(measures)
    vars(changed).update(others)
    return changed
