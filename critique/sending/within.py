"""A JPEG file that is no larger than a call allows, as little lossy as that lets it be."""

from dataclasses import dataclass, field

from critique.errors import CritiqueError
from critique.perception.srgb import Float, linear_to_srgb8
from critique.photograph.saving import QUALITY, jpeg_of_codes
from critique.sending.call import MB

FLOOR = 75  # of JPEG quality: below it blocks show in skies; common practice, no source


@dataclass(frozen=True, slots=True, eq=False)
class Packed:
    """The bytes of a file, and the quality that they were written at."""

    data: bytes = field(repr=False)
    quality: int


def jpeg_within(light: Float, most: int, name: str, *, dpi: int, exif: bytes | None) -> Packed:
    """Linear light as a JPEG of at most ``most`` bytes.

    Raises
    ------
    CritiqueError
        One line, when it would take less quality than a painting should be shown at.
    """
    codes = linear_to_srgb8(light)

    def packed(quality: int) -> bytes:
        return jpeg_of_codes(codes, quality=quality, exif=exif, dpi=dpi)

    data = packed(QUALITY)
    if len(data) <= most:
        return Packed(data, QUALITY)
    data = packed(FLOOR)
    if len(data) > most:
        long_edge = max(codes.shape[:2])
        fits = int(long_edge * (most / len(data)) ** 0.5 * 0.95) // 10 * 10  # bytes go with the area, nearly
        raise CritiqueError(
            f"{name}: {long_edge} px take {_mb(len(data))} MB at quality {FLOOR}, the least that a painting should be "
            f"shown at, and the call allows {_mb(most)}: ask for about {max(fits, 10)} px, or for more MB"
        )
    best = Packed(data, FLOOR)
    low, high = FLOOR + 1, QUALITY - 1
    while low <= high:
        middle = (low + high) // 2
        data = packed(middle)
        if len(data) <= most:
            best, low = Packed(data, middle), middle + 1
        else:
            high = middle - 1
    return best


def _mb(size: int) -> str:
    return f"{size / MB:.2g}" if size < MB else f"{size / MB:.1f}"
