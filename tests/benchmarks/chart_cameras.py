"""Hold the correction by a chart to cameras whose channels aren't the eye's.

    python tests/benchmarks/chart_cameras.py [--number 200] [--first 0]

Everything is a spectrum: the chart's patches and the measured cameras from colour-science (``SDS_COLOURCHECKERS``,
``MSDS_CAMERA_SENSITIVITIES``), the lamps from CIE (colour-science's illuminants and reference_data/gallery_lamps.csv),
the paints mixed by the project's own measured K and S, two to four of them with white. The camera is white balanced and
brought to sRGB by a matrix of its maker's kind (least squares on the same chart by D65), as every telephone does, then
exposed 0.5 to 1 stop under, veiled by up to 4 % of stray light and given noise. Prints ΔE00 of the paints to their
colours under D65, as photographed and by the chart, at the median and the 90th percentile over scenes (bar 1.5 at the
90th of scenes' medians), and for each way of correcting alone what it would have been.

What no chart can do is told too: the same terms fitted to 300 other mixtures of the same paints seen by that camera in
that lamp, its stray light known ("by 300 other paints"). What is left over then is the lamp's and the camera's: two
paints that D65 tells apart are one colour to them. Of seeds 0–199 that is 2.15 at the 90th percentile beside 2.41 by
the chart, so that no such matrix keeps the bar: by white LEDs (B3 to B5) and daylight the middle scene keeps to
1.3–1.6, by tungsten and by LEDs of two or three bands it has 1.9–2.4. Weights by lightness, ridges, a third degree, and
priors fitted to half of the cameras and held to the others were tried on seeds 1000–1199 and 0–99: none won more than
0.15 at that percentile, and those that won a little there lost at the middle or at the worst. On 7100–7219 (now 1.58 in
the middle, 2.33 at the 90th percentile, floor 1.37 and 1.98): ridges toward the linear fit, chosen by leave-one-out,
have 1.54 and 2.27 with square roots, 1.56 and 2.28 with cube roots too; patches weighed by how near they lie to the
picture's colours 1.54–1.56 and 2.28–2.30; the chart's residuals spread to colours near them 1.55 and 2.39 at best; a
white that is kept 1.70 and 2.37. Of 60 scenes looked at first (7000–7059) those ridges had won 0.18.

What the rest is made of (7100–7199, median and 90th percentile): by the chart 1.65 and 2.34; the same terms fitted to
300 other paints 1.44 and 1.95; each paint's colour read off the forty of 6000 others most like it to that camera ("by
its likes") 0.86 and 1.32. A hundred scenes drawn once more without noise, stray light, 8 bits or clipping have by the
chart 2.25 instead of 2.27, by their likes 1.33 instead of 1.40: these cost next to nothing. So the bar lies between
what 24 patches can tell and what only knowing every paint's colour to that camera in that lamp would: no finer file
brings it nearer. Mixtures of the project's own paints, seen by the channels that the patches' spectra tell (least
squares, ridges, smooth kernels of 15 and 40 nm), in place of those others have 1.36 and 2.00 at best, where the chart
has 1.55 and 2.22 (7100–7159), on the very paints that the scenes are drawn from: too little for what it asks.
"""

import argparse
from collections import defaultdict
from functools import cache

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
LIKES = 40  # other paints most like one to the camera


def main() -> None:
    parser = argparse.ArgumentParser()
    parser.add_argument("--first", type=int, default=0)
    parser.add_argument("--number", type=int, default=200)
    options = parser.parse_args()
    told: dict[str, list[float]] = defaultdict(list)
    worst: dict[str, list[float]] = defaultdict(list)
    chosen: dict[str, int] = defaultdict(int)
    by_lamp: dict[str, list[float]] = defaultdict(list)
    for seed in range(options.first, options.first + options.number):
        lamp, scenes_own = scene(seed, chosen)
        by_lamp[lamp].append(float(np.median(scenes_own.get(BY_CHART, np.nan))))
        for name, off in scenes_own.items():
            told[name].append(float(np.median(off)))
            worst[name].append(float(np.quantile(off, 0.9)))
    print(f"{options.number} scenes; ΔE00: median, 90th percentile of scenes' medians, median of scenes' 90th")
    for name, medians in told.items():
        print(f"  {name:44} {np.median(medians):5.2f} {np.quantile(medians, 0.9):5.2f} {np.median(worst[name]):5.2f}")
    for lamp, medians in sorted(by_lamp.items(), key=lambda item: np.nanmedian(item[1])):
        print(f"  {BY_CHART}, {lamp}: {np.nanmedian(medians):.2f}, at most {np.nanmax(medians):.2f} of {len(medians)}")
    print("chosen:", ", ".join(f"{name} {number}" for name, number in sorted(chosen.items())))


def scene(seed: int, chosen: dict[str, int]) -> tuple[str, dict[str, Array]]:
    """A scene's lamp, and ΔE00 of each of its paints, by each way of correcting."""
    random = np.random.default_rng(seed)
    cameras = sensitivities()
    which = int(random.integers(len(cameras)))
    sensor = cameras[which]
    lamps = lights()
    which_lamp = int(random.integers(len(lamps)))
    lamp = lamps[which_lamp]
    paints, patches = mixtures(random, PAINTS), chart_spectra()
    to_srgb = maker_matrix_of(which)
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
        return LAMPS[which_lamp], off
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
    others = mixtures(np.random.default_rng([seed, 1]), OTHER_PAINTS)
    stray = np.full(3, veil) @ to_srgb.T
    terms, there = (chart_fit.root_terms(np.maximum(one - stray, 0)) for one in (photographed(others), seen))
    matrix = chart_fit.least_squares(terms, colour_light(lab_under_d65(others)))
    off["by 300 other paints, stray light known"] = delta(lab_of(there @ matrix.T), true)
    many = mixtures(np.random.default_rng([seed, 2]), MANY)
    likely = by_its_likes(photographed(many) - stray, lab_under_d65(many), seen - stray)
    off["by its likes among 6000 other paints, stray light known"] = delta(likely, true)
    return LAMPS[which_lamp], off


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
def maker_matrix_of(which: int) -> Array:
    return maker_matrix(sensitivities()[which])


def maker_matrix(sensor: Array) -> Array:
    """From white balanced raw to linear sRGB, white kept: fitted on the chart by D65."""
    patches, lamp = chart_spectra(), light("D65")
    raw = (patches * lamp) @ sensor / (lamp @ sensor)
    matrix = np.linalg.lstsq(raw, colour_light(lab_under_d65(patches)), rcond=None)[0].T
    return np.asarray(matrix / matrix.sum(axis=1, keepdims=True))


@cache
def sensitivities() -> tuple[Array, ...]:
    """Of every measured camera, (38, 3) each, none where it wasn't measured."""
    cameras = colour.MSDS_CAMERA_SENSITIVITIES.values()
    return tuple(
        np.stack([np.interp(WAVELENGTHS, one.wavelengths, np.maximum(channel, 0), 0, 0) for channel in one.values.T], 1)
        for one in cameras
    )


@cache
def chart_spectra() -> Array:
    chart = colour.SDS_COLOURCHECKERS["BabelColor Average"].values()
    return np.stack([np.interp(WAVELENGTHS, one.wavelengths, one.values) for one in chart])


@cache
def lights() -> tuple[Array, ...]:
    lamps = (colour.SDS_ILLUMINANTS[name] for name in LAMPS)
    return tuple(np.interp(WAVELENGTHS, one.wavelengths, one.values) for one in lamps)


def mixtures(random: np.random.Generator, number: int) -> Array:
    """Reflectances of paints mixed with white, without the surface's reflection. [Kubelka and Munk; Saunderson]"""
    rows = read_table("paints_measured.csv")
    names = sorted({row["paint"] for row in rows})
    table = {(row["paint"], row["coefficient"]): [float(row[str(nm)]) for nm in WAVELENGTHS] for row in rows}
    scatter, absorb = (np.array([table[name, one] for name in names]) for one in ("S", "K"))
    white = next(i for i, name in enumerate(names) if "titanium" in name)
    parts = np.zeros((number, len(names)))
    for row in parts:
        row[random.choice(len(names), random.integers(2, 5), replace=False)] = random.exponential(size=1)
        row *= random.uniform(0.2, 1, len(names))
        row[white] += random.exponential() * row.sum()
    ratio = (parts @ absorb) / (parts @ scatter)
    infinite = 1 + ratio - np.sqrt(ratio**2 + 2 * ratio)
    return np.asarray((1 - 0.03) * (1 - 0.65) * infinite / (1 - 0.65 * infinite))


if __name__ == "__main__":
    main()
