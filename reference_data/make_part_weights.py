"""Fit what the parts of a picture are told by: `python reference_data/make_part_weights.py PAINTINGS NOTES...`.

PAINTINGS is the folder of the pictures outlined in part_outlines.csv; each NOTES is a folder with `eye_1.csv` and
`eye_2.csv` (separator `;`), two independent machine readings of how much of a picture is sky, water and green.
`--also FOLDER` adds pictures of another kind, which may be none of this project's: a folder of pictures with an
`outlines.csv` like part_outlines.csv and with notes of its own. A multinomial logistic regression with a ridge penalty,
and a few mixtures of cues beside them (part_fit.py): the outlines say what a region is, the notes how much of each
there is in all. Each picture is fitted with some copies of it (altered_copies.py), which are to be told like it.
`--try N` prints how far pictures left out of the fit are missed, N parts of them in turn, and writes nothing.
"""

import argparse
import csv
from collections.abc import Iterable, Iterator
from dataclasses import replace
from pathlib import Path

import numpy as np
from altered_copies import COPIES, copy_of
from part_fit import MIXTURES, Sample, Weights, fit
from PIL import Image, ImageDraw
from scipy.ndimage import gaussian_filter

from critique.measures.part_chances import KINDS, region_cues
from critique.measures.regions import Regions, find_regions
from critique.perception.cielab import lab_to_srgb8
from critique.perception.reference import read_table
from critique.picture.picture import Picture, picture_from_srgb
from critique.picture.read import read_picture

HERE = Path(__file__).resolve().parent
COPIES_OF_EACH = {True: 3, False: 5}  # of those that altered_copies.py makes: of other pictures, and of paintings
HARDEST = ("softer", "cast")  # copies that every picture has: they move the shares most
BETWEEN = 0.3  # weight of what no outline holds: land, green or not
OTHERS = 0.4  # weight of a picture of another kind beside a painting
STAND_INS = 1.2  # weight of an invented scene beside a painting: few, and as unlike paintings as can be
DEMOS = 6.0  # and of a demo: what everyone looks at first, held to what it was painted as
COLUMNS = ("sky_share", "water_share", "greens_share")
# Scenes of one land under one sky: the land's L*, a*, b* and whether its strokes are level.
LANDS = {
    "green": [((52, -18, 32), False), ((42, -11, 22), False), ((28, -7, 14), False), ((20, -4, 9), False)],
    "water": [((55, -5, -12), True), ((45, -7, -4), True), ((62, -2, -8), True)],
    "other": [((44, 11, 21), False), ((60, 7, 26), False), ((38, 18, 18), False), ((78, 0, -3), False)],
}
# The same in three layers, with the grain of a pixel: sky over what lies at the horizon, over what lies in front.
LAYERS = (
    (("other", (45, 8, 22)), ("green", (48, -8, 20))),
    (("other", (44, 18, 46)), ("green", (46, -6, 18))),
    (("other", (48, 5, 13)), ("green", (48, -6, 18))),
    (("other", (62, -2, -6)), ("green", (50, -8, 20))),
    (("other", (76, 17, 42)), ("green", (48, -7, 17))),
    (("green", (30, -9, 14)), ("green", (57, -46, 50))),
    (("green", (34, -10, 14)), ("other", (40, 14, 22))),
)
GRAIN = 2.5  # L*
SKIES = ((80, -3, -13), (86, -2, 16), (70, 0, 0))


Outlines = dict[str, dict[str, list[list[tuple[float, float]]]]]


def outlines(rows: Iterable[dict[str, str]]) -> Outlines:
    """The polygons of each part of each picture."""
    found: Outlines = {}
    for row in rows:
        numbers = [float(number) for number in row["corners"].split()]
        corners = list(zip(numbers[::2], numbers[1::2], strict=True))
        found.setdefault(row["file"], {}).setdefault(row["part"], []).append(corners)
    return found


def covered(regions: Regions, polygons: list[list[tuple[float, float]]]) -> np.ndarray:
    """The part of each region (n,) that lies in any of the polygons."""
    height, width = regions.labels.shape
    mask = Image.new("L", (2 * width, 2 * height))
    for corners in polygons:
        ImageDraw.Draw(mask).polygon([(2 * x * width, 2 * y * height) for x, y in corners], fill=255)
    return regions.mean(np.asarray(mask.resize((width, height), Image.Resampling.BOX), dtype=np.float32) / 255)


def sample(name: str, picture: Picture, parts: dict, noted: np.ndarray | None, weight: float, names: list) -> Sample:
    regions = find_regions(picture)
    cues = region_cues(picture, regions)
    names[:] = names or sorted(cues)
    kinds = np.stack([covered(regions, parts.get(kind, [])) for kind in KINDS], axis=1)
    total = kinds.sum(axis=1)
    closed = regions.share * (1 - covered(regions, parts.get("open", [])))
    return Sample(
        name=name,
        cues=np.stack([cues[cue] for cue in names], axis=1).astype(np.float32),
        kinds=kinds * (total * closed / np.maximum(total, 1))[:, None],
        between=BETWEEN * np.maximum(1 - total, 0) * closed,
        share=regions.share,
        noted=noted,
        weight=weight,
    )


def with_copies(own: Sample, picture: Picture, parts: dict, seed: int, names: list) -> Sample:
    """The sample with some of its copies, the outlines carried over to where they lie in each."""
    found = []
    others = [kind for kind in COPIES if kind not in HARDEST]
    number = COPIES_OF_EACH[own.also] - len(HARDEST)
    for kind in (*HARDEST, *np.random.default_rng(seed).permutation(others)[:number]):
        copy = copy_of(picture.srgb, str(kind), seed)
        moved = {
            part: [[copy.place(corner) for corner in corners] for corners in polygons]
            for part, polygons in parts.items()
        }
        other = sample(copy.kind, picture_from_srgb(copy.srgb), moved, own.noted, own.weight, names)
        found.append(replace(other, whole=copy.kind != "crop"))
    return replace(own, copies=tuple(found))


def invented() -> Iterator[tuple[str, Picture, dict]]:
    """Scenes of one land, by the rows of which their parts are known."""
    rng = np.random.default_rng(3)
    for kind, lands in LANDS.items():
        for index, (land, level) in enumerate(lands):
            for horizon in (0.0, 0.3, 0.55) if kind == "green" else (0.4,):
                lab = np.empty((400, 600, 3), dtype=np.float32)
                lab[:] = land
                strokes = gaussian_filter(rng.normal(size=lab.shape[:2]), (1.5, 12) if level else (1.5, 1.5))
                lab[..., 0] += 4 * strokes / strokes.std()
                rows = round(horizon * len(lab))
                if rows:
                    lab[:rows] = SKIES[index % len(SKIES)]
                    lab[:rows, :, 0] += np.linspace(-6, 6, rows)[:, None]
                box = [(0.0, horizon), (1.0, horizon), (1.0, 1.0), (0.0, 1.0)]
                over = [(0.0, 0.0), (1.0, 0.0), (1.0, horizon), (0.0, horizon)]
                yield f"{kind} {index}", picture_from_srgb(lab_to_srgb8(lab)), {"sky": [over], kind: [box]}


def layered() -> Iterator[tuple[str, Picture, dict]]:
    """Scenes of a sky, a band at the horizon and a ground."""
    rng = np.random.default_rng(4)
    for index, ((far, far_lab), (near, near_lab)) in enumerate(LAYERS):
        lab = np.empty((300, 420, 3), dtype=np.float32)
        lab[:150], lab[150:180], lab[180:] = SKIES[index % len(SKIES)], far_lab, near_lab
        grain = np.where(np.arange(300) < 150, 0.2, 1.0)[:, None] * rng.normal(0, GRAIN, (300, 420))
        lab += (grain[..., None] * (1, 0.2, 0.4)).astype(np.float32)
        parts: dict[str, list] = {}
        for kind, top, bottom in (("sky", 0.0, 0.5), (far, 0.5, 0.6), (near, 0.6, 1.0)):
            parts.setdefault(kind, []).append([(0.0, top), (1.0, top), (1.0, bottom), (0.0, bottom)])
        yield f"layers {index}", picture_from_srgb(lab_to_srgb8(lab)), parts


def noted_shares(folders: list[Path]) -> dict[str, np.ndarray]:
    """The mean of two readings: sky, water and green of each picture."""
    shares: dict[str, np.ndarray] = {}
    for folder in folders:
        readings = []
        for reader in (1, 2):
            with (folder / f"eye_{reader}.csv").open(encoding="utf-8") as lines:
                readings.append({row["file"]: row for row in csv.DictReader(lines, delimiter=";")})
        for name in readings[0]:
            shares[name] = np.mean([[float(each[name][key] or 0) for key in COLUMNS] for each in readings], axis=0)
    return shares


def left_out(samples: list[Sample], parts: int) -> None:
    """Print how far the shares of pictures that the fit hasn't seen are missed, paintings and others."""
    order = np.random.default_rng(0).permutation(len(samples))
    off: dict[bool, list] = {False: [], True: []}
    for start in range(parts):
        out = set(order[start::parts].tolist())
        weights = fit([each for index, each in enumerate(samples) if index not in out])
        for index in out:
            each = samples[index]
            if each.noted is not None:
                chance = weights.chance(each.cues)
                hard = np.eye(len(KINDS))[chance.argmax(1)]
                share = (each.share[:, None] * np.c_[hard[:, :2], chance[:, 2:3]]).sum(0)
                off[each.also].append((share, each.noted))
    for also, pairs in off.items():
        if pairs:
            found, noted = np.swapaxes(pairs, 0, 1)
            print(
                f"{len(pairs)} {'others' if also else 'paintings'}: sky, water, green missed by",
                np.abs(found - noted).mean(0).round(3),
                f"green correlates at {np.corrcoef(found[:, 2], noted[:, 2])[0, 1]:.2f}",
            )


def outlined_samples(paintings: Path, notes: list[Path], also: list[Path], names: list[str]) -> list[Sample]:
    """All outlined pictures: paintings and demos, then those of the folders of others."""
    noted, samples = noted_shares(notes), []
    for name, outlined in outlines(read_table("part_outlines.csv")).items():
        demo = HERE.parent / "demo_images" / name
        picture = read_picture(demo if demo.is_file() else paintings / name)
        weight = DEMOS if demo.is_file() else 1.0
        made = sample(name, picture, outlined, noted.get(name), weight, names)
        samples.append(with_copies(made, picture, outlined, len(samples), names))
    for folder in also:
        noted = noted_shares([folder])
        with (folder / "outlines.csv").open(encoding="utf-8") as lines:
            found = outlines(csv.DictReader(line for line in lines if not line.startswith("#")))
        for name, outlined in found.items():
            picture = read_picture(folder / name)
            made = replace(sample(name, picture, outlined, noted.get(name), OTHERS, names), also=True)
            samples.append(with_copies(made, picture, outlined, len(samples), names))
    return samples


def main(paintings: Path, notes: list[Path], also: list[Path], parts: int | None) -> None:
    names: list[str] = []
    samples = outlined_samples(paintings, notes, also, names)
    for name, picture, outlined in (*invented(), *layered()):
        made = replace(sample(name, picture, outlined, None, STAND_INS, names), also=True)
        samples.append(with_copies(made, picture, outlined, len(samples), names))
    if parts:
        left_out(samples, parts)
        return
    write(fit(samples), samples, names)


def write(weights: Weights, samples: list[Sample], names: list[str]) -> None:
    """Write part_weights.csv."""
    with (HERE / "part_weights.csv").open("w", encoding="utf-8", newline="\n") as table:
        read = sum(each.noted is not None for each in samples)
        table.write(
            "# Log odds of a region of a picture against other land, a cue of critique/measures/region_*.py a row.\n"
        )
        table.write(
            f"# Fitted by make_part_weights.py to {len(samples)} pictures, {read} with shares read twice by machine.\n"
        )
        mixtures = [f"mixture_{place}" for place in range(1, MIXTURES + 1)]
        table.write(",".join(["cue", *KINDS[:3], *mixtures]) + "\n")
        rows = [
            *zip([*names, "start"], np.c_[weights.cues[:, :3], weights.mixing], strict=True),
            *zip(mixtures, np.c_[weights.mixtures[:, :3], np.zeros((MIXTURES, MIXTURES))], strict=True),
        ]
        for cue, row in rows:
            table.write(",".join([cue, *(f"{weight:.4g}" for weight in row)]) + "\n")
    print(f"{len(names)} cues weighed on {len(samples)} pictures")


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("paintings", type=Path)
    parser.add_argument("notes", type=Path, nargs="+")
    parser.add_argument("--try", dest="parts", type=int)
    parser.add_argument("--also", type=Path, action="append", default=[])
    given = parser.parse_args()
    main(given.paintings, given.notes, given.also, given.parts)
