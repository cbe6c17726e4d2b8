"""What a PNG carries beside its pixels, when there is more of it than Pillow takes. [PNG, third edition, 5 and 11.3]"""

import io
import struct
import zlib
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any, BinaryIO

SIGNATURE = b"\x89PNG\r\n\x1a\n"
MUCH_TEXT = 2**16  # bytes of one text: comments of a program, and no painter's note, are longer
MUCH_PROFILE = 2**20  # bytes of a colour profile, unpacked, that Pillow takes
MOST_PROFILE = 2**24  # bytes of a colour profile, unpacked: those of printing presses have 3 MB
_TEXTS = (b"tEXt", b"zTXt", b"iTXt")


@dataclass(frozen=True, slots=True)
class _Chunk:
    kind: bytes
    start: int  # of its length field
    length: int  # of its data

    @property
    def end(self) -> int:
        return self.start + 12 + self.length


def lean_png(stream: BinaryIO) -> tuple[BinaryIO, dict[str, Any]]:
    """The file without long texts and without its profile, and that profile as Pillow would give it.

    Pillow refuses a PNG whose texts or profile are longer than a limit of its own. Any other file is given back as it
    is, at its start.
    """
    if stream.read(len(SIGNATURE)) != SIGNATURE:
        stream.seek(0)
        return stream, {}
    left_out: list[_Chunk] = []
    extra: dict[str, Any] = {}
    for chunk in _chunks(stream):
        if chunk.kind == b"iCCP":
            profile = _profile(stream, chunk)
            if len(profile) > MUCH_PROFILE:
                left_out.append(chunk)
                extra["icc_profile"] = profile
        elif chunk.kind in _TEXTS and chunk.length > MUCH_TEXT:
            left_out.append(chunk)
    if not left_out:
        stream.seek(0)
        return stream, {}
    with stream:
        stream.seek(0)
        whole = stream.read()
    kept, at = [], 0
    for chunk in left_out:
        kept.append(whole[at : chunk.start])
        at = chunk.end
    kept.append(whole[at:])
    return io.BytesIO(b"".join(kept)), extra


def _chunks(stream: BinaryIO) -> Iterator[_Chunk]:
    at = len(SIGNATURE)
    while True:
        stream.seek(at)
        head = stream.read(8)
        if len(head) < 8:
            return
        length, kind = struct.unpack(">I4s", head)
        if kind == b"IEND" or length > 2**31:
            return
        chunk = _Chunk(kind, at, length)
        yield chunk
        at = chunk.end


def _profile(stream: BinaryIO, chunk: _Chunk) -> bytes:
    """The profile, unpacked; nothing when it is damaged. [PNG, 11.3.2.3]"""
    stream.seek(chunk.start + 8)
    data = stream.read(chunk.length)
    name_end = data.find(b"\0", 0, 80)
    if name_end < 0 or data[name_end + 1 : name_end + 2] != b"\0":
        return b""
    try:
        return zlib.decompressobj().decompress(data[name_end + 2 :], MOST_PROFILE)
    except zlib.error:
        return b""
