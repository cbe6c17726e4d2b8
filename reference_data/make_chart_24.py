"""Write chart_24.csv: what the patches of the usual 24-patch chart look like in daylight, from colour-science.

    python reference_data/make_chart_24.py

Values of charts made after November 2014, xyY under ICC D50, taken to D65 by the Bradford transform.
"""

import csv
from pathlib import Path

import colour
import numpy as np

CHART = "cca2014"
D65 = (0.3127, 0.3290)  # IEC 61966-2-1


def main() -> None:
    chart = colour.CCS_COLOURCHECKERS[CHART]
    xyz = colour.xyY_to_XYZ(np.array(list(chart.data.values())))
    there, here = (colour.xy_to_XYZ(white) for white in (chart.illuminant, D65))
    adapted = colour.chromatic_adaptation(xyz, there, here, method="Von Kries", transform="Bradford")
    lab = colour.XYZ_to_Lab(adapted, D65)
    with open(Path(__file__).parent / "chart_24.csv", "w", newline="", encoding="utf-8") as file:
        table = csv.writer(file, lineterminator="\n")
        table.writerow(["patch", "L", "a", "b"])
        for name, row in zip(chart.data, lab, strict=True):
            table.writerow([name, *(f"{value:.3f}" for value in row)])


if __name__ == "__main__":
    main()
