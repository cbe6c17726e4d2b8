"""Whether a path leads to a picture file that can be opened, and how to say so when it does not."""

import logging
import os
import sys
import warnings
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from PIL import Image, UnidentifiedImageError

from critique.errors import TooLittleMemory, UnreadablePicture

# Pillow opens these and no others: some of its readers start other programs or take vector pages.
FORMATS = ("JPEG", "MPO", "PNG", "WEBP", "TIFF", "BMP", "GIF", "HEIF", "AVIF")
READABLE = "JPEG, PNG, WebP, TIFF, BMP, GIF or HEIC"

LONGEST_NAME = 255  # no usual file system holds a longer one

# Raw files of cameras hold a thumbnail that would be taken for the picture.
RAW_SUFFIXES = frozenset(".3fr .arw .cr2 .cr3 .dng .erf .iiq .nef .nrw .orf .pef .raf .raw .rw2 .rwl .srw .x3f".split())

_STDERR = 2  # its file descriptor, in every process

_HEIF_BRANDS = (b"heic", b"heix", b"heim", b"heis", b"hevc", b"hevx", b"mif1", b"msf1")


def printable_name(path: str | Path) -> str:
    """The file's name without its folder, on one line: whatever cannot be printed is escaped."""
    name = (Path(path).name or str(path))[:LONGEST_NAME]
    return "".join(c if c.isprintable() else c.encode("unicode_escape").decode("ascii") for c in name)


def check_file(path: Path, name: str) -> None:
    """Raise ``UnreadablePicture`` unless ``path`` is a file with something in it that may be read."""
    try:
        if path.is_dir():
            raise UnreadablePicture(f"{name}: is a folder; give a picture in it.")
        if path.is_symlink() and not path.exists():
            raise UnreadablePicture(f"{name}: is a link to a file that is not there; give the picture itself.")
        if not path.exists():
            raise UnreadablePicture(f"{name}: there is no such file; check the name and the folder.")
        if not path.is_file():
            raise UnreadablePicture(f"{name}: is not an ordinary file; give a picture saved on disk.")
        if path.stat().st_size == 0:
            raise UnreadablePicture(f"{name}: the file is empty; copy it again from where it came.")
        with path.open("rb"):
            pass
    except PermissionError:
        raise UnreadablePicture(f"{name}: the file may not be read; change its permissions.") from None
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise UnreadablePicture(f"{name}: cannot be opened ({one_line(reason)}); check the name.") from None
    if path.suffix.lower() in RAW_SUFFIXES:
        raise UnreadablePicture(f"{name}: is a camera's raw file; export it as JPEG or 16-bit TIFF first.")


def open_image(path: Path, name: str) -> Image.Image:
    """Read the header of a picture file; its pixels are not decoded yet."""
    with path.open("rb") as file:
        head = file.read(12)
    if head[4:8] == b"ftyp" and head[8:12] in _HEIF_BRANDS:
        _prepare_for_heif()
    try:
        image = Image.open(path, formats=[name for name in FORMATS if _is_known(name)])
        # Without its path Pillow decodes a TIFF instead of mapping it, which goes wrong for one that lies on its side.
        image.filename = ""
        return image
    except UnidentifiedImageError:
        raise UnreadablePicture(f"{name}: is not a picture that can be read; save it as {READABLE}.") from None
    except MemoryError:
        raise no_memory(name) from None
    except Exception as error:  # readers raise almost anything on a damaged header
        raise damaged(name, error) from None


def damaged(name: str, error: Exception) -> UnreadablePicture:
    """What to say of a file whose decoding failed with ``error``."""
    text = str(error).lower()
    if "truncated" in text or "end of" in text or isinstance(error, EOFError):
        return UnreadablePicture(f"{name}: the file is cut short; copy it again from where it came.")
    return UnreadablePicture(f"{name}: the file is damaged and cannot be decoded; copy it again or save a new one.")


def no_memory(name: str) -> TooLittleMemory:
    """What to say when a picture does not fit in memory."""
    return TooLittleMemory(f"{name}: there is not enough memory to read it; save a smaller copy.")


def one_line(text: str) -> str:
    """``text`` without line breaks or runs of spaces."""
    return " ".join(text.split())


@contextmanager
def quietly() -> Iterator[list[warnings.WarningMessage]]:
    """Keep what image libraries print from the person at the command line, and lift Pillow's own limit of size.

    ``check_size`` holds every picture to one limit, before it is decoded. Yields the warnings that were kept.
    """
    for library in ("PIL", "tifffile"):
        _give_silent_handler(logging.getLogger(library))
    limit = Image.MAX_IMAGE_PIXELS
    Image.MAX_IMAGE_PIXELS = None
    try:
        with warnings.catch_warnings(record=True) as kept:
            warnings.simplefilter("always")
            yield kept
    finally:
        Image.MAX_IMAGE_PIXELS = limit


@contextmanager
def silent_decoding(format: str | None) -> Iterator[None]:
    """Keep from stderr what libtiff writes there itself about damaged files; the error that Pillow raises says enough.

    libtiff's own switch is out of reach inside Pillow, so the file descriptor points elsewhere while a TIFF is decoded.
    """
    if format != "TIFF":
        yield
        return
    try:
        sys.stderr.flush()
        kept = os.dup(_STDERR)
    except (OSError, AttributeError, ValueError):  # a program without stderr has nothing to keep clean
        yield
        return
    try:
        with open(os.devnull, "wb") as nowhere:
            os.dup2(nowhere.fileno(), _STDERR)
        yield
    finally:
        os.dup2(kept, _STDERR)
        os.close(kept)


def _give_silent_handler(logger: logging.Logger) -> None:
    # A library's logger without a handler prints to stderr; one that the caller configured is left as it is.
    if not any(isinstance(handler, logging.NullHandler) for handler in logger.handlers):
        logger.addHandler(logging.NullHandler())


def _is_known(name: str) -> bool:
    Image.preinit()
    if name not in Image.OPEN:
        Image.init()
    return name in Image.OPEN


def _prepare_for_heif() -> None:
    import pillow_heif

    pillow_heif.register_heif_opener()
