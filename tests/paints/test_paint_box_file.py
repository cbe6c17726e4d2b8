"""Own paints written into a painter's box file."""

import subprocess
import sys
import tomllib

import numpy as np
import pytest
from PIL import Image

from critique.errors import OutputError, PaintError
from critique.paints.box import DEFAULT_NAMES, load_box
from critique.paints.box_file import OwnPaint, add_own_paint
from critique.paints.dabs import Dab
from critique.paints.kubelka_munk import mixture_lab, paint_lab
from critique.paints.paint import Paint
from critique.paints.swatches import own_paint
from critique.perception.cielab import lab_to_linear, lab_to_srgb8, linear_to_lab
from critique.perception.difference import delta_e_2000
from critique.picture.read import read_picture

GREEN = OwnPaint("old green", (Dab((24, -14, 10)), Dab((66, -22, 14), 10.0)))
WRITTEN = '# my box\npaints = ["PY74", "PB29"]  # and little else\n'


def test_a_new_box_begins_with_the_landscape_set(tmp_path):
    file = tmp_path / "mine.toml"
    box = add_own_paint(file, GREEN)
    assert [paint.name for paint in box.paints] == [*DEFAULT_NAMES, "old green"]
    assert isinstance(box.find("old green"), Paint) and paint_lab(box.find("old green")) == pytest.approx(
        [24, -14, 10], abs=1.5
    )
    assert [paint.name for paint in load_box(file).paints] == [paint.name for paint in box.paints]


def test_what_the_painter_wrote_stays(tmp_path):
    file = tmp_path / "mine.toml"
    file.write_text(WRITTEN, encoding="utf-8")
    add_own_paint(file, GREEN)
    third = OwnPaint("sap", (*GREEN.dabs, Dab((49, -24, 15), 3.0)), hazard="cobalt", opacity="transparent")
    box = add_own_paint(file, third)
    assert file.read_text(encoding="utf-8").startswith(WRITTEN)
    assert [paint.name for paint in box.paints] == ["hansa yellow opaque", "ultramarine blue", "old green", "sap"]
    assert "cobalt" in box.find("sap").caution and box.find("sap").opacity == "transparent"
    assert sorted(path.name for path in tmp_path.iterdir()) == ["mine.toml"], "nothing is left beside it"


@pytest.mark.parametrize("name", ['the "best" green', "grün \\ 50 %", "a]b[[own]]", "# not a comment"])
def test_any_name_that_can_be_read_survives(tmp_path, name):
    file = tmp_path / "mine.toml"
    box = add_own_paint(file, OwnPaint(name, GREEN.dabs, pigment='of "earth"'))
    assert box.paints[-1].name == name and tomllib.loads(file.read_text(encoding="utf-8"))["own"][0]["name"] == name


@pytest.mark.parametrize(
    ("own", "words"),
    [
        (OwnPaint("old green", (Dab((66, 0, 0)), Dab((24, 0, 0), 10.0))), "darker than its masstone"),
        (OwnPaint("old green", (Dab((24, 0, 0)), Dab((99.9, 0, 0), 10.0))), "lighter than titanium white"),
        (OwnPaint("old green", (Dab((-5, 0, 0)), Dab((60, 0, 0), 10.0))), "L\\* runs from 0 to 100"),
        (OwnPaint("old green", (Dab((24, 300, 0)), Dab((60, 0, 0), 10.0))), "no dab has"),
        (OwnPaint("old green", (Dab((24, float("nan"), 0)), Dab((60, 0, 0), 10.0))), "not a number"),
        (OwnPaint("old green", (Dab((24, 0, 0)), Dab((60, 0, 0), -3.0))), "parts of white"),
        (OwnPaint("old green", GREEN.dabs, opacity="thin"), "opacity"),
        (OwnPaint("PY74 no", (Dab((24, 0, 0)), Dab((60, 0, 0), float("inf")))), "not a number"),
        (OwnPaint("  ", GREEN.dabs), "name"),
        (OwnPaint("two\nlines", GREEN.dabs), "name"),
        (OwnPaint("ultramarine blue", GREEN.dabs), "already holds"),
    ],
)
def test_absurd_paints_leave_the_box_as_it_was(tmp_path, own, words):
    file = tmp_path / "mine.toml"
    file.write_text(WRITTEN, encoding="utf-8")
    with pytest.raises(PaintError, match=words) as caught:
        add_own_paint(file, own)
    assert "\n" not in str(caught.value) and ".mine-" not in str(caught.value)
    assert file.read_text(encoding="utf-8") == WRITTEN
    assert [path.name for path in tmp_path.iterdir()] == ["mine.toml"]


def test_a_file_that_is_no_box_is_not_written_to(tmp_path):
    (tmp_path / "empty.toml").touch()
    with pytest.raises(PaintError, match="empty"):
        add_own_paint(tmp_path / "empty.toml", GREEN)
    (tmp_path / "letter.txt").write_text("dear Maren", encoding="utf-8")
    with pytest.raises(PaintError, match="paint box is a"):
        add_own_paint(tmp_path / "letter.txt", GREEN)
    assert (tmp_path / "letter.txt").read_text(encoding="utf-8") == "dear Maren"
    with pytest.raises(OutputError, match="can't be written"):
        add_own_paint(tmp_path / "no such folder" / "mine.toml", GREEN)


SPOTS = {"masstone_at": (0.17, 0.5), "tint_at": (0.5, 0.5), "white_at": (0.83, 0.5)}


def read_lab(file):
    return read_picture(file).lab


def photographed(tmp_path, paint, white, light=(0.72, 0.66, 0.5)):
    """A photograph of two dabs and white, taken in a dim warm light."""
    colours = np.array([mixture_lab([1, parts], [paint, white]) for parts in (0, 10)] + [paint_lab(white)])
    lit = linear_to_lab(lab_to_linear(colours) * np.array(light, np.float32))
    picture = np.repeat(np.repeat(lab_to_srgb8(lit)[None], 80, axis=0), 80, axis=1)
    file = tmp_path / "dabs.png"
    Image.fromarray(picture).save(file)
    return file


def test_two_spots_and_white_in_a_photograph_make_the_paint(tmp_path):
    """A paint of the box is photographed in a warm light, and found again within what eight bits hold."""
    box = load_box_of_green(tmp_path)
    known = box.find("ultramarine blue")
    file = photographed(tmp_path, known, box.white)
    own = own_paint(
        "my blue", photo=file, read=read_lab, masstone_at=(0.17, 0.5), tint_at=(0.5, 0.5), white_at=(0.83, 0.5)
    )
    found = add_own_paint(tmp_path / "mine.toml", own).find("my blue")
    for parts in (2, 10, 30):
        assert float(delta_e_2000(paint_lab(found, box.white, parts), paint_lab(known, box.white, parts))) < 3


def load_box_of_green(tmp_path):
    return add_own_paint(tmp_path / "mine.toml", GREEN)


def test_a_white_that_lies_in_the_dark_is_refused(tmp_path):
    box = load_box_of_green(tmp_path)
    file = photographed(tmp_path, box.find("PB29"), box.white, (0.05, 0.05, 0.05))
    with pytest.raises(PaintError, match="well lit"):
        own_paint("x", photo=file, read=read_lab, masstone_at=(0.17, 0.5), tint_at=(0.5, 0.5), white_at=(0.83, 0.5))
    with pytest.raises(PaintError, match="outside the picture"):
        own_paint("x", photo=file, read=read_lab, masstone_at=(1.7, 0.5), tint_at=(0.5, 0.5), white_at=(0.83, 0.5))


def test_a_linked_box_keeps_its_link_its_permissions_and_its_line_ends(tmp_path):
    (tmp_path / "shared").mkdir()
    real = tmp_path / "shared" / "box.toml"
    real.write_bytes(b"\xef\xbb\xbf" + WRITTEN.replace("\n", "\r\n").encode())
    real.chmod(0o600)
    (tmp_path / "mine.toml").symlink_to(real)
    add_own_paint(tmp_path / "mine.toml", GREEN)
    assert (tmp_path / "mine.toml").is_symlink() and real.stat().st_mode & 0o777 == 0o600
    data = real.read_bytes()
    assert data.startswith(b"\xef\xbb\xbf# my box\r\n") and data.count(b"\r\n") == data.count(b"\n")
    assert [path.name for path in (tmp_path / "shared").iterdir()] == ["box.toml"]


@pytest.mark.slow
def test_of_four_paints_added_at_once_none_is_lost(tmp_path):
    (tmp_path / "mine.toml").write_text(WRITTEN, encoding="utf-8")
    code = (
        "import sys; from pathlib import Path; from critique.paints.dabs import Dab\n"
        "from critique.paints.box_file import OwnPaint, add_own_paint\n"
        "sys.stdin.readline()\n"
        "add_own_paint(Path(sys.argv[1]), OwnPaint(sys.argv[2], (Dab((24, -14, 10)), Dab((66, -22, 14), 10.0))))\n"
    )
    command = [sys.executable, "-c", code, str(tmp_path / "mine.toml")]
    started = [
        subprocess.Popen([*command, name], stdin=subprocess.PIPE, text=True) for name in ("one", "two", "three", "four")
    ]
    for process in started:
        process.stdin.write("\n")
        process.stdin.flush()
    assert [process.wait() for process in started] == [0, 0, 0, 0]
    assert {paint.name for paint in load_box(tmp_path / "mine.toml").paints} >= {"one", "two", "three", "four"}
