"""The contact sheet as poppler reads it back: what the price list says, and nothing of a review."""

import shutil
import subprocess

import pytest
from submitting import told


@pytest.mark.slow
@pytest.mark.parametrize(("paper", "points"), [("A4", "595"), ("Letter", "612 x 792")])
def test_the_contact_sheet_says_what_the_list_does_and_nothing_of_the_review(picture, tmp_path, paper, points):
    files = []
    rows = ["file,artist,title,size,medium,year,price"]
    for number in range(14):
        files.append(picture.parent / f"{number}.jpg")
        shutil.copy(picture, files[-1])
        row = f"{number}.jpg,Maren Tolvesk,Tide {number} at $5 and $6,40 x 30 cm,Acrylic,2021"
        rows.append(f'{row},"{number + 1},00 €"')
    (tmp_path / "p.csv").write_text("\n".join(rows), encoding="utf-8")
    given = [*files, "--out", tmp_path / "out", "--list", tmp_path / "p.csv", "--long-edge", 200, "--whole", "--paper"]
    told(*given, paper)
    sheet = tmp_path / "out" / "contact_sheet.pdf"
    text = subprocess.run(["pdftotext", sheet, "-"], capture_output=True, text=True, check=True).stdout
    for what in ("Maren Tolvesk", "Tide 3 at $5 and $6", "40 × 30 cm, Acrylic", "2021, 13,00 €", "2 of 2"):
        assert what in text
    assert not any(word in text for word in ("holds", "rework", "watch", "soft", "same painting"))
    about = subprocess.run(["pdfinfo", sheet], capture_output=True, text=True, check=True).stdout
    assert points in about and "Pages:           2" in about
    before = sheet.read_bytes()
    told(*given, paper, "--no-prices")
    text = subprocess.run(["pdftotext", sheet, "-"], capture_output=True, text=True, check=True).stdout
    assert "€" not in text and "2021" in text
    told(*given, paper)
    assert sheet.read_bytes() == before  # the same bytes on every run
