"""A program that uses the library keeps its own settings, and may review in several threads at once."""

import os
import warnings
from concurrent.futures import ThreadPoolExecutor

import matplotlib
import numpy as np
import pytest
from demo_pictures import demo_path
from PIL import Image, ImageFile
from threadpoolctl import threadpool_info

from critique.one_thread import one_thread
from critique.report.write import write_review
from critique.tasks.review import review_file

NAMES = ("01_ostermell_meadow", "02_ostermell_repaint", "04_lirren_evening", "08_ostermell_second_pass")


@pytest.fixture(scope="module")
def files(tmp_path_factory):
    """Four different pictures, small enough to be reviewed twice."""
    folder = tmp_path_factory.mktemp("four")
    for name in NAMES:
        image = Image.open(demo_path(f"tolvesk_{name}.jpg"))
        image.thumbnail((320, 320))
        image.save(folder / f"{name}.png")
    return [folder / f"{name}.png" for name in NAMES]


def reviewed(path, folder):
    """Every file that a review of the picture writes."""
    write_review(review_file(path, study=True), folder)
    return {file.relative_to(folder).as_posix(): file.read_bytes() for file in folder.rglob("*") if file.is_file()}


def settings():
    """What belongs to the whole process, and could be changed by reading or drawing."""
    streams = [(os.fstat(number).st_dev, os.fstat(number).st_ino) for number in (1, 2)]
    blas = sorted((each["filepath"], each["num_threads"]) for each in threadpool_info() if each["user_api"] == "blas")
    return {
        "pixels": Image.MAX_IMAGE_PIXELS,
        "truncated": ImageFile.LOAD_TRUNCATED_IMAGES,
        "rc": dict(matplotlib.rcParams),
        "backend": matplotlib.get_backend(auto_select=False),
        "warnings": list(warnings.filters),
        "numpy": np.geterr(),
        "random": np.random.get_state()[1].tolist(),  # noqa: NPY002
        "streams": streams,
        "folder": os.getcwd(),
        "blas": blas,
    }


@pytest.mark.slow
def test_four_threads_give_what_one_gives_byte_for_byte(files, tmp_path):
    alone = [reviewed(path, tmp_path / "alone" / path.stem) for path in files]
    with ThreadPoolExecutor(4) as threads:
        together = list(threads.map(lambda path: reviewed(path, tmp_path / "together" / path.stem), files))
    for path, one, other in zip(files, alone, together, strict=True):
        assert one.keys() == other.keys()
        assert [name for name in one if one[name] != other[name]] == [], path.stem


@pytest.mark.slow
def test_reading_and_drawing_change_nothing_of_the_process(files, tmp_path):
    reviewed(files[1], tmp_path / "first")  # what is loaded by the first review is loaded
    before = settings()
    with ThreadPoolExecutor(2) as threads:
        list(threads.map(lambda path: reviewed(path, tmp_path / path.stem), files[1:3]))
    after = settings()
    assert [name for name in before if before[name] != after[name]] == []


def test_overlapping_blocks_of_one_thread_leave_the_setting_as_it_was():
    before = settings()["blas"]
    first, second = one_thread(), one_thread()
    first.__enter__()
    second.__enter__()
    assert {number for _, number in settings()["blas"]} <= {1}
    first.__exit__(None, None, None)
    assert {number for _, number in settings()["blas"]} <= {1}  # the second still relies on it
    second.__exit__(None, None, None)
    assert settings()["blas"] == before
