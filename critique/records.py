"""How every record begins."""

from typing import Any

from critique import __version__

FORMAT = 4  # raised when a key goes or comes to mean something else, and not when one is added


def heading() -> dict[str, Any]:
    """The number of a record's format, and the version of the program that wrote it."""
    return {"format": FORMAT, "version": __version__}
