"""What a call asks of the pictures that are sent to it."""

from dataclasses import dataclass
from typing import Literal, get_args

from critique.errors import WrongUsage
from critique.words.lists import listed

Metadata = Literal["keep", "strip"]
Paper = Literal["A4", "Letter"]

LONG_EDGE = 1920  # px, of most calls; common practice, no source
MAX_MB = 5.0
DOTS_PER_INCH = 300  # what printers ask for; common practice, no source
MB = 1_000_000  # bytes: the smaller of the two that are called so, so that no call's counter says "too large"
LEAST_LONG_EDGE, MOST_LONG_EDGE = 200, 20_000  # px: a thumbnail; more than any camera has
LEAST_MB, MOST_MB = 0.02, 500.0
LEAST_DPI, MOST_DPI = 36, 2400


@dataclass(frozen=True, slots=True)
class Call:
    """The limits and wishes of a call.

    ``long_edge`` in px, ``max_mb`` in millions of bytes, ``name`` the pattern of the files' names (None: the usual
    one), ``metadata`` whether the camera's notes are kept; where the picture was taken is left out of them unless
    ``keep_location``. ``artist`` stands where the price list names none, ``dpi`` in the file, for printers;
    ``paper`` and ``prices`` are for the contact sheet.
    """

    long_edge: int = LONG_EDGE
    max_mb: float = MAX_MB
    name: str | None = None
    artist: str = ""
    metadata: Metadata = "strip"
    keep_location: bool = False
    dpi: int = DOTS_PER_INCH
    paper: Paper = "A4"
    prices: bool = True

    @property
    def max_bytes(self) -> int:
        """The most that a file may have."""
        return int(self.max_mb * MB)


def checked_call(call: Call) -> Call:
    """The call, if any picture could meet it; raises ``WrongUsage``, one line, if not."""
    for what, unit, value, least, most in (
        ("a long edge", "px", call.long_edge, LEAST_LONG_EDGE, MOST_LONG_EDGE),
        ("a limit", "MB", call.max_mb, LEAST_MB, MOST_MB),
        ("a density", "dpi", call.dpi, LEAST_DPI, MOST_DPI),
    ):
        if not least <= value <= most:
            raise WrongUsage(f"{what} of {value:g} {unit} is no call's: from {least:g} to {most:g} {unit}")
    for option, asked, kinds in (("metadata", call.metadata, Metadata), ("paper", call.paper, Paper)):
        known = get_args(kinds)
        if asked not in known:
            raise WrongUsage(f"{option} {asked!r} isn't known: there are {listed(known)}")
    return call
