"""What ``import critique`` offers, as someone who calls it from a program or a notebook sees it."""

import dataclasses
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

import critique
from critique.perception.reference import demo_path


@pytest.fixture(scope="module")
def meadow() -> Image.Image:
    image = Image.open(demo_path("tolvesk_01_ostermell_meadow.jpg"))
    image.thumbnail((200, 200))
    return image


def test_importing_it_loads_nothing_heavy():
    code = (
        "import sys, critique; print([name for name in ('numpy', 'PIL', 'matplotlib', 'scipy') if name in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


def test_a_picture_in_any_form_gives_the_same_review(meadow, tmp_path):
    meadow.save(tmp_path / "meadow.png")
    forms = (tmp_path / "meadow.png", (tmp_path / "meadow.png").read_bytes(), meadow, np.asarray(meadow))
    records = []
    for form in forms:
        record = critique.review(critique.read(form, name="meadow.png")).as_dict()
        records.append({name: part for name, part in record.items() if name != "picture"})
    assert all(record == records[0] for record in records[1:])


def test_results_are_frozen(meadow):
    done = critique.review(meadow)
    with pytest.raises(dataclasses.FrozenInstanceError):
        done.advice = None  # type: ignore[misc]


def test_a_recipe_lands_where_mixing_its_parts_lands():
    found = critique.recipe((60.0, -20.0, 35.0), box=["PY74", "PB29", "PR101", "PG7"])
    assert found.parts and abs(np.asarray(found.lab) - (60.0, -20.0, 35.0)).max() < 6


def test_it_is_typed_where_it_is_installed():
    assert (Path(critique.__file__).parent / "py.typed").exists()
    stub = (Path(critique.__file__).parent / "__init__.pyi").read_text(encoding="utf-8")
    for name in critique.__all__:
        assert name in stub
        assert getattr(critique, name) is not None
    with pytest.raises(AttributeError):
        critique.nothing_of_the_kind  # noqa: B018
