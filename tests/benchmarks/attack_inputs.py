"""What the attacks are made of: small files of every format, extreme pictures, odd text, folders to be harmed."""

import io

import numpy as np
from PIL import Image

from critique.perception.cielab import lab_to_srgb8, lch_to_lab

COPY = 10**9  # added to a picture's number: the same again, which a portfolio takes over
LEAST = 64  # px: the least side that is read
BOX = """name = "field box"
paints = ["PY74", "yellow ochre", "ultramarine", "PG7"]
[[own]]
name = "охра жёлтая"
masstone = [24, -14, 10]
tint = [66, -22, 14]
white_parts = 10
hazard = "cobalt"
"""
RULES = '["green area"]\nwatch_above = 0.25\nrework_above = 0.40\n[halving]\nmatters = false\n'


class Escaped(AssertionError):
    """What must not happen."""


def must(holds, what):
    if not holds:
        raise Escaped(what)


def seeds_of_files():
    """A small picture in every format, by name."""
    import tifffile

    rng = np.random.default_rng(1)
    codes = rng.integers(0, 256, (LEAST, LEAST + 2, 3)).astype(np.uint8)
    image, made = Image.fromarray(codes), {}

    def keep(name, kind, picture=image, **options):
        stream = io.BytesIO()
        picture.save(stream, kind, **options)
        made[name] = stream.getvalue()

    keep("jpeg", "JPEG", quality=40)
    keep("progressive jpeg", "JPEG", progressive=True)
    keep("cmyk jpeg", "JPEG", image.convert("CMYK"))
    keep("png", "PNG")
    keep("palette png", "PNG", image.quantize(16), transparency=0)
    keep("16-bit png", "PNG", Image.fromarray(codes[..., 0].astype(np.uint16) * 257))
    keep("webp", "WEBP")
    keep("lossless webp", "WEBP", lossless=True)
    keep("tiff", "TIFF")
    for packing in ("tiff_lzw", "tiff_deflate", "jpeg", "packbits"):
        keep(f"{packing} tiff", "TIFF", compression=packing)
    keep("bmp", "BMP")
    keep("gif", "GIF")
    keep("avif", "AVIF")
    try:
        import pillow_heif

        stream = io.BytesIO()
        pillow_heif.from_pillow(image).save(stream)
        made["heic"] = stream.getvalue()
    except (ImportError, RuntimeError, OSError):  # an encoder that is not built in: the reader is attacked by AVIF too
        pass
    for name, array, options in (
        ("float tiff", codes.astype(np.float32) / 255, {"photometric": "rgb"}),
        ("planar tiff", np.moveaxis(codes, -1, 0), {"photometric": "rgb", "planarconfig": "separate"}),
        ("32-bit tiff", codes[..., 0].astype(np.uint32) << 16, {}),
    ):
        stream = io.BytesIO()
        tifffile.imwrite(stream, array, **options)
        made[name] = stream.getvalue()
    return made


def damaged(data, rng):
    """Bytes flipped, cut, doubled, moved or overwritten, more often near the start, where headers are."""
    data = bytearray(data)
    for _ in range(int(rng.integers(1, 4))):
        reach = len(data) if rng.random() < 0.4 else min(len(data), 400)
        at, kind = int(rng.integers(0, max(1, reach))), int(rng.integers(0, 6))
        length = int(rng.integers(1, 17))
        if kind == 0:
            for place in rng.integers(0, max(1, reach), length):
                data[place : place + 1] = bytes([int(rng.integers(0, 256))])
        elif kind == 1:
            del data[at:]
        elif kind == 2:
            del data[at : at + length]
        elif kind == 3:
            data[at:at] = rng.bytes(length)
        elif kind == 4:
            data[at : at + 4] = rng.choice([b"\xff\xff\xff\xff", b"\0\0\0\0", b"\x7f\xff\xff\xff", b"\0\0\xff\xff"])
        else:
            data[at : at + length] = data[-length:]
    return bytes(data)


def simple_codes(rng):
    """A flat, striped, tiny, long or extreme picture as sRGB codes."""
    count = int(rng.integers(1, 5))
    extremes = [(0, 0, 0), (255, 255, 255), (0, 255, 0), (255, 255, 0), (128, 128, 128), (255, 0, 255), (0, 0, 255)]
    greens = np.stack([rng.uniform(30, 90, count), rng.uniform(5, 80, count), rng.uniform(90, 150, count)], -1)
    colours = {
        0: rng.integers(0, 256, (count, 3)),
        1: np.array(extremes)[rng.integers(0, len(extremes), count)],
        2: lab_to_srgb8(lch_to_lab(greens.astype(np.float32))),
        3: np.repeat(rng.integers(0, 256, (count, 1)), 3, axis=1),
    }[int(rng.integers(0, 4))].astype(np.uint8)
    height, width = [(LEAST, LEAST), (LEAST, 90), (90, LEAST), (LEAST, 10 * LEAST), (75, 67)][
        int(rng.choice(5, p=[0.3, 0.3, 0.25, 0.05, 0.1]))
    ]
    owner = np.arange(height) * count * int(rng.choice([1, 1, 1, 9])) // height % count
    codes = np.repeat(colours[owner][:, None], width, axis=1)
    if rng.random() < 0.2:  # one stroke, or grain
        codes = codes.copy()
        codes[5:20, 5:20] = rng.integers(0, 256, 3)
    if rng.random() < 0.1:
        codes = np.clip(codes + rng.normal(0, 3, codes.shape), 0, 255).astype(np.uint8)
    return np.ascontiguousarray(codes if rng.random() < 0.7 else np.swapaxes(codes, 0, 1))


def odd_text(good, rng):
    """A text file like ``good`` with something in it that no honest one has, as bytes."""
    many = int(rng.choice([17, 400, 5000, 60_000]))
    lines = good.splitlines()
    at = int(rng.integers(0, len(lines) + 1))
    extra = [
        "x = " + "[" * many + "]" * many,
        "x = " + "1" * many,
        'name = "' + "o" * many + '"',
        "x = nan",
        "x = -inf",
        ".".join("a" * many) + " = 1",
        'paints = ["' + "\\u0007" * 3 + '"]',
        "[[own]]\n" * min(many, 5000),
        "paints = [" + '"grean", ' * min(many, 5000) + "]",
        "," * many,
        "#" * many,
        "\x00\x1b[31m",
        "greens.area_share," + ",".join(["1e999"] * 21),
        '["\u202egreen area"]',
    ]
    kind = int(rng.integers(0, 6))
    if kind <= 2:
        text = "\n".join([*lines[:at], str(rng.choice(extra)), *lines[at:]]) + "\n"
        return text.encode(rng.choice(["utf-8", "utf-8", "utf-8-sig", "utf-16"]))
    if kind == 3:
        return good.encode(rng.choice(["utf-16", "utf-32", "utf-8-sig", "utf-16-be"]))
    if kind == 4:
        return (good + "# grün\n").encode("latin-1", "replace")
    return damaged(good.encode(), rng)


def made_portfolio(folder, numbers, seed):
    """A portfolio of simple pictures below ``folder``."""
    from PIL import Image

    from critique.portfolio.run import make_portfolio

    (folder / "pictures").mkdir(parents=True)
    for number in numbers:
        codes = simple_codes(np.random.default_rng([seed, number % COPY]))
        Image.fromarray(codes).save(folder / "pictures" / f"{number}.png")
    return make_portfolio(folder / "pictures", folder / "out", jobs=1, say=lambda line: None)


def contents(folder):
    """Every file below a folder but ledgers."""
    paths = sorted(path for path in folder.rglob("*") if path.is_file() and not path.name.startswith("ledger."))
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in paths}
