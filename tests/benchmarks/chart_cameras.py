"""Hold the correction by a chart to cameras whose channels aren't the eye's.

    python tests/benchmarks/chart_cameras.py [--number 200] [--first 0] [--other-pigments]

Everything is a spectrum: the chart's patches and two of the cameras from colour-science (``SDS_COLOURCHECKERS``,
``MSDS_CAMERA_SENSITIVITIES``), eight more cameras from cameras_measured.csv, the lamps from CIE (colour-science's
illuminants), the paints mixed by the project's own measured K and S, two to four of them with white. The camera is
white balanced and brought to sRGB by a matrix of its maker's kind (least squares on the same chart by D65), as every
telephone does, then exposed 0.5 to 1 stop under, veiled by up to 4 % of stray light and given noise. Prints ΔE00 of the
paints to their colours under D65, as photographed and by the chart, at the median and the 90th percentile over scenes
(bar 1.5 at the 90th of scenes' medians), for each way of correcting alone what it would have been, and what each
camera and each lamp has.

What no chart can do is told too: the same terms fitted to 300 other mixtures of the same paints seen by that camera in
that lamp, its stray light known ("by 300 other paints"), and each paint's colour read off the forty of 6000 others most
like it to that camera ("by its likes"). What is left over then is the lamp's and the camera's: two paints that D65
tells apart are one colour to them. --other-pigments asks the same of mixtures of which the others have no pigment, as
somebody who knows the camera and the lamp, and not the paint box.

Of seeds 0–199 the middle scene has 1.47 by the chart and 1.13 by 300 other paints, the 90th percentile 2.15 and 2.08,
so that no correction of this kind keeps the bar of 1.5 there, whatever it is fitted to; by their likes 0.76 and 1.39.
By daylight and white LEDs (D50 to D75, FL7, LED-B3 to B5) the middle scene has 1.1 to 1.5, by tungsten, two-band and
three-band lamps 1.7 to 2.1. With --other-pigments, where the camera, the lamp and the stray light are known and the
pigments aren't, 300 other paints have 1.69 and 3.17, their likes 1.89 and 3.62, the chart 1.46 and 2.42: what 24
patches don't tell can only be learnt from the very paints. (Until cameras_measured.csv only the two of colour-science
stood here, of which the one with stacked layers is unlike any telephone's: 1.64 and 2.41 on 0–199.)

Tried on fresh seeds, and left. Fitting the patches together with the project's paints as the likeliest of nine cameras
and 56 lamps would see them (the scene's own left out): 1.17 instead of 1.37 in the middle and 1.97 instead of 2.27 at
the 90th percentile (31000–31099) where the scene's pigments are among these, and 1.3–1.5 and 2.6–3.1 instead of 1.40
and 2.28 where they are not (32000–32059). Patches weighed by lightness 1.35 and 2.20. Of the nine ways of correcting
the best one each time would have 1.36 and 2.00, chosen by leave-one-out 1.43 and 2.04, by its median, root mean square
or trimmed mean 1.43–1.47 and 2.03–2.04, blended by it 1.37 and 1.99 (40000–40099). On the two cameras alone weights,
ridges, a third degree, residuals spread to colours near them, a white that is kept and priors fitted to half of the
cameras had won no more than 0.15 at that percentile. A hundred scenes drawn once more without noise, stray light, 8
bits or clipping had 2.25 instead of 2.27: these cost next to nothing.
"""

import argparse
import csv
from collections import defaultdict
from functools import cache
from pathlib import Path

import colour
import numpy as np

from critique.perception.cielab import linear_to_lab
from critique.perception.difference import delta_e_2000
from critique.perception.reference import read_table
from critique.perception.spectra import WAVELENGTHS, light, observer
from critique.photograph import chart_fit
from critique.photograph.balance import balance_by_patches, chart_lab
from critique.photograph.chart_fit import lab_of

Array = np.ndarray
PAINTS = 60  # mixtures in each scene
LAMPS = ("A", "D50", "D55", "D65", "D75", "FL2", "FL7", "FL11", "LED-B1", "LED-B3", "LED-B4", "LED-B5", "LED-V1")
XYZ_TO_SRGB = np.linalg.inv(np.array([[0.4124, 0.3576, 0.1805], [0.2126, 0.7152, 0.0722], [0.0193, 0.1192, 0.9505]]))
BAR = 1.5
BY_CHART = "by the chart"
OTHER_PAINTS, MANY = 300, 6000
FIRST_PIGMENTS = 10  # of nineteen, that a scene is painted with where the other paints have none of them
CAMERAS = Path(__file__).with_name("cameras_measured.csv")
LIKES = 40  # other paints most like one to the camera


def main() -> None:
    parser = argparse.ArgumentParser()
    parser.add_argument("--first", type=int, default=0)
    parser.add_argument("--number", type=int, default=200)
    parser.add_argument("--other-pigments", action="store_true", help="The other paints have none of the scene's.")
    options = parser.parse_args()
    told: dict[str, list[float]] = defaultdict(list)
    worst: dict[str, list[float]] = defaultdict(list)
    chosen: dict[str, int] = defaultdict(int)
    by_kind: dict[str, list[float]] = defaultdict(list)
    for seed in range(options.first, options.first + options.number):
        camera, lamp, scenes_own = scene(seed, chosen, options.other_pigments)
        for kind in (camera, lamp):
            by_kind[kind].append(float(np.median(scenes_own.get(BY_CHART, np.nan))))
        for name, off in scenes_own.items():
            told[name].append(float(np.median(off)))
            worst[name].append(float(np.quantile(off, 0.9)))
    print(f"{options.number} scenes; ΔE00: median, 90th percentile of scenes' medians, median of scenes' 90th")
    for name, medians in told.items():
        print(f"  {name:44} {np.median(medians):5.2f} {np.quantile(medians, 0.9):5.2f} {np.median(worst[name]):5.2f}")
    for kind, medians in sorted(by_kind.items(), key=lambda item: np.nanmedian(item[1])):
        print(f"  {BY_CHART}, {kind}: {np.nanmedian(medians):.2f}, at most {np.nanmax(medians):.2f} of {len(medians)}")
    print("chosen:", ", ".join(f"{name} {number}" for name, number in sorted(chosen.items())))


def scene(seed: int, chosen: dict[str, int], other_pigments: bool = False) -> tuple[str, str, dict[str, Array]]:
    """A scene's camera and lamp, and ΔE00 of each of its paints, by each way of correcting."""
    random = np.random.default_rng(seed)
    cameras = sensitivities()
    camera = list(cameras)[int(random.integers(len(cameras)))]
    sensor = cameras[camera]
    lamps = lights()
    lamp_name = LAMPS[int(random.integers(len(lamps)))]
    lamp = lamps[lamp_name]
    pigments = np.arange(len(scattering()[0]))
    own_pigments = pigments
    if other_pigments:
        mixed = np.random.default_rng([seed, 3]).permutation(pigments)
        own_pigments, pigments = mixed[:FIRST_PIGMENTS], mixed[FIRST_PIGMENTS:]
    paints, patches = mixtures(random, PAINTS, own_pigments), chart_spectra()
    to_srgb = maker_matrix_of(camera)
    seen_white = lamp @ sensor
    exposure, veil = 0.5 ** random.uniform(0, 1), random.uniform(0, 0.04) * (random.random() < 0.5)

    def photographed(spectra: Array) -> Array:
        raw = (spectra * lamp) @ sensor / seen_white
        # The camera takes away a part of the lamp's colour, as telephones do.
        tint = (seen_white / seen_white[1]) / (light("D65") @ sensor / (light("D65") @ sensor)[1])
        raw = raw * tint**left
        linear = (exposure * raw + veil) @ to_srgb.T
        noise = random.normal(size=linear.shape) * np.sqrt(np.maximum(linear, 0) * 0.5 + 0.003) * 0.002
        return np.asarray(np.clip(linear + noise, 0, 1), dtype=np.float64)

    left = random.uniform(0, 0.6)
    seen, own = photographed(paints), photographed(patches)
    true = lab_under_d65(paints)
    off = {"as photographed, its lightness made alike": delta(alike(seen, true), true)}
    try:
        balance = balance_by_patches(own)
    except Exception as error:
        print(seed, error)
        return camera, lamp_name, off
    assert balance.fit is not None
    chosen[
        f"{balance.how}{' contrast' if balance.fit.exponent != 1 else ''}{' veil' * bool(balance.fit.veil.any())}"
    ] += 1
    off[BY_CHART] = delta(lab_of(balance.fit.on(seen)), true)
    usable = (own.max(axis=1) < 0.985) & (own.max(axis=1) > 0.012)
    wanted = np.asarray(colour_light(chart_lab()))
    for how in ("chart, white balance", "chart, linear", "chart, root-polynomial"):
        for tone in ("as it is", "contrast", "veil"):
            fit = chart_fit._fitted(how, tone, own, wanted, usable)
            off[f"{how}, {tone}"] = delta(lab_of(fit.on(seen)), true)
    others = mixtures(np.random.default_rng([seed, 1]), OTHER_PAINTS, pigments)
    stray = np.full(3, veil) @ to_srgb.T
    terms, there = (chart_fit.root_terms(np.maximum(one - stray, 0)) for one in (photographed(others), seen))
    matrix = chart_fit.least_squares(terms, colour_light(lab_under_d65(others)))
    off["by 300 other paints, stray light known"] = delta(lab_of(there @ matrix.T), true)
    many = mixtures(np.random.default_rng([seed, 2]), MANY, pigments)
    likely = by_its_likes(photographed(many) - stray, lab_under_d65(many), seen - stray)
    off["by its likes among 6000 other paints, stray light known"] = delta(likely, true)
    return camera, lamp_name, off


def by_its_likes(others: Array, colours: Array, seen: Array) -> Array:
    """The Lab (n, 3) of light ``seen`` (n, 3), each read off the nearest of ``others``, whose ``colours`` are known."""
    from scipy.spatial import cKDTree

    known, asked = np.cbrt(others), np.cbrt(seen)
    away, which = cKDTree(known).query(asked, LIKES)
    told = []
    for place, distance, nearest in zip(asked, away, which, strict=True):
        weight = np.exp(-2 * (distance / distance[-1]) ** 2)[:, None]
        terms = np.concatenate([np.ones((LIKES, 1)), known[nearest] - place], axis=1)
        told.append(np.linalg.lstsq(terms * weight, colours[nearest] * weight, rcond=None)[0][0])
    return np.array(told)


def alike(seen: Array, true: Array) -> Array:
    gains = np.exp(np.median(np.log(colour_light(true)[:, 1] + 1e-3) - np.log(seen[:, 1] + 1e-3)))
    return lab_of(seen * gains)


def colour_light(lab: Array) -> Array:
    from critique.perception.cielab import lab_to_linear

    return np.asarray(lab_to_linear(lab.astype(np.float32)), dtype=np.float64)


def delta(one: Array, other: Array) -> Array:
    return np.asarray(delta_e_2000(one, other))


def lab_under_d65(spectra: Array) -> Array:
    white = light("D65") @ observer()
    linear = (spectra * light("D65")) @ observer() / white[1] @ XYZ_TO_SRGB.T
    return linear_to_lab(np.clip(linear, 0, 1).astype(np.float32))


@cache
def maker_matrix_of(camera: str) -> Array:
    return maker_matrix(sensitivities()[camera])


def maker_matrix(sensor: Array) -> Array:
    """From white balanced raw to linear sRGB, white kept: fitted on the chart by D65."""
    patches, lamp = chart_spectra(), light("D65")
    raw = (patches * lamp) @ sensor / (lamp @ sensor)
    matrix = np.linalg.lstsq(raw, colour_light(lab_under_d65(patches)), rcond=None)[0].T
    return np.asarray(matrix / matrix.sum(axis=1, keepdims=True))


@cache
def sensitivities() -> dict[str, Array]:
    """Of every measured camera, (38, 3) each, none where it wasn't measured."""
    found = {
        name: np.stack(
            [np.interp(WAVELENGTHS, one.wavelengths, np.maximum(channel, 0), 0, 0) for channel in one.values.T], 1
        )
        for name, one in colour.MSDS_CAMERA_SENSITIVITIES.items()
    }
    with CAMERAS.open(encoding="utf-8", newline="") as stream:
        rows = list(csv.DictReader(line for line in stream if not line.startswith("#")))
    assert [float(row["wavelength"]) for row in rows] == list(WAVELENGTHS)
    for name in dict.fromkeys(column[:-2] for column in rows[0] if column != "wavelength"):
        found[name] = np.array([[float(row[f"{name} {channel}"]) for channel in "RGB"] for row in rows])
    return found


@cache
def chart_spectra() -> Array:
    chart = colour.SDS_COLOURCHECKERS["BabelColor Average"].values()
    return np.stack([np.interp(WAVELENGTHS, one.wavelengths, one.values) for one in chart])


@cache
def lights() -> dict[str, Array]:
    lamps = {name: colour.SDS_ILLUMINANTS[name] for name in LAMPS}
    return {name: np.interp(WAVELENGTHS, one.wavelengths, one.values) for name, one in lamps.items()}


@cache
def scattering() -> tuple[Array, Array, int]:
    """S and K (paints, 38) of the measured paints, and which of them is white."""
    rows = read_table("paints_measured.csv")
    names = sorted({row["paint"] for row in rows})
    table = {(row["paint"], row["coefficient"]): [float(row[str(nm)]) for nm in WAVELENGTHS] for row in rows}
    scatter, absorb = (np.array([table[name, one] for name in names]) for one in ("S", "K"))
    return scatter, absorb, next(i for i, name in enumerate(names) if "titanium" in name)


def mixtures(random: np.random.Generator, number: int, pigments: Array) -> Array:
    """Reflectances of paints mixed with white, without the surface's reflection. [Kubelka and Munk; Saunderson]"""
    scatter, absorb, white = scattering()
    parts = np.zeros((number, len(scatter)))
    for row in parts:
        row[random.choice(pigments, random.integers(2, 5), replace=False)] = random.exponential(size=1)
        row *= random.uniform(0.2, 1, len(row))
        row[white] += random.exponential() * row.sum()
    ratio = (parts @ absorb) / (parts @ scatter)
    infinite = 1 + ratio - np.sqrt(ratio**2 + 2 * ratio)
    return np.asarray((1 - 0.03) * (1 - 0.65) * infinite / (1 - 0.65 * infinite))


if __name__ == "__main__":
    main()
