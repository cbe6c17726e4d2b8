"""Hold what is measured of a photographed painting to what is measured of the painting's own file.

    python tests/benchmarks/photograph_figures.py [FOLDER OF PAINTINGS] [--first 0] [--number 15] [--long-edge 1920]

Photographs are drawn by photograph_scenes.py with a grey card and a chart where there is room; the canvas is cropped at
its true corners, so that the light alone is on trial. Prints for each way of putting it right: green area and division
within 0.02 of the painting's, no finding more than one level off (bars 95 %), and the colour left over, ΔE00, at the
90th percentile over scenes (bars 2 by a grey spot, 1.5 by the chart). Scenes with a window's reflection or a shadow
across are counted apart: no neutral beside the canvas knows of those.
"""

import argparse
from collections import defaultdict
from pathlib import Path

import numpy as np
from photograph_scenes import draw_scene
from photographs import DEMOS, light

from critique.advice.advise import judge
from critique.advice.finding import LEVELS
from critique.measures.measure import measure_picture
from critique.perception.cielab import linear_to_lab
from critique.perception.difference import delta_e_2000
from critique.perception.srgb import linear_to_srgb8
from critique.photograph.corners import as_corners
from critique.photograph.light_asked import NOTHING_ASKED, LightAsked
from critique.photograph.painting import painting_of
from critique.photograph.read import read_photograph
from critique.picture.picture import picture_of
from critique.picture.view import view_of

NEAR = 0.02  # of the picture's area, and of its height
LONG_EDGE = 1920  # px of a photograph: a telephone has twice as many, and is averaged to fewer
GRID = 24  # parts of the canvas's sides over which colour is compared
RIM = 2  # of them left out along its edge, where a frame's lip lies


def main() -> None:
    parser = argparse.ArgumentParser()
    parser.add_argument("folder", nargs="?", type=Path, default=DEMOS)
    parser.add_argument("--first", type=int, default=0)
    parser.add_argument("--number", type=int, default=15)
    parser.add_argument("--long-edge", type=int, default=LONG_EDGE, help="Px of a photograph.")
    options = parser.parse_args()
    paintings = sorted(options.folder.glob("*.jpg"))
    held: dict[str, list[tuple[float, ...]]] = defaultdict(list)
    for seed in range(options.first, options.first + options.number):
        for way, figures in held_to_scene(seed, paintings, options.long_edge).items():
            held[way].append(figures)
            print(seed, way, *(f"{figure:.4f}" for figure in figures), flush=True)
    tell(held)


def tell(held: dict[str, list[tuple[float, ...]]]) -> None:
    for way, rows in held.items():
        table = np.array(rows)
        clean = table[table[:, 4] == 0]
        green, line, levels, colour = table[:, :4].T
        print(
            f"{way}: {len(table)} scenes; green area within {NEAR} {np.mean(green <= NEAR):.0%}, division "
            f"{np.mean(line <= NEAR):.0%}, findings {np.mean(levels <= 1):.0%}; ΔE00 {np.quantile(colour, 0.9):.2f}, "
            f"without shadow and reflection {np.quantile(clean[:, 3], 0.9) if len(clean) else 0:.2f} of {len(clean)}"
        )


def held_to_scene(seed: int, paintings: list[Path], long_edge: int = LONG_EDGE) -> dict[str, tuple[float, ...]]:
    """By each way of putting the light right: how far off green area, division, levels, colour; whether disturbed."""
    random = np.random.default_rng([seed, 7])
    chosen = paintings[random.integers(len(paintings))]
    others = [light(paintings[i], 320) for i in random.integers(len(paintings), size=3)]
    own = light(chosen, 1600)
    scene = draw_scene(seed, own, others, long_edge, neutrals=True)
    if scene.card is None or scene.chart is None:
        return {}
    photograph = read_photograph(linear_to_srgb8(scene.linear), f"scene {seed}")
    size = np.array(scene.linear.shape[1::-1])
    corners, card, chart = (as_corners(points / size) for points in (scene.corners, scene.card, scene.chart))
    middle = tuple(np.mean(card, axis=0))
    ways = {
        "as photographed": NOTHING_ASKED,
        "grey spot": LightAsked(grey=middle),
        "card": LightAsked(card=card, card_value=5.0),
        "chart": LightAsked(chart=chart),
        "card, evened": LightAsked(card=card, card_value=5.0, even=True),
    }
    original = picture_of(read_photograph(linear_to_srgb8(own), chosen.name))
    wanted = measure_picture(original)
    levels = {finding.kind: LEVELS.index(finding.level) for finding in judge(original, wanted)}
    found = {}
    for way, asked in ways.items():
        try:
            painting = painting_of(photograph, corners=corners, light=asked)
        except Exception as error:  # a reference that a shadow or the exposure spoils
            print(seed, way, error, flush=True)
            continue
        picture = picture_of(painting.photograph, view_of(photograph, painting))
        measures = measure_picture(picture)
        there = {finding.kind: LEVELS.index(finding.level) for finding in judge(picture, measures)}
        apart = max((abs(there.get(kind, 0) - levels.get(kind, 0)) for kind in {*there, *levels}), default=0)
        both = wanted.division.present and measures.division.present
        found[way] = (
            abs(measures.greens.area_share - wanted.greens.area_share),
            abs(measures.division.height - wanted.division.height) if both else 0.0,
            float(apart),
            colour_off(painting.photograph.light, own),
            float(scene.facts["reflection"] > 0 or scene.facts["shadow"] > 0),
        )
    return found


def colour_off(seen: np.ndarray, own: np.ndarray) -> float:
    """Median ΔE00 over the canvas, its exposure made alike: a reference beside it gets other light than it does."""
    first, second = (part[RIM:-RIM, RIM:-RIM] for part in (averaged(seen), averaged(own)))
    first = first * (second.mean() / first.mean())
    return float(np.median(delta_e_2000(linear_to_lab(np.clip(first, 0, 1)), linear_to_lab(second))))


def averaged(given: np.ndarray) -> np.ndarray:
    height, width, _ = given.shape
    rows, columns = (np.linspace(0, side, GRID + 1).astype(int)[:-1] for side in (height, width))
    summed = np.add.reduceat(np.add.reduceat(given, rows, axis=0), columns, axis=1)
    counts = np.outer(np.diff([*rows, height]), np.diff([*columns, width]))
    return np.asarray(summed / counts[..., None], dtype=np.float32)


if __name__ == "__main__":
    main()
