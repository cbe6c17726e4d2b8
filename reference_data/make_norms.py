"""Measure a folder of pictures into norms: `python reference_data/make_norms.py FOLDER ORIGIN [TABLE]`.

Every picture file of the folder counts once; ORIGIN says which pictures they are. Without TABLE the
table that ships with the program is renewed.
"""

import sys
from pathlib import Path

from critique.advice.norms import write_norms
from critique.advice.norms_folder import norms_of_folder

HERE = Path(__file__).resolve().parent

if __name__ == "__main__":
    if len(sys.argv) not in (3, 4):
        sys.exit(__doc__)
    table = Path(sys.argv[3]) if len(sys.argv) == 4 else HERE / "norms.csv"
    norms = norms_of_folder(Path(sys.argv[1]), sys.argv[2], lambda path, error: print(error, file=sys.stderr))
    write_norms(norms, table)
    print(f"{norms.number} pictures measured into {table.name}")
