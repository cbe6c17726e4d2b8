"""Which pictures of a portfolio show one painting: a second photograph, a crop, another state of it."""

from collections.abc import Sequence
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from critique.perception.srgb import srgb8_to_linear
from critique.picture.twins import ALIKE, Cells, cells_of, likenesses

MOST = 2000  # pictures: all pairs of these take some seconds; of more nothing is said


def same_paintings(thumbnails: Sequence[Path]) -> tuple[tuple[int, ...], ...]:
    """Groups of places in ``thumbnails``, each in their order, whose pictures show one painting."""
    known = [(place, cells) for place, path in enumerate(thumbnails[: MOST + 1]) if (cells := _cells(path)) is not None]
    if not 2 <= len(known) <= MOST:
        return ()
    alike = likenesses(np.stack([cells for _, cells in known])) >= ALIKE
    groups: list[list[int]] = []
    left = set(range(len(known)))
    while left:
        first = min(left)
        group, coming = {first}, [first]
        while coming:
            for other in np.flatnonzero(alike[coming.pop()]):
                if int(other) in left and int(other) not in group:
                    group.add(int(other))
                    coming.append(int(other))
        left -= group
        if len(group) > 1:
            groups.append(sorted(known[place][0] for place in group))
    return tuple(tuple(group) for group in groups)


def _cells(path: Path) -> Cells | None:
    from PIL import Image

    try:
        with Image.open(path) as image:
            codes: NDArray[np.uint8] = np.asarray(image.convert("RGB"))
    except OSError:
        return None
    return cells_of(srgb8_to_linear(codes))
