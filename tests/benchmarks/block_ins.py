"""Do simple pictures come through? Block-ins of a few flat colours, reviewed one after another; run by hand.

    python tests/benchmarks/block_ins.py [--flat 300] [--greenish 160] [--seed 1]

Prints how many reviews ended in an exception, by kind of picture, and the first few of them.
"""

import argparse
from collections import Counter

import numpy as np

from critique.perception.cielab import lab_to_srgb8, lch_to_lab
from critique.picture.picture import picture_from_srgb
from critique.tasks.review import review_picture

HEIGHT, WIDTH = 96, 144  # px: a block-in has no more in it than this


def flat_block_in(rng):
    """Two to four level or upright bands of colours drawn from anywhere on the screen."""
    colours = rng.integers(0, 256, (rng.integers(2, 5), 3)).astype(np.uint8)
    return banded(rng, colours)


def greenish_block_in(rng):
    """Bands of quiet colours and one of a yellowish green near the border of the band."""
    others = rng.integers(60, 230, (rng.integers(1, 4), 1)) + rng.integers(-12, 13, (1, 3))
    green = lch_to_lab(np.array([rng.uniform(35, 85), rng.uniform(20, 75), rng.uniform(92, 118)]))
    colours = np.concatenate([np.clip(others, 0, 255).astype(np.uint8), lab_to_srgb8(green)[None]])
    return banded(rng, rng.permutation(colours))


def banded(rng, colours):
    """The colours as bands with borders drawn at random."""
    borders = np.sort(rng.uniform(0.1, 0.9, len(colours) - 1))
    owner = np.searchsorted(borders, (np.arange(HEIGHT) + 0.5) / HEIGHT)
    picture = np.repeat(colours[owner][:, None], WIDTH, axis=1)
    return np.ascontiguousarray(picture if rng.random() < 0.7 else np.rot90(picture))


def main():
    """Review so many pictures of each kind, and count what failed."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--flat", type=int, default=300)
    parser.add_argument("--greenish", type=int, default=160)
    parser.add_argument("--seed", type=int, default=1)
    asked = parser.parse_args()
    for make, count in ((flat_block_in, asked.flat), (greenish_block_in, asked.greenish)):
        failed = Counter()
        for number in range(count):
            codes = make(np.random.default_rng([asked.seed, number]))
            try:
                review_picture(picture_from_srgb(codes)).as_line()
            except Exception as error:  # whatever it is: counting it is what this is for
                failed[f"{type(error).__name__}: {error}"] += 1
        print(f"{make.__name__}: {count} tried, {sum(failed.values())} failed")
        for words, times in failed.most_common(5):
            print(f"  {times} × {words}")


if __name__ == "__main__":
    main()
