"""How samples deeper than 8 bits keep their depth, which Pillow drops for colour."""

import sys
from typing import Any

import numpy as np
from PIL import Image

from critique.errors import UnreadablePicture
from critique.photograph.files import open_image
from critique.photograph.samples import Array, Samples, eight_bit_samples
from critique.photograph.source import Source
from critique.photograph.webp import still_webp_samples

_OTHER_ORDER = {"B": "L", "L": "B", "N": "B" if sys.byteorder == "little" else "L"}
_GREY_MODES = ("I;16", "I;16L", "I;16B", "I;16N")
_TWO_PASS = ("RGB;16", "RGBA;16", "RGBX;16")

# TIFF tags [TIFF 6.0; Adobe Photoshop TIFF technical notes]
BITS_PER_SAMPLE, PHOTOMETRIC, PLANAR, SAMPLE_FORMAT = 258, 262, 284, 339
WHITE_IS_ZERO, SEPARATE_PLANES = 0, 2


def stored_samples(image: Image.Image, source: Source) -> Samples:
    """The samples of an opened picture at the depth of the file, up to 16 bits."""
    if image.format == "PNG" and (image.mode in (*_GREY_MODES, "I") or _raw_mode(image).endswith(";16B")):
        return _png_samples(image, source)
    if image.format == "TIFF" and max(_bits(image)) > 8:
        return _tiff_samples(image, source)
    if image.format == "HEIF" and image.info.get("bit_depth", 8) > 8:
        return _heif_samples(image, source)
    if image.format == "WEBP" and (still := still_webp_samples(image, source)) is not None:
        return still
    return eight_bit_samples(image)


def held_samples(image: Image.Image, name: str) -> Samples:
    """The samples of a picture that Pillow holds already, wherever it came from.

    Raises ``UnreadablePicture`` where the mode doesn't say what number is white.
    """
    if image.mode in _GREY_MODES:
        return _grey_samples(image)
    if image.mode in ("I", "F"):
        least, most = image.getextrema()
        if image.mode == "F" or least < 0 or most > 65535:  # type: ignore[operator]
            raise UnreadablePicture(
                f"{name}: a Pillow image of mode {image.mode} doesn't say what is white; "
                "give an array of uint8, uint16 or floats 0–1."
            )
        if most > 255:  # type: ignore[operator]
            return _grey_samples(image)
    return eight_bit_samples(image)


def _raw_mode(image: Image.Image) -> str:
    """How Pillow is about to read the file: such as 'RGB;16B', the high byte of big-endian samples."""
    if not image.tile:  # type: ignore[attr-defined]
        return ""
    arguments = image.tile[0][3]  # type: ignore[attr-defined]
    return str(arguments if isinstance(arguments, str) else arguments[0])


def _read_as(source: Source, raw_mode: str) -> Image.Image:
    """Decode the file with its samples unpacked another way (of the same size)."""
    image: Any = open_image(source)
    tile = image.tile[0]
    name, box, offset, arguments = tile
    unpacked = raw_mode if isinstance(arguments, str) else (raw_mode, *arguments[1:])
    # A named tuple in newer versions of Pillow, a plain one before.
    image.tile = [getattr(type(tile), "_make", tuple)((name, box, offset, unpacked))]
    image.load()
    return image  # type: ignore[no-any-return]


def _png_samples(image: Image.Image, source: Source) -> Samples:
    raw_mode = _raw_mode(image)
    if image.mode in (*_GREY_MODES, "I"):
        return _grey_samples(image)
    if raw_mode == "LA;16B":
        return _grey_alpha_samples(_read_as(source, "RGBA"))
    return _two_pass_samples(image, source)


def _two_pass_samples(image: Image.Image, source: Source) -> Samples:
    """Pillow keeps one byte of a 16-bit sample: read the high bytes, then the low ones as if turned round."""
    raw_mode = _raw_mode(image)
    key = image.info.get("transparency")
    high, low = image, _read_as(source, raw_mode[:-1] + _OTHER_ORDER[raw_mode[-1]])
    high.load()
    width, height = high.size

    def rows(first: int, last: int) -> tuple[Array, Array | None]:
        box = (0, first, width, last)
        samples = np.asarray(high.crop(box)).astype(np.uint16)
        samples <<= 8
        samples |= np.asarray(low.crop(box))
        if samples.shape[2] == 4:
            return samples[..., :3], samples[..., 3]
        if isinstance(key, tuple):  # one colour stands for "transparent" [PNG, 11.3.2.1]
            return samples, np.where((samples == np.array(key)).all(axis=2), 0, 65535).astype(np.uint16)
        return samples, None

    return Samples(rows, width, height, "RGB", 16, deep=True)


def _grey_samples(image: Image.Image, inverted: bool = False) -> Samples:
    image.load()
    width, height = image.size
    key = image.info.get("transparency")

    def rows(first: int, last: int) -> tuple[Array, Array | None]:
        samples = np.asarray(image.crop((0, first, width, last))).astype(np.uint16)
        alpha = np.where(samples == key, 0, 65535).astype(np.uint16) if isinstance(key, int) else None
        return (65535 - samples if inverted else samples)[..., None], alpha

    return Samples(rows, width, height, "L", 16, deep=True)


def _grey_alpha_samples(image: Image.Image) -> Samples:
    """``image`` holds the four bytes of grey and alpha as if they were RGBA."""
    width, height = image.size

    def rows(first: int, last: int) -> tuple[Array, Array | None]:
        data = np.asarray(image.crop((0, first, width, last)))
        both = np.ascontiguousarray(data).view(">u2").astype(np.uint16)
        return both[..., :1], both[..., 1]

    return Samples(rows, width, height, "L", 16, deep=True)


def _bits(image: Image.Image) -> tuple[int, ...]:
    return tuple(image.tag_v2.get(BITS_PER_SAMPLE, (1,)))  # type: ignore[attr-defined]


def _tiff_samples(image: Image.Image, source: Source) -> Samples:
    tags = image.tag_v2  # type: ignore[attr-defined]
    whole_numbers = set(tags.get(SAMPLE_FORMAT, (1,))) == {1}
    if max(_bits(image)) == 16 and whole_numbers:
        if image.mode in _GREY_MODES:
            return _grey_samples(image, inverted=tags.get(PHOTOMETRIC) == WHITE_IS_ZERO)
        if tags.get(PLANAR, 1) != SEPARATE_PLANES and _raw_mode(image)[:-1] in _TWO_PASS:
            return _two_pass_samples(image, source)
        if image.mode == "CMYK":
            return eight_bit_samples(image, 16, ("16-bit CMYK is read at 8 bits",))
    from critique.photograph.tiff import UnsupportedTiff, tiff_samples

    try:
        return tiff_samples(source)
    except UnsupportedTiff:
        if image.mode in ("RGB", "RGBA", "L", "LA") and whole_numbers:
            return eight_bit_samples(image, max(_bits(image)), ("this kind of TIFF is read at 8 bits",))
        raise


def _heif_samples(image: Image.Image, source: Source) -> Samples:
    import pillow_heif

    heif = pillow_heif.open_heif(source.open(), convert_hdr_to_8bit=False)[image.tell()]
    depth = int(image.info["bit_depth"])
    pixels = np.asarray(heif)
    if pixels.dtype != np.uint16:
        return eight_bit_samples(image, depth)
    if pixels.ndim == 2:
        pixels = pixels[..., None]
    alpha = pixels[..., -1] if pixels.shape[2] in (2, 4) else None
    colour = pixels[..., :3] if pixels.shape[2] >= 3 else pixels[..., :1]
    # libheif fills the high bits and leaves the low ones empty: white must come to 65,535.
    table = np.round(np.minimum(np.arange(65536) >> (16 - depth), 2**depth - 1) * (65535 / (2**depth - 1)))
    codes = table.astype(np.uint16)

    def rows(first: int, last: int) -> tuple[Array, Array | None]:
        return codes[colour[first:last]], None if alpha is None else codes[alpha[first:last]]

    return Samples(rows, pixels.shape[1], pixels.shape[0], "L" if colour.shape[2] == 1 else "RGB", depth, deep=True)
