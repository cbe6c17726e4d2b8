"""What ``import critique`` offers, as someone who calls it from a program or a notebook sees it."""

import dataclasses
import os
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest
from demo_pictures import demo_path
from PIL import Image

import critique


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


@pytest.mark.slow
def test_a_picture_in_any_form_gives_the_same_review(meadow, tmp_path):
    meadow.save(tmp_path / "meadow.png")
    forms = (tmp_path / "meadow.png", (tmp_path / "meadow.png").read_bytes(), meadow, np.asarray(meadow))
    pictures = [critique.read(form, name="meadow.png") for form in forms]
    for picture in pictures[1:]:
        for part in ("lab", "srgb", "drawn"):
            assert np.array_equal(getattr(picture, part), getattr(pictures[0], part))
    first, last = (critique.review(pictures[index]).as_dict() for index in (0, -1))
    assert {**first, "picture": None} == {**last, "picture": None}


@pytest.mark.parametrize("kind", [np.float16, np.float32, np.float64])
def test_floats_of_any_precision_give_the_same_picture(meadow, kind):
    codes = (np.asarray(meadow) / 255).astype(np.float16)
    whole = np.round(codes.astype(np.float64) * 65535).astype(np.uint16)
    assert abs(critique.read(codes.astype(kind)).lab - critique.read(whole).lab).max() < 0.01


@pytest.mark.parametrize(
    "by", [lambda codes: codes - 1e-6, lambda codes: codes * 1.00001, lambda codes: codes * 1.0019]
)
def test_floats_that_pass_an_end_by_less_than_half_a_code_of_8_bits_are_cut_off_there(by):
    codes = np.linspace(0, 1, 80 * 100 * 3, dtype=np.float32).reshape(80, 100, 3)
    assert np.array_equal(critique.read(by(codes)).lab, critique.read(np.clip(by(codes), 0, 1)).lab)


@pytest.mark.parametrize("beyond", [-0.01, 1.01])
def test_floats_that_pass_an_end_by_more_are_refused(beyond):
    codes = np.full((80, 100, 3), 0.5)
    codes[0, 0, 0] = beyond
    with pytest.raises(critique.CritiqueError, match="divide them by their white"):
        critique.read(codes)


def test_the_order_of_the_bytes_of_a_code_does_not_matter(meadow):
    deep = np.asarray(meadow).astype(np.uint16) * 257
    assert np.array_equal(critique.read(deep.astype(">u2")).lab, critique.read(deep.astype("<u2")).lab)


def test_grey_with_its_alpha_multiplied_in_is_read_as_without(meadow):
    clear = meadow.convert("LA")
    clear.putalpha(200)
    assert abs(critique.read(clear.convert("La")).lab - critique.read(clear).lab).max() < 1  # a code of grey is L* 0.4


@pytest.mark.parametrize("mode", ["I;16", "I;16B", "I"])
def test_sixteen_bits_of_grey_that_pillow_holds_keep_their_lights(meadow, mode):
    grey = np.asarray(meadow.convert("L"))
    deep = Image.fromarray(grey.astype(np.uint16) * 257)
    held = deep if mode == "I;16" else deep.convert("I") if mode == "I" else deep.convert("I").convert("I;16B")
    assert held.mode == mode
    assert abs(critique.read(held).lab - critique.read(grey).lab).max() < 1e-3


@pytest.mark.parametrize(("mode", "most"), [("F", 1.0), ("F", 255.0), ("I", 1_000_000)])
def test_numbers_without_a_white_are_no_picture(mode, most):
    values = np.linspace(0, most, 80 * 100).reshape(80, 100).astype(np.float32 if mode == "F" else np.int32)
    with pytest.raises(critique.CritiqueError, match="what is white"):
        critique.read(Image.fromarray(values))


@pytest.mark.parametrize(
    ("given", "said"),
    [
        (None, "NoneType is no picture"),
        (5, "int is no picture"),
        (np.full((80, 100, 3), np.nan), "no numbers"),
        (np.full((80, 100, 3), 255.0), "divide them by their white"),
        (np.zeros((0, 0, 3), np.uint8), "shape"),
    ],
)
def test_what_is_no_picture_is_refused_for_what_it_is(given, said):
    with pytest.raises(critique.CritiqueError, match=said):
        critique.read(given)


@pytest.mark.parametrize("colour", ["red", [50, 10], [float("nan"), 0, 0], [500, 0, 0], [-20, 0, 0], None])
def test_a_recipe_of_what_is_no_colour_is_refused(colour):
    with pytest.raises(critique.CritiqueError, match="wants a colour"):
        critique.recipe(colour)


def test_every_paint_that_there_is_none_of_is_named_at_once():
    with pytest.raises(critique.CritiqueError, match=r"'zzz'.*'unobtainium'"):
        critique.chart(["PB29", "zzz", "unobtainium"])
    with pytest.raises(critique.CritiqueError, match=r"'zzz'.*'unobtainium'"):
        critique.recipe([50, 0, 0], box=["PB29", "zzz", "unobtainium"])


UPRIGHT = ((0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0))


@pytest.mark.parametrize(
    "corners",
    [
        UPRIGHT[:3],
        (*UPRIGHT, (0.5, 0.5)),
        ((0.2, 0.2),) * 4,
        ((0, 0), (1, 1), (1, 0), (0, 1)),
        ((float("nan"), 0), *UPRIGHT[1:]),
        ((-5, 0), *UPRIGHT[1:]),
        "corners",
    ],
)
def test_corners_that_can_be_no_canvass_are_refused(meadow, corners):
    with pytest.raises(critique.CritiqueError, match="corner"):
        critique.read(meadow, corners=corners)


@pytest.mark.parametrize("said", [{"grey": (0.5,)}, {"grey": "x"}, {"grey": UPRIGHT}, {"card": (0.5,)}, {"card": 5}])
def test_a_place_that_is_none_is_refused(meadow, said):
    with pytest.raises(critique.CritiqueError, match="two fractions"):
        critique.read(meadow, **said)


def test_one_name_where_several_pictures_are_wanted_is_refused(tmp_path):
    for asked in (critique.passes, critique.lineup, lambda one: critique.submit(one, tmp_path / "sent")):
        with pytest.raises(critique.CritiqueError, match="list of pictures"):
            asked("meadow.jpg")
        with pytest.raises(critique.CritiqueError, match="list of pictures"):
            asked(3)
    assert not (tmp_path / "sent").exists()


def test_no_pictures_are_refused(tmp_path):
    for asked in (critique.passes, critique.lineup, lambda none: critique.submit(none, tmp_path / "sent")):
        with pytest.raises(critique.CritiqueError):
            asked([])
    assert not (tmp_path / "sent").exists()


def test_one_name_stands_for_a_list_of_one(meadow):
    with pytest.raises(critique.CritiqueError, match="no change called 'brighter'"):
        critique.plan(meadow, take="brighter")
    with pytest.raises(critique.CritiqueError, match="1 was named"):
        critique.chart("PY74")


def test_what_is_no_result_has_no_page(tmp_path):
    with pytest.raises(TypeError, match="no result"):
        critique.write("meadow.jpg", tmp_path / "page")  # type: ignore[arg-type]


def test_one_grey_is_none_for_two_pictures(meadow):
    with pytest.raises(critique.CritiqueError, match="two places"):
        critique.compare(meadow, meadow, greys=((0.5, 0.5),))  # type: ignore[arg-type]


@pytest.mark.parametrize("wish", [{"metadata": "all"}, {"paper": "A3"}])
def test_a_wish_that_no_call_has_is_refused(meadow, tmp_path, wish):
    meadow.save(tmp_path / "meadow.png")
    with pytest.raises(critique.CritiqueError, match="isn't known"):
        critique.submit([tmp_path / "meadow.png"], tmp_path / "sent", **wish)
    assert not (tmp_path / "sent").exists()


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


def test_the_example_of_the_readme_runs_and_is_six_lines(meadow, tmp_path, monkeypatch, capsys):
    page = (Path(__file__).resolve().parent.parent / "README.md").read_text(encoding="utf-8")
    example = page.split("```python\n")[1].split("```")[0]
    assert len([line for line in example.splitlines() if line.strip()]) == 6
    meadow.save(tmp_path / "meadow.jpg", quality=95)
    monkeypatch.chdir(tmp_path)
    exec(compile(example, "README.md", "exec"), {})
    assert (tmp_path / "review" / "meadow" / "report.html").stat().st_size > 10_000
    assert len(capsys.readouterr().out.splitlines()) >= 1


@pytest.mark.slow
def test_a_type_checker_accepts_a_program_that_calls_it_and_refuses_a_wrong_one(tmp_path):
    right = "import critique\nfound: float = critique.review('a.jpg').measures.greens.area_share\n"
    wrong = "import critique\nfound: str = critique.review('a.jpg').measures.greens.area_share\n"
    for name, code, accepted in (("right", right, True), ("wrong", wrong, False)):
        (tmp_path / f"{name}.py").write_text(code)
        command = [sys.executable, "-m", "mypy", "--strict", f"--cache-dir={tmp_path / 'cache'}", f"{name}.py"]
        root = str(Path(critique.__file__).resolve().parents[1])
        environment = {**os.environ, "MYPYPATH": root if "site-packages" not in root else ""}
        done = subprocess.run(command, cwd=tmp_path, env=environment, capture_output=True, text=True)
        told = [line for line in done.stdout.splitlines() if line.startswith(f"{name}.py")]
        assert (not told) is accepted, done.stdout
