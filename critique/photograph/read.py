"""How a file becomes light: decode, orient, manage colour, lay over white, average."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any, TypeVar

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from critique.errors import CritiqueError, UnreadablePicture
from critique.perception.srgb import Float
from critique.photograph.colour import light_of
from critique.photograph.cost import cost_of
from critique.photograph.deep import held_samples, stored_samples
from critique.photograph.exif import focal_of, orientation_of
from critique.photograph.files import damaged, no_memory, open_image
from critique.photograph.limits import DRAWN_LONG_EDGE, check_size, size_notes
from critique.photograph.named_spaces import NamedSpace, named_space
from critique.photograph.photograph import Photograph
from critique.photograph.samples import Samples, array_samples, shown_mode
from critique.photograph.scale import average_of_rows
from critique.photograph.source import Source, source_of_bytes, source_of_file
from critique.photograph.tiff import UnsupportedTiff, is_tiff, refuse, tiff_header, tiff_samples

Made = TypeVar("Made")
Deep = TypeVar("Deep", NDArray[np.float16], NDArray[np.float32])
Given = str | Path | bytes | bytearray | Image.Image | NDArray[Any]

_DRAFT_SCALES = (8, 4, 2)  # by which a JPEG can be decoded smaller
_ON_ITS_SIDE = (5, 6, 7, 8)  # orientations that exchange width and height
_MANY_FRAMES = ("GIF", "WEBP", "PNG")  # in MPO a further picture is a preview
_SHOWN_FORMATS = {"MPO": "JPEG"}  # a JPEG with further pictures behind it, as telephones write


def read_photograph(given: Given, name: str = "picture") -> Photograph:
    """Read the light of a picture.

    Parameters
    ----------
    given : a path, the bytes of a file, a Pillow image, or an array (height, width) or (height, width, 1, 3 or 4):
        8- or 16-bit codes, or floating-point codes 0–1, of sRGB. Files may be JPEG, PNG, WebP, TIFF (8 and 16 bits,
        floating point), BMP, GIF (first frame), AVIF and HEIC.
    name : what it is called where it has no file name.

    Raises
    ------
    UnreadablePicture
        One line, when there is no such picture or it is outside the limits of size.
    """
    if isinstance(given, np.ndarray):
        return named(name, lambda: _of_array(given, name))
    if isinstance(given, Image.Image):
        return named(name, lambda: _of_image(given, name))
    if not isinstance(given, (str, Path, bytes, bytearray)):
        kind = type(given).__name__
        raise UnreadablePicture(f"{name}: {kind} is no picture; give a path, bytes, a Pillow image or an array.")
    source = source_of_file(Path(given)) if isinstance(given, (str, Path)) else source_of_bytes(bytes(given), name)
    return named(source.name, lambda: _read(source))


def named(name: str, read: Callable[[], Made]) -> Made:
    """What ``read`` gives, or the one line that says of ``name`` why not."""
    try:
        return read()
    except CritiqueError:
        raise
    except UnsupportedTiff as error:
        raise refuse(name, error) from None
    except MemoryError:
        raise no_memory(name) from None
    except Exception as error:  # decoders raise almost anything on damaged data
        raise damaged(name, error) from None


@dataclass(frozen=True, slots=True, eq=False)
class _Stored:
    """A file's header: sizes in px after orientation, what has to be done to orient it (EXIF 1–8), and the rest."""

    width: int
    height: int
    format: str
    mode: str
    icc: bytes | None
    orientation: int
    notes: tuple[str, ...]
    space: NamedSpace | None = None
    focal: float | None = None


def _read(source: Source) -> Photograph:
    try:
        image = open_image(source)
    except UnreadablePicture:
        if not is_tiff(source):
            raise
        return _read_unusual_tiff(source)
    with image:
        size, name = image.size, source.name
        shrunk_by = _shrinks_by(image)
        check_size(*size, name, cost_of(image, shrunk_by))
        mode = shown_mode(image)
        if shrunk_by > 1:
            image.draft(None, (size[0] // shrunk_by, size[1] // shrunk_by))
        samples = stored_samples(image, source)
        # EXIF only now. Pillow decodes a PNG, at 8 bits, when it is asked for it; and it turns most TIFF files
        # upright while decoding, and then forgets their orientation.
        decoded = (samples.width, samples.height)
        if shrunk_by == 1 and decoded not in (size, size[::-1]):
            raise UnreadablePicture(f"{name}: holds other pixels than it says; copy it again or save a new one.")
        return _photograph(_header(image, size if shrunk_by > 1 else decoded, mode), samples, name)


def _read_unusual_tiff(source: Source) -> Photograph:
    """A TIFF of a kind that Pillow does not open at all, such as floating-point colour."""
    header = tiff_header(source)
    width, height = (header.width, header.height)[:: -1 if header.orientation in _ON_ITS_SIDE else 1]
    notes = check_size(width, height, source.name)
    samples = tiff_samples(source)
    stored = _Stored(width, height, "TIFF", samples.kind, header.icc, header.orientation, notes)
    return _photograph(stored, samples, source.name)


def _of_image(image: Image.Image, name: str) -> Photograph:
    check_size(*image.size, name)
    mode = shown_mode(image)
    samples = held_samples(image, name)
    stored = _header(image, image.size, mode)
    return _photograph(replace(stored, format=str(image.format or "image")), samples, name)


def _of_array(array: NDArray[Any], name: str) -> Photograph:
    samples = array_samples(array, name)
    notes = check_size(samples.width, samples.height, name)
    stored = _Stored(samples.width, samples.height, "array", samples.kind, None, 1, notes)
    return _photograph(stored, samples, name)


def _photograph(stored: _Stored, samples: Samples, name: str) -> Photograph:
    light = light_of(samples, stored.icc, stored.space)
    averaged = average_of_rows(light.rows, samples.height, samples.width, DRAWN_LONG_EDGE)
    return Photograph(
        light=_coloured(oriented(averaged, stored.orientation)),
        file=name,
        original_width=stored.width,
        original_height=stored.height,
        format=stored.format,
        mode=stored.mode,
        profile=light.profile,
        bits=samples.bits,
        notes=(*stored.notes, *samples.notes, *light.notes),
        focal=stored.focal,
        transparent=light.cleared.share,
    )


def _header(image: Image.Image, size: tuple[int, int], mode: str) -> _Stored:
    orientation, exif_notes = orientation_of(image)
    space, space_notes = named_space(image)
    stored_format = str(image.format)
    width, height = size[:: -1 if orientation in _ON_ITS_SIDE else 1]
    more = ("the first of several pictures in the file is read",) if _has_more(image) else ()
    return _Stored(
        width,
        height,
        _SHOWN_FORMATS.get(stored_format, stored_format),
        mode,
        image.info.get("icc_profile") or None,
        orientation,
        (*size_notes(width, height), *more, *exif_notes, *space_notes),
        space,
        focal_of(image),
    )


def _has_more(image: Image.Image) -> bool:
    """Whether another picture follows. Pages of a TIFF are not counted: there may be thousands, and bad ones."""
    if image.format == "TIFF":
        return bool(getattr(image.tag_v2, "next", 0))  # type: ignore[attr-defined]
    try:
        return image.format in _MANY_FRAMES and bool(getattr(image, "is_animated", False))
    except Exception:  # Pillow raises whatever the next frame's damage leads to
        return True


def _shrinks_by(image: Image.Image) -> int:
    """By how much a JPEG can be decoded smaller where that leaves the long edge that is drawn, or more."""
    if image.format not in ("JPEG", "MPO"):
        return 1
    return next((scale for scale in _DRAFT_SCALES if max(image.size) >= scale * DRAWN_LONG_EDGE), 1)


def oriented(pixels: Deep, orientation: int) -> Deep:
    """Turn (height, width, channels) upright. [EXIF 2.32, tag 0x0112]"""
    if orientation in _ON_ITS_SIDE:
        pixels = pixels.transpose(1, 0, 2)
    if orientation in (3, 4, 7, 8):
        pixels = pixels[::-1]
    if orientation in (2, 3, 6, 7):
        pixels = pixels[:, ::-1]
    return pixels


def _coloured(light: Float) -> Float:
    """Grey light (height, width, 1) as colour (height, width, 3)."""
    return np.ascontiguousarray(light if light.shape[2] == 3 else np.repeat(light, 3, axis=2))
