"""The good pictures that faults are put into, with what their drawing needs to know."""

import csv
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from critique.perception.cielab import srgb8_to_lab

LONG_EDGE = 640  # px: the size that the norms are measured at
ROOT = Path(__file__).resolve().parents[3]


@dataclass(frozen=True, slots=True)
class Source:
    """A good picture: ``lab`` (height, width, 3); its line as a fraction from the top, and what it holds."""

    name: str
    lab: NDArray[np.float32]
    line: float
    straight: bool  # the line runs level from side to side
    sky: float
    water: float
    greens: float
    held_out: bool  # not to be tuned on


# Noted by looking: file, line, straight, sky, water, green; shares of the picture.
DEMOS = (
    ("tolvesk_02_ostermell_repaint.jpg", 0.69, True, 0.6, 0.0, 0.35),
    ("tolvesk_03_tussalund_snow.jpg", 0.38, False, 0.35, 0.07, 0.0),
    ("tolvesk_04_lirren_evening.jpg", 0.67, True, 0.6, 0.25, 0.05),
    ("tolvesk_05_orvalden_beeches.jpg", 0.57, False, 0.1, 0.0, 0.0),
    ("tolvesk_06_skarrvind_ness.jpg", 0.39, True, 0.33, 0.35, 0.06),
    ("tolvesk_07_vellisund_haze.jpg", 0.37, True, 0.32, 0.45, 0.05),
    ("tolvesk_08_ostermell_second_pass.jpg", 0.54, True, 0.5, 0.0, 0.5),
)
# Of the paintings' folder: some of each kind of land, light and water, every second one held out.
PAINTINGS = (
    "009",
    "017",
    "029",
    "031",
    "033",
    "041",
    "043",
    "045",
    "051",
    "057",
    "061",
    "065",
    "071",
    "073",
    "075",
    "076",
)
# Others of that folder, for the faults made another way: file, line, straight, sky, water.
OTHER_PAINTINGS = (
    ("013.jpg", 0.73, True, 0.65, 0.0),
    ("014.jpg", 0.57, False, 0.5, 0.0),
    ("016.jpg", 0.6, False, 0.5, 0.0),
    ("021.jpg", 0.23, False, 0.22, 0.1),
    ("022.jpg", 0.7, True, 0.62, 0.05),
    ("024.jpg", 0.47, True, 0.4, 0.5),
    ("030.jpg", 0.7, False, 0.6, 0.0),
    ("034.jpg", 0.45, False, 0.38, 0.0),
    ("040.jpg", 0.62, True, 0.28, 0.0),
    ("042.jpg", 0.6, False, 0.4, 0.1),
    ("047.jpg", 0.48, False, 0.48, 0.0),
    ("053.jpg", 0.58, False, 0.55, 0.1),
    ("054.jpg", 0.685, True, 0.65, 0.25),
    ("063.jpg", 0.55, False, 0.4, 0.1),
    ("072.jpg", 0.83, True, 0.8, 0.17),
    ("074.jpg", 0.73, True, 0.7, 0.27),
)


def other_sources(folder: Path | None) -> list[Source]:
    """Paintings of a folder that the first faults aren't put into; without a folder, the demos and photographs."""
    if folder is None:
        return sources(None, None)
    return [
        Source(name, read_lab(folder / name), line, straight, sky, water, 0.0, held_out=index % 2 == 1)
        for index, (name, line, straight, sky, water) in enumerate(OTHER_PAINTINGS)
        if (folder / name).exists()
    ]


def sources(folder: Path | None, notes: Path | None) -> list[Source]:
    """Demos, photographs passed through a paint filter, and noted paintings of a folder where one is given."""
    found = [
        Source(name, read_lab(ROOT / "demo_images" / name), *rest, held_out=index % 2 == 1)
        for index, (name, *rest) in enumerate(DEMOS)
    ]
    found += _photographs()
    if folder is not None and notes is not None:
        found += _noted(folder, notes)
    return found


def _noted(folder: Path, notes: Path) -> list[Source]:
    with notes.open(encoding="utf-8") as file:
        rows = {row["file"]: row for row in csv.DictReader(file, delimiter=";")}
    found = []
    for index, stem in enumerate(PAINTINGS):
        row = rows.get(f"{stem}.jpg")
        if row is None or not row["line"] or not (folder / row["file"]).exists():
            continue
        found.append(
            Source(
                row["file"],
                read_lab(folder / row["file"]),
                float(row["line"]),
                row["straight"] == "yes",
                float(row["sky_share"]),
                float(row["water_share"]),
                float(row["greens_share"]),
                held_out=index % 2 == 1,
            )
        )
    return found


def _photographs() -> list[Source]:
    """Photographs that come with packages, painted over."""
    import skimage.data
    import sklearn.datasets

    china = sklearn.datasets.load_sample_image("china.jpg")
    rocket = skimage.data.rocket()
    return [
        Source("china.jpg", _painted(china), 0.62, False, 0.6, 0.12, 0.15, held_out=False),
        Source("rocket.jpg", _painted(rocket), 0.9, False, 0.85, 0.0, 0.0, held_out=True),
    ]


def _painted(codes: NDArray[np.uint8]) -> NDArray[np.float32]:
    """A photograph as a brush would leave it: small detail joined into dabs. [Kuwahara et al., 1976]"""
    from scipy.ndimage import uniform_filter

    reach = 3
    framed = ((2 * reach, 2 * reach), (2 * reach, 2 * reach), (0, 0))  # what is rolled over a border is cut off again
    lab = np.pad(srgb8_to_lab(_small(Image.fromarray(codes))), framed, mode="symmetric")
    mean = np.stack([uniform_filter(lab[..., k], reach, mode="nearest") for k in range(3)], -1)
    spread = uniform_filter(lab[..., 0] ** 2, reach, mode="nearest") - mean[..., 0] ** 2
    corners = [(dy, dx) for dy in (-reach, 0, reach) for dx in (-reach, 0, reach)]
    spreads = np.stack([np.roll(spread, corner, (0, 1)) for corner in corners])
    means = np.stack([np.roll(mean, corner, (0, 1)) for corner in corners])
    best = spreads.argmin(axis=0)
    painted = np.take_along_axis(means, best[None, ..., None], axis=0)[0].astype(np.float32)
    return np.ascontiguousarray(painted[2 * reach : -2 * reach, 2 * reach : -2 * reach])


def read_lab(path: Path) -> NDArray[np.float32]:
    """CIELAB (height, width, 3) of a picture file at the viewing size."""
    with Image.open(path) as image:
        return srgb8_to_lab(_small(image.convert("RGB")))


def _small(image: Image.Image) -> NDArray[np.uint8]:
    image.thumbnail((LONG_EDGE, LONG_EDGE), Image.Resampling.LANCZOS)
    return np.asarray(image)
