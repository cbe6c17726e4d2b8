"""What decoding an opened picture will cost, told from its header: depth, samples, passes and copies counted.

Bytes and seconds were measured on noise, the dearest content, on a busy core (tests/benchmarks/decoding_cost.py).
"""

from PIL import Image

from critique.photograph.limits import ORDINARY, Cost

WEBP = Cost(16, 0.12, "WebP")  # two canvases, a copy and Pillow's own, where webp.py can't help
SAMPLES_PER_PIXEL, BITS_PER_SAMPLE, IMAGE_DEPTH = 277, 258, 32997


def cost_of(image: Image.Image, shrunk_by: int = 1) -> Cost:
    """The cost of decoding; ``shrunk_by`` is the whole number by which a JPEG is decoded smaller."""
    if image.format in ("JPEG", "MPO"):
        return _jpeg(image, shrunk_by)
    if image.format == "PNG":
        return _png(image)
    if image.format == "TIFF":
        return tiff_cost(
            image.tag_v2.get(SAMPLES_PER_PIXEL, 1),  # type: ignore[attr-defined]
            image.tag_v2.get(BITS_PER_SAMPLE, (1,)),  # type: ignore[attr-defined]
            image.tag_v2.get(IMAGE_DEPTH, 1),  # type: ignore[attr-defined]
        )
    if image.format == "WEBP":
        return WEBP
    if image.format in ("HEIF", "AVIF"):
        deep = image.info.get("bit_depth", 8) > 8
        return Cost(24 if deep else 14, 0.25, "HEIC and AVIF")
    return ORDINARY


def webp_size(head: bytes) -> tuple[int, int] | None:
    """Width and height in px that the first 30 bytes of a WebP claim; None of any other file. [RFC 9649, 2.5 to 2.7]

    Pillow lays out the whole picture as soon as it opens one.
    """
    if head[:4] != b"RIFF" or head[8:12] != b"WEBP" or len(head) < 30:
        return None
    if head[12:16] == b"VP8X":
        return 1 + int.from_bytes(head[24:27], "little"), 1 + int.from_bytes(head[27:30], "little")
    if head[12:16] == b"VP8L":
        bits = int.from_bytes(head[21:25], "little")
        return 1 + (bits & 0x3FFF), 1 + (bits >> 14 & 0x3FFF)
    return int.from_bytes(head[26:28], "little") & 0x3FFF, int.from_bytes(head[28:30], "little") & 0x3FFF


def _jpeg(image: Image.Image, shrunk_by: int) -> Cost:
    pixels = (1 if image.mode == "L" else 4) / shrunk_by**2
    if image.info.get("progressive") or image.info.get("progression"):
        return Cost(6 + pixels, 0.08, "progressive JPEG")  # every coefficient waits in memory for the last pass
    return Cost(pixels, 0.03)


def _png(image: Image.Image) -> Cost:
    arguments = image.tile[0][3] if image.tile else ""  # type: ignore[attr-defined]
    raw_mode = str(arguments if isinstance(arguments, str) else arguments[0])
    interlaced = bool(image.info.get("interlace"))
    word = "interlaced " if interlaced else ""
    if raw_mode.endswith("16B") and image.mode in ("RGB", "RGBA"):
        return Cost(8, 0.2 if interlaced else 0.14, f"{word}16-bit PNG")  # decoded twice
    return Cost(4, 0.08 if interlaced else 0.05, f"{word}PNG")


def tiff_cost(samples: object, bits: object, depth: object) -> Cost:
    """Of a TIFF with so many samples a pixel, of so many bits, and so many planes in depth."""
    number = max(1, _whole(samples))
    widest = max((_whole(one) for one in bits), default=1) if isinstance(bits, (tuple, list)) else _whole(bits)
    stored = number * max(1, widest / 8) * max(1, _whole(depth))
    # As stored, twice more while it is unpacked and turned into codes.
    return Cost(max(8.0, 3 * stored), max(0.05, 0.015 * stored), f"TIFF of {number} × {widest} bits")


def _whole(value: object) -> int:
    if isinstance(value, (tuple, list)):
        value = value[0] if value else 1
    return int(value) if isinstance(value, (int, float)) else 1
