"""Whether a picture is judged alike at every size: `python tests/benchmarks/sizes.py FOLDER [LARGER_FILE...]`.

Each picture of the folder (some 640 px) is enlarged with Lanczos' filter to 1600 and to 6000 px (a smaller one to
640 px first), and saved as JPEG; each larger file is taken as it is and reduced, as most programs do it, to 1600 and
640 px. Prints which findings differ from those of the smallest size, and which figures move by more than two
percentile places. Ends with 1 when any does.

What moves as far in a picture that is saved again at the size it has chooses between things that do about as well, and
its size in px has no part in it: how many of them do is printed beside.
"""

import sys
import tempfile
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import numpy as np
from PIL import Image

from critique.advice.advise import judge
from critique.advice.norms import figures_of, read_norms
from critique.measures.measure import measure_picture
from critique.perception.srgb import linear_to_srgb8, srgb8_to_linear
from critique.photograph.limits import VIEWED_LONG_EDGE
from critique.photograph.scale import scaled_size
from critique.picture.picture import Picture
from critique.picture.read import read_picture

LARGER = (1600, 6000)  # px of the long edge: a screen's, and a 24-megapixel camera's
MOST_PLACES = 2.0  # percentiles that a figure may move
QUALITY = 97  # of JPEG, colours whole: what JPEG itself does to a picture is another question


def enlarged(path: Path, folder: Path) -> Iterator[tuple[int, Path]]:
    """The picture at the viewing size, which is itself unless it is smaller, then larger copies."""
    with Image.open(path) as image:
        whole, profile = image.convert("RGB"), image.info.get("icc_profile")
    small = max(whole.size) < VIEWED_LONG_EDGE
    if not small:
        yield VIEWED_LONG_EDGE, path
        yield VIEWED_LONG_EDGE, saved(whole, folder / f"{path.stem}_again.jpg", profile)
    for long_edge in (VIEWED_LONG_EDGE, *LARGER) if small else LARGER:
        factor = long_edge / max(whole.size)
        size = (round(whole.width * factor), round(whole.height * factor))
        yield (
            long_edge,
            saved(whole.resize(size, Image.Resampling.LANCZOS), folder / f"{path.stem}_{long_edge}.jpg", profile),
        )


def reduced(path: Path, folder: Path) -> Iterator[tuple[int, Path]]:
    """Smaller copies, the smallest first."""
    with Image.open(path) as image:
        light = srgb8_to_linear(np.asarray(image.convert("RGB")))
    for long_edge in (VIEWED_LONG_EDGE, LARGER[0]):
        if max(light.shape) > long_edge:
            height, width = scaled_size(*light.shape[:2], long_edge)
            copy = Image.fromarray(linear_to_srgb8(light)).resize((width, height), Image.Resampling.LANCZOS)
            yield long_edge, saved(copy, folder / f"{path.stem}_{long_edge}.png")
    yield max(light.shape), path


def saved(image: Image.Image, path: Path, profile: bytes | None = None) -> Path:
    # Each option for the format that knows it.
    image.save(path, quality=QUALITY, subsampling=0, compress_level=1, icc_profile=profile)
    return path


Judged = tuple[dict[str, str], dict[str, float | None]]  # levels by finding, and percentiles by figure
Moved = tuple[str, str | float | None, str | float | None]  # what, from, to


def judged(picture: Picture) -> Judged:
    """Levels by finding, and percentiles by figure."""
    measures, norms = measure_picture(picture), read_norms()
    levels = {finding.subject: finding.level for finding in judge(picture, measures)}
    return levels, {name: norms.percentile(name, value) for name, value in figures_of(measures).items()}


def differing(one: Judged, other: Judged) -> tuple[list[Moved], list[Moved]]:
    """Findings at another level, and figures that moved by more places than they may."""
    levels = [(name, one[0].get(name), other[0].get(name)) for name in sorted(one[0].keys() | other[0].keys())]
    ranks = [(name, rank, other[1][name]) for name, rank in one[1].items()]
    return [each for each in levels if each[1] != each[2]], [
        (name, before, after)
        for name, before, after in ranks
        if (before is None) != (after is None) or abs((before or 0) - (after or 0)) > MOST_PLACES
    ]


def main(folder: Path, larger: list[Path]) -> int:
    findings, figures, by_saving = Counter[str](), Counter[str](), Counter[str]()
    pairs = 0
    pictures = sorted(path for path in folder.iterdir() if path.suffix.lower() in (".jpg", ".jpeg", ".png", ".tif"))
    with tempfile.TemporaryDirectory() as scratch:
        for path, sizes in [*((each, enlarged) for each in pictures), *((each, reduced) for each in larger)]:
            first, unsteady = None, set[str]()  # what moves by saving alone
            for long_edge, file in sizes(path, Path(scratch)):
                found = judged(read_picture(file))
                if file != path:
                    file.unlink()
                if first is None:
                    first = found
                    continue
                changed, moved = differing(first, found)
                for what, before, after in (*changed, *moved):
                    print(f"{path.name} {long_edge}: {what} {before} → {after}", flush=True)
                names = {what for what, *_ in (*changed, *moved)}
                if file.stem.endswith("_again"):
                    unsteady = names
                    continue
                pairs += 1
                findings.update(what for what, *_ in changed)
                figures.update(what for what, *_ in moved)
                by_saving.update(names & unsteady)
    print(f"{pairs} pairs of sizes: {findings.total()} findings differ, {figures.total()} figures moved over 2 places")
    print("by finding:", dict(findings.most_common()))
    print("by figure:", dict(figures.most_common()))
    print(f"of these, moved by saving at the same size too: {by_saving.total()}", dict(by_saving.most_common()))
    return 1 if findings or figures else 0


if __name__ == "__main__":
    if len(sys.argv) < 2:
        sys.exit(__doc__)
    sys.exit(main(Path(sys.argv[1]), [Path(name) for name in sys.argv[2:]]))
