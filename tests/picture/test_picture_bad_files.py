"""What cannot be read is refused in one clear line, and what only looks odd is read."""

import os
import struct
import warnings
import zlib
from pathlib import Path

import numpy as np
import pytest
import tifffile
from PIL import Image

from critique.errors import UnreadablePicture
from critique.photograph.limits import check_size
from critique.picture.read import read_picture


def refusal(path: Path, capfd: pytest.CaptureFixture) -> str:
    """The one line with which a file is refused."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # what libraries warn of is kept from the person by the command line
        with pytest.raises(UnreadablePicture) as caught:
            read_picture(path)
    assert capfd.readouterr().out == ""
    line = str(caught.value)
    assert line.isprintable() and line.strip() == line and len(line) < 400
    assert caught.value.__cause__ is None
    return line


def test_missing_file(tmp_path, capfd):
    assert refusal(tmp_path / "nowhere.jpg", capfd).startswith("nowhere.jpg: there is no such file")


def test_folder(tmp_path, capfd):
    assert "is a folder" in refusal(tmp_path, capfd)


def test_empty_file(save, capfd):
    assert "the file is empty" in refusal(save(b"", "nothing.png"), capfd)


def test_text_named_as_a_picture(save, capfd):
    assert "is not a picture" in refusal(save(b"Dear Maren, the meadow is too green.\n" * 50, "letter.jpg"), capfd)


def test_device_that_never_ends(tmp_path, capfd):
    os.mkfifo(tmp_path / "pipe.jpg")
    assert "not an ordinary file" in refusal(tmp_path / "pipe.jpg", capfd)


def test_impossible_names(tmp_path, capfd):
    assert "a" in refusal(tmp_path / ("a" * 3000 + ".jpg"), capfd)[:1]
    assert "\\x00" in refusal(tmp_path / "a\0b.jpg", capfd)


def test_camera_raw_file_is_not_taken_for_its_thumbnail(scene, tmp_path, capfd):
    tifffile.imwrite(tmp_path / "P1030021.NEF", scene, photometric="rgb")
    assert "raw file" in refusal(tmp_path / "P1030021.NEF", capfd)


@pytest.mark.parametrize("suffix", ["jpg", "png", "webp", "tif", "bmp", "gif", "heic"])
@pytest.mark.parametrize("kept", [0.02, 0.3, 0.7, 0.98])
def test_file_that_is_cut_short(suffix, kept, tmp_path, capfd):
    import pillow_heif

    pillow_heif.register_heif_opener()
    noise = np.random.default_rng(5).integers(0, 256, (200, 300, 3)).astype(np.uint8)
    path = tmp_path / f"cut.{suffix}"
    Image.fromarray(noise).save(path)
    whole = path.read_bytes()
    path.write_bytes(whole[: int(len(whole) * kept)])
    line = refusal(path, capfd)
    assert "again" in line or "not a picture" in line
    if suffix in ("jpg", "png") and kept > 0.1:
        assert "cut short" in line


@pytest.mark.parametrize("suffix", ["jpg", "png", "webp", "tif", "lzw.tif", "zip.tif", "bmp", "gif"])
@pytest.mark.parametrize("seed", range(12))
@pytest.mark.filterwarnings("ignore")
def test_scrambled_bytes_never_bring_a_traceback(suffix, seed, tmp_path, scene):
    path = tmp_path / f"scrambled.{suffix}"
    compression = {"lzw.tif": "tiff_lzw", "zip.tif": "tiff_deflate"}.get(suffix)
    Image.fromarray(scene).save(path, **({"compression": compression} if compression else {}))
    data = bytearray(path.read_bytes())
    generator = np.random.default_rng(seed)
    for place in generator.integers(0, len(data) if seed % 2 else 200, 12):
        data[place] = generator.integers(0, 256)
    path.write_bytes(bytes(data))
    try:
        picture = read_picture(path)
    except UnreadablePicture as error:
        assert str(error).isprintable()
    else:
        assert np.isfinite(picture.lab).all()


def test_png_that_claims_sixty_thousand_a_side_is_refused_before_decoding(save, capfd):
    header = struct.pack(">IIBBBBB", 60000, 60000, 8, 2, 0, 0, 0)
    chunks = [(b"IHDR", header), (b"IDAT", zlib.compress(bytes(1000))), (b"IEND", b"")]
    data = b"\x89PNG\r\n\x1a\n" + b"".join(
        struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body)) for kind, body in chunks
    )
    line = refusal(save(data, "bomb.png"), capfd)
    assert "3,600 megapixels" in line and "the limit for PNG is" in line


@pytest.mark.parametrize("size", [(1, 1), (1, 5000), (5000, 1), (63, 400)])
def test_pictures_too_small_to_judge(size, tmp_path, capfd):
    Image.new("RGB", size, "green").save(tmp_path / "small.png")
    assert "64 px a side" in refusal(tmp_path / "small.png", capfd)


def test_a_strip_is_refused(tmp_path, capfd):
    Image.new("RGB", (70, 4000), "green").save(tmp_path / "strip.png")
    assert "crop it" in refusal(tmp_path / "strip.png", capfd)


def test_limits_of_size():
    assert check_size(1600, 1200, "a") == ()
    assert check_size(20000, 20000, "a") == ()
    note = check_size(640, 480, "a")[0]
    assert (
        note.startswith("small picture: 640 × 480 px") and "cannot be judged" not in note
    )  # touch is judged at 640 px
    for width, height in ((20001, 20000), (63, 2000), (64, 1601)):
        with pytest.raises(UnreadablePicture):
            check_size(width, height, "a")


def test_floating_point_without_any_value(tmp_path, capfd):
    tifffile.imwrite(tmp_path / "nan.tif", np.full((70, 80, 3), np.nan, np.float32), photometric="rgb")
    assert "NaN" in refusal(tmp_path / "nan.tif", capfd)


def test_floating_point_on_another_scale_is_not_guessed_at(tmp_path, capfd):
    tifffile.imwrite(tmp_path / "f.tif", np.full((70, 80, 3), 120, np.float32), photometric="rgb")
    assert "0 to 1" in refusal(tmp_path / "f.tif", capfd)


def test_unusual_tiff_that_claims_too_much_is_refused_before_decoding(tmp_path, capfd):
    tifffile.imwrite(tmp_path / "huge.tif", np.zeros((64, 64, 3), np.float32), photometric="rgb")
    data = (tmp_path / "huge.tif").read_bytes()
    for tag in (256, 257):  # width and height, as short or long numbers
        for kind in (3, 4):
            old = struct.pack("<HHII", tag, kind, 1, 64)
            data = data.replace(old, struct.pack("<HHII", tag, 4, 1, 60000))
    (tmp_path / "huge.tif").write_bytes(data)
    assert "3,600 megapixels" in refusal(tmp_path / "huge.tif", capfd)


@pytest.mark.parametrize(
    "broken", [b"Exif\0\0II*\0\xff\xff\xff\x7f", b"Exif\0\0nonsense", b"Exif\0\0MM\0*\0\0\0\x08\xff\xff"]
)
def test_damaged_exif_is_left_aside_with_a_note(broken, scene, tmp_path, capfd):
    Image.fromarray(scene).save(tmp_path / "plain.jpg", quality=90)
    Image.fromarray(scene).save(tmp_path / "exif.jpg", quality=90, exif=broken)
    picture = read_picture(tmp_path / "exif.jpg")
    assert np.array_equal(picture.srgb, read_picture(tmp_path / "plain.jpg").srgb)
    assert any("EXIF" in note for note in picture.notes)
    assert capfd.readouterr() == ("", "")


def test_orientation_that_does_not_exist_is_ignored(scene, tmp_path):
    exif = Image.Exif()
    exif[0x0112] = 77
    Image.fromarray(scene).save(tmp_path / "o.png", exif=exif)
    assert np.array_equal(read_picture(tmp_path / "o.png").srgb, scene)


@pytest.mark.parametrize(
    ("name", "shown"),
    [
        ("late summer, wet.png", None),
        ("the 'good' one \"final\".png", None),
        ("<script>alert(1)</script>.png".replace("/", "∕"), None),
        ("🌳 Wiese grün.png", None),
        ("two\nlines\t.png", "two\\nlines\\t.png"),
        ("separator\u2028.png", "separator\\u2028.png"),
        (os.fsdecode(b"caf\xe9.png"), "caf\\udce9.png"),
    ],
)
def test_any_name_is_read_and_shown_on_one_line(name, shown, scene, tmp_path, capfd):
    Image.fromarray(scene).save(tmp_path / "plain.png")
    (tmp_path / "plain.png").rename(tmp_path / name)
    picture = read_picture(tmp_path / name)
    assert np.array_equal(picture.srgb, scene)
    assert picture.file == (shown or name)
    picture.file.encode("utf-8")
    (tmp_path / name).unlink()
    assert refusal(tmp_path / name, capfd).startswith(shown or name)


def test_stderr_is_given_back_after_a_tiff(scene, tmp_path, capfd):
    Image.fromarray(scene).save(tmp_path / "a.tif")
    read_picture(tmp_path / "a.tif")
    os.write(2, b"still here")
    assert capfd.readouterr().err == "still here"


def test_pillows_own_limit_is_as_it_was_afterwards(scene, tmp_path):
    before = Image.MAX_IMAGE_PIXELS
    Image.fromarray(scene).save(tmp_path / "a.png")
    read_picture(tmp_path / "a.png")
    with pytest.raises(UnreadablePicture):
        read_picture(tmp_path / "b.png")
    assert before == Image.MAX_IMAGE_PIXELS
