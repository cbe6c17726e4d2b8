"""What a painter calls a CIELAB hue angle, in a plain word."""

from critique.perception.hue import turn_of_one

# Hue angles of the plain names, read off the Munsell hues of the same names at value 5, chroma 6 (to some 5°).
HUES = (
    ("red", 25.0),
    ("orange", 60.0),
    ("yellow", 90.0),
    ("yellow-green", 120.0),
    ("green", 155.0),
    ("blue-green", 200.0),
    ("blue", 265.0),
    ("purple", 310.0),
    ("red-purple", 345.0),
)


def hue_word(hue: float) -> str:
    """The plain name of a hue angle in degrees."""
    return min(HUES, key=lambda named: abs(turn_of_one(named[1], hue)))[0]
