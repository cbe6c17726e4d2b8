"""How the camera was held, how long its lens is, and whether its notes can be read. [EXIF 2.32, 4.5 and 4.6]"""

import math
import struct

from PIL import Image

ORIENTATION = 0x0112
CAMERA, FOCAL_35, NOTED_WIDTH, NOTED_HEIGHT = 0x8769, 0xA405, 0xA002, 0xA003
DIAGONAL_35 = 43.27  # mm of a frame of 36 × 24 mm, to which the focal length is noted [CIPA DCG-001, from memory]
LEAST_FOCAL, MOST_FOCAL = 0.4, 12.0  # of the long edge: a fisheye, a long telephoto
CROPPED = 1.03  # times that a file's proportion may differ from the one noted: more, and it was cropped since
DAMAGED = "the camera's notes (EXIF) are damaged and were left aside"
_BYTES = {1: 1, 2: 1, 3: 2, 4: 4, 5: 8, 6: 1, 7: 1, 8: 2, 9: 4, 10: 8, 11: 4, 12: 8}  # of one value of each type
_ORDERS = {b"II*\0": "<", b"MM\0*": ">"}


def orientation_of(image: Image.Image) -> tuple[int, tuple[str, ...]]:
    """How the camera was held (EXIF 1–8), and a note if the camera's notes cannot be read."""
    if image.format == "HEIF":  # libheif has turned it, whatever EXIF says
        return 1, ()
    notes = (DAMAGED,) if _is_damaged(image.info.get("exif")) else ()
    try:
        value = image.getexif().get(ORIENTATION, 1)
    except Exception:  # Pillow raises whatever the damage leads to
        return 1, (DAMAGED,)
    return (value if value in range(1, 9) else 1), notes


def focal_of(image: Image.Image) -> float | None:
    """The lens's focal length in long edges of the photograph; None where it wasn't noted, or no longer holds."""
    try:
        notes = image.getexif().get_ifd(CAMERA)
        millimetres = float(notes.get(FOCAL_35, 0))
        noted = [float(notes.get(tag, 0)) for tag in (NOTED_WIDTH, NOTED_HEIGHT)]
    except Exception:  # Pillow raises whatever the damage leads to
        return None
    long, short = max(image.size), min(image.size)
    if min(noted) > 0 and not 1 / CROPPED < max(noted) / min(noted) / (long / short) < CROPPED:
        return None
    focal = millimetres / DIAGONAL_35 * math.hypot(long, short) / long
    return focal if LEAST_FOCAL <= focal <= MOST_FOCAL else None


def _is_damaged(exif: bytes | None) -> bool:
    """Whether the first directory of notes, or a value in it, lies outside of them."""
    if not exif:
        return False
    data = exif[6:] if exif[:6] == b"Exif\0\0" else exif
    order = _ORDERS.get(data[:4])
    if order is None:
        return True
    try:
        (at,) = struct.unpack_from(f"{order}I", data, 4)
        (count,) = struct.unpack_from(f"{order}H", data, at)
        for index in range(count):
            _, kind, number, where = struct.unpack_from(f"{order}HHII", data, at + 2 + 12 * index)
            size = _BYTES.get(kind, 0) * number
            if size > 4 and where + size > len(data):
                return True
    except struct.error:
        return True
    return False
