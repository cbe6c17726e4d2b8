"""Files made ready for a call, held to Pillow, ImageCms and the csv module; and how each failure is told."""

import csv
import io
import json
import shutil
from pathlib import Path

import numpy as np
import pytest
from demo_pictures import demo_path
from jsonschema import Draft202012Validator
from PIL import Image, ImageCms, ImageOps
from submitting import ran, told

import critique
from critique.perception.reference import reference_path
from critique.perception.srgb import linear_to_srgb8, srgb8_to_linear
from critique.photograph.saving import srgb_profile
from critique.photograph.straighten import straightened, straightened_rows
from critique.picture.twins import cells_of, same_painting

SCHEMA = json.loads(reference_path("record_schema.json").read_text(encoding="utf-8"))


def with_notes(path, to):
    """A copy as a telephone writes it: lying on its side, with its place, a maker's notes and a thumbnail."""
    with Image.open(path) as image:
        exif = Image.Exif()
        exif[0x0112], exif[0x013B], exif[0x010F] = 6, "Maren Tolvesk", "Box camera"
        exif.get_ifd(0x8769).update(
            {0x9003: "2026:05:01 10:00:00", 0x927C: b"at 51.5 north", 0xA002: 800, 0xA001: 65535}
        )
        exif.get_ifd(0x8825).update({1: "N", 2: (51.0, 30.0, 0.0), 3: "E", 4: (7.0, 0.0, 0.0)})
        image.transpose(Image.Transpose.ROTATE_90).save(to, exif=exif, quality=95)
    return to


def test_the_file_is_srgb_with_its_profile_at_the_size_asked_for(picture, tmp_path):
    (line,) = told(picture, "--out", tmp_path / "out", "--long-edge", 480, "--artist", "Maren Tolvesk")
    with Image.open(line["picture"]) as image:
        assert image.format == "JPEG" and image.mode == "RGB"
        assert image.size == (480, 360) == (line["width"], line["height"])
        assert image.info["dpi"] == (300, 300)
        profile = ImageCms.ImageCmsProfile(io.BytesIO(image.info["icc_profile"]))
        assert "sRGB" in ImageCms.getProfileName(profile)
        # Littlecms itself finds nothing to change on the way from that profile to its own sRGB.
        there = ImageCms.profileToProfile(image, profile, ImageCms.createProfile("sRGB"))
        assert np.abs(np.asarray(there, int) - np.asarray(image, int)).max() <= 1
    assert Path(line["picture"]).name == "Maren-Tolvesk_meadow_1.jpg"
    assert Path(line["picture"]).stat().st_size == line["bytes"]


def test_the_profile_does_not_change_with_the_day():
    assert srgb_profile()[24:36] == bytes([7, 207, 0, 10, 0, 18, 0, 0, 0, 0, 0, 0])
    assert ImageCms.ImageCmsProfile(io.BytesIO(srgb_profile())).profile.creation_date.year == 1999


def test_light_is_averaged_as_light(tmp_path):
    # Black and white lines of a px each: half of the light, 188 as a code, where an average of codes is 128.
    lines = np.zeros((900, 1200, 3), np.uint8)
    lines[::2] = 255
    Image.fromarray(lines).save(tmp_path / "lines.png")
    (line,) = told(tmp_path / "lines.png", "--out", tmp_path / "out", "--long-edge", 400, "--whole")
    with Image.open(line["picture"]) as image:
        assert np.asarray(image).mean() == pytest.approx(188, abs=2)


@pytest.mark.parametrize("given", [".", "pictures"])
def test_a_folder_is_told_to_be_one_however_it_is_written(given, tmp_path, monkeypatch):
    (tmp_path / "pictures").mkdir()
    monkeypatch.chdir(tmp_path)
    done = ran(given, "--out", "out")
    assert done.exit_code == 1 and f"{given}: is a folder" in done.output


def test_transparent_parts_are_sent_as_white_and_said_to_be(picture, tmp_path):
    with Image.open(picture) as image:
        codes = np.asarray(image.convert("RGBA")).copy()
    codes[: len(codes) // 5, :, 3] = 0
    Image.fromarray(codes).save(tmp_path / "cut.png")
    (line,) = told(tmp_path / "cut.png", "--out", tmp_path / "out", "--long-edge", 400, "--whole")
    (short,) = [short["text"] for short in line["falls_short"] if short["what"] == "transparent"]
    assert "20 % of it" in short
    with Image.open(line["picture"]) as image:
        assert np.asarray(image)[:50].min() > 245


def test_a_small_picture_is_not_enlarged_and_says_so(picture, tmp_path):
    (line,) = told(picture, "--out", tmp_path / "out")
    assert (line["width"], line["height"]) == (800, 600)
    assert [short["what"] for short in line["falls_short"]] == ["too small"]
    assert "800" in line["falls_short"][0]["text"] and "1920" in line["falls_short"][0]["text"]


def test_the_limit_is_kept_by_quality_and_refused_below_the_floor(tmp_path):
    noise = np.random.default_rng(1).integers(0, 256, (500, 700, 3)).astype(np.uint8)
    Image.fromarray(noise).save(tmp_path / "noise.png")
    (free,) = told(tmp_path / "noise.png", "--out", tmp_path / "free", "--whole")
    assert free["quality"] == 95
    (held,) = told(tmp_path / "noise.png", "--out", tmp_path / "held", "--whole", "--max-mb", 0.5)
    assert 75 <= held["quality"] < 95 and 0.4e6 < Path(held["picture"]).stat().st_size <= 0.5e6
    refused = ran(tmp_path / "noise.png", "--out", tmp_path / "none", "--whole", "--max-mb", 0.05)
    assert refused.exit_code == 1
    assert len(refused.stderr.splitlines()) == 1 and "quality 75" in refused.stderr and "0.05" in refused.stderr
    assert not list((tmp_path / "none").glob("*.jpg"))
    # What it suggests instead can be met.
    fits = int(refused.stderr.split("ask for about ")[1].split(" px")[0])
    assert ran(tmp_path / "noise.png", "--out", tmp_path / "fits", "--whole", "--max-mb", 0.05, "--long-edge",
               max(fits, 200)).exit_code == (0 if fits >= 200 else 1)  # fmt: skip


@pytest.mark.parametrize(
    ("options", "artist", "place"),
    [((), False, False), (("--metadata", "keep"), True, False), (("--metadata", "keep", "--keep-location"), True, True),
     (("--keep-location",), False, True)],
)  # fmt: skip
def test_notes_are_kept_as_asked_and_the_place_only_on_purpose(picture, tmp_path, options, artist, place):
    source = with_notes(picture, tmp_path / "side.jpg")
    (line,) = told(source, "--out", tmp_path / "out", *options)
    data = Path(line["picture"]).read_bytes()
    with Image.open(io.BytesIO(data)) as image:
        assert image.size == (800, 600)  # upright by its own px, as nothing turns it any more
        notes = image.getexif()
        assert notes.get(0x0112, 1) == 1
        assert (notes.get(0x013B) == "Maren Tolvesk") == artist
        assert (notes.get_ifd(0x8769).get(0x9003) == "2026:05:01 10:00:00") == artist
        assert not {0x927C, 0xA002} & set(notes.get_ifd(0x8769))
        assert (notes.get_ifd(0x8825).get(2) == (51.0, 30.0, 0.0)) == place
    assert b"51.5 north" not in data
    assert (b"Box camera" in data) == artist


def test_damaged_notes_cost_nothing_but_themselves(picture, tmp_path):
    with Image.open(picture) as image:
        image.save(tmp_path / "bad.jpg", exif=b"Exif\0\0II*\0\x08\0\0\0\xff\xff" + b"\xff" * 40)
    (line,) = told(tmp_path / "bad.jpg", "--out", tmp_path / "out", "--metadata", "keep", "--keep-location")
    with Image.open(line["picture"]) as image:
        assert not dict(image.getexif())


@pytest.mark.slow
def test_corners_are_taken_and_remembered_and_the_proportion_of_the_list_too(picture, tmp_path):
    corners = "0.1,0.1 0.9,0.12 0.88,0.9 0.12,0.88"
    (line,) = told(picture, "--out", tmp_path / "out", "--corners", corners, "--name", "one_{n}")
    assert line["how"] == "given" and line["corners"][0] == [0.1, 0.1]
    (again,) = told(picture, "--out", tmp_path / "out", "--name", "two_{n}")
    assert again["how"] == "given" and again["corners"] == line["corners"]
    own = line["width"] / line["height"]
    for number, (near, size) in enumerate([(True, f"{40 * own:.2f} x 41 cm"), (False, f"{40 * own:.2f} x 44 cm")]):
        (tmp_path / "p.csv").write_text(
            f"file,artist,title,size,medium,year,price\nmeadow.jpg,A,Sea,{size},oil,2020,9\n"
        )
        (sized,) = told(
            picture, "--out", tmp_path / "out", "--list", tmp_path / "p.csv", "--name", f"three_{number}{{n}}"
        )
        # A few parts in a hundred are the photograph's error. More would stretch the painting: it is asked instead.
        assert sized["width"] / sized["height"] == pytest.approx(own * 40 / 41 if near else own, rel=0.004)
        assert ("proportion" in [short["what"] for short in sized["falls_short"]]) != near
    (whole,) = told(picture, "--out", tmp_path / "out", "--whole", "--name", "four_{n}")
    assert whole["how"] == "asked whole" and whole["width"] == 800


def test_rows_straightened_one_by_one_are_those_of_the_whole():
    light = np.random.default_rng(2).random((90, 120, 3)).astype(np.float32)
    corners = ((0.1, -0.03), (0.97, 0.1), (1.04, 0.9), (0.02, 0.8))
    whole = straightened(light, corners, (70, 50))
    rows = straightened_rows(light, corners, (70, 50))
    parts = np.concatenate([rows(first, min(first + 7, 50)) for first in range(0, 50, 7)])
    assert np.abs(parts - whole).max() < 1e-3


def test_the_price_list_comes_out_complete(picture, tmp_path):
    shutil.copy(demo_path("tolvesk_03_tussalund_snow.jpg"), picture.parent / "snow.jpg")
    (tmp_path / "p.csv").write_bytes(
        "\ufeffDatei;Titel;Größe;Technik;Jahr;Preis\nsnow.jpg;Schnee, früh;30,5 x 45 cm;Acryl;2022;450,00 €\n"
        "meadow.jpg;;40 x 20 cm;;;\n".encode()
    )
    lines = told(picture, picture.parent / "snow.jpg", "--out", tmp_path / "out", "--list", tmp_path / "p.csv",
                 "--artist", "Maren Tolvesk", code=3)  # fmt: skip
    assert [line["file"] for line in lines] == ["snow.jpg", "meadow.jpg"]  # in the list's order
    with (tmp_path / "out" / "price_list.csv").open(encoding="utf-8-sig", newline="") as stream:
        rows = list(csv.DictReader(stream))
    assert rows[0] == {"file": "Maren-Tolvesk_Schnee-frueh_1.jpg", "artist": "Maren Tolvesk", "title": "Schnee, früh",
                       "size": "30,5 x 45 cm", "medium": "Acryl", "year": "2022", "price": "450,00 €"}  # fmt: skip
    assert rows[1]["file"] == "Maren-Tolvesk_Untitled_2.jpg" and rows[1]["title"] == "Untitled"
    assert all((tmp_path / "out" / row["file"]).is_file() for row in rows)
    assert [short["what"] for short in lines[1]["falls_short"]].count("proportion") == 1  # 2 : 1 and 4 : 3
    assert "proportion" not in [short["what"] for short in lines[0]["falls_short"]]


COMPLETE = "meadow.jpg,Ana Würth,Wheat,40 x 30 cm,acrylic,2026,900\n"


@pytest.mark.slow
@pytest.mark.parametrize(
    ("rows", "said"),
    [
        ("meadow.jpg,Ana Würth,Wheat,40 x 30 cm,acrylic,2026,\n", "line 2 of the list has no price"),
        ("meadow.jpg,,Wheat,40 x 30 cm,acrylic,2026,900\n", "line 2 of the list has no artist"),
        (COMPLETE + "gone.jpg,Ana Würth,Gone,40 x 30 cm,acrylic,2026,900\n", "line 3: gone.jpg isn't among"),
        ("other.jpg,Ana Würth,Wheat,40 x 30 cm,acrylic,2026,900\n", "has no row for meadow.jpg"),
        (COMPLETE, None),
    ],
)
def test_a_list_that_is_not_complete_ends_with_three_and_says_what_it_lacks(picture, tmp_path, rows, said):
    (tmp_path / "p.csv").write_text("file,artist,title,size,medium,year,price\n" + rows, encoding="utf-8")
    done = ran(picture, "--out", tmp_path / "out", "--list", tmp_path / "p.csv", "--whole")
    assert done.exit_code == (0 if said is None else 3), done.output
    assert said is None or said in done.output.replace("Line", "line")
    assert ("isn't complete" in done.stdout) == (said is not None)
    assert json.loads((tmp_path / "out" / "submission.json").read_text())["complete"] == (said is None)


def test_one_picture_without_a_row_costs_no_other_its_artist(picture, tmp_path):
    shutil.copy(demo_path("tolvesk_03_tussalund_snow.jpg"), picture.parent / "snow.jpg")
    (tmp_path / "p.csv").write_text("file,artist,title,size,medium,year,price\n" + COMPLETE, encoding="utf-8")
    lines = told(picture, picture.parent / "snow.jpg", "--out", tmp_path / "out", "--list", tmp_path / "p.csv", code=3)
    assert [Path(line["picture"]).name for line in lines] == ["Ana-Wuerth_Wheat_1.jpg", "snow_2.jpg"]
    # A file's name is no title: what has no row goes without one, and is told so.
    assert [line["title"] for line in lines] == ["Wheat", ""]
    rows = (tmp_path / "out" / "price_list.csv").read_text(encoding="utf-8-sig").splitlines()
    assert "snow_2.jpg" in rows[2] and "snow" not in rows[2].replace("snow_2.jpg", "")
    assert any("has no row in the price list" in one["text"] for one in lines[1]["falls_short"])


def test_what_falls_short_of_a_photograph_is_told(picture, tmp_path):
    with Image.open(picture) as image:
        codes = np.asarray(image).copy()
    codes[:9] = 240  # a strip of the wall
    y, x = np.mgrid[: codes.shape[0], : codes.shape[1]]
    glare = 900 * np.exp(-((x - 360) ** 2 + (y - 260) ** 2) / (2 * 40**2))  # it fades out over the paint
    codes = np.minimum(codes + glare[..., None], 255).astype(np.uint8)
    from PIL import ImageFilter

    Image.fromarray(codes).filter(ImageFilter.GaussianBlur(4)).save(picture.parent / "soft.png")
    Image.fromarray(codes).save(picture.parent / "glare.png")
    lines = told(picture.parent / "soft.png", picture.parent / "glare.png", "--out", tmp_path / "out", "--whole",
                 "--long-edge", 800)  # fmt: skip
    found = {line["file"]: {short["what"] for short in line["falls_short"]} for line in lines}
    assert "sharpness" in found["soft.png"] and "sharpness" not in found["glare.png"]
    assert {"glare", "border"} <= found["glare.png"]


@pytest.mark.slow
def test_a_grey_makes_the_light_neutral_and_is_remembered(picture, tmp_path):
    with Image.open(picture) as image:
        codes = np.asarray(image).copy()
    codes[20:80, 20:80] = 120
    warm = srgb8_to_linear(codes) * np.array([1.0, 0.8, 0.5], np.float32)
    Image.fromarray(linear_to_srgb8(warm)).save(tmp_path / "warm.png")
    given = [tmp_path / "warm.png", "--out", tmp_path / "out", "--whole"]
    for options in (["--grey", "0.06,0.08"], []):
        (line,) = told(*given, *options)
        with Image.open(line["picture"]) as image:
            grey = np.asarray(image)[30:70, 30:70].mean(axis=(0, 1))
        assert np.ptp(grey) < 2 and line["light"]["how"] == "spot"
    (line,) = told(*given, "--as-photographed")
    assert line["light"] is None
    refused = ran(*given, "--grey", "2,2")
    assert refused.exit_code == 2 and "outside" in refused.stderr


@pytest.mark.slow
def test_one_painting_twice_is_named(picture, tmp_path):
    with Image.open(picture) as image:
        ImageOps.crop(image.point(lambda code: int(code * 0.8)), 12).save(picture.parent / "again.jpg")
    shutil.copy(demo_path("tolvesk_06_skarrvind_ness.jpg"), picture.parent / "ness.jpg")
    files = [picture, picture.parent / "ness.jpg", picture.parent / "again.jpg"]
    lines = told(*files, "--out", tmp_path / "out", "--whole")
    assert [line["like"] for line in lines] == [[], [], ["meadow.jpg"]]


def test_different_paintings_are_not_taken_for_one():
    names = [path.name for path in demo_path("titles.csv").parent.glob("tolvesk_*.jpg")]
    cells = {}
    for name in names:
        with Image.open(demo_path(name)) as image:
            cells[name] = cells_of(srgb8_to_linear(np.asarray(image.convert("RGB"))))
    alike = {(a, b) for a in names for b in names if a < b and same_painting(cells[a], cells[b])}
    # Two states of one painting are one painting.
    assert alike == {("tolvesk_01_ostermell_meadow.jpg", "tolvesk_08_ostermell_second_pass.jpg")}


def test_a_file_that_stood_there_is_laid_aside_and_the_very_same_is_left(picture, tmp_path):
    out = tmp_path / "out"
    out.mkdir()
    (out / "meadow_1.jpg").write_bytes(b"someone's own")
    first = ran(picture, "--out", out)
    assert first.exit_code == 0 and (out / "earlier" / "meadow_1.jpg").read_bytes() == b"someone's own"
    assert "earlier" in first.stdout
    kept = {path.name: path.read_bytes() for path in out.iterdir() if path.is_file()}
    second = ran(picture, "--out", out)
    assert second.exit_code == 0 and len(list((out / "earlier").glob("*.jpg"))) == 1
    assert {
        path.name: path.read_bytes() for path in out.iterdir() if path.name != "submission.json" and path.is_file()
    } == {name: data for name, data in kept.items() if name != "submission.json"}


def test_a_picture_is_never_replaced_by_its_own_copy(picture):
    before = picture.read_bytes()
    done = ran(picture, "--out", picture.parent, "--name", "{file}")
    assert done.exit_code == 2 and "would be replaced" in done.stderr and len(done.stderr.splitlines()) == 1
    assert picture.read_bytes() == before


@pytest.mark.parametrize(
    ("options", "what"),
    [
        (("--name", "{painter}_{n}"), "isn't known"),
        (("--name", "{artist}_{n}"), "asks for {artist}"),
        (("--name", "{title"), "brace"),
        (("--long-edge", 20), "no call's"),
        (("--max-mb", 0), "no call's"),
        (("--max-mb", "nan"), "no call's"),
        (("--dpi", 0), "no call's"),
    ],
)
def test_a_call_that_makes_no_sense_is_one_line_of_wrong_usage(picture, tmp_path, options, what):
    done = ran(picture, "--out", tmp_path / "out", *options)
    assert done.exit_code == 2 and what in done.stderr and len(done.stderr.splitlines()) == 1
    assert not (tmp_path / "out").exists()


def test_names_that_would_be_the_same_are_one_line_and_nothing_is_written(picture, tmp_path):
    shutil.copy(picture, picture.parent / "copy.jpg")
    (tmp_path / "p.csv").write_text("file,title\nmeadow.jpg,Sea\ncopy.jpg,SEA\n")
    done = ran(picture, picture.parent / "copy.jpg", "--out", tmp_path / "out", "--name", "{title}", "--list",
               tmp_path / "p.csv")  # fmt: skip
    assert done.exit_code == 2 and len(done.stderr.splitlines()) == 1 and "meadow.jpg, copy.jpg" in done.stderr
    assert not (tmp_path / "out").exists()


def test_what_fails_is_named_and_the_rest_is_done(picture, tmp_path):
    (picture.parent / "broken.jpg").write_bytes(picture.read_bytes()[:300])
    (picture.parent / "words.jpg").write_text("not a picture")
    files = [picture.parent / name for name in ("broken.jpg", "meadow.jpg", "none.jpg", "words.jpg")]
    done = ran(*files, "--out", tmp_path / "out", "--json")
    assert done.exit_code == 3 and len(done.stderr.splitlines()) == 3
    (line,) = [json.loads(text) for text in done.stdout.splitlines()]
    assert line["number"] == 2
    record = json.loads((tmp_path / "out" / "submission.json").read_text(encoding="utf-8"))
    assert [failed["file"] for failed in record["failed"]] == ["broken.jpg", "none.jpg", "words.jpg"]
    assert ran(*files[2:], "--out", tmp_path / "no").exit_code == 1
    assert not (tmp_path / "no" / "contact_sheet.pdf").exists()


def test_a_folder_that_cannot_be_written_to_is_one_line(picture, tmp_path):
    (tmp_path / "file").write_text("in the way")
    done = ran(picture, "--out", tmp_path / "file")
    assert done.exit_code == 1 and "Traceback" not in done.output and "file" in done.stderr
    (tmp_path / "out" / "meadow_1.jpg").mkdir(parents=True)
    done = ran(picture, "--out", tmp_path / "out")
    assert done.exit_code == 1 and "a folder of this name" in done.stderr


def test_records_keep_to_their_schema(picture, tmp_path):
    lines = told(picture, "--out", tmp_path / "out")
    done = critique.submit([picture], tmp_path / "two", long_edge=640)
    for kind, record in (("sent", lines[0]), ("submission", json.loads(json.dumps(done.as_dict())))):
        Draft202012Validator({**SCHEMA, "$ref": f"#/$defs/{kind}"}).validate(record)
    assert done.pictures[0].width == 640 and done.failed == () and Path(done.price_list).is_file()
