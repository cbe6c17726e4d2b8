"""How a file becomes light: decode, orient, manage colour, lay over white, average."""

import warnings
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from PIL import Image

from critique.errors import CritiqueError, UnreadablePicture
from critique.perception.srgb import Float
from critique.photograph.colour import light_of
from critique.photograph.deep import stored_samples
from critique.photograph.files import (
    check_file,
    damaged,
    no_memory,
    open_image,
    printable_name,
    quietly,
    silent_decoding,
)
from critique.photograph.limits import DRAWN_LONG_EDGE, check_size
from critique.photograph.named_spaces import NamedSpace, named_space
from critique.photograph.photograph import Photograph
from critique.photograph.samples import Samples, shown_mode
from critique.photograph.scale import average_of_rows
from critique.photograph.tiff import UnsupportedTiff, is_tiff, refuse, tiff_header, tiff_samples

_DRAFT_SCALES = (8, 4, 2)  # by which a JPEG can be decoded smaller
_ORIENTATION_TAG = 0x0112
_ON_ITS_SIDE = (5, 6, 7, 8)  # orientations that exchange width and height
_MANY_PAGES = ("TIFF", "GIF", "WEBP", "PNG")  # a further picture here may be another page; in MPO it is a preview
_DAMAGED_EXIF = "the camera's notes (EXIF) are damaged and were left aside"
_SHOWN_FORMATS = {"MPO": "JPEG"}  # a JPEG with further pictures behind it, as telephones write


def read_photograph(path: str | Path) -> Photograph:
    """Read the light of the picture in a file.

    JPEG, PNG, WebP, TIFF (8 and 16 bits, floating point), BMP, GIF (first frame) and HEIC. Raises
    ``UnreadablePicture``, one line, when there is no such picture or it is outside the limits of size.
    """
    path = Path(path)
    name = printable_name(path)
    check_file(path, name)
    try:
        with quietly():
            return _read(path, name)
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


def _read(path: Path, name: str) -> Photograph:
    try:
        image = open_image(path, name)
    except UnreadablePicture:
        if not is_tiff(path):
            raise
        return _read_unusual_tiff(path, name)
    with image:
        size = image.size
        notes = check_size(*size, name)
        mode = shown_mode(image)
        shrunk = _shrink_while_decoding(image)
        with silent_decoding(image.format):
            samples = stored_samples(image, path)
        # EXIF only now. Pillow decodes a PNG, at 8 bits, when it is asked for it; and it turns most TIFF files
        # upright while decoding, and then forgets their orientation.
        stored_size = size if shrunk else (samples.width, samples.height)
        return _photograph(_header(image, stored_size, mode, notes), samples, name)


def _read_unusual_tiff(path: Path, name: str) -> Photograph:
    """A TIFF of a kind that Pillow does not open at all, such as floating-point colour."""
    header = tiff_header(path)
    width, height = (header.width, header.height)[:: -1 if header.orientation in _ON_ITS_SIDE else 1]
    notes = check_size(width, height, name)
    samples = tiff_samples(path)
    return _photograph(
        _Stored(width, height, "TIFF", samples.kind, header.icc, header.orientation, notes), samples, name
    )


def _photograph(stored: _Stored, samples: Samples, name: str) -> Photograph:
    light = light_of(samples, stored.icc, stored.space)
    averaged = average_of_rows(light.rows, samples.height, samples.width, DRAWN_LONG_EDGE)
    return Photograph(
        light=_coloured(_oriented(averaged, stored.orientation)),
        file=name,
        original_width=stored.width,
        original_height=stored.height,
        format=stored.format,
        mode=stored.mode,
        profile=light.profile,
        bits=samples.bits,
        notes=(*stored.notes, *samples.notes, *light.notes),
    )


def _header(image: Image.Image, size: tuple[int, int], mode: str, size_notes: tuple[str, ...]) -> _Stored:
    orientation, exif_notes = _orientation(image)
    space, space_notes = named_space(image)
    stored_format = str(image.format)
    width, height = size[:: -1 if orientation in _ON_ITS_SIDE else 1]
    frames = getattr(image, "n_frames", 1) if stored_format in _MANY_PAGES else 1
    frame_notes = (f"the first of {frames} pictures in the file is read",) if frames > 1 else ()
    return _Stored(
        width,
        height,
        _SHOWN_FORMATS.get(stored_format, stored_format),
        mode,
        image.info.get("icc_profile") or None,
        orientation,
        (*size_notes, *frame_notes, *exif_notes, *space_notes),
        space,
    )


def _orientation(image: Image.Image) -> tuple[int, tuple[str, ...]]:
    """How the camera was held (EXIF 1–8), and a note if the camera's notes cannot be read."""
    if image.format == "HEIF":  # libheif has turned it, whatever EXIF says
        return 1, ()
    notes = (_DAMAGED_EXIF,) if _is_damaged(image.info.get("exif")) else ()
    try:
        value = image.getexif().get(_ORIENTATION_TAG, 1)
    except Exception:  # Pillow raises whatever the damage leads to
        return 1, (_DAMAGED_EXIF,)
    return (value if value in range(1, 9) else 1), notes


def _is_damaged(exif: bytes | None) -> bool:
    """Whether Pillow warns or fails when it reads these notes; on opening a file it swallows that."""
    if not exif:
        return False
    with warnings.catch_warnings(record=True) as kept:
        warnings.simplefilter("always")
        try:
            Image.Exif().load(exif)
        except Exception:  # as above
            return True
    return bool(kept)


def _shrink_while_decoding(image: Image.Image) -> bool:
    """Have a JPEG decoded at 1/8, 1/4 or 1/2 where that leaves the long edge that is drawn, or more."""
    if image.format not in ("JPEG", "MPO"):
        return False
    width, height = image.size
    for scale in _DRAFT_SCALES:
        if max(width, height) >= scale * DRAWN_LONG_EDGE:
            image.draft(None, (width // scale, height // scale))
            return True
    return False


def _oriented(pixels: Float, orientation: int) -> Float:
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
