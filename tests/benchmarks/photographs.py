"""Hold the finding of a canvas to photographs whose corners are known, and to files that are all painting.

    python tests/benchmarks/photographs.py [FOLDER OF PAINTINGS] [--number 300] [--first 0] [--leave-out NAME]
                                           [--apart NAME] [--whole FOLDER] [--keep OUT] [--scenes FOLDER] [--no-time]

Prints how many were found within 1 % of the canvas's long edge (bar 92 %), how many were sure and wrong (bar 1 %),
which files that are all painting would be cropped (bar none), and the time beside a full decode of a telephone's file
(bar 0.5 ×). What is tuned on is never what is told: 0–299, 100000–100369, 200000–200199, 300000–300399,
4000000–4000517, 5000000–5000299, 7000000–7000449, 7100000–7100299, 7200000–7200149, 8000000–8000229, 9000000–9000216
and 31000000–31000700 were fitted on or judged by; 900000–900149, 2000000–2000299, 6100000–6100299, 9000217–9000299,
9100000–9100058, 9200000–9200149, 9300000–9300149, 9400000–9400149, 9500000–9500059, 9600000–9600059, 9700000–9700059
and 31000750–31000794 were looked at once. Of 9400000–9400149 94.0 % are within 1 %, 74 % are called sure rightly and
one wrongly (off by 1.4 %), of the 60 after them 59, 44 and none, of 60 more 57, 44 and none, of the last 60 57, 47 and
none; of 1939 whose paintings were left out of the fit in turn 93.7 % are within 1 %. Of 30 windows painted with a
hand's edges into even walls one was surely cropped. Of 346 pictures in desktop and site packages of Debian and npm none
without something flat was: a board of letters on a wall rightly, two diagrams wrongly; a framed poster was outlined
rightly, and asked about. Of 347 more in handbooks and test data of Debian, PyPI and npm none shows a framed or hung
picture either; of twelve photographs of a sheet, a board or a sign four were cropped rightly, three outlined rightly
and asked about, three outlined wrongly and asked about, and two taken for all painting: a sheet that lies askew by 25°,
and one that hands hold. Surely and wrongly cropped were only figures with boxes drawn into them. The picture whose file
shows its frame (062) is cropped to what is painted, which its scenes count as wrong, and so is at times one whose file
shows a strip of its own rim (075), at 1 %: whoever looks would crop both as the program does. With --apart the figures
are printed without them too: 0–299 are 92.0 % with them and 94.4 % without. Five of 6100000–6100299 were fitted on.
"""

import argparse
import io
import json
import sys
import time
from collections import defaultdict
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from photograph_scenes import Scene, draw_scene
from PIL import Image, ImageDraw, ImageOps

from critique.perception.srgb import linear_to_srgb8, srgb8_to_linear
from critique.photograph.canvas import Canvas
from critique.photograph.painting import canvas_in

NEAR = 0.01  # of the canvas's long edge
FOUND_BAR, WRONG_BAR, TIME_BAR = 0.92, 0.01, 0.5
DEMOS = Path(__file__).resolve().parents[2] / "demo_images"
TELEPHONE = (4000, 3000)  # px, for the time
SIZES = ((3000, 2000), TELEPHONE, (6000, 4000))
GRAIN = 3.0  # codes: of a telephone's photograph in a room, and what decoding it takes depends on that
TURNS = {1: None, 3: Image.Transpose.ROTATE_180, 6: Image.Transpose.ROTATE_90, 8: Image.Transpose.ROTATE_270}


def main() -> None:
    parser = argparse.ArgumentParser()
    parser.add_argument("folder", nargs="?", type=Path, default=DEMOS)
    parser.add_argument("--number", type=int, default=300)
    parser.add_argument("--first", type=int, default=0, help="Seed of the first; take fresh ones for the end.")
    parser.add_argument(
        "--whole", type=Path, action="append", default=[], help="Further folders of nothing but paintings."
    )
    parser.add_argument("--leave-out", action="append", default=[], help="A painting whose file shows its frame.")
    parser.add_argument(
        "--apart", action="append", default=[], help="One without which the figures are printed once more."
    )
    parser.add_argument("--keep", type=Path, help="Folder for those that went wrong, outlined.")
    parser.add_argument("--scenes", type=Path, help="Folder to keep the photographs in, so that they're drawn once.")
    parser.add_argument("--no-time", action="store_true")
    options = parser.parse_args()
    paintings = [path for path in sorted(options.folder.glob("*.jpg")) if path.name not in options.leave_out]
    seeds = range(options.first, options.first + options.number)
    photographs = (photograph_of(seed, paintings, options.scenes) for seed in seeds)
    drawn = (one for one in photographs if one.painting not in options.leave_out)
    passed = hold_to_scenes(drawn, options.keep, options.apart)
    for folder in dict.fromkeys([options.folder, DEMOS, *options.whole]):
        passed &= hold_to_whole(folder, options.keep)
    if not options.no_time:
        passed &= hold_to_time(paintings)
    sys.exit(0 if passed else 1)


@dataclass(frozen=True, slots=True)
class Photograph:
    """A file as a telephone would write it, and the truth about it; ``corners`` in px of the upright photograph."""

    seed: int
    file: bytes
    corners: list[list[float]]
    painting: str
    surround: str
    frame: str
    facts: dict[str, float]

    def codes(self) -> np.ndarray:
        """Seen upright."""
        return np.asarray(ImageOps.exif_transpose(Image.open(io.BytesIO(self.file))))


@dataclass(frozen=True, slots=True)
class Held:
    """What was found in a photograph of a painting, and whether it is right."""

    painting: str
    right: bool
    sure: bool
    whole: bool


def hold_to_scenes(photographs: Iterator[Photograph], keep: Path | None, apart: list[str]) -> bool:
    every: list[Held] = []
    by: dict[str, list[bool]] = defaultdict(list)
    for photograph in photographs:
        codes = photograph.codes()
        canvas = canvas_in(srgb8_to_linear(codes))
        error = corner_error(canvas, photograph, codes.shape)
        right = error <= NEAR
        every.append(Held(photograph.painting, right, canvas.sure, canvas.whole))
        for name in (photograph.surround, "frame " + photograph.frame):
            by[name].append(right)
        if not (right and canvas.sure):
            print(
                f"{photograph.seed} {photograph.painting}: {'sure' if canvas.sure else 'unsure'}"
                f"{' whole' if canvas.whole else ''}, off by {error:.3f}; {photograph.surround}, {photograph.frame}, "
                f"area {photograph.facts['area']:.2f}, beyond {photograph.facts['beyond']:.3f}",
                flush=True,
            )
            if keep:
                draw(codes, canvas, photograph.corners, keep / f"{photograph.seed:05}.png")
    for name, rights in sorted(by.items()):
        print(f"  {name}: {sum(rights)} of {len(rights)}")
    if apart:
        print(f"without {', '.join(apart)}:")
        tell([held for held in every if held.painting not in apart])
        print("with all:")
    return tell(every)


def tell(every: list[Held]) -> bool:
    """Print how many were found, surely and wrongly; whether both bars are held."""
    number = len(every)
    found = sum(held.right for held in every)
    sure_right = sum(held.right and held.sure for held in every)
    wrong = [held for held in every if held.sure and not held.right]
    print(
        f"within {NEAR:.0%}: {found / number:.1%} of {number} (bar {FOUND_BAR:.0%}); sure too {sure_right / number:.1%}"
    )
    print(
        f"sure and wrong: {len(wrong) / number:.1%} (bar {WRONG_BAR:.0%}), of that taken for all painting "
        f"{sum(held.whole for held in wrong) / number:.1%}"
    )
    return found >= FOUND_BAR * number and len(wrong) <= WRONG_BAR * number


def photograph_of(seed: int, paintings: list[Path], folder: Path | None = None) -> Photograph:
    """The photograph of a seed, from ``folder`` where it was kept there."""
    kept = None if folder is None else folder / f"{seed:06}.json"
    if kept is not None and kept.exists():
        return Photograph(file=kept.with_suffix(".jpg").read_bytes(), **json.loads(kept.read_text()))
    random = np.random.default_rng([seed, 7])
    chosen = paintings[random.integers(len(paintings))]
    others = [light(paintings[i], 320) for i in random.integers(len(paintings), size=3)]
    scene = draw_scene(seed, light(chosen, 1600), others)
    truth = {
        "seed": seed,
        "corners": scene.corners.tolist(),
        "painting": chosen.name,
        "surround": scene.surround,
        "frame": scene.frame,
        "facts": scene.facts,
    }
    file = as_file(scene, seed)
    if kept is not None:
        kept.parent.mkdir(parents=True, exist_ok=True)
        kept.with_suffix(".jpg").write_bytes(file)
        kept.write_text(json.dumps(truth))
    return Photograph(file=file, **truth)


def light(path: Path, long_edge: int) -> np.ndarray:
    with Image.open(path) as image:
        image = image.convert("RGB")
        image.thumbnail((long_edge, long_edge))
        return srgb8_to_linear(np.asarray(image))


def as_file(scene: Scene, seed: int) -> bytes:
    """JPEG, at times lying on its side with a note which way is up."""
    random = np.random.default_rng([seed, 11])
    image = Image.fromarray(linear_to_srgb8(scene.linear))
    turn = int(random.choice([1, 1, 3, 6, 8]))
    if TURNS[turn] is not None:
        image = image.transpose(TURNS[turn])
    exif = Image.Exif()
    exif[0x0112] = turn
    written = io.BytesIO()
    image.save(written, "JPEG", quality=int(random.integers(72, 96)), exif=exif)
    return written.getvalue()


def corner_error(canvas: Canvas, photograph: Photograph, shape: tuple[int, ...]) -> float:
    """The farthest corner's distance from the truth, in parts of the canvas's long edge."""
    corners = np.asarray(photograph.corners)
    off = np.asarray(canvas.corners) * [shape[1], shape[0]] - corners
    sides = np.roll(corners, -1, axis=0) - corners
    return float(np.hypot(*off.T).max() / np.hypot(*sides.T).max())


def hold_to_whole(folder: Path, keep: Path | None) -> bool:
    cropped, unsure = [], []
    paths = sorted(path for path in folder.iterdir() if path.suffix.lower() in (".jpg", ".jpeg", ".png"))
    for path in paths:
        with Image.open(path) as image:
            codes = np.asarray(image.convert("RGB"))
        canvas = canvas_in(srgb8_to_linear(codes))
        if not canvas.whole:
            (cropped if canvas.sure else unsure).append(path.name)
            if keep:
                draw(codes, canvas, None, keep / f"whole_{path.stem}.png")
    print(
        f"all painting in {folder.name}: {len(paths)} files, cropped (bar none): {', '.join(cropped) or 'none'}; "
        f"unsure: {', '.join(unsure) or 'none'}"
    )
    return not cropped


def hold_to_time(paintings: list[Path]) -> bool:
    """The stage beside a full decode of files of several sizes; the bar is held by a telephone's."""
    from critique.photograph.painting import painting_of
    from critique.photograph.read import read_photograph

    passed = True
    for size in SIZES:
        finding, stage, megabytes = [], [], []
        for seed in range(3):
            file = as_large(photograph_of(seed, paintings).codes(), size, seed)
            megabytes.append(len(file) / 1e6)
            decode = min(timed(decoded, file) for _ in range(3))
            photograph = read_photograph(file)
            finding.append(min(timed(canvas_in, photograph.light) for _ in range(3)) / decode)
            stage.append(min(timed(painting_of, photograph) for _ in range(3)) / decode)
        find, all_of_it = float(np.median(finding)), float(np.median(stage))
        print(
            f"time beside a full decode of {size[0]} × {size[1]} px, {np.median(megabytes):.1f} MB: finding {find:.2f} "
            f"(bar {TIME_BAR} at {TELEPHONE[0]} px), with straightening, its light and what the camera did "
            f"{all_of_it:.2f}"
        )
        passed &= size != TELEPHONE or find <= TIME_BAR
    return passed


def as_large(codes: np.ndarray, size: tuple[int, int], seed: int) -> bytes:
    """A photograph as a camera of that many px would write it, with noise of its own."""
    image = Image.fromarray(codes)
    large = np.asarray(image.resize(size if image.width >= image.height else size[::-1], Image.Resampling.BICUBIC))
    grain = np.random.default_rng(seed).normal(0, GRAIN, large.shape[:2]).round()[..., None]
    written = io.BytesIO()
    Image.fromarray(np.clip(large + grain, 0, 255).astype(np.uint8)).save(written, "JPEG", quality=92)
    return written.getvalue()


def decoded(file: bytes) -> np.ndarray:
    return np.asarray(Image.open(io.BytesIO(file)))


def timed(call: Callable, *given: object) -> float:
    start = time.process_time()
    call(*given)
    return time.process_time() - start


def draw(codes: np.ndarray, canvas: Canvas, truth: list[list[float]] | None, path: Path) -> None:
    path.parent.mkdir(parents=True, exist_ok=True)
    image = Image.fromarray(codes).convert("RGB")
    pen = ImageDraw.Draw(image)
    if truth is not None:
        pen.polygon([tuple(point) for point in truth], outline=(0, 255, 0))
    pen.polygon([(x * image.width, y * image.height) for x, y in canvas.corners], outline=(255, 0, 0), width=2)
    image.save(path)


if __name__ == "__main__":
    main()
