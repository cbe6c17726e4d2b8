"""Paint the demonstration pictures: invented landscapes by an invented painter, for trying the program on."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from critique.perception.cielab import lab_to_srgb8

HERE = Path(__file__).resolve().parent
sys.path.insert(0, str(HERE))  # the files beside this one are not a package: the folder is shipped as data

import coast  # noqa: E402
import evening  # noqa: E402
import haze  # noqa: E402
import meadow  # noqa: E402
import winter  # noqa: E402
import woods  # noqa: E402
from brushwork import Easel  # noqa: E402
from studies import lch  # noqa: E402


@dataclass(frozen=True)
class Scene:
    """A picture to paint: its file, size in design units, ground and the function that paints it."""

    file: str
    width: float
    height: float
    ground: NDArray[np.float32]
    paint: Callable[[Easel], None]
    seed: int
    scale: float = 1.0  # pixels per design unit: what is only held against another picture may be smaller


SCENES = (
    Scene(
        "tolvesk_01_ostermell_meadow.jpg", 1600, 1200, lch(74, 18, 80), lambda e: meadow.meadow(e, meadow.FIRST), 101
    ),
    Scene(
        "tolvesk_02_ostermell_repaint.jpg", 1600, 1200, lch(64, 17, 60), lambda e: meadow.meadow(e, meadow.REPAINT), 102
    ),
    Scene("tolvesk_03_tussalund_snow.jpg", 1600, 1067, lch(76, 11, 40), winter.winter, 103),
    Scene("tolvesk_04_lirren_evening.jpg", 1600, 1000, lch(48, 30, 42), evening.evening, 104),
    Scene("tolvesk_05_orvalden_beeches.jpg", 1200, 1500, lch(58, 38, 68), woods.woods, 105),
    Scene("tolvesk_06_skarrvind_ness.jpg", 1600, 900, lch(68, 12, 75), coast.coast, 106),
    Scene("tolvesk_07_vellisund_haze.jpg", 1500, 1200, lch(86, 9, 70), haze.haze, 107),
    Scene(
        "tolvesk_08_ostermell_second_pass.jpg",
        1600,
        1200,
        lch(74, 18, 80),
        lambda e: meadow.meadow(e, meadow.SECOND_PASS),
        101,  # as the first: the same strokes
        0.75,
    ),
)


def paint_scene(scene: Scene, scale: float = 1.0) -> NDArray[np.uint8]:
    """Paint a scene; returns sRGB (h, w, 3). ``scale`` is times the scene's own size."""
    easel = Easel(scene.width, scene.height, scale * scene.scale, tuple(scene.ground), scene.seed)
    scene.paint(easel)
    return lab_to_srgb8(easel.finished())


def main() -> None:
    """Paint every scene, or those whose file name holds one of the words given."""
    from PIL import Image

    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("words", nargs="*", help="paint only files whose name holds one of these words")
    parser.add_argument("--scale", type=float, default=1.0)
    parser.add_argument("--out", type=Path, default=HERE)
    parser.add_argument("--png", action="store_true")
    options = parser.parse_args()
    for scene in SCENES:
        if options.words and not any(word in scene.file for word in options.words):
            continue
        picture = Image.fromarray(paint_scene(scene, options.scale))
        if options.png:
            picture.save(options.out / scene.file.replace(".jpg", ".png"))
        else:
            picture.save(options.out / scene.file, quality=88, subsampling=1, optimize=True)
        print(scene.file)


if __name__ == "__main__":
    main()
