"""What a painter calls a colour when pointing at it: one plain word or two, no system's name."""

import math

GREY = 6.0  # C*: below it nobody names a hue
BLACK = 18.0  # L*: a grey below it
BLACK_HUE = 11.0  # C*: so deep in the dark a hue less strong isn't seen: readers saw no violet in a shadow of 8
RED_DARK = 24.0  # C*: a dark red less strong is a red-brown to anyone
TINGED = 10.0  # C*: an earth or a yellow less strong is a warm grey
YELLOW = 98.0  # degrees of hue: from red to there a grey is a warm one
STRAW = 26.0  # C*: a light yellow less strong is a cream
DULL = 16.0  # C*: below it the grey is heard with the hue

# By hue (degrees, up to), the words for dark, middle and light ones, dull and clear; dark ends and light begins at
# L* 38 and 66. Common practice, no source.
DARK, LIGHT = 38.0, 66.0
_WORDS: tuple[tuple[float, tuple[str, str, str], tuple[str, str, str]], ...] = (
    (42, ("dark brown", "rose-grey", "pale pink"), ("dark red", "red", "pink")),
    (72, ("dark brown", "brown", "buff"), ("red-brown", "orange-brown", "orange")),
    (98, ("dark brown", "earth brown", "cream"), ("brown", "ochre", "yellow")),
    (106, ("dark olive", "olive-grey", "cream"), ("olive", "olive", "yellow")),
    (116, ("dark olive", "olive-grey", "cream"), ("olive", "olive", "yellow-green")),
    (160, ("dark grey-green", "grey-green", "pale grey-green"), ("dark green", "green", "light green")),
    (212, ("dark teal", "grey-blue-green", "pale blue-green"), ("teal", "blue-green", "blue-green")),
    (288, ("slate blue", "grey-blue", "pale blue"), ("dark blue", "blue", "light blue")),
    (332, ("dark violet", "violet-grey", "pale violet"), ("violet", "violet", "lilac")),
    (360, ("dark mauve", "rose-grey", "pale rose"), ("wine red", "rose red", "pink")),
)


def painters_word(lightness: float, chroma: float, hue: float) -> str:
    """The word for a colour given by CIELAB L*, C*ab and hue angle in degrees, such as "ochre" or "grey-blue"."""
    tone = 0 if lightness < DARK else 2 if lightness > LIGHT else 1
    if not math.isfinite(hue) or chroma < (BLACK_HUE if lightness < BLACK else GREY):
        return "near-black" if lightness < BLACK else ("dark grey", "grey", "light grey")[tone]
    _, dull, clear = next(row for row in _WORDS if hue % 360 <= row[0])
    if clear[tone] == "dark red" and DULL <= chroma < RED_DARK:
        return "red-brown"
    if dull[tone] in ("earth brown", "rose-grey") and tone == 1 and chroma < TINGED and hue % 360 < YELLOW:
        return "warm grey"
    if clear[tone] == "yellow" and chroma < STRAW:
        return dull[tone]
    return (dull if chroma < DULL else clear)[tone]


# The same for a sky, a light or a haze, which nobody calls brown or ochre: by hue, dull ones and clear ones.
_LIGHTS: tuple[tuple[float, str, str], ...] = (
    (42, "rose-grey", "red"),
    (72, "warm grey", "orange"),
    (102, "warm grey", "golden"),
    (116, "warm grey", "yellow"),
    (160, "greenish grey", "green"),
    (185, "grey-green", "blue-green"),
    (212, "grey-blue", "blue-green"),
    (288, "grey-blue", "blue"),
    (332, "violet-grey", "violet"),
    (360, "rose-grey", "rose"),
)
GREENISH = 16.0  # C*: a sky that leans to green by less is a grey one to the eye
GLOWS = 23.0  # C*: a yellow or an orange light less strong is a cream or a grey
_PALE = {
    "rose-grey": "pale rose",
    "warm grey": "cream",
    "grey-blue": "pale blue",
    "violet-grey": "pale violet",
    "orange": "peach",
    "blue": "light blue",
}


def light_word(lightness: float, chroma: float, hue: float) -> str:
    """The word for a sky or a light given by CIELAB L*, C*ab and hue angle in degrees, such as "golden"."""
    if not math.isfinite(hue) or chroma < GREY:
        return painters_word(lightness, 0.0, 0.0)
    _, dull, clear = next(row for row in _LIGHTS if hue % 360 <= row[0])
    word = clear if chroma >= (GLOWS if clear in ("golden", "yellow", "orange") else DULL) else dull
    if word.startswith(("green", "grey-green")) and chroma < GREENISH:
        return painters_word(lightness, 0.0, 0.0)
    if lightness > LIGHT:
        return _PALE.get(word, word)
    return f"dark {word}" if lightness < DARK and not word.startswith("dark") else word
