"""Write gallery_lamps.csv: the observer and the lamps that a painting may hang under, by 5 nm, from colour-science.

    python reference_data/make_gallery_lamps.py

By 5 nm, as CIE tables them: the lines of a fluorescent tube are lost by 10 nm.
"""

import csv
from pathlib import Path

import colour
import numpy as np

LAMPS = ("D65", "LED-B1", "LED-B2", "A", "D75", "FL4")
SHAPE = colour.SpectralShape(380, 780, 5)


def main() -> None:
    observer = colour.MSDS_CMFS["CIE 1931 2 Degree Standard Observer"].copy().align(SHAPE).values
    lamps = np.stack([colour.SDS_ILLUMINANTS[name].copy().align(SHAPE).values for name in LAMPS], axis=1)
    with open(Path(__file__).parent / "gallery_lamps.csv", "w", newline="", encoding="utf-8") as file:
        file.write(
            "# CIE 1931 2° observer and relative power of lamps, 380-780 nm by 5 nm, as carried by colour-science:\n"
        )
        file.write("# D65, D75, A, FL4 of CIE 15:2004, LED-B1 and LED-B2 of CIE 15:2018.\n")
        table = csv.writer(file, lineterminator="\n")
        table.writerow(["wavelength", "x", "y", "z", *LAMPS])
        for wavelength, row in zip(SHAPE.wavelengths, np.hstack([observer, lamps]), strict=True):
            table.writerow([int(wavelength), *(f"{value:.7g}" for value in row)])


if __name__ == "__main__":
    main()
