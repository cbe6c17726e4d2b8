"""What light the stored samples stand for: embedded profile to sRGB, alpha over white, then linear light."""

from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from io import BytesIO
from typing import Any

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from critique.perception.srgb import Codes, Float, decode_srgb, encode_srgb, srgb8_to_linear
from critique.photograph import icc as profiles
from critique.photograph.named_spaces import NamedSpace
from critique.photograph.photograph import NO_PROFILE
from critique.photograph.samples import Array, Samples
from critique.photograph.scale import Rows
from critique.photograph.source import one_line

Convert = Callable[[Array], Float]  # stored colour (n, width, channels) to linear sRGB light (n, width, 1 or 3)

_TAKEN_AS = {"CMYK": "inks are taken as ideal", "LAB": "colours are taken as CIELAB under D50"}
_SPACES = {"L": ("GRAY", "RGB"), "RGB": ("RGB",), "CMYK": ("CMYK",), "LAB": ()}


class Cleared:
    """How much of a picture was transparent, counted while its rows come by, each once."""

    def __init__(self) -> None:
        self._rows = 0
        self._sum = 0.0

    def count(self, first: int, alpha: Array) -> None:
        """Take in the alpha (n, width) of the rows from ``first`` on."""
        fresh = alpha[max(self._rows - first, 0) :]
        self._rows = max(self._rows, first + len(alpha))
        if (through := fresh < np.iinfo(alpha.dtype).max).any():
            full = float(np.iinfo(alpha.dtype).max)
            self._sum += float((1 - fresh[through] / full).sum() / alpha.shape[1])

    @property
    def share(self) -> float:
        """Of the rows that came by, 0–1."""
        return self._sum / max(self._rows, 1)


@dataclass(frozen=True, slots=True, eq=False)
class Light:
    """Linear sRGB light of a picture by rows, the name of the profile it came through, and notes on the way.

    ``cleared`` knows, once all rows have been asked for, how much of it was transparent.
    """

    rows: Rows
    profile: str
    notes: tuple[str, ...]
    cleared: Cleared


def light_of(samples: Samples, icc: bytes | None, space: NamedSpace | None = None) -> Light:
    """Linear light of stored samples. Where alpha is, the sRGB picture lies over white first.

    ``space`` is what the file names instead of embedding a profile.
    """
    convert, profile, notes = _conversion(samples, icc)
    if space is not None and samples.kind == "RGB":
        convert, profile = _through(space), space.name

    cleared = Cleared()

    def rows(first: int, last: int) -> Float:
        colour, alpha = samples.rows(first, last)
        light = convert(colour)
        if alpha is None:
            return light
        cleared.count(first, alpha)
        return _over_white(light, alpha)

    return Light(rows, profile, notes, cleared)


def _over_white(light: Float, alpha: Array) -> Float:
    """Composite in sRGB codes, as every program that shows the picture does."""
    full = np.iinfo(alpha.dtype).max
    through = alpha < full
    if not through.any():
        return light
    part = (alpha[through] / np.float32(full)).astype(np.float32)[:, None]
    light = light.copy()
    light[through] = decode_srgb(encode_srgb(light[through]) * part + (1 - part))
    return light


def _conversion(samples: Samples, icc: bytes | None) -> tuple[Convert, str, tuple[str, ...]]:
    if not icc:
        return _without_profile(samples)
    space = profiles.colour_space(icc)
    name = _description(icc)
    if name is None:
        return _fall_back(samples, "the embedded colour profile is damaged")
    if space not in _SPACES[samples.kind]:
        return _fall_back(samples, f"the embedded {one_line(space)} profile does not fit the picture")
    if samples.deep:
        exact = _deep_conversion(samples.kind, icc)
        if exact is not None:
            return exact, name, ()
    if samples.kind != "CMYK" and profiles.is_srgb(icc):
        return _codes_to_light, name, ()
    try:
        convert = _by_littlecms(icc, "RGB" if space == "RGB" else samples.kind)
    except Exception:  # LittleCMS has one kind of error, Pillow wraps it in several
        return _fall_back(samples, "the embedded colour profile is damaged")
    if samples.deep:
        return (lambda colour: convert(_eight_bits(colour))), name, ("its colour profile was applied at 8 bits",)
    return convert, name, ()


def _fall_back(samples: Samples, note: str) -> tuple[Convert, str, tuple[str, ...]]:
    convert, profile, notes = _without_profile(samples)
    return convert, profile, (f"{note}; {_TAKEN_AS.get(samples.kind, 'colours are taken as sRGB')}", *notes)


def _without_profile(samples: Samples) -> tuple[Convert, str, tuple[str, ...]]:
    if samples.kind == "CMYK":
        return _ink_to_light, "none, inks taken as ideal", ("CMYK without a profile: its colours are approximate",)
    if samples.kind == "LAB":
        return _by_littlecms(None, "LAB"), "none, CIELAB under D50", ()
    if samples.linear:
        return _light_itself, "none, taken as linear light", ()
    return _codes_to_light, NO_PROFILE, ()


def _description(icc: bytes) -> str | None:
    """The profile's own name on one line; None if LittleCMS cannot open it."""
    from PIL import ImageCms

    try:
        profile = ImageCms.ImageCmsProfile(BytesIO(icc))
        return one_line(str(ImageCms.getProfileDescription(profile))) or "unnamed"
    except Exception:  # Pillow raises OSError, PyCMSError, or UnicodeError with the damage
        return None


@cache
def _srgb16_table() -> Float:
    return decode_srgb(np.arange(65536) / 65535).astype(np.float32)


@cache
def _pair_table() -> NDArray[np.float64]:
    """Light of every two neighbouring 8-bit codes, two float32 in the place of one float64: half as many look-ups."""
    pairs = np.arange(65536, dtype=np.uint16).view(np.uint8).reshape(-1, 2)
    return np.ascontiguousarray(srgb8_to_linear(pairs)).view(np.float64)[:, 0].copy()


def _codes_to_light(colour: Array) -> Float:
    if colour.dtype != np.uint8:
        return np.take(_srgb16_table(), colour)
    if colour.size % 2:
        return srgb8_to_linear(colour)
    pairs = np.ascontiguousarray(colour).reshape(-1).view(np.uint16)
    return np.take(_pair_table(), pairs, mode="clip").view(np.float32).reshape(colour.shape)


def _light_itself(colour: Array) -> Float:
    return colour.astype(np.float32) / np.float32(65535)


def _ink_to_light(colour: Array) -> Float:
    """Ideal inks: each takes away its share of one primary, in codes. Only a profile knows the real ones."""
    left = np.float32(1) - colour.astype(np.float32) / np.float32(255)
    return decode_srgb(left[..., :3] * left[..., 3:])


def _through(space: NamedSpace) -> Convert:
    """Codes through a space that is only named, clipped to sRGB as LittleCMS clips."""
    matrix = space.to_linear_srgb().T.copy()

    def convert(colour: Array) -> Float:
        full = np.iinfo(colour.dtype).max
        codes = np.arange(full + 1) / full
        light = (decode_srgb(codes) if space.exponent is None else codes**space.exponent).astype(np.float32)
        linear: Float = np.clip(np.take(light, colour) @ matrix, 0, 1)
        return linear

    return convert


def _eight_bits(colour: Array) -> Codes:
    return ((colour.astype(np.uint32) * 255 + 32767) // 65535).astype(np.uint8)


def _deep_conversion(kind: str, icc: bytes) -> Convert | None:
    """16-bit codes through the profile's own curves and matrix, clipped to sRGB as LittleCMS clips."""
    if kind == "L" and profiles.colour_space(icc) == "GRAY":
        curve = profiles.grey_curve(icc)
        return None if curve is None else lambda colour: np.take(curve, colour)
    profile = profiles.matrix_profile(icc)
    if profile is None:
        return None
    curves, matrix = profile.curves, profiles.to_linear_srgb(profile).T.copy()

    def convert(colour: Array) -> Float:
        light = np.empty((*colour.shape[:2], 3), dtype=np.float32)
        for channel in range(3):
            light[..., channel] = curves[channel][colour[..., min(channel, colour.shape[2] - 1)]]
        return np.clip(light @ matrix, 0, 1)

    return convert


def _by_littlecms(icc: bytes | None, mode: str) -> Convert:
    """8-bit samples of ``mode`` to sRGB: relative colorimetric, with black-point compensation."""
    from PIL import ImageCms

    source: Any = ImageCms.createProfile("LAB") if icc is None else ImageCms.ImageCmsProfile(BytesIO(icc))
    transform = ImageCms.buildTransform(
        source,
        ImageCms.createProfile("sRGB"),
        mode,
        "RGB",
        renderingIntent=ImageCms.Intent.RELATIVE_COLORIMETRIC,
        flags=ImageCms.Flags.BLACKPOINTCOMPENSATION,
    )

    def convert(colour: Array) -> Float:
        if mode == "RGB" and colour.shape[2] == 1:
            colour = np.repeat(colour, 3, axis=2)
        height, width = colour.shape[:2]
        strip = Image.frombytes(mode, (width, height), np.ascontiguousarray(colour).tobytes())
        return _codes_to_light(np.asarray(ImageCms.applyTransform(strip, transform)))

    return convert
