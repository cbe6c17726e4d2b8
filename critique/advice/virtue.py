"""What one thing is that works in a picture: the words for it, what it is told by, and where it is."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Virtue:
    """Something that works: ``text`` says what and where, ``signs`` are the figures that tell how surely it is seen.

    ``at`` is where it lies, as fractions from the left and the top; None where it is no one place. ``hues`` are those of
    the colours that it praises, in degrees of CIELAB.
    """

    text: str
    signs: tuple[float, ...]
    at: tuple[float, float] | None = None
    hues: tuple[float, ...] = ()
