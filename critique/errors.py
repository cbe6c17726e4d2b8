"""What can go wrong that a person can mend: each error is one line that says what is wrong or missing, and where.

How to mend it is said by whoever asked: a command line names an option, a window would name a button. An error that
has such a way names it in ``mend``.
"""

import errno
from typing import Literal

# What would mend an error, where each face of the program has its own words for it.
Mend = Literal[
    "room_or_other_folder",  # the files can't be written there for want of room
    "other_folder",  # they can't be for another reason
    "other_portfolio_folder",  # the portfolio can't be kept there
    "portfolio_ledger",  # the ledger there is damaged, or no ledger
    "portfolio_apart",  # the portfolio would lie among the pictures
    "rules_file",  # the rules can't be read
    "rules_example",  # the rules are not written as they should be
    "norms_table",  # the norms can't be read
    "dask",  # what a cluster needs isn't installed
    "cluster_address",  # nobody answers there
    "swatch_photograph",  # spots are marked, and in nothing
    "swatch_dabs",  # a dab is missing
    "swatch_spots",  # a spot is missing
    "plan_folder",  # the folder holds no plan
    "chart_finder",  # what finds a chart isn't installed
    "paint_names",  # a paint is named that there is none of, and none is near
    "third_white",  # how much white a third dab holds is missing
    "lead_all",  # one of two pictures has no green, and only greens were to be led
]


class CritiqueError(Exception):
    """Anything the program refuses or fails at, told in one line for the person who asked.

    ``what`` says what is wrong or missing, and is the error's text; ``mend`` what mends it, None where the text is all.
    """

    def __init__(self, what: str = "", *, mend: Mend | None = None) -> None:
        super().__init__(what)
        self.mend = mend

    @property
    def what(self) -> str:
        """What is wrong or missing."""
        return str(self)


class WrongUsage(CritiqueError):
    """What was asked can't be, whatever the picture: an option that can't be read, or names what there is none of."""


class UnreadablePicture(CritiqueError):
    """The file is missing, is not a picture, is damaged, or is outside the limits of size."""


class TooLittleMemory(UnreadablePicture):
    """The picture does not fit in the memory that is free now; another time it may."""


class OutputError(CritiqueError):
    """The results could not be written."""


NO_ROOM = (errno.ENOSPC, errno.EDQUOT, errno.EFBIG)  # a full disk, a used-up quota, a file as large as may be


def unwritten(what: str, error: Exception) -> OutputError:
    """The line for ``what`` can't be written: why, and to make room only where room is what is missing."""
    reason = (getattr(error, "strerror", None) or str(error) or type(error).__name__).lower()
    if getattr(error, "errno", None) in NO_ROOM:
        return OutputError(f"{what} ({reason}): make room", mend="room_or_other_folder")
    return OutputError(f"{what} ({reason})", mend="other_folder")


class PaintError(CritiqueError):
    """A paint, paint box or swatch that cannot be used."""


class ReferenceDataError(CritiqueError):
    """A table that ships with the program is missing or damaged."""
