"""Make many different pictures of a few, by crops, flips and casts of light; run by hand.

python tests/benchmarks/make_pictures.py SOURCE... --out FOLDER --number 1000
"""

import argparse
from pathlib import Path

import numpy as np
from PIL import Image

SUFFIXES = (".jpg", ".jpeg", ".png", ".tif", ".tiff")
LEAST_CROP = 0.6  # of each side
CAST = 0.08  # standard deviation of the gain of each channel


def variant(image: Image.Image, rng: np.random.Generator) -> Image.Image:
    """A crop of a picture, flipped or not, under a light of its own."""
    width, height = image.size
    part = rng.uniform(LEAST_CROP, 1, 2)
    size = round(width * part[0]), round(height * part[1])
    left, top = (int(rng.integers(0, whole - kept + 1)) for whole, kept in zip(image.size, size, strict=True))
    crop = np.asarray(image.crop((left, top, left + size[0], top + size[1])), np.float32)
    if rng.random() < 0.5:
        crop = crop[:, ::-1]
    return Image.fromarray(np.clip(crop * rng.normal(1, CAST, 3), 0, 255).astype(np.uint8))


def make_pictures(sources: list[Path], out: Path, number: int, long_edge: int | None = None) -> None:
    """Write ``number`` JPEG files into ten subfolders of ``out``, the same ones on every run."""
    originals = sorted(path for source in sources for path in source.iterdir() if path.suffix.lower() in SUFFIXES)
    for index in range(number):
        with Image.open(originals[index % len(originals)]) as opened:
            image = opened.convert("RGB")
        if long_edge:
            image.thumbnail((long_edge, long_edge))
        folder = out / f"series {index % 10}"
        folder.mkdir(parents=True, exist_ok=True)
        variant(image, np.random.default_rng(index)).save(folder / f"{index:06d}.jpg", quality=88)


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("sources", nargs="+", type=Path)
    parser.add_argument("--out", type=Path, required=True)
    parser.add_argument("--number", type=int, default=1000)
    parser.add_argument("--long-edge", type=int)
    given = parser.parse_args()
    make_pictures(given.sources, given.out, given.number, given.long_edge)
