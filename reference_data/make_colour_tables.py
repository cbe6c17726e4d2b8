"""Carry published colour tables into reference_data, from colour-science.

Run `python reference_data/make_colour_tables.py`.

Writes munsell_renotation.csv, iscc_nbs_names.csv and observer_and_lights.csv beside itself. The ISCC–NBS centroid
notations are read from iscc_nbs_names.csv itself (their source is in sources.md) and only their Lab is renewed.
"""

import csv
import warnings
from pathlib import Path

import colour
import numpy as np

HERE = Path(__file__).resolve().parent
HUE_LETTERS = ("R", "YR", "Y", "GY", "G", "BG", "B", "PB", "P", "RP")
ILLUMINANT_C = np.array([0.31006, 0.31616])  # of the renotation [CIE 1931; Newhall et al., 1943]
D65 = np.array([0.3127, 0.3290])
LIGHTS = {"D65": "D65", "D50": "D50", "A": "A", "LED-B1": "LED-B1", "LED-B3": "LED-B3", "LED-B5": "LED-B5"}
WAVELENGTHS = np.arange(380, 751, 10)


def lab_of(xyY: np.ndarray) -> np.ndarray:
    """CIELAB under D65 of a colour given by xyY under illuminant C, adapted by Bradford's transform."""
    xyz = colour.xyY_to_XYZ(xyY)
    white_c, white_65 = colour.xy_to_XYZ(ILLUMINANT_C), colour.xy_to_XYZ(D65)
    adapted = colour.adaptation.chromatic_adaptation_VonKries(xyz, white_c, white_65, transform="Bradford")
    return colour.XYZ_to_Lab(adapted, D65)


def hue_number(notation: str) -> float:
    """Munsell hue on the scale of 100: 5R is 5, 10RP is 100."""
    letters = notation.lstrip("0123456789.")
    return HUE_LETTERS.index(letters) * 10 + float(notation[: -len(letters)])


def write(name: str, notes: list[str], header: list[str], rows: list[list[object]]) -> None:
    with (HERE / name).open("w", encoding="utf-8", newline="") as stream:
        for note in notes:
            stream.write(f"# {note}\n")
        writer = csv.writer(stream, lineterminator="\n")
        writer.writerow(header)
        writer.writerows(rows)


def munsell_rows() -> list[list[object]]:
    rows = []
    for (hue, value, chroma), (x, y, _) in colour.MUNSELL_COLOURS["Munsell Colours All"]:
        if value < 1:
            continue
        # The luminance is that of ASTM D1535, relative to a perfect white, not to the smoked magnesium oxide of 1943.
        luminance = colour.colorimetry.luminance_ASTMD1535(value) / 100
        L, a, b = lab_of(np.array([x, y, luminance]))
        rows.append([f"{hue_number(hue):g}", f"{value:g}", f"{chroma:g}", f"{L:.3f}", f"{a:.3f}", f"{b:.3f}"])
    return sorted(rows, key=lambda row: [float(cell) for cell in row[:3]])


def name_rows() -> list[list[object]]:
    lines = [line for line in (HERE / "iscc_nbs_names.csv").open(encoding="utf-8") if not line.startswith("#")]
    rows = []
    for row in csv.DictReader(lines):
        hue, value, chroma = row["munsell_hue"], float(row["munsell_value"]), float(row["munsell_chroma"])
        # The renotation's interpolation starts at value 1: blacks below it keep the chromaticity they have there.
        tabled = max(value, 1.0)
        notation = f"N{tabled}" if hue == "N" or chroma < 0.1 else f"{hue} {tabled}/{chroma}"
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            xyY = colour.munsell_colour_to_xyY(notation)
        if hue == "N" or chroma < 0.1:
            xyY = np.array([*ILLUMINANT_C, xyY[2]])
        xyY[2] = colour.colorimetry.luminance_ASTMD1535(value) / 100
        L, a, b = lab_of(xyY)
        rows.append([row["name"], hue, row["munsell_value"], row["munsell_chroma"], f"{L:.2f}", f"{a:.2f}", f"{b:.2f}"])
    return rows


def light_rows() -> list[list[object]]:
    shape = colour.SpectralShape(380, 750, 10)
    observer = colour.MSDS_CMFS["CIE 1931 2 Degree Standard Observer"].copy().align(shape)
    lights = {name: colour.SDS_ILLUMINANTS[key].copy().align(shape) for name, key in LIGHTS.items()}
    photopic = colour.SDS_LEFS["CIE 1924 Photopic Standard Observer"].copy().align(shape)
    return [
        [
            int(wavelength),
            *(f"{value:.7g}" for value in observer.values[row]),
            f"{photopic.values[row]:.7g}",
            *(f"{light.values[row]:.7g}" for light in lights.values()),
        ]
        for row, wavelength in enumerate(WAVELENGTHS)
    ]


if __name__ == "__main__":
    write(
        "munsell_renotation.csv",
        [
            "Munsell renotation (Newhall, Nickerson and Judd, JOSA 33(7), 1943) with its extrapolated chips, by",
            "colour-science; luminance by ASTM D1535; adapted from illuminant C to D65 (Bradford); CIELAB D65 2°.",
            "hue is on the scale of 100 (5R = 5, 5Y = 25, 5GY = 35, 5G = 45, 10RP = 100).",
        ],
        ["hue", "value", "chroma", "L", "a", "b"],
        munsell_rows(),
    )
    write(
        "iscc_nbs_names.csv",
        [
            "Centroids of the ISCC-NBS colour-name blocks. K. L. Kelly, Central Notations for the Revised ISCC-NBS",
            "Color-Name Blocks, J. Res. NBS 61(5), 1958, RP 2911.",
            "L, a, b from the notation by colour-science (C to D65).",
        ],
        ["name", "munsell_hue", "munsell_value", "munsell_chroma", "L", "a", "b"],
        name_rows(),
    )
    write(
        "observer_and_lights.csv",
        [
            "CIE 1931 2° observer, CIE 1924 photopic efficiency V, and relative power of lights, 380-750 nm by 10 nm,",
            "as carried by colour-science (CIE 15:2004; LED-B series CIE 15:2018).",
        ],
        ["wavelength", "x", "y", "z", "V", *LIGHTS],
        light_rows(),
    )
