"""Makes paint_films.csv, film_mixtures.csv and paints_from_films.csv out of measured films of acrylics.

python reference_data/make_paints.py FOLDER   (a folder that holds measured_films.csv)

Every paint's K and S are fitted wavelength by wavelength to its masstone and its two tints, over white and over black,
with the thickness of each film and the surface term, by damped Gauss–Newton. One number a paint, its share, says how
much of the dry film a part of it makes against a part of white; it is held near one, because the sheets say 1 : 4 and
1 : 9. The 1 : 1 mixtures take no part in the fit: they are what it is judged by.
"""

import csv
import sys
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from critique.paints.box import find_facts, find_paint
from critique.paints.coats import layer, over
from critique.paints.kubelka_munk import thick_layer, through_surface
from critique.perception.reference import read_table
from critique.perception.spectra import WAVELENGTHS, reflectance_to_lab

HERE = Path(__file__).parent
Spectrum = NDArray[np.float64]

# Inner reflectance of the card, chosen among 0.85–0.985 and 0–0.02 by the misfit of the ladders; results vary little.
GROUNDS = {"over_white": 0.94, "over_black": 0.01}
WHITE = "W03"
WHITE_PARTS = {"masstone": 0, "tint_1_4": 4, "tint_1_9": 9}
SHARES = np.geomspace(0.4, 2.5, 29)  # of a paint's part in the dry film, tried in turn
SHARE_SPREAD = 0.08  # of its logarithm: how far a weighed part strays from its share of the film
NOISE = 0.02  # of the cube root of reflectance, about 2 L*: one film against the next
STEPS = 40
FLOOR = 1e-3  # reflectance below which digitised charts hold no more digits
START_K, START_S = -3.0, -4.0  # logarithms, per µm; the fit strays from them only where light tells it to
# Films that become paints of the catalogue. The red oxide's pigment was let down with binder more than a tube's is, so
# its strength is taken from the published tint; the others agree with it as they are.
CARRIED = {
    "B13": "burnt sienna",
    "Y01": "yellow oxide",
    "R03": "red oxide",
    "R06": "quinacridone burnt orange",
    "R07": "quinacridone red (yellow shade)",
    "R09": "naphthol red light",
}
PUBLISHED_STRENGTH = ("R03",)
SHARED = {"U11": "PB29", "U12": "PB15:3"}  # in both measured sets: they join the scales
TINT = 10.0  # parts of white to one


@dataclass(frozen=True, slots=True)
class Film:
    """One drawdown: parts of white to one of paint, µm, which ground, and its reflectance."""

    white_parts: float
    thickness: float
    ground: str
    reflectance: Spectrum


@dataclass(frozen=True, slots=True)
class Fitted:
    """K and S per µm, and the share."""

    K: Spectrum
    S: Spectrum
    share: float


def main(folder: Path) -> None:
    rows = _rows(folder / "measured_films.csv")
    codes = sorted({row["sample"].split("-")[0] for row in rows if "+" not in row["sample"]} - {"W04"})
    white = _fit(_films(rows, WHITE), None, 1.0)[0]
    fitted = {WHITE: white}
    for code in codes:
        if code != WHITE:
            fitted[code] = _with_share(_films(rows, code), white)
    _write_films(rows, fitted)
    _write_mixtures(rows)
    _write_paints(fitted, white)


def _rows(path: Path) -> list[dict[str, str]]:
    with path.open(encoding="utf-8", newline="") as stream:
        return list(csv.DictReader(stream))


def _spectrum(row: dict[str, str]) -> Spectrum:
    return np.array([float(row[str(wavelength)]) for wavelength in WAVELENGTHS])


def _films(rows: Sequence[dict[str, str]], code: str) -> list[Film]:
    return [
        Film(WHITE_PARTS[row["kind"]], float(row[f"film_um_{ground}"]), ground, _spectrum(row))
        for row in rows
        if row["sample"].split("-")[0] == code
        for ground in GROUNDS
        if row["quantity"] == f"R_{ground}"
    ]


def seen(K: Spectrum, S: Spectrum, film: Film) -> Spectrum:
    """Reflectance of such a film, surface included."""
    R, T = layer(K, S, film.thickness)
    return np.asarray(through_surface(over(R, T, GROUNDS[film.ground]), surface=True))


def _squeezed(reflectance: Spectrum) -> Spectrum:
    """Near to lightness, so that darks count as the eye counts them."""
    return np.cbrt(np.maximum(reflectance, FLOOR))


def _fit(films: Sequence[Film], white: Fitted | None, share: float) -> tuple[Fitted, float]:
    """K and S at every wavelength for one share, and the misfit."""
    target = np.array([_squeezed(film.reflectance) for film in films])
    logs = np.stack([np.full(len(WAVELENGTHS), START_K), np.full(len(WAVELENGTHS), START_S)])
    start, weight, damping = logs.copy(), 1e-7, np.full(len(WAVELENGTHS), 1e-2)

    def misses(logs: Spectrum) -> Spectrum:
        K, S = np.exp(logs)
        found = []
        for film in films:
            own = share / (share + film.white_parts) if film.white_parts else 1.0
            mixed_K = own * K + ((1 - own) * white.K if white else 0)
            mixed_S = own * S + ((1 - own) * white.S if white else 0)
            found.append(_squeezed(seen(mixed_K, mixed_S, film)))
        return np.asarray(found) - target

    def cost(miss: Spectrum, logs: Spectrum) -> Spectrum:
        return np.asarray((miss**2).sum(axis=0) + weight * ((logs - start) ** 2).sum(axis=0))

    miss = misses(logs)
    best, step = cost(miss, logs), 1e-4
    for _ in range(STEPS):
        slope = np.stack([(misses(logs + step * np.eye(2)[i][:, None]) - miss) / step for i in (0, 1)])
        square = np.einsum("ifw,jfw->wij", slope, slope) + weight * np.eye(2)
        square += damping[:, None, None] * square * np.eye(2) + 1e-9 * np.eye(2)
        pull = np.einsum("ifw,fw->wi", slope, miss) + weight * (logs - start).T
        moved = np.clip(logs - np.clip(np.linalg.solve(square, pull[..., None])[..., 0].T, -2, 2), -14, 4)
        moved_miss = misses(moved)
        moved_cost = cost(moved_miss, moved)
        better = moved_cost < best
        logs, best, miss = (
            np.where(better, new, old) for new, old in ((moved, logs), (moved_cost, best), (moved_miss, miss))
        )
        damping = np.where(better, damping * 0.3, damping * 5)
    return Fitted(np.exp(logs[0]), np.exp(logs[1]), share), float(best.sum())


def _with_share(films: Sequence[Film], white: Fitted) -> Fitted:
    """The likeliest share with its K and S; a paint without tints tells nothing of it."""
    if len(films) == len(GROUNDS):
        return _fit(films, white, 1.0)[0]
    tried = [_fit(films, white, float(share)) for share in SHARES]
    unlikely = [miss / NOISE**2 + (np.log(one.share) / SHARE_SPREAD) ** 2 for one, miss in tried]
    return tried[int(np.argmin(unlikely))][0]


def _write_films(rows: Sequence[dict[str, str]], fitted: dict[str, Fitted]) -> None:
    lines = [["code", "colour_index", "share", "coefficient", *map(str, WAVELENGTHS)]]
    index = {row["sample"].split("-")[0]: row["pigment"] for row in rows}
    for code, one in sorted(fitted.items()):
        for letter, values in (("K", one.K), ("S", one.S)):
            lines.append([code, index[code], f"{one.share:.3f}", letter, *(f"{value:.4g}" for value in values)])
    notes = ["Absorption and scattering per µm of dry film, fitted by make_paints.py; share: see there."]
    _write("paint_films.csv", notes, lines)


def _write_mixtures(rows: Sequence[dict[str, str]]) -> None:
    """Films as measured, in CIELAB: the tints that were fitted and the mixtures that were not."""
    lines = [["first", "second", "first_parts", "second_parts", "ground", "um", "L", "a", "b"]]
    for row in rows:
        ground = row["quantity"].removeprefix("R_")
        code = row["sample"].split("-")[0]
        if ground not in GROUNDS or code in ("W03", "W04"):
            continue
        first, _, second = code.partition("+")
        parts = (1, 1) if second else (1, WHITE_PARTS[row["kind"]])
        L, a, b = reflectance_to_lab(_spectrum(row))
        lab = [f"{value:.2f}" for value in (L, a, b)]
        lines.append([first, second or WHITE, *map(str, parts), ground, row[f"film_um_{ground}"], *lab])
    notes = ["CIELAB (D65, 2°, surface included) of measured films; first and second are codes of paint_films.csv."]
    _write("film_mixtures.csv", notes, lines)


def _write_paints(fitted: dict[str, Fitted], white: Fitted) -> None:
    """The carried paints on the scale where white scatters 1."""
    joins = [_strength(_relative(fitted[code], white), _lightness_of(query)) for code, query in SHARED.items()]
    scale = float(np.exp(np.mean(np.log(joins))))
    print(f"scale by the shared paints: {scale:.3f}")
    published = {row["paint"]: float(row["L_of_one_in_ten"]) for row in read_table("tint_lightness.csv")}
    lines = [["paint", "coefficient", *map(str, WAVELENGTHS)]]
    for code, name in CARRIED.items():
        K, S = _relative(fitted[code], white)
        factor = _strength((K, S), published[name]) if code in PUBLISHED_STRENGTH else scale
        print(f"{name}: strength × {factor:.2f}, one in ten L* {_lightness(K * factor, S * factor):.1f}")
        for letter, values in (("K", K), ("S", S)):
            lines.append([name, letter, *(f"{value:.5g}" for value in factor * values)])
    notes = ["K and S of paints measured as films, on the scale of paints_measured.csv; made by make_paints.py."]
    _write("paints_from_films.csv", notes, lines)


def _relative(one: Fitted, white: Fitted) -> tuple[Spectrum, Spectrum]:
    return one.share * one.K / white.S, one.share * one.S / white.S


def _lightness(K: Spectrum, S: Spectrum) -> float:
    """L* of one part in ten of the measured white."""
    pale = find_paint("PW6")
    return float(reflectance_to_lab(through_surface(thick_layer(K + TINT * pale.K, S + TINT * pale.S)))[0])


def _lightness_of(query: str) -> float:
    """The same of a paint of the catalogue, as strong as it was measured."""
    paint, strength = find_paint(query), find_facts(query).strength
    return _lightness(paint.K / strength, paint.S / strength)


def _strength(paint: tuple[Spectrum, Spectrum], lightness: float) -> float:
    """The factor on K and S at which the tint has a lightness: it falls with strength, so halving finds it."""
    low, high = np.log(1e-2), np.log(1e2)
    for _ in range(60):
        middle = (low + high) / 2
        lighter = _lightness(*(np.exp(middle) * value for value in paint)) > lightness
        low, high = (middle, high) if lighter else (low, middle)
    return float(np.exp(low))


def _write(name: str, notes: Sequence[str], lines: Sequence[Sequence[str]]) -> None:
    with (HERE / name).open("w", encoding="utf-8", newline="") as stream:
        stream.writelines(f"# {note}\n" for note in notes)
        csv.writer(stream, lineterminator="\n").writerows(lines)


if __name__ == "__main__":
    main(Path(sys.argv[1]))
