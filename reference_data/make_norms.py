"""Measure a folder of pictures into a norms table: `python reference_data/make_norms.py FOLDER ORIGIN [TABLE]`.

Every picture file of the folder counts once. Without TABLE the table that ships with the program is renewed.
"""

import sys
from pathlib import Path

from critique.advice.norms import norms_of, write_norms
from critique.errors import CritiqueError
from critique.measures.measure import measure_picture
from critique.picture.read import read_picture

HERE = Path(__file__).resolve().parent


def measured(folder: Path):
    for path in sorted(folder.iterdir()):
        if path.suffix.lower() in (".jpg", ".jpeg", ".png", ".tif", ".tiff", ".webp"):
            try:
                yield measure_picture(read_picture(path))
            except CritiqueError as error:
                print(f"left out: {error}", file=sys.stderr)


if __name__ == "__main__":
    if len(sys.argv) not in (3, 4):
        sys.exit(__doc__)
    table = Path(sys.argv[3]) if len(sys.argv) == 4 else HERE / "norms.csv"
    norms = norms_of(measured(Path(sys.argv[1])), sys.argv[2])
    write_norms(norms, table)
    print(f"{norms.number} pictures measured into {table.name}")
