"""How a picture file is opened, its pixels not decoded yet, and how to say so when that fails."""

import struct
from collections.abc import Callable
from functools import partial
from typing import Any, BinaryIO

from PIL import Image, UnidentifiedImageError

from critique.errors import TooLittleMemory, UnreadablePicture
from critique.photograph.cost import WEBP, webp_size
from critique.photograph.limits import check_size
from critique.photograph.png import lean_png
from critique.photograph.source import Source

# Pillow's readers that are asked, and no others: some start other programs or take vector pages.
FORMATS = ("JPEG", "PNG", "WEBP", "TIFF", "BMP", "GIF", "AVIF")
READABLE = "JPEG, PNG, WebP, TIFF, BMP, GIF or HEIC"

_HEIF_BRANDS = (b"heic", b"heix", b"heim", b"heis", b"hevc", b"hevx", b"mif1", b"msf1")


def open_image(source: Source) -> Image.Image:
    """Read the header of a picture file.

    Pillow's own ``open`` holds pictures to a limit that is one for the whole process; here each is held to its cost.
    """
    name = source.name
    claimed = webp_size(source.head(30))
    if claimed is not None:
        check_size(*claimed, name, WEBP)
    try:
        stream, extra = lean_png(source.open())
        image = _opened(stream)
    except UnidentifiedImageError:
        raise UnreadablePicture(f"{name}: is not a picture that can be read; save it as {READABLE}.") from None
    except MemoryError:
        raise no_memory(name) from None
    except Exception as error:  # readers raise almost anything on a damaged header
        raise damaged(name, error) from None
    image._exclusive_fp = True  # type: ignore[attr-defined]  # Pillow closes what it opened by itself, and so this
    image.info.update(extra)
    _scale_key(image)
    return image


def _scale_key(image: Image.Image) -> None:
    """The grey that stands for "transparent", in samples of 2 or 4 bits, as Pillow shows them. [PNG, 11.3.2.1]"""
    raw_mode, key = image.tile[0][3] if image.format == "PNG" and image.tile else "", image.info.get("transparency")  # type: ignore[attr-defined]
    if raw_mode in ("L;2", "L;4") and isinstance(key, int):
        image.info["transparency"] = key * 255 // (2 ** int(raw_mode[-1]) - 1)


def _opened(stream: BinaryIO) -> Image.Image:
    head = stream.read(16)
    for factory in _readers(head):
        stream.seek(0)
        try:
            return factory(stream)
        except (SyntaxError, IndexError, TypeError, struct.error):  # by which Pillow's readers say "none of mine"
            continue
    stream.close()
    raise UnidentifiedImageError


def _readers(head: bytes) -> list[Callable[[BinaryIO], Image.Image]]:
    """The readers that take a file which begins so."""
    if head[4:8] == b"ftyp" and head[8:12] in _HEIF_BRANDS:
        from pillow_heif import HeifImageFile

        return [HeifImageFile]
    Image.preinit()
    usual = _that_take(head)
    if not usual and any(name not in Image.OPEN for name in FORMATS):
        Image.init()  # loads forty readers: a JPEG or a PNG needs none of them
        return _that_take(head)
    return usual


def _that_take(head: bytes) -> list[Callable[[BinaryIO], Image.Image]]:
    asked: list[Any] = [Image.OPEN[name] for name in FORMATS if name in Image.OPEN]
    return [partial(_with, factory) for factory, accepts in asked if accepts is None or accepts(head) is True]


def _with(factory: Any, stream: BinaryIO) -> Image.Image:
    # Without a file name Pillow decodes a TIFF instead of mapping it, which goes wrong for one that lies on its side.
    image: Image.Image = factory(stream, "")
    return image


def damaged(name: str, error: Exception) -> UnreadablePicture:
    """What to say of a file whose decoding failed with ``error``."""
    text = str(error).lower()
    if "truncated" in text or "end of" in text or isinstance(error, EOFError):
        return UnreadablePicture(f"{name}: the file is cut short; copy it again from where it came.")
    return UnreadablePicture(f"{name}: the file is damaged and cannot be decoded; copy it again or save a new one.")


def no_memory(name: str) -> TooLittleMemory:
    """What to say when a picture does not fit in memory."""
    return TooLittleMemory(f"{name}: there is not enough memory to read it; save a smaller copy.")
