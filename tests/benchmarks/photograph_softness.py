"""Hold what reads as green of a soft photograph to what reads as green of the painting's own file.

    python tests/benchmarks/photograph_softness.py FOLDER OF PAINTINGS [--first 0] [--every 8]

Blurs each painting's file at the viewing size, as a camera does, with a little noise, and prints by how much what reads
as green moves, as it is and with the blur undone (``camera_blur.recovered``).
"""

import argparse
from collections import defaultdict
from pathlib import Path

import numpy as np
from photographs import DEMOS, light
from scipy.ndimage import gaussian_filter

from critique.measures.parts import measure_parts
from critique.measures.reads_as_green import measure_reads_as_green
from critique.perception.srgb import linear_to_srgb8
from critique.photograph.camera_blur import blur_of, recovered
from critique.photograph.limits import VIEWED_LONG_EDGE
from critique.photograph.read import read_photograph
from critique.picture.picture import picture_of

BLURS = (0.0, 0.5, 0.8, 1.2)  # px at the viewing size
GRAIN = 0.008  # of the root of the light
NEAR = 0.02  # of the area


def main() -> None:
    parser = argparse.ArgumentParser()
    parser.add_argument("folder", nargs="?", type=Path, default=DEMOS)
    parser.add_argument("--first", type=int, default=0)
    parser.add_argument("--every", type=int, default=8)
    options = parser.parse_args()
    moved: dict[tuple[float, str], list[float]] = defaultdict(list)
    for number, path in enumerate(sorted(options.folder.glob("*.jpg"))[options.first :: options.every]):
        own, random = light(path, VIEWED_LONG_EDGE), np.random.default_rng(number)
        share = share_of(own)
        for blur in BLURS:
            soft = gaussian_filter(own, (blur, blur, 0)) if blur else own
            soft = soft + random.normal(size=own.shape) * np.sqrt(np.maximum(own, 0) * 0.5 + 0.003) * GRAIN * (blur > 0)
            soft = np.clip(soft, 0, 1).astype(np.float32)
            moved[blur, "as it is"].append(share_of(soft) - share)
            moved[blur, "undone"].append(share_of(recovered(soft, blur_of(soft))) - share)
    for (blur, how), moves in moved.items():
        print(
            f"blur of {blur} px, {how:8}: within {NEAR} {np.mean(np.abs(moves) <= NEAR):.0%} of {len(moves)}, mean "
            f"{np.mean(moves):+.3f}, 90th percentile {np.quantile(np.abs(moves), 0.9):.3f}"
        )


def share_of(given: np.ndarray) -> float:
    picture = picture_of(read_photograph(linear_to_srgb8(given), "painting"))
    return measure_reads_as_green(picture, measure_parts(picture)).share


if __name__ == "__main__":
    main()
