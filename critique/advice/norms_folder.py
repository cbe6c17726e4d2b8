"""The norms of a folder of pictures."""

from collections.abc import Callable, Iterator
from pathlib import Path

from critique.advice.norms import Norms, norms_of
from critique.errors import CritiqueError, UnreadablePicture
from critique.measures.measure import Measures, measure_picture
from critique.photograph.suffixes import SUFFIXES
from critique.picture.read import read_picture

FEWEST_PICTURES = 5  # fewer make no norm: a percentile of four pictures is one of the four


def norms_of_folder(folder: Path, origin: str, tell: Callable[[str], None]) -> Norms:
    """Measure every picture of a folder, in the order of their names, into norms.

    A picture that cannot be read is left out, and ``tell`` is told why.

    Raises
    ------
    UnreadablePicture
        When the folder holds fewer than five pictures that can be read.
    """

    def measured() -> Iterator[Measures]:
        for path in sorted(folder.iterdir()):
            if path.suffix.lower() in SUFFIXES:
                try:
                    yield measure_picture(read_picture(path))
                except CritiqueError as error:
                    tell(str(error))

    every = list(measured())
    if len(every) < FEWEST_PICTURES:
        raise UnreadablePicture(
            f"{folder}: {len(every)} pictures can be read here, and norms need {FEWEST_PICTURES}; "
            "give a folder with more of your best"
        )
    return norms_of(every, origin)
