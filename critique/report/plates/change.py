"""Where the second picture differs from the first in value, chroma and hue."""

import numpy as np
from numpy.typing import NDArray

from critique.pair.change_maps import CHROMA_STEP, HUE_TURN, VALUE_STEP, ChangeMaps
from critique.pair.overlay import Overlay
from critique.perception.cielab import lab_to_srgb8
from critique.perception.srgb import Codes, Float
from critique.report.plates.photograph import resized
from critique.report.plates.plate import Plate, image_of
from critique.words.figures import percent

LONG_EDGE = 720  # px: three stand side by side
GROUND_CONTRAST = 0.35  # of the picture's own values, faint under the change
GROUND_MIDDLE = 62.0  # L*
FULL_VALUE, FULL_CHROMA = 3.0, 40.0  # change at which the colour of the map is at its strongest: values, C*
LIGHTER, DARKER = (92.0, 4.0, 30.0), (22.0, 8.0, -38.0)  # L*a*b*: sunlit and dusk, apart for every kind of eye
STRONGER, QUIETER = (58.0, 48.0, 44.0), (50.0, -12.0, -32.0)  # warm for more colour, cool for less
NOTHING = 0.002  # of the picture: less than this is no change to speak of
HUE_CHROMA = 44.0  # of the hue shown where it turned


def change_plates(both: Overlay, maps: ChangeMaps, long_edge: int = LONG_EDGE) -> tuple[Plate, ...]:
    """Maps of value, chroma and hue over the first picture, faint; what a photograph could do is left blank."""
    ground = _ground(both.first)
    size = _size(ground, long_edge)
    value = _tinted(ground, maps.value / FULL_VALUE, LIGHTER, DARKER, maps.changed["value"])
    chroma = _tinted(ground, maps.chroma / FULL_CHROMA, STRONGER, QUIETER, maps.changed["chroma"])
    hue = _hued(ground, both.second, maps.changed["hue"])
    told = {
        "value": (value, f"yellow is lighter, blue is darker than before, from {VALUE_STEP:.1f} values on"),
        "chroma": (chroma, f"red is stronger, blue is quieter than before, from {CHROMA_STEP:.0f} on"),
        "hue": (
            hue,
            f"where it turned by more than {HUE_TURN:.0f}° in a colour strong enough to show it, in its hue now",
        ),
    }
    return tuple(
        Plate(
            f"change_of_{kind}",
            image_of(resized(codes, size)),
            f"Map of change in {kind}: {_extent(maps.shares[kind])}.",
            f"{kind.capitalize()}: {_legend(words, maps.shares[kind])}.",
        )
        for kind, (codes, words) in told.items()
    )


def _extent(share: float) -> str:
    return f"{percent(share)} of the picture changed" if share >= NOTHING else "nothing changed"


def _legend(words: str, share: float) -> str:
    """How to read a map, and how much of the picture it marks; no colours are explained where there are none."""
    extent = _extent(share)
    return f"{words}. {extent[0].upper()}{extent[1:]}" if share >= NOTHING else extent


def _ground(lab: Float) -> Float:
    """The first picture as a faint grey drawing, L*a*b*."""
    faint = np.zeros_like(lab)
    faint[..., 0] = GROUND_MIDDLE + GROUND_CONTRAST * (lab[..., 0] - lab[..., 0].mean())
    return faint


def _size(lab: Float, long_edge: int) -> tuple[int, int]:
    scale = long_edge / max(lab.shape[:2])
    return round(lab.shape[1] * scale), round(lab.shape[0] * scale)


def _tinted(
    ground: Float,
    change: NDArray[np.floating],
    more: tuple[float, float, float],
    less: tuple[float, float, float],
    changed: NDArray[np.bool_],
) -> Codes:
    """The ground drawn toward one colour or the other by how much it changed."""
    amount = (np.clip(np.abs(change), 0.25, 1) * changed)[..., None].astype(np.float32)
    colour = np.where((change > 0)[..., None], np.asarray(more, dtype=np.float32), np.asarray(less, dtype=np.float32))
    return lab_to_srgb8(ground + (colour - ground) * amount)


def _hued(ground: Float, second: Float, changed: NDArray[np.bool_]) -> Codes:
    hue = np.arctan2(second[..., 2], second[..., 1])
    shown = np.stack([second[..., 0], HUE_CHROMA * np.cos(hue), HUE_CHROMA * np.sin(hue)], axis=-1)
    return lab_to_srgb8(np.where(changed[..., None], shown, ground).astype(np.float32))
