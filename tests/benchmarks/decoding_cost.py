"""What decoding costs by format, in seconds a megapixel and bytes a pixel: the figures of critique/photograph/cost.py.

Run `python tests/benchmarks/decoding_cost.py [SIDE]`. Each format is noise of SIDE px square (3000 unless told), the
dearest content there is, read in a process of its own; a bare start of that process is taken off.
"""

import io
import subprocess
import sys
import tempfile
import zlib
from collections.abc import Callable
from pathlib import Path

import numpy as np
import tifffile
from numpy.typing import NDArray
from PIL import Image

READ = """
import resource, sys, time
from critique.photograph.read import read_photograph
started = time.perf_counter()
if len(sys.argv) > 1: read_photograph(sys.argv[1])
print(time.perf_counter() - started, resource.getrusage(resource.RUSAGE_SELF).ru_maxrss)
"""


def sixteen_bit_png(codes: NDArray[np.uint16]) -> bytes:
    """A PNG of 16-bit colour, (height, width, 3), which Pillow does not write. [PNG, third edition]"""

    def chunk(kind: bytes, body: bytes) -> bytes:
        return len(body).to_bytes(4, "big") + kind + body + zlib.crc32(kind + body).to_bytes(4, "big")

    height, width, _ = codes.shape
    header = width.to_bytes(4, "big") + height.to_bytes(4, "big") + bytes((16, 2, 0, 0, 0))
    rows = b"".join(b"\0" + row.astype(">u2").tobytes() for row in codes)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", header) + chunk(b"IDAT", zlib.compress(rows, 1)) + chunk(b"IEND", b"")


def by_pillow(image: Image.Image, kind: str, **options: object) -> bytes:
    stream = io.BytesIO()
    image.save(stream, kind, **options)
    return stream.getvalue()


def by_tifffile(array: NDArray[np.generic]) -> bytes:
    stream = io.BytesIO()
    tifffile.imwrite(stream, array, photometric="rgb")
    return stream.getvalue()


def measured(*arguments: str) -> tuple[float, float]:
    done = subprocess.run([sys.executable, "-c", READ, *arguments], capture_output=True, text=True)
    if done.returncode:
        return float("nan"), float("nan")
    seconds, kibibytes = done.stdout.split()
    return float(seconds), float(kibibytes) * 1024


def main() -> None:
    side = int(sys.argv[1]) if len(sys.argv) > 1 else 3000
    generator = np.random.default_rng(0)
    deep = generator.integers(0, 65536, (side, side, 3)).astype(np.uint16)
    image = Image.fromarray((deep >> 8).astype(np.uint8))
    makers: dict[str, Callable[[], bytes]] = {
        "JPEG": lambda: by_pillow(image, "JPEG", quality=90),
        "PNG, 8 bits": lambda: by_pillow(image, "PNG", compress_level=1),
        "PNG, 16 bits": lambda: sixteen_bit_png(deep),
        "WebP, lossless": lambda: by_pillow(image, "WEBP", lossless=True, quality=0, method=0),
        "AVIF": lambda: by_pillow(image, "AVIF", quality=80, speed=10),
        "TIFF, 8 bits": lambda: by_pillow(image, "TIFF"),
        "TIFF, 8 bits, LZW": lambda: by_pillow(image, "TIFF", compression="tiff_lzw"),
        "TIFF, 16 bits": lambda: by_tifffile(deep),
        "TIFF, float": lambda: by_tifffile((deep / 65535).astype(np.float32)),
        "GIF": lambda: by_pillow(image.quantize(256), "GIF"),
    }
    _, bare = measured()
    with tempfile.TemporaryDirectory() as folder:
        for name, make in makers.items():
            path = Path(folder) / "noise"
            path.write_bytes(make())
            seconds, peak = measured(str(path))
            print(
                f"{name:<20} {seconds / side**2 * 1e6:6.3f} s a megapixel {(peak - bare) / side**2:6.1f} bytes a pixel"
            )


if __name__ == "__main__":
    main()
