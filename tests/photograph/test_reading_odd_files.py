"""Good files that look odd are read, bad ones that look good are refused, and neither costs more than it says."""

import gc
import io
import os
import struct
import subprocess
import sys
import threading
import warnings
import zlib

import numpy as np
import pytest
import tifffile
from PIL import Image

from critique.errors import UnreadablePicture
from critique.photograph.cost import tiff_cost
from critique.photograph.icc import matrix_profile
from critique.photograph.limits import MOST_BYTES
from critique.picture.read import read_picture


@pytest.fixture
def scene():
    ramp = np.linspace(30, 220, 160)
    return np.stack(np.broadcast_arrays(ramp[None], ramp[None, ::-1], np.linspace(200, 40, 120)[:, None]), -1).astype(
        np.uint8
    )


def chunk(kind: bytes, body: bytes) -> bytes:
    """A chunk of a PNG. [PNG, third edition, 5.3]"""
    return struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))


def png(width: int, height: int, depth: int, colour: int, rows: bytes, *extra: bytes) -> bytes:
    header = chunk(b"IHDR", struct.pack(">IIBBBBB", width, height, depth, colour, 0, 0, 0))
    return b"\x89PNG\r\n\x1a\n" + header + b"".join(extra) + chunk(b"IDAT", zlib.compress(rows)) + chunk(b"IEND", b"")


def test_a_png_with_a_large_profile_or_much_text_is_read(scene):
    from PIL import ImageCms

    icc = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    padded = icc + os.urandom(1_500_000)
    rows = b"".join(b"\0" + row.tobytes() for row in scene)
    profile = chunk(b"iCCP", b"big\0\0" + zlib.compress(padded))
    text = chunk(b"tEXt", b"Comment\0" + b"a" * 2_000_000)
    for data in (
        png(160, 120, 8, 2, rows, profile),
        png(160, 120, 8, 2, rows, text),
        png(160, 120, 8, 2, rows, profile, text),
    ):
        picture = read_picture(data)
        assert np.abs(picture.srgb.astype(int) - scene).max() <= 1
    assert "sRGB" in read_picture(png(160, 120, 8, 2, rows, profile)).profile


@pytest.mark.parametrize(("depth", "key"), [(1, 0), (2, 1), (4, 5), (8, 0), (16, 0)])
def test_a_key_of_grey_png_is_shown_white_at_every_depth(depth, key):
    # One grey stands for "transparent"; the key is given in samples of the file. [PNG, 11.3.2.1]
    values = np.zeros((64, 64), dtype=np.uint16)
    values[:32] = key
    values[32:] = key + 1 if key + 1 < 2**depth else key - 1
    if depth == 16:
        rows = b"".join(b"\0" + row.astype(">u2").tobytes() for row in values)
    else:
        per_byte = 8 // depth
        packed = sum(
            values[:, place::per_byte].astype(np.uint16) << (8 - depth * (place + 1)) for place in range(per_byte)
        )
        rows = b"".join(b"\0" + row.astype(np.uint8).tobytes() for row in packed)
    picture = read_picture(png(64, 64, depth, 0, rows, chunk(b"tRNS", struct.pack(">H", key))))
    assert (picture.srgb[:32] == 255).all()
    shown = round(255 * int(values[-1, 0]) / (2**depth - 1))
    assert np.abs(picture.srgb[32:].astype(int) - shown).max() <= 1


def test_a_tiff_is_read_by_its_first_page_whatever_follows(scene, tmp_path):
    stream = io.BytesIO()
    Image.fromarray(scene).save(stream, "TIFF", save_all=True, append_images=[Image.fromarray(scene)])
    data = bytearray(stream.getvalue())
    (first,) = struct.unpack_from("<I", data, 4)
    (count,) = struct.unpack_from("<H", data, first)
    struct.pack_into("<I", data, first + 2 + 12 * count, len(data) - 3)  # the second page lies past the end
    picture = read_picture(bytes(data))
    assert np.array_equal(picture.srgb, scene)
    assert "the first of several pictures in the file is read" in picture.notes


def test_a_tiff_of_forty_thousand_pages_takes_no_longer(scene, tmp_path):
    import time

    path = tmp_path / "many.tif"
    Image.fromarray(scene).save(path)
    data = bytearray(path.read_bytes())
    (first,) = struct.unpack_from("<I", data, 4)
    (count,) = struct.unpack_from("<H", data, first)
    at = len(data) + len(data) % 2
    data += bytes(at - len(data))
    struct.pack_into("<I", data, first + 2 + 12 * count, at)
    for page in range(40_000):
        data += struct.pack("<HHHIHHI", 1, 256, 3, 1, 1, 0, 0 if page == 39_999 else at + 18 * (page + 1))
    path.write_bytes(bytes(data))
    started = time.perf_counter()
    assert np.array_equal(read_picture(path).srgb, scene)
    assert time.perf_counter() - started < 5  # counting them took minutes


def test_planes_that_do_not_fit_the_header_are_refused(tmp_path):
    path = tmp_path / "planar.tif"
    tifffile.imwrite(path, np.zeros((3, 90, 100), np.uint16), photometric="rgb", planarconfig="separate")
    assert (read_picture(path).height, read_picture(path).width) == (90, 100)
    data = bytearray(path.read_bytes())
    header = tifffile.TiffFile(path).pages[0].tags["PlanarConfiguration"]
    struct.pack_into("<H", data, header.valueoffset, 1)
    path.write_bytes(bytes(data))
    try:
        picture = read_picture(path)
    except UnreadablePicture:
        return
    assert (picture.height, picture.width) == (90, 100)


def test_depth_and_samples_count_before_anything_is_decoded():
    assert tiff_cost(300, (16,) * 300, 1).most_megapixels * 1e6 * 300 * 2 < MOST_BYTES
    assert tiff_cost(3, (8, 8, 8), 300).most_megapixels * 1e6 * 3 * 300 < MOST_BYTES
    with pytest.raises(UnreadablePicture, match="megapixels; the limit for WebP"):
        # 38 bytes that claim 16,383 px a side. [RFC 9649, 2.6 and 2.7.1]
        body = b"VP8L" + struct.pack("<I", 18) + b"\x2f" + struct.pack("<I", 16382 | (16382 << 14)) + bytes(13)
        read_picture(b"RIFF" + struct.pack("<I", 4 + len(body)) + b"WEBP" + body)


def test_a_profile_whose_curve_divides_by_zero_is_left_to_the_colour_engine():
    curve = b"para" + bytes(4) + struct.pack(">HH", 1, 0) + struct.pack(">3i", 65536, 0, 65536)  # a = 0 in −b/a
    xyz = b"XYZ " + bytes(4) + struct.pack(">3i", 20000, 20000, 20000)
    tags = {b"rTRC": curve, b"gTRC": curve, b"bTRC": curve, b"rXYZ": xyz, b"gXYZ": xyz, b"bXYZ": xyz}
    body, table = b"", struct.pack(">I", len(tags))
    for name, data in tags.items():
        table += struct.pack(">4sII", name, 132 + 12 * len(tags) + len(body), len(data))
        body += data
    head = bytearray(128)
    head[12:24], head[36:40] = b"mntrRGB XYZ ", b"acsp"
    assert matrix_profile(bytes(head) + table + body) is None
    stream = io.BytesIO()
    Image.new("RGB", (80, 80), (90, 120, 60)).save(stream, "JPEG", icc_profile=bytes(head) + table + body)
    assert read_picture(stream.getvalue()).width == 80


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="a system without pipes that have a name")
def test_a_pipe_is_refused_and_not_waited_for(tmp_path):
    os.mkfifo(tmp_path / "pipe.jpg")
    with pytest.raises(UnreadablePicture, match="not an ordinary file"):
        read_picture(tmp_path / "pipe.jpg")


def test_a_compressed_tiff_cut_short_while_it_is_read_ends_in_one_line(tmp_path, monkeypatch):
    path = tmp_path / "short.tif"
    Image.fromarray(np.random.default_rng(3).integers(0, 256, (900, 900, 3)).astype(np.uint8)).save(
        path, compression="tiff_lzw"
    )
    # In a process of its own: a mapped file that is cut short kills it.
    code = (
        "import os, sys; from critique.photograph import read\n"
        "was = read.stored_samples\n"
        "def cut(image, source): os.truncate(sys.argv[1], 5000); return was(image, source)\n"
        "read.stored_samples = cut\n"
        "from critique.errors import UnreadablePicture\n"
        "try: read.read_photograph(sys.argv[1])\n"
        "except UnreadablePicture as error: print('one line:', error)\n"
    )
    done = subprocess.run([sys.executable, "-c", code, str(path)], capture_output=True, text=True)
    assert done.returncode == 0, done.returncode
    assert done.stdout.startswith("one line: short.tif: ")


def test_a_picture_may_be_a_path_bytes_an_image_or_an_array(scene, tmp_path):
    path = tmp_path / "scene.png"
    Image.fromarray(scene).save(path)
    by_path = read_picture(path)
    for given in (str(path), path.read_bytes(), Image.fromarray(scene), scene, scene.astype(np.float64) / 255):
        picture = read_picture(given, "scene.png")
        assert np.array_equal(picture.srgb, by_path.srgb)
        assert np.abs(picture.lab - by_path.lab).max() < 0.01
        assert picture.file == "scene.png"
    for wrong in (scene.astype(np.int64), np.full((90, 90, 3), np.nan), np.zeros((90, 90, 7), np.uint8), b""):
        with pytest.raises(UnreadablePicture):
            read_picture(wrong)


def test_reading_leaves_the_process_as_it_was(scene, tmp_path):
    for name in ("a.jpg", "a.png", "a.tif"):
        Image.fromarray(scene).save(tmp_path / name)
    Image.fromarray(scene).save(tmp_path / "z.tif", compression="tiff_lzw")
    before = (
        Image.MAX_IMAGE_PIXELS,
        list(warnings.filters),
        os.stat("/dev/fd/2").st_ino if os.path.exists("/dev/fd/2") else 0,
    )
    failures: list[BaseException] = []

    def read() -> None:
        try:
            for _ in range(3):
                for path in sorted(tmp_path.iterdir()):
                    read_picture(path)
        except BaseException as error:
            failures.append(error)

    threads = [threading.Thread(target=read) for _ in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    after = (
        Image.MAX_IMAGE_PIXELS,
        list(warnings.filters),
        os.stat("/dev/fd/2").st_ino if os.path.exists("/dev/fd/2") else 0,
    )
    assert not failures and before == after


@pytest.mark.parametrize("seed", [0, *(pytest.param(seed, marks=pytest.mark.slow) for seed in (1, 2, 3))])
def test_the_command_keeps_what_libraries_print_from_the_person(seed, tmp_path, scene):
    generator = np.random.default_rng(seed)
    paths = []
    for compression in ("tiff_lzw", "tiff_deflate"):
        path = tmp_path / f"{compression}.tif"
        Image.fromarray(scene).save(path, compression=compression)
        data = bytearray(path.read_bytes())
        for place in generator.integers(len(data) // 4, len(data) // 2, 40):
            data[place] = generator.integers(0, 256)
        path.write_bytes(bytes(data))
        paths.append(str(path))
    done = subprocess.run(
        [sys.executable, "-m", "critique", "lineup", *paths, "--out", str(tmp_path / "out")],
        capture_output=True,
        text=True,
    )
    lines = done.stderr.splitlines()
    assert done.returncode == 1 and len(lines) == 2, done.stderr
    assert all(line.startswith("critique: tiff_") for line in lines)


@pytest.mark.filterwarnings("error::pytest.PytestUnraisableExceptionWarning")
@pytest.mark.parametrize("suffix", ["jpg", "png", "tif", "webp", "gif", "bmp"])
def test_a_file_that_was_read_is_closed(tmp_path, suffix):
    path = tmp_path / f"meadow.{suffix}"
    Image.fromarray(np.full((80, 100, 3), (90, 120, 60), dtype=np.uint8)).save(path)
    gc.freeze()  # what other tests left of files that couldn't be read is passed over
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("error", ResourceWarning)
            read_picture(path)
            gc.collect()
    finally:
        gc.unfreeze()
