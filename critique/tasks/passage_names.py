"""What a painter calls the places of a picture."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from critique.perception.channels import chroma_of
from critique.perception.cielab import lab_to_lch
from critique.picture.places import Place

CLOUD_LIGHTER, CLOUD_CHROMA = 5.0, 12.0  # L* above the middle of the sky, and C*ab below which that is cloud
THIRD = 1 / 3  # of the land's area that is called lighter, and darker: no value tells a dark green from one in shadow
HEARD = {"darker": ("dark",), "lighter": ("pale", "light", "white", "cream")}  # how words of colours begin that tell it
# By how far away it is: a trunk or a house that stands there is no land.
PARTS = {"sky": "sky", "far": "far distance", "middle": "middle distance", "near": "foreground", "water": "water"}
GREYISH = 10.0  # C*ab below which a sky is called a grey: the eye sees a bluish grey there as blue-grey, never as green
COOL, WARM = (165.0, 235.0), (60.0, 120.0)  # degrees of hue of a sky that is called blue-grey, and cream
LEAST = 2.0  # C*ab: less is white or grey
CREAM, CREAM_CHROMA = 70.0, 22.0  # L* from which, and C*ab up to which, a warm sky is cream

Float64 = NDArray[np.float64]


def passage_names(
    colours: Float64, shares: Float64, parts: Sequence[str], places: Sequence[Place], words: Sequence[str]
) -> list[str]:
    """A name for each: its part and light where the part is known, its colour, and where it lies.

    ``colours`` (n, 3) CIELAB, ``words`` their names.
    """
    lights = _lights(colours, shares, parts)
    return [
        f"{_what(part, light, sky_word(colour, word) if part == 'sky' else word)}, {place.words}"
        for part, light, word, place, colour in zip(parts, lights, words, places, colours, strict=True)
    ]


def sky_word(colour: Float64, word: str) -> str:
    """What a painter calls a colour (3,) of the sky: its greys lean to blue or to cream there, and to no green."""
    L, chroma, hue = (float(part) for part in lab_to_lch(colour))
    if LEAST < chroma < GREYISH and COOL[0] <= hue <= COOL[1]:
        return f"{'pale ' if L > 80 else 'light ' if L > 60 else 'dark ' if L < 35 else ''}blue-grey"
    return "cream" if L > CREAM and LEAST < chroma <= CREAM_CHROMA and WARM[0] <= hue <= WARM[1] else word


def _what(part: str, light: str, word: str) -> str:
    name = PARTS.get(part, "")
    if not name:
        return word
    if light == "cloud":
        return f"cloud ({word})"
    heard = HEARD.get(light, ())  # a dark green is heard to be dark: it is said once
    told = light and not (word.startswith(heard) or word.endswith("black"))
    return f"{name}, {light} ({word})" if told else f"{name} ({word})"


def _lights(colours: Float64, shares: Float64, parts: Sequence[str]) -> list[str]:
    """ "lighter" or "darker" than most that is land, whatever its own value; "cloud" in the sky."""
    lights = [""] * len(parts)
    land = [number for number, part in enumerate(parts) if part in ("far", "middle", "near")]
    if len(land) >= 3:
        order = sorted(land, key=lambda number: colours[number, 0])
        reached, total = 0.0, float(shares[land].sum())
        for number in order:
            middle = (reached + float(shares[number]) / 2) / max(total, 1e-9)
            lights[number] = "darker" if middle < THIRD else "lighter" if middle > 1 - THIRD else ""
            reached += float(shares[number])
    sky = [number for number, part in enumerate(parts) if part == "sky"]
    if len(sky) >= 2:
        middle_value = float(np.average(colours[sky, 0], weights=shares[sky]))
        chroma = chroma_of(colours)
        for number in sky:
            if colours[number, 0] > middle_value + CLOUD_LIGHTER and chroma[number] < CLOUD_CHROMA:
                lights[number] = "cloud"
    return lights
