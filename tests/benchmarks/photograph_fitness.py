"""Hold what is said of a photograph's fitness to faults that were put in.

    python tests/benchmarks/photograph_fitness.py [FOLDER OF PAINTINGS] [--first 0] [--number 0] [--long-edge 1920]

Puts each fault into each painting's file, as a camera would, and prints how often it is told of where it was put in and
where it wasn't: as of a photograph with a surround (from "watch" on), and as of a file that is all painting ("rework"
alone). With --number the same of so many drawn photographs, cropped at their true corners, by what was drawn into them.
Of the 76 paintings' files 72 to 76 of each fault put in are told from "watch" on, and one of none. Of 43 photographs of
seeds 9200000–9200042 blur is told of 11 of 13 (and of 8 of 30 that have hardly any: paintings whose own files are soft,
or under a veil), falloff of 5 of 11 (not where it was evened), shine of 2 of 7: told where it clips, a veil is not.
"""

import argparse
from collections import defaultdict
from collections.abc import Callable
from pathlib import Path

import numpy as np
from photograph_scenes import draw_scene
from photographs import DEMOS, light
from scipy import ndimage

from critique.perception.srgb import linear_to_srgb8
from critique.photograph.corners import as_corners
from critique.photograph.fitness import Subject, fitness_of
from critique.photograph.painting import painting_of
from critique.photograph.read import read_photograph

Array = np.ndarray
Fault = Callable[[Array, np.random.Generator], Array]
LONG_EDGE = 1920  # px of a drawn photograph
BLUR, GRAIN, FALL, VEIL = 1.5, 0.02, 1.3, 0.2  # in a drawn photograph, from which on it counts as put in
CLEAN_BLUR, CLEAN_GRAIN, CLEAN_FALL = 0.8, 0.012, 1.12  # up to which it counts as none


def blurred(picture: Array, random: np.random.Generator) -> Array:
    return np.stack([ndimage.gaussian_filter(picture[..., c], 2.0) for c in range(3)], -1)


def grainy(picture: Array, random: np.random.Generator) -> Array:
    """As of a small sensor by lamplight: some 4 L* in the middle values, in the mean of the three channels."""
    return picture + random.normal(size=picture.shape) * np.sqrt(picture * 0.5 + 0.003) * 0.15


def shiny(picture: Array, random: np.random.Generator) -> Array:
    return picture + 1.2 * spot_on(picture, random, 0.08)[..., None]


def spot_on(picture: Array, random: np.random.Generator, size: float) -> Array:
    height, width, _ = picture.shape
    x, y = random.uniform(0.2, 0.8, 2)
    u, v = np.meshgrid(np.arange(width) / width - x, np.arange(height) / height - y)
    return np.exp(-(((u**2 + v**2) / size**2) ** 2))


def bordered(picture: Array, random: np.random.Generator) -> Array:
    done, wide = picture.copy(), max(2, round(0.02 * picture.shape[1]))
    done[:, :wide] = random.uniform(0.05, 0.7)
    return done


def patterned(picture: Array, random: np.random.Generator) -> Array:
    """A screen's dots beaten against the sensor's."""
    height, width, _ = picture.shape
    angle, period = random.uniform(0.2, 1.3), random.uniform(4, 9)
    u, v = np.meshgrid(np.arange(width), np.arange(height))
    wave = np.sin(2 * np.pi * (u * np.cos(angle) + v * np.sin(angle)) / period)
    return picture * (1 + 0.08 * wave)[..., None]


FAULTS: dict[str, tuple[Subject, Fault]] = {
    "sharpness: blurred by 2 px": ("sharpness", blurred),
    "noise: 4 L*": ("noise", grainy),
    "glare: a clipped patch": ("glare", shiny),
    "border: 2 % of the width": ("border", bordered),
    "moiré: a regular pattern of 8 %": ("moire", patterned),
}


def main() -> None:
    parser = argparse.ArgumentParser()
    parser.add_argument("folder", nargs="?", type=Path, default=DEMOS)
    parser.add_argument("--first", type=int, default=0)
    parser.add_argument("--number", type=int, default=0, help="Drawn photographs.")
    parser.add_argument("--long-edge", type=int, default=LONG_EDGE, help="Px of a photograph.")
    options = parser.parse_args()
    paintings = sorted(options.folder.glob("*.jpg"))
    of_files(paintings)
    if options.number:
        of_scenes(range(options.first, options.first + options.number), paintings, options.long_edge)


def of_files(paintings: list[Path]) -> None:
    told: dict[str, dict[str, list[bool]]] = defaultdict(lambda: defaultdict(list))
    for number, path in enumerate(paintings):
        own = light(path, 1600)
        sound = levels_of(own)
        for name, (subject, fault) in FAULTS.items():
            put_in = levels_of(np.clip(fault(own, np.random.default_rng(number)), 0, 1).astype(np.float32))
            count(told[name], put_in[subject], sound[subject])
            if sound[subject] != "holds":
                print(f"  {path.name}: {subject} {sound[subject]} of the file itself", flush=True)
    tell(f"{len(paintings)} files", told)


def count(told: dict[str, list[bool]], put_in: str, sound: str) -> None:
    told["put in, watch"].append(put_in != "holds")
    told["put in, rework"].append(put_in == "rework")
    told["not, watch"].append(sound != "holds")
    told["not, rework"].append(sound == "rework")


def levels_of(picture: Array) -> dict[Subject, str]:
    return {one.subject: one.level for one in fitness_of(picture, long_edge=max(picture.shape[:2]))}


def of_scenes(seeds: range, paintings: list[Path], long_edge: int) -> None:
    told: dict[str, dict[str, list[bool]]] = defaultdict(lambda: defaultdict(list))
    for seed in seeds:
        random = np.random.default_rng([seed, 7])
        chosen = paintings[random.integers(len(paintings))]
        others = [light(paintings[i], 320) for i in random.integers(len(paintings), size=3)]
        scene = draw_scene(seed, light(chosen, 1600), others, long_edge)
        photograph = read_photograph(linear_to_srgb8(scene.linear), f"scene {seed}")
        corners = as_corners(scene.corners / scene.linear.shape[1::-1])
        found = {one.subject: one for one in painting_of(photograph, corners=corners).fitness}
        facts = scene.facts
        print(seed, chosen.name, {name: round(value, 3) for name, value in facts.items()},
              {name: (round(one.figure, 3), one.level) for name, one in found.items()}, flush=True)  # fmt: skip
        for name, subject, there, absent in (
            (f"sharpness: blur from {BLUR}, up to {CLEAN_BLUR} px", "sharpness", facts["blur"] >= BLUR,
             facts["blur"] <= CLEAN_BLUR),
            (f"noise: grain from {GRAIN}, up to {CLEAN_GRAIN}", "noise", facts["noise"] >= GRAIN,
             facts["noise"] <= CLEAN_GRAIN),
            (f"glare: a reflection from {VEIL}, none", "glare", facts["reflection"] >= VEIL, not facts["reflection"]),
            (f"falloff: from {FALL}, up to {CLEAN_FALL}", "falloff", facts["falloff"] >= FALL and not facts["shadow"],
             facts["falloff"] <= CLEAN_FALL and not facts["shadow"]),
            ("border: none was drawn", "border", False, True),
            ("moiré: none was drawn", "moire", False, True),
        ):  # fmt: skip
            level = found[subject].level if subject in found else "holds"
            row = told[name]
            if there or absent:
                row["put in, watch" if there else "not, watch"].append(level != "holds")
                row["put in, rework" if there else "not, rework"].append(level == "rework")
    tell(f"{len(seeds)} photographs", told)


def tell(of_what: str, told: dict[str, dict[str, list[bool]]]) -> None:
    columns = ("put in, watch", "put in, rework", "not, watch", "not, rework")
    print(f"{of_what:44}" + "".join(f"{column:>18}" for column in columns))
    for name, row in told.items():
        shares = (f"{sum(row[one])} of {len(row[one])}" for one in columns)
        print(f"  {name:42}" + "".join(f"{share:>18}" for share in shares), flush=True)


if __name__ == "__main__":
    main()
