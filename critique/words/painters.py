"""What a painter calls a colour when pointing at it: one plain word or two, no system's name."""

import math
from functools import lru_cache

from critique.perception.seen_families import seen_families

DARK, LIGHT = 36.0, 68.0  # L*: dark below, light above
STRONG = 24.0  # C*: a light colour less strong is a pale one
FULL = 24.0  # C*: a pink of the middle less strong is a dull one
ULTRAMARINE = 22.0  # C*: from which on the violet-looking hues of CIELAB are blues, as far as Munsell has them so
DEEP_BLUE = 14.0  # C*: so much is no grey in the dark
BLUE_TO = 78.5  # Munsell hue on the scale of 100, 8.5PB: to there ISCC–NBS has blues and purplish blues, beyond violets
FROM_BLUE = 270.0  # degrees, CIELAB's blues
MAUVE_FROM = 315.0  # degrees: a violet so near to red (from about Munsell 6P) is a mauve; common practice, no source
AS_LIKELY = 0.6  # of the likeliest family's chance: a second one as likely is heard in the name

# Each family dark, in the middle, light and strong, light and pale. Common practice, no source.
_WORDS: dict[str, tuple[str, str, str, str]] = {
    "black": ("near-black", "near-black", "near-black", "near-black"),
    "white": ("white", "white", "white", "white"),
    "grey": ("dark grey", "grey", "light grey", "light grey"),
    "blue-grey": ("dark blue-grey", "blue-grey", "pale blue-grey", "pale blue-grey"),
    "green-grey": ("dark grey-green", "grey-green", "pale grey-green", "pale grey-green"),
    "blue": ("dark blue", "blue", "light blue", "pale blue"),
    "violet": ("dark violet", "violet", "lilac", "pale lilac"),
    "pink": ("dull pink", "dull pink", "pink", "pale pink"),
    "red": ("dark red", "red", "light red", "pink"),
    "red-brown": ("dark red-brown", "red-brown", "rosy brown", "rosy brown"),
    "brown": ("dark brown", "brown", "light brown", "buff"),
    "orange": ("burnt orange", "orange", "orange", "peach"),
    "ochre": ("dull ochre", "ochre", "light ochre", "pale ochre"),
    "gold": ("dull gold", "gold", "gold", "pale gold"),
    "yellow": ("dull yellow", "yellow", "yellow", "pale yellow"),
    "cream": ("dull cream", "dull cream", "cream", "cream"),
    "olive": ("dark olive", "olive", "light olive", "pale olive"),
    "yellow-green": ("dull yellow-green", "yellow-green", "yellow-green", "pale yellow-green"),
    "green": ("dark green", "green", "light green", "pale green"),
    "blue-green": ("dark blue-green", "blue-green", "light blue-green", "pale blue-green"),
}

_MAUVE = ("dark mauve", "mauve", "pinkish lilac", "pale mauve")  # violets near to red
_MAGENTA = ("deep magenta", "magenta", "bright pink", "pink")  # reds near to violet
MAGENTA_TO = 352.0  # degrees: about Munsell 2.5RP, ISCC–NBS's reddish purples; beyond are purplish reds
_ROSE = ("deep rose", "rose")  # pinks too strong to be dull ones

# What stands between two families, where either might be said; the darkness is put before it.
# Common practice, no source.
_BETWEEN: dict[frozenset[str], str] = {
    frozenset(pair): word
    for pair, word in {
        ("brown", "olive"): "olive-brown",
        ("brown", "black"): "brown-black",
        ("green", "black"): "green-black",
        ("olive", "black"): "olive-black",
        ("blue-green", "black"): "blue-black",
        ("blue", "black"): "blue-black",
        ("grey", "black"): "charcoal",
        ("blue-grey", "black"): "blue-black",
        ("red-brown", "black"): "brown-black",
        ("green", "olive"): "olive green",
        ("brown", "ochre"): "brown ochre",
        ("olive", "ochre"): "olive ochre",
        ("gold", "ochre"): "golden ochre",
        ("orange", "ochre"): "orange ochre",
        ("orange", "brown"): "orange-brown",
        ("red-brown", "brown"): "reddish brown",
        ("grey", "brown"): "grey-brown",
        ("grey", "violet"): "violet-grey",
        ("blue-grey", "violet"): "violet-grey",
        ("blue", "violet"): "violet-blue",
        ("blue", "blue-grey"): "grey-blue",
        ("grey", "blue-grey"): "bluish grey",
        ("grey", "green-grey"): "greenish grey",
        ("green", "green-grey"): "grey-green",
        ("olive", "green-grey"): "grey-olive",
        ("green", "blue-green"): "cool green",
        ("yellow-green", "green"): "yellowish green",
        ("yellow-green", "olive"): "yellowish olive",
        ("gold", "yellow"): "golden yellow",
        ("cream", "yellow"): "creamy yellow",
        ("cream", "grey"): "warm grey",
        ("cream", "white"): "creamy white",
        ("grey", "white"): "greyish white",
        ("cream", "ochre"): "buff",
        ("cream", "pink"): "pinkish cream",
        ("grey", "pink"): "rose-grey",
        ("brown", "pink"): "rosy brown",
        ("grey", "ochre"): "warm grey",
    }.items()
}
_NO_TONE = frozenset({  # how dark or light these are is heard in the word
    "brown-black", "green-black", "olive-black", "blue-black", "charcoal", "creamy white", "greyish white", "buff",
    "pinkish cream",
})  # fmt: skip

# Nobody calls a sky, a light or a haze by the name of an earth or of a leaf: what each is as a light, dull or clear.
_WARM_LIGHTS = frozenset({"pink", "red", "orange", "gold", "yellow", "cream"})
_LIT: dict[str, tuple[str, str]] = {
    "ochre": ("cream", "gold"),
    "brown": ("cream", "gold"),
    "red-brown": ("pink", "orange"),
    "olive": ("green-grey", "yellow"),
    "yellow-green": ("yellow", "yellow"),
    "green": ("green-grey", "green"),
    "cream": ("cream", "gold"),
    "black": ("grey", "grey"),
}
_AS_LEAF = {"brown": "olive", "ochre": "olive", "grey": "green-grey"}
GLOWS = 28.0  # C*: a warm light less strong is a cream or a grey
AS_BLUE = 0.8  # of the chance that a sky is called white: as likely to be called blue or blue-grey, it is a pale blue
BLUE_AT_ALL = 6.0  # C*, for that; one at 5.1 was called white by both who named it
GREEN_LIGHT = 16.0  # C*: a green light less strong is a grey
_AS_LIGHT = {
    "gold": "golden",
    "dull gold": "golden",
    "pale gold": "golden",
    "light grey": "pale",
    "burnt orange": "orange",
    "dull cream": "warm grey",
}
HUELESS = frozenset({"black", "grey", "white"})


def _toned(between: str) -> tuple[str, str, str]:
    """What stands between two families dark, in the middle and pale."""
    return (between, between, between) if between in _NO_TONE else (f"dark {between}", between, f"pale {between}")


def _words_for(families: frozenset[str], *, but_with: frozenset[str] = frozenset()) -> frozenset[str]:
    """Every word for a colour of these families or between one of them and another, but for those of ``but_with``."""
    alone = {word for family in families for word in _WORDS[family]}
    between = {word for pair, word in _BETWEEN.items() if pair & families and not pair & but_with}
    return frozenset(alone.union(*map(_toned, between)))


_BLACK = frozenset({"black"})
_BLACK_WORDS = _words_for(_BLACK)  # ISCC–NBS calls what is named so a black, or next to one
_GREY_WORDS = _words_for(frozenset({"grey", "blue-grey", "green-grey"}), but_with=_BLACK)


def is_a_grey(word: str) -> bool:
    """Whether a word for a colour is one for a grey, whatever it leans to."""
    return word in _GREY_WORDS


def is_a_black(word: str) -> bool:
    """Whether a word for a colour is one for a black, whatever it leans to."""
    return word in _BLACK_WORDS


def painters_word(lightness: float, chroma: float, hue: float) -> str:
    """The word for a colour given by CIELAB L*, C*ab and hue angle in degrees, such as "ochre" or "grey-blue"."""
    return _word(_seen(lightness, chroma, hue), lightness, chroma, hue)


def heard_in(lightness: float, chroma: float, hue: float) -> tuple[str, ...]:
    """The families of colour that `painters_word` names, the likeliest first: one, or two that it stands between."""
    return _heard(_seen(lightness, chroma, hue))


def light_word(lightness: float, chroma: float, hue: float) -> str:
    """The word for a sky or a light given by CIELAB L*, C*ab and hue angle in degrees, such as "golden"."""
    chances = _as_light(lightness, chroma, hue)
    cool = chances.get("blue", 0.0) + chances.get("blue-grey", 0.0)
    if next(iter(chances)) == "white" and chroma >= BLUE_AT_ALL and cool >= AS_BLUE * chances["white"]:
        return "pale blue"  # beside a true white nobody calls such a sky one
    word = _word(chances, lightness, chroma, hue)
    return _AS_LIGHT.get(word, word)


def foliage_word(lightness: float, chroma: float, hue: float) -> str:
    """The word for grass or foliage of that colour, which nobody calls brown or ochre before it is autumn."""
    return _word(as_leaf(lightness, chroma, hue), lightness, chroma, hue)


def as_leaf(lightness: float, chroma: float, hue: float) -> dict[str, float]:
    """The chances of the families that foliage of a colour may be of, the likeliest first."""
    return _counted_as(seen_families(lightness, chroma, hue), _AS_LEAF)


def is_warm_light(lightness: float, chroma: float, hue: float) -> bool:
    """Whether a light of this colour warms what it falls on: a cream, a gold or a rose, or a grey that leans there."""
    chances = _as_light(lightness, chroma, hue)
    first, second = list(chances)[:2]
    leans = first in HUELESS and second in _WARM_LIGHTS and chances[second] >= AS_LIKELY * chances[first]
    return first in _WARM_LIGHTS or leans


def _as_light(lightness: float, chroma: float, hue: float) -> dict[str, float]:
    """The chances of the families that a light may be of, the likeliest first."""
    lit = {
        family: words[int(chroma >= (GREEN_LIGHT if family == "green" else GLOWS))] for family, words in _LIT.items()
    }
    return _counted_as(_seen(lightness, chroma, hue), lit)


def _counted_as(chances: dict[str, float], other: dict[str, str]) -> dict[str, float]:
    """Chances of families, the likeliest first, where some count as another."""
    summed: dict[str, float] = {}
    for family, chance in chances.items():
        counted = other.get(family, family)
        summed[counted] = summed.get(counted, 0.0) + chance
    return dict(sorted(summed.items(), key=lambda one: -one[1]))


def _seen(lightness: float, chroma: float, hue: float) -> dict[str, float]:
    """The chances of the families, the likeliest first; a strong blue is no violet, a deep one no grey."""
    chances = seen_families(lightness, chroma, hue)
    first = next(iter(chances))
    named = chroma >= (ULTRAMARINE if first == "violet" else DEEP_BLUE) and FROM_BLUE <= hue < MAUVE_FROM
    if not named or first not in ("violet", "grey") or _munsell_hue(lightness, chroma, hue) > BLUE_TO:
        return chances
    return _counted_as(chances, {first: "blue"})


@lru_cache(maxsize=256)
def _munsell_hue(lightness: float, chroma: float, hue: float) -> float:
    """Munsell hue on the scale of 100: by CIELAB blues turn violet as they grow stronger."""
    from critique.perception.munsell import to_munsell

    angle = math.radians(hue)
    return to_munsell([lightness, chroma * math.cos(angle), chroma * math.sin(angle)]).hue


def _heard(chances: dict[str, float]) -> tuple[str, ...]:
    """The likeliest family, and a second that is about as likely where there is a word for what stands between."""
    first, second = list(chances)[:2]
    both = frozenset((first, second)) in _BETWEEN and chances[second] >= AS_LIKELY * chances[first]
    return (first, second) if both else (first,)


def _word(chances: dict[str, float], lightness: float, chroma: float, hue: float) -> str:
    """The word for the likeliest family, or for what stands between it and a second that is about as likely."""
    heard = _heard(chances)
    if len(heard) > 1:
        dark, middle, pale = _toned(_BETWEEN[frozenset(heard)])
        return dark if lightness < DARK else pale if lightness > LIGHT and chroma < STRONG else middle
    first = heard[0]
    tone = 0 if lightness < DARK else 1 if lightness <= LIGHT else 2 if chroma >= STRONG else 3
    if first == "violet" and not FROM_BLUE <= hue < MAUVE_FROM:
        return _MAUVE[tone]
    if first == "red" and MAUVE_FROM <= hue < MAGENTA_TO:
        return _MAGENTA[tone]
    if first == "pink" and tone < 2 and chroma >= FULL:
        return _ROSE[tone]
    return _WORDS[first][tone]
