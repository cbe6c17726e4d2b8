"""How steady the judgements of the eye, the division and the cast are: `eye_steadiness.py PAINTINGS [--rows even]`.

Every other picture is judged as it is and again cropped by 3 %, turned by 2° and cropped, mirrored, as JPEG of quality
60, and under casts of ΔE00 3 on a light grey toward four sides. Prints what moved, and how much of all stayed.
"""

import sys
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import numpy as np
from PIL import Image

sys.path.insert(0, str(Path(__file__).resolve().parents[2] / "reference_data"))

from make_photograph_spread import through_jpeg

from critique.advice.fault_limits import judge_symmetry, judge_water
from critique.measures.cast import measure_cast
from critique.measures.cast_judging import cast_fault
from critique.measures.division import measure_division
from critique.measures.division_judging import halving_fault
from critique.measures.eye_judging import bullseye_fault, corners_keep_it_in, near_edge_fault, pull_fault, rivals_fault
from critique.measures.eyepath import measure_eyepath
from critique.measures.far_warmth import comes_forward, measure_far_warmth
from critique.measures.parts import measure_parts
from critique.measures.symmetry import measure_symmetry
from critique.measures.water_level import measure_water_level
from critique.perception.srgb import linear_to_srgb8, srgb8_to_linear
from critique.picture.other_light import SIDES, cast_gains
from critique.picture.picture import Picture, picture_from_srgb
from critique.picture.read import read_picture

TURN = 2.0  # degrees
CROP = 0.03  # of the width and height
CAST = 3.0  # ΔE00 on a light grey: warm, cool, green and pink
LEVELS = {None: 0, "holds": 0, "watch": 1, "rework": 2}


def levels(picture: Picture) -> dict[str, int]:
    eye, division, parts = measure_eyepath(picture), measure_division(picture), measure_parts(picture)
    pull, near, rivals = pull_fault(eye), near_edge_fault(eye), rivals_fault(eye)
    return {
        "pull": LEVELS[pull[0] if pull else None],
        "bull's-eye": LEVELS[bullseye_fault(eye)],
        "near an edge": LEVELS[near[0] if near else None],
        "two lights": LEVELS[rivals[0] if rivals else None],
        "corners": int(corners_keep_it_in(eye)),
        "halved": LEVELS[halving_fault(division)],
        "alike": LEVELS[judge_symmetry(measure_symmetry(picture))],
        "water": LEVELS[judge_water(measure_water_level(picture, parts))],
        "far hills": LEVELS[comes_forward(measure_far_warmth(picture, parts, division))],
        "cast": LEVELS[cast_fault(measure_cast(picture))],
    }


def others(picture: Picture) -> Iterator[tuple[str, Picture]]:
    height, width = picture.srgb.shape[:2]
    rows, columns = round(CROP / 2 * height), round(CROP / 2 * width)
    yield "crop", picture_from_srgb(picture.srgb[rows:-rows, columns:-columns])
    for turn in (TURN, -TURN):
        yield "turn", picture_from_srgb(turned(picture.srgb, turn))
    yield "mirror", picture_from_srgb(np.ascontiguousarray(picture.srgb[:, ::-1]))
    yield "jpeg", picture_from_srgb(through_jpeg(picture.srgb, 60))
    light = srgb8_to_linear(picture.srgb)
    for side in SIDES:
        gains = np.array(cast_gains(side, CAST), dtype=np.float32)
        yield "cast", picture_from_srgb(linear_to_srgb8(light * gains))


def turned(codes: np.ndarray, degrees: float) -> np.ndarray:
    """Codes (height, width, 3) turned, and cut to what the turn leaves of them."""
    image = Image.fromarray(codes).rotate(degrees, Image.Resampling.BICUBIC)
    lost = abs(np.tan(np.radians(degrees))) / 2
    across, down = int(image.height * lost) + 2, int(image.width * lost) + 2
    return np.asarray(image.crop((across, down, image.width - across, image.height - down)))


def main(folder: Path, parity: int) -> None:
    judged = moved = far = 0
    by_finding: Counter[str] = Counter()
    by_change: Counter[str] = Counter()
    named: Counter[str] = Counter()
    paths = sorted(folder.glob("*.jpg"))[parity::2]
    for path in paths:
        picture = read_picture(path)
        before = levels(picture)
        named.update(name for name, level in before.items() if level)
        for change, other in others(picture):
            for name, level in levels(other).items():
                step = abs(level - before[name])
                judged, moved, far = judged + 1, moved + (step > 0), far + (step > 1)
                if step:
                    by_finding[name] += 1
                    by_change[change] += 1
                    print(f"{path.name} {change}: {name} {before[name]} → {level}", flush=True)
    print(f"named on {len(paths)} untouched pictures:", dict(named.most_common()))
    print(f"{judged} judgements, {judged - moved} unmoved ({(judged - moved) / judged:.1%}), {far} moved two levels")
    print("by finding:", dict(by_finding.most_common()))
    print("by change:", dict(by_change.most_common()))


if __name__ == "__main__":
    if len(sys.argv) not in (2, 4):
        sys.exit(__doc__)
    main(Path(sys.argv[1]), 1 if sys.argv[2:] == ["--rows", "even"] else 0)
