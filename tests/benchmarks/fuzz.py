"""Coverage-guided fuzzing of what reads files that others wrote; run by hand.

    pip install atheris
    python tests/benchmarks/fuzz.py TARGET [--seconds 1200] [--seed 1]

TARGET is pictures, box, rules or norms. Whatever is not read must be refused by an error of the program's own, of one
line. Anything else is counted, once for each place that it came from, and its input kept in the folder of --keep.
"""

import argparse
import io
import logging
import shutil
import sys
import tempfile
import time
import warnings
from collections import Counter
from pathlib import Path

import atheris

with atheris.instrument_imports(include=["critique", "tifffile", "PIL"], enable_loader_override=False):
    import PIL.GifImagePlugin
    import PIL.JpegImagePlugin
    import PIL.PngImagePlugin
    import PIL.TiffImagePlugin
    import PIL.WebPImagePlugin  # noqa: F401
    import tifffile

    from critique.advice.norms import norms_of, read_norms, write_norms
    from critique.errors import CritiqueError
    from critique.measures.measure import measure_picture
    from critique.paints.box import load_box
    from critique.picture.picture import picture_from_srgb
    from critique.picture.read import read_picture
    from critique.portfolio.rules import read_rules
    from critique.words.printed import may_be_shown

import numpy as np
from PIL import Image

SLOW_SECONDS = 20.0  # for one input: a hang to whoever waits for it
REPORT_SECONDS = 60.0

BOX = """name = "field box"
paints = ["PY74", "yellow ochre", "ultramarine", 'PG7']
white = "titanium white"
[[own]]
name = "охра"
masstone = [24, -14, 10]
tint = [66, -22, 14]
white_parts = 10
third = [49, -24, 15]
third_white_parts = 3
hazard = "cobalt"
measured_by = "dabs"
[[own.mixed]]
parts = 3
with = "white"
with_parts = 1
colour = [38, -20, 13]
"""
RULES = '["green area"]\nwatch_above = 0.25\nrework_above = 4e-1\n[halving]\nmatters = false\n'


def picture_seeds():
    """A small picture in every format that is read."""
    rng = np.random.default_rng(1)
    codes = rng.integers(0, 256, (64, 66, 3)).astype(np.uint8)
    image = Image.fromarray(codes)
    for kind, options in (
        ("JPEG", {"quality": 40}),
        ("JPEG", {"progressive": True}),
        ("PNG", {}),
        ("WEBP", {"lossless": True}),
        ("WEBP", {}),
        ("TIFF", {}),
        ("TIFF", {"compression": "tiff_lzw"}),
        ("TIFF", {"compression": "jpeg"}),
        ("BMP", {}),
        ("GIF", {}),
        ("AVIF", {}),
    ):
        stream = io.BytesIO()
        image.save(stream, kind, **options)
        yield stream.getvalue()
    for array, options in (
        (codes.astype(np.float32) / 255, {"photometric": "rgb"}),
        (np.moveaxis(codes, -1, 0), {"photometric": "rgb", "planarconfig": "separate"}),
        (codes[..., 0].astype(np.uint16) * 257, {}),
    ):
        stream = io.BytesIO()
        tifffile.imwrite(stream, array, **options)
        yield stream.getvalue()


def norms_seed():
    """A norms table of a few pictures."""
    rng = np.random.default_rng(2)
    measured = [
        measure_picture(picture_from_srgb(rng.integers(0, 256, (64, 64, 3)).astype(np.uint8))) for _ in range(2)
    ]
    with tempfile.TemporaryDirectory() as folder:
        write_norms(norms_of(measured, "two"), Path(folder) / "norms.csv")
        return (Path(folder) / "norms.csv").read_bytes()


def target_of(name, folder):
    """What reads an input of this kind, and the inputs to begin with."""
    if name == "pictures":
        return lambda data: read_picture(data, "fuzzed"), list(picture_seeds())
    read, suffix = {"box": (load_box, "toml"), "rules": (read_rules, "toml"), "norms": (read_norms, "csv")}[name]
    path = folder / f"input.{suffix}"

    def read_text(data):
        path.write_bytes(data)
        read(path)

    seeds = {"box": [BOX.encode()], "rules": [RULES.encode()], "norms": [norms_seed()] if name == "norms" else []}
    return read_text, seeds[name]


def main():
    """Fuzz one target for so long."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("target", choices=("pictures", "box", "rules", "norms"))
    parser.add_argument("--seconds", type=int, default=1200)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--keep", type=Path, default=Path("fuzzed"))
    asked = parser.parse_args()
    warnings.simplefilter("ignore")
    logging.disable(logging.CRITICAL)
    folder = Path(tempfile.mkdtemp())
    read, seeds = target_of(asked.target, folder)
    corpus = folder / "corpus"
    corpus.mkdir()
    for number, seed in enumerate(seeds):
        (corpus / f"seed{number}").write_bytes(seed)
    counts, escaped = Counter(), Counter()
    begun = last = time.monotonic()

    def report(ending=""):
        line = ", ".join(f"{number} {what}" for what, number in sorted(counts.items()))
        print(f"{asked.target}: {time.monotonic() - begun:.0f} s: {line}; escaped {sum(escaped.values())}{ending}")
        for place, times in escaped.most_common():
            print(f"  {times} × {place}")
        sys.stdout.flush()

    def one(data):
        nonlocal last
        started = time.monotonic()
        try:
            read(data)
            counts["read"] += 1
            what = ""
        except CritiqueError as error:
            counts["refused in one line"] += 1
            what = "" if may_be_shown(str(error)) else f"unprintable: {str(error)[:80]!r}"
        except Exception as error:
            trace = error.__traceback__
            while trace.tb_next is not None:
                trace = trace.tb_next
            code = trace.tb_frame.f_code
            what = f"{type(error).__name__} in {Path(code.co_filename).name}:{trace.tb_lineno}"
        now = time.monotonic()
        if now - started > SLOW_SECONDS:
            what = f"took {now - started:.0f} s"
        if what:
            if what not in escaped:
                asked.keep.mkdir(parents=True, exist_ok=True)
                (asked.keep / f"{asked.target}_{len(escaped)}").write_bytes(data)
            escaped[what] += 1
        if now - last > REPORT_SECONDS:
            last = now
            report()
        if now - begun > asked.seconds:
            report("; done")
            shutil.rmtree(folder, ignore_errors=True)
            sys.stdout.flush()
            import os

            os._exit(1 if escaped else 0)

    options = ["-rss_limit_mb=3000", "-timeout=120", f"-seed={asked.seed}", "-max_len=60000", "-verbosity=0"]
    atheris.Setup([sys.argv[0], *options, str(corpus)], one)
    atheris.Fuzz()


if __name__ == "__main__":
    main()
