"""What the TIFF files are that Pillow cannot read or would flatten: floating point, separate planes, 32 bits."""

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from critique.errors import UnreadablePicture
from critique.photograph.cost import tiff_cost
from critique.photograph.limits import check_size
from critique.photograph.samples import Array, Samples
from critique.photograph.source import Source, one_line

ORIENTATION, PROFILE = 274, 34675
MOSTLY_OVER = 0.5  # of the values: when so many exceed 1, they are on another scale than 0–1
_ASSOCIATED, _UNASSOCIATED = 1, 2  # kinds of alpha: colour multiplied by it already, or not [TIFF 6.0, section 18]


class UnsupportedTiff(Exception):
    """A kind of TIFF that cannot be read here, with the reason."""


@dataclass(frozen=True, slots=True, eq=False)
class TiffHeader:
    """Of the first page: sizes in px as stored, orientation 1–8, and the embedded profile."""

    width: int
    height: int
    orientation: int
    icc: bytes | None


def is_tiff(source: Source) -> bool:
    """Whether the file begins as a TIFF does."""
    return source.head(4) in (b"II*\0", b"MM\0*", b"II+\0", b"MM\0+")


def tiff_header(source: Source) -> TiffHeader:
    """What the file says of its first page; its pixels are not decoded."""
    import tifffile

    with source.open() as stream, tifffile.TiffFile(stream) as file:
        page: Any = file.pages[0]
        orientation = page.tags.get(ORIENTATION)
        profile = page.tags.get(PROFILE)
        return TiffHeader(
            int(page.imagewidth),
            int(page.imagelength),
            int(orientation.value) if orientation else 1,
            bytes(profile.value) if profile else None,
        )


def tiff_samples(source: Source) -> Samples:
    """Samples of the first page as 16-bit codes, or as 16-bit light where the file holds floating point."""
    import tifffile

    with source.open() as stream, tifffile.TiffFile(stream) as file:
        page: Any = file.pages[0]
        photometric = getattr(page.photometric, "name", str(page.photometric))
        if photometric not in ("RGB", "MINISBLACK", "MINISWHITE"):
            raise UnsupportedTiff(f"{photometric} of {page.bitspersample} bits")
        width, height = int(page.imagewidth), int(page.imagelength)
        check_size(width, height, source.name, tiff_cost(page.samplesperpixel, page.bitspersample, page.imagedepth))
        try:
            stored = page.asarray()
        except (ValueError, KeyError) as error:  # a compression that needs a package that is not installed
            raise UnsupportedTiff(f"compression {getattr(page.compression, 'name', page.compression)}") from error
        if stored.ndim == 3 and page.planarconfig == 2:
            stored = np.moveaxis(stored, 0, -1)
        extras = tuple(int(kind) for kind in page.extrasamples)
    if stored.ndim == 2:
        stored = stored[..., None]
    channels = 3 if photometric == "RGB" else 1
    if stored.ndim != 3 or stored.shape[2] < channels or stored.shape[:2] != (height, width):
        raise UnsupportedTiff(f"shape {stored.shape}")
    return _samples(stored, channels, extras, photometric == "MINISWHITE")


def _samples(stored: NDArray[Any], channels: int, extras: tuple[int, ...], inverted: bool) -> Samples:
    height, width, _ = stored.shape
    floating = np.issubdtype(stored.dtype, np.floating)
    kind_of_alpha = extras[0] if extras and stored.shape[2] > channels else 0
    notes = _check_values(stored[..., :channels]) if floating else ()

    def rows(first: int, last: int) -> tuple[Array, Array | None]:
        strip = stored[first:last]
        light, valid = _unit(strip[..., :channels])
        if inverted:
            light = 1 - light
        alpha = valid.astype(np.float32) if not valid.all() else None
        if kind_of_alpha in (_ASSOCIATED, _UNASSOCIATED):
            given, _ = _unit(strip[..., channels])
            if kind_of_alpha == _ASSOCIATED:
                light = np.clip(light / np.maximum(given, 1e-6)[..., None], 0, 1)
            alpha = given if alpha is None else given * alpha
        return _codes(light), None if alpha is None else _codes(alpha)

    kind = "RGB" if channels == 3 else "L"
    return Samples(
        rows,
        width,
        height,
        kind,
        bits=stored.dtype.itemsize * 8,
        deep=True,
        linear=bool(floating),
        notes=notes,
    )


def _check_values(colour: NDArray[Any]) -> tuple[str, ...]:
    """Notes on floating-point values; raises when they cannot be light on a scale of 0–1."""
    step = max(1, colour.shape[0] // 64)
    total = missing = over = 0
    for first in range(0, colour.shape[0], step):
        part = colour[first : first + step]
        total += part.size
        missing += int(np.count_nonzero(np.isnan(part)))
        over += int(np.count_nonzero(part > 1))
    if missing == total:
        raise UnsupportedTiff("no values at all (every one is NaN)")
    if over > MOSTLY_OVER * (total - missing):
        raise UnsupportedTiff("values mostly over 1, where light runs from 0 to 1")
    notes = []
    if missing:
        notes.append("parts without a value (NaN) are shown white")
    if over:
        notes.append("lights brighter than white are shown white")
    return tuple(notes)


def _unit(values: NDArray[Any]) -> tuple[NDArray[np.float32], NDArray[np.bool_]]:
    """Values on a scale of 0–1, and where there is a value: (n, width, ...) float32 and (n, width)."""
    if np.issubdtype(values.dtype, np.floating):
        missing = np.isnan(values)
        scaled = np.clip(np.where(missing, 0, values), 0, 1).astype(np.float32)
        valid = ~missing.any(axis=-1) if values.ndim == 3 else ~missing
        return scaled, valid
    limits = np.iinfo(values.dtype)
    scaled = ((values.astype(np.float64) - limits.min) / (limits.max - limits.min)).astype(np.float32)
    return scaled, np.ones(values.shape[:2], dtype=bool)


def _codes(unit: NDArray[np.float32]) -> NDArray[np.uint16]:
    return (unit * np.float32(65535) + np.float32(0.5)).astype(np.uint16)


def refuse(name: str, error: UnsupportedTiff) -> UnreadablePicture:
    """What to say of a TIFF of an unusual kind."""
    return UnreadablePicture(
        f"{name}: this kind of TIFF is not read ({one_line(str(error))}); save it as 8- or 16-bit RGB."
    )
