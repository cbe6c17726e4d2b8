"""The reference tables rebuilt from outside sources, and proof that a changed cell doesn't pass.

colour-science (Munsell renotation, CIE observer, efficiency and lights), prosail (PROSPECT-D leaves) and the limits of
the ISCC–NBS blocks (NBS SP 440, 1976) against their centroids (RP 2911, 1958): two publications of one system.
"""

import re
import warnings
from functools import cache

import colour
import numpy as np
import pytest

from critique.perception.names import names_of_munsell
from critique.perception.reference import read_table

D65, ILLUMINANT_C = np.array([0.3127, 0.3290]), np.array([0.31006, 0.31616])  # IEC 61966-2-1; CIE 1931
LETTERS = ("R", "YR", "Y", "GY", "G", "BG", "B", "PB", "P", "RP")
SAMPLES = 60  # cells of each table that are changed, one at a time
Rows = list[dict[str, str]]


def hue_number(notation: str) -> float:
    step, letters = re.fullmatch(r"([\d.]+)([A-Z]+)", notation).groups()
    return (float(step) + 10 * LETTERS.index(letters)) % 100


def lab_of(xyY):
    white_c, white_65 = colour.xy_to_XYZ(ILLUMINANT_C), colour.xy_to_XYZ(D65)
    xyz = colour.adaptation.chromatic_adaptation_VonKries(
        colour.xyY_to_XYZ(xyY), white_c, white_65, transform="Bradford"
    )
    return colour.XYZ_to_Lab(xyz, D65)


def luminance(value):
    return colour.colorimetry.luminance_ASTMD1535(value) / 100


@pytest.fixture(scope="module")
def munsell_chips() -> dict[tuple[float, float, float], np.ndarray]:
    chips = [chip for chip in colour.MUNSELL_COLOURS["Munsell Colours All"] if chip[0][1] >= 1]
    xyY = np.array([[x, y, luminance(value)] for (_, value, _), (x, y, _) in chips])
    return {
        (hue_number(hue), value, chroma): lab for ((hue, value, chroma), _), lab in zip(chips, lab_of(xyY), strict=True)
    }


def numbers(row: dict[str, str], *names: str) -> np.ndarray:
    return np.array([float(row[name]) for name in names])


def munsell_is_right(rows: Rows, munsell_chips) -> bool:
    keys = [(float(row["hue"]) % 100, float(row["value"]), float(row["chroma"])) for row in rows]
    if sorted(keys) != sorted(munsell_chips):
        return False
    found = np.array([numbers(row, "L", "a", "b") for row in rows])
    return bool(np.abs(found - np.array([munsell_chips[key] for key in keys])).max() < 0.002)


def lights_are_right(rows: Rows, _) -> bool:
    shape = colour.SpectralShape(380, 750, 10)
    observer = colour.MSDS_CMFS["CIE 1931 2 Degree Standard Observer"].copy().align(shape).values
    columns = {"wavelength": shape.wavelengths, "x": observer[:, 0], "y": observer[:, 1], "z": observer[:, 2]}
    columns["V"] = colour.SDS_LEFS["CIE 1924 Photopic Standard Observer"].copy().align(shape).values
    lights = [name for name in rows[0] if name not in columns]
    columns |= {name: colour.SDS_ILLUMINANTS[name].copy().align(shape).values for name in lights}
    return len(rows) == len(shape.wavelengths) and all(
        np.allclose([float(row[name]) for row in rows], values, rtol=1e-5, atol=1e-9)
        for name, values in columns.items()
    )


@pytest.fixture(scope="module")
def leaves() -> dict[tuple[float, str], np.ndarray]:
    """CIELAB of a PROSPECT-D leaf by chlorophyll and side; its other contents are those of sources.md."""
    import prosail  # here: to load it takes a second, and one test needs it

    shape = colour.SpectralShape(400, 700, 10)
    light = colour.SDS_ILLUMINANTS["D65"].copy().align(shape).values
    observer = colour.MSDS_CMFS["CIE 1931 2 Degree Standard Observer"].copy().align(shape).values
    weight = light[:, None] * observer / (light @ observer[:, 1])
    result = {}
    for chlorophyll in (10, 15, 20, 30, 40, 50, 60, 80, 100):
        wavelengths, reflected, passed = prosail.run_prospect(
            1.5, chlorophyll, chlorophyll / 5, 0.0, 0.01, 0.009, ant=0.0, prospect_version="D"
        )
        chosen = np.isin(wavelengths, shape.wavelengths)
        for name, spectrum in (
            ("reflected", reflected), ("transmitted", passed), ("reflected+transmitted", reflected + passed)
        ):  # fmt: skip
            result[chlorophyll, name] = colour.XYZ_to_Lab(spectrum[chosen] @ weight, D65)
    return result


def leaves_are_right(rows: Rows, leaves) -> bool:
    if sorted((float(row["chlorophyll_ug_cm2"]), row["light"]) for row in rows) != sorted(leaves):
        return False
    for row in rows:
        L, a, b = leaves[float(row["chlorophyll_ug_cm2"]), row["light"]]
        found, expected = numbers(row, "L", "a", "b", "C"), np.array([L, a, b, np.hypot(a, b)])
        hue = np.degrees(np.arctan2(b, a)) % 360
        if np.abs(found - expected).max() > LEAF_ROUNDING or abs(float(row["h"]) - hue) > 0.2:
            return False
    return True


LEAF_ROUNDING = 0.05  # CIELAB units: the model's own reader and white differ in the second decimal


@cache
def chromaticity(notation: str) -> tuple[float, float]:
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        x, y, _ = colour.munsell_colour_to_xyY(notation)
    return float(x), float(y)


def centroids_are_right(rows: Rows, _) -> bool:
    """The Lab of each centroid by colour-science from its notation, and its name by the blocks."""
    notations, found = [], []
    for row in rows:
        value, chroma = numbers(row, "munsell_value", "munsell_chroma")
        if value > 10:
            return False
        grey = row["munsell_hue"] == "N" or chroma < 0.1
        hue = 0.0 if row["munsell_hue"] == "N" else hue_number(row["munsell_hue"])
        notations.append((hue, value, chroma))
        tabled = max(
            value, 1.0
        )  # the renotation begins at value 1: a darker colour keeps the chromaticity it has there
        xy = ILLUMINANT_C if grey else chromaticity(f"{row['munsell_hue']} {tabled}/{chroma}")
        found.append([*xy, luminance(value)])
    lab = np.array([numbers(row, "L", "a", "b") for row in rows])
    if np.abs(lab - lab_of(np.array(found))).max() > 0.01:
        return False
    return names_of_munsell(notations) == [row["name"] for row in rows]


def blocks_are_right(rows: Rows, _) -> bool:
    """The blocks fill the solid once and only once, and hold the centroid of their own name and number."""
    first = np.array([hue_number(row["hue_from"]) for row in rows])
    width = (np.array([hue_number(row["hue_to"]) for row in rows]) - first) % 100
    lower = {axis: np.array([float(row[f"{axis}_from"]) for row in rows]) for axis in ("value", "chroma")}
    upper = {axis: np.array([float(row[f"{axis}_to"]) for row in rows]) for axis in ("value", "chroma")}

    def middles(limits: np.ndarray, end: float) -> np.ndarray:
        inner = np.unique(np.concatenate([limits[np.isfinite(limits)], [0, end]]))
        return (inner[:-1] + inner[1:]) / 2

    hues = middles(np.concatenate([first, (first + width) % 100]), 100.0)
    in_hue = (hues[:, None] - first) % 100 < width
    cells = []
    for axis, end in (("value", 20.0), ("chroma", 60.0)):
        places = middles(np.concatenate([lower[axis], upper[axis]]), end)[:, None]
        cells.append((places >= lower[axis]) & (places < upper[axis]))
    count = np.einsum("hn,vn,cn->hvc", *(part.astype(np.float32) for part in (in_hue, *cells)), optimize=True)
    if not (count == 1).all():
        return False
    for place, centroid in enumerate(read_table("iscc_nbs_names.csv"), start=1):
        hue = 0.0 if centroid["munsell_hue"] == "N" else hue_number(centroid["munsell_hue"])
        value, chroma = numbers(centroid, "munsell_value", "munsell_chroma")
        inside = (hue - first) % 100 < width
        inside &= (value >= lower["value"]) & (value < upper["value"])
        inside &= (chroma >= lower["chroma"]) & (chroma < upper["chroma"])
        own = np.array([row["name"] == centroid["name"] for row in rows])
        numbered = np.array([row["number"] == str(place) for row in rows])
        if not own[inside].all() or not (own == numbered).all():
            return False
    return True


TABLES = {
    "munsell_renotation.csv": (munsell_is_right, "munsell_chips"),
    "observer_and_lights.csv": (lights_are_right, None),
    "leaf_colours.csv": (leaves_are_right, "leaves"),
    "iscc_nbs_names.csv": (centroids_are_right, None),
    "iscc_nbs_blocks.csv": (blocks_are_right, None),
}
SMALL = ("x", "y", "z", "V")  # columns whose numbers are mostly below 1


def changed(rows: Rows, row: int, column: str) -> Rows | None:
    """The table with one number a tenth larger (or 0.1 when that is more); None where the cell holds no number."""
    found = re.match(r"-?[\d.]+", rows[row][column])
    if not found:
        return None
    number = float(found.group())
    step = abs(number) / 10 if abs(number) > 1 or column in SMALL else 0.1
    other = f"{number + step if number or column not in SMALL else 0.1:.6g}" + rows[row][column][found.end() :]
    return [line | {column: other} if place == row else line for place, line in enumerate(rows)]


@pytest.mark.parametrize(
    "name", [pytest.param(name, marks=pytest.mark.slow) if name == "leaf_colours.csv" else name for name in TABLES]
)
def test_a_table_is_what_its_source_says(name, request):
    is_right, source = TABLES[name]
    assert is_right(read_table(name), request.getfixturevalue(source) if source else None)


@pytest.mark.slow
@pytest.mark.parametrize("name", TABLES)
def test_no_cell_of_a_table_can_change_by_a_tenth(name, request):
    is_right, source = TABLES[name]
    outside = request.getfixturevalue(source) if source else None
    rows, rng = read_table(name), np.random.default_rng(5)
    passed, tried = [], 0
    while tried < SAMPLES:
        row, column = int(rng.integers(len(rows))), str(rng.choice(list(rows[0])))
        other = changed(rows, row, column)
        if other is None:
            continue
        tried += 1
        if is_right(other, outside):
            passed.append((row, column, rows[row][column]))
    assert passed == []


@pytest.mark.slow
@pytest.mark.parametrize("name", ("iscc_nbs_names.csv", "iscc_nbs_blocks.csv"))
def test_no_two_names_can_be_swapped(name):
    is_right, _ = TABLES[name]
    rows, rng = read_table(name), np.random.default_rng(6)
    for _ in range(SAMPLES):
        one, two = rng.choice(len(rows), 2, replace=False)
        if rows[one]["name"] == rows[two]["name"]:
            continue
        swapped = [dict(row) for row in rows]
        swapped[one]["name"], swapped[two]["name"] = rows[two]["name"], rows[one]["name"]
        assert not is_right(swapped, None), (rows[one]["name"], rows[two]["name"])
