"""Price lists as spreadsheets write them, held to Python's csv module, and what is wrong in them told line by line."""

import csv
import io
from pathlib import Path

import pytest

from critique.errors import CritiqueError
from critique.sending.list_checks import in_order_of_list, lacking
from critique.sending.price_list import COLUMNS, PriceRow, price_list_bytes, read_price_list
from critique.sending.sizes import listed_size

ROWS = [
    ["a.jpg", "Åse Lindqvåg", 'Haze, "early"', "40 x 30 cm", "Acrylic", "2021", "€ 450"],
    ["b.jpg", "Åse Lindqvåg", "Schönes Ufer", "16 x 12 in", "Acrylic on board", "2022", "NFS"],
]


def written(path, rows, *, encoding="utf-8", separator=",", heading=COLUMNS, before=""):
    text = io.StringIO(newline="")
    text.write(before)
    csv.writer(text, delimiter=separator).writerows([heading, *rows])
    path.write_bytes(text.getvalue().encode(encoding))
    return path


@pytest.mark.parametrize("separator", [",", ";", "\t"])
@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "cp1252"])
def test_a_list_is_read_in_whatever_way_a_spreadsheet_saves_it(tmp_path, encoding, separator):
    prices = read_price_list(written(tmp_path / "p.csv", ROWS, encoding=encoding, separator=separator))
    assert [[getattr(row, column) for column in COLUMNS] for row in prices.rows] == ROWS
    assert [row.line for row in prices.rows] == [2, 3]
    assert len(prices.notes) == (encoding == "cp1252")


def test_headings_of_other_languages_and_in_any_order_are_known(tmp_path):
    rows = [["2021", "Ufer", "40,5 x 30 cm", "a.jpg", "schön"]]
    heading = ["Jahr", "TITEL ", "Größe", "Datei", "Bemerkung"]
    prices = read_price_list(written(tmp_path / "p.csv", rows, separator=";", heading=heading, before="sep=;\n"))
    assert prices.rows == (PriceRow(3, file="a.jpg", title="Ufer", size="40,5 x 30 cm", year="2021"),)
    assert prices.notes == ("p.csv: “Bemerkung” left out, the columns are " + ", ".join(COLUMNS[:-1]) + " and price",)


def test_what_is_written_is_read_again_by_the_csv_module_and_by_the_program(tmp_path):
    rows = [PriceRow(0, *ROWS[0]), PriceRow(0, "c.jpg", "=A1", "- Untitled -", '5 x 7 "', "", "", "")]
    data = price_list_bytes(rows)
    table = list(csv.reader(io.StringIO(data.decode("utf-8-sig"), newline="")))
    assert table[0] == list(COLUMNS) and table[1] == ROWS[0]
    assert not any(cell.startswith(("=", "+", "-", "@")) for row in table for cell in row)
    (tmp_path / "p.csv").write_bytes(data)
    again = read_price_list(tmp_path / "p.csv").rows
    assert [[getattr(row, c) for c in COLUMNS] for row in again] == [[getattr(row, c) for c in COLUMNS] for row in rows]


@pytest.mark.parametrize(
    ("data", "what"),
    [
        (b"", "empty"),
        (b"\n\n", "empty"),
        (b"file,title\n", "no rows"),
        (b"file,title,note\n\n", "no rows"),
        (b"file,title,price\na.jpg,Sea,1,200\n", "line 2: has 4 cells for 3 columns"),
        (b"file,title,price\na.jpg,Sea,1,200\nb.jpg,Sky,2,400\n", "line 2: has 4 cells"),
        (b"name,price\na,b\n", "no column “file”"),
        (b"file,price\na,b\n", "no column “title”"),
        (b"file,title,Titel\na,b,c\n", "two columns"),
        (b'file,title\na,"b\n', "quotation mark"),
        (b"PK\x03\x04\0\0", "CSV"),
        (b"\xff\xfea", "damaged"),
        (b"file,title\na,\x81\x8d\n", "encoding"),
        (b"x" * 1_000_001, "larger"),
        (b"file,title\na," + b"b" * 200_000, "too long"),
    ],
)
def test_a_list_that_cannot_be_read_is_one_line(tmp_path, data, what):
    (tmp_path / "p.csv").write_bytes(data)
    with pytest.raises(CritiqueError, match=what) as error:
        read_price_list(tmp_path / "p.csv")
    assert "\n" not in str(error.value) and "p.csv" in str(error.value)


def test_no_such_list_and_a_folder_are_one_line(tmp_path):
    for path in (tmp_path / "none.csv", tmp_path):
        with pytest.raises(CritiqueError, match="can't be read"):
            read_price_list(path)


def test_a_title_without_end_is_cut_and_told(tmp_path):
    prices = read_price_list(written(tmp_path / "p.csv", [["a.jpg", "", "Sea " * 2500, "", "", "", ""]]))
    assert len(prices.rows[0].title) <= 301
    assert len(prices.notes) == 1 and "line 2" in prices.notes[0] and "9,999" in prices.notes[0]


def test_a_row_with_a_comma_that_parts_a_cell_is_left_out_and_told(tmp_path):
    path = tmp_path / "p.csv"
    path.write_text("file,title,size\na.jpg,Sea,40,5 x 30 cm\nb.jpg,Land,40 x 30 cm\n", encoding="utf-8")
    prices = read_price_list(path)
    assert [row.file for row in prices.rows] == ["b.jpg"]
    assert "line 2" in prices.notes[0] and "4 cells for 3 columns" in prices.notes[0]


# Worked by hand: an inch is 2.54 cm. [ISO 80000-3]
@pytest.mark.parametrize(
    ("text", "first", "second"),
    [
        ("40x30cm", 40, 30),
        ("40,5 × 30 cm", 40.5, 30),
        ("40 cm x 30 cm", 40, 30),
        ("40 x 30 x 2 cm", 40, 30),
        ("400 x 300 mm", 40, 30),
        ("400 x 300 millimetres", 40, 30),
        ("16 x 12 in.", 40.64, 30.48),
        ("16 1/2 x 12 in", 41.91, 30.48),
        ("15¾ × 19 ⅝ inches", 40.005, 49.8475),
        ('16" x 12"', 40.64, 30.48),
        ("16 by 12 Zoll", 40.64, 30.48),
        ("1,2 x 0,8 m", 120, 80),
    ],
)
def test_sizes_as_painters_write_them(text, first, second):
    size = listed_size(text)
    assert (size.first, size.second) == (pytest.approx(first, abs=1e-3), pytest.approx(second, abs=1e-3))


@pytest.mark.parametrize("text", ["40 x 30", "big", "0 x 30 cm", "40 x 30 km", "4000 x 3000 in", "40 cm x 12 in",
                                  "400 x 3 cm", "1/0 x 3 cm", "x" * 10_000])  # fmt: skip
def test_impossible_sizes_of_a_list_are_one_line(text):
    with pytest.raises(CritiqueError) as error:
        listed_size(text)
    assert "\n" not in str(error.value)


def test_each_thing_that_a_row_lacks_is_told():
    told = lacking(PriceRow(7, "a.jpg", "", "", "40 x 3 cm", "", "2032", "-5"), this_year=2026)
    assert [any(word in line for line in told) for word in ("title", "digit", "2032", "-5", "artist and medium")] == [
        True
    ] * 5
    assert all("line 7" in line for line in told)
    assert lacking(PriceRow(2, *ROWS[0]), this_year=2026) == []
    assert lacking(PriceRow(2, "a.jpg", "", *ROWS[0][2:]), "Åse", this_year=2026) == []


@pytest.mark.parametrize(("price", "is_one"), [("NFS", True), ("1.200,00 €", True), ("$0.50", True), ("0", False),
                                               ("0,00 €", False), ("− 5", False), ("2021-450", True)])  # fmt: skip
def test_prices(price, is_one):
    assert (lacking(PriceRow(2, *ROWS[0][:6], price), this_year=2026) == []) == is_one


def test_doubled_missing_and_unlisted_are_told_and_the_list_gives_the_order(tmp_path):
    rows = [["C.JPG", "", "Three"], ["pics\\a.jpg", "", "One"], ["a.jpg", "", "Again"], ["gone.jpg", "", "Gone"],
            ["", "", "Nameless"], ["d", "", "One"]]  # fmt: skip
    prices = read_price_list(written(tmp_path / "p.csv", rows, heading=COLUMNS[:3]))
    paths = [Path(name) for name in ("x/a.jpg", "x/b.jpg", "x/c.jpg", "x/d.png")]
    held = in_order_of_list(paths, prices)
    pictures, told = held.pictures, held.notes
    assert [(one.path.name, one.row.title) for one in pictures] == [
        ("c.jpg", "Three"), ("a.jpg", "One"), ("d.png", "One"), ("b.jpg", "")]  # fmt: skip
    for what in ("line 4: a.jpg has a row already, line 3", "line 5: gone.jpg isn't among", "line 6: names no file",
                 "line 7: has the title of line 3", "has no row for b.jpg"):  # fmt: skip
        assert sum(what in line for line in told) == 1, (what, told)
    assert len(told) == 5
