"""What the page says of a photograph: its crop, what the camera did, and what another light could change."""

from dataclasses import replace

import numpy as np
import pytest
from demo_pictures import demo_path
from PIL import Image
from scipy.ndimage import gaussian_filter

from critique.perception.srgb import linear_to_srgb8
from critique.photograph.corners import ALL
from critique.photograph.read import read_photograph
from critique.photograph.righting import Lighting
from critique.picture.read import read_picture
from critique.report.plates.canvas import LIGHT
from critique.report.view_words import crops_said, crops_told, photograph_said, view_told

MEADOW = "tolvesk_01_ostermell_meadow.jpg"


@pytest.fixture(scope="module")
def on_wall(tmp_path_factory):
    scene = np.full((900, 1200, 3), 0.5, np.float32)
    scene[150:750, 150:950] = read_photograph(demo_path(MEADOW)).light[::2, ::2]
    path = tmp_path_factory.mktemp("view") / "easel.jpg"
    Image.fromarray(linear_to_srgb8(scene)).save(path, quality=93)
    return read_picture(path)


def words(told):
    return " ".join(f"{one.text} {one.command}" for one in told.said)


def test_a_good_file_that_is_all_painting_is_told_nothing():
    picture = read_picture(demo_path(MEADOW))
    assert view_told(picture) is None and photograph_said(picture) == ()


@pytest.mark.slow
@pytest.mark.parametrize(("size", "clear"), [((800, 600), 0.25), ((3000, 2250), 0.25), ((800, 600), 0.0005)])
def test_transparent_parts_are_told_to_be_taken_as_white(tmp_path, size, clear):
    colours = np.asarray(Image.open(demo_path(MEADOW)).resize(size).convert("RGBA")).copy()
    colours[: round(clear * size[1]), :, 3] = 0
    if clear < 0.002:
        colours[:1, :100, 3] = 0
    Image.fromarray(colours).save(tmp_path / "cut_out.png")
    picture = read_picture(tmp_path / "cut_out.png", whole=True)
    if clear < 0.002:
        assert view_told(picture) is None and photograph_said(picture) == ()
        return
    assert picture.transparent == pytest.approx(round(clear * size[1]) / size[1])
    assert any("transparent" in line and "25 %" in line for line in photograph_said(picture))
    assert "taken as white" in words(view_told(picture)) and view_told(picture).first
    said = words(view_told(picture))
    assert "counts that white as paint" in said and "Crop those parts off" in said
    (told,) = crops_told([picture])
    assert "transparent" in told.text and any("transparent" in line for line in crops_said([picture]))


@pytest.mark.slow
def test_a_blurred_file_that_is_all_painting_is_told_so_with_its_remedy(tmp_path):
    blurred = gaussian_filter(read_photograph(demo_path(MEADOW)).light, (4, 4, 0))
    Image.fromarray(linear_to_srgb8(blurred)).save(tmp_path / "soft.png")
    told = view_told(read_picture(tmp_path / "soft.png"))
    assert told.plate is None and "soft" in words(told) and "Hold the camera still" in words(told)


def test_a_crop_names_the_findings_that_another_light_could_change(on_wall):
    told = view_told(on_wall, ("green_area",))
    assert "Another lamp could change what is said of green area." in words(told)
    assert "--corners" in words(told)
    (grey,) = [one.command for one in told.said if "--grey" in one.command]
    x, y = (float(part) for part in grey.split()[-1].split(","))
    seen = on_wall.view.shown
    spot = seen[int(y * seen.shape[0]), int(x * seen.shape[1])].astype(int)
    left, right = (sorted(corner[0] for corner in on_wall.view.corners)[at] for at in (0, -1))
    top, bottom = (sorted(corner[1] for corner in on_wall.view.corners)[at] for at in (0, -1))
    assert not (left < x < right and top < y < bottom) and np.ptp(spot) < 40  # a place on the wall, and greyish
    assert told.plate is not None and not told.first
    assert "none of the findings" in words(view_told(on_wall))


@pytest.mark.parametrize(
    ("lighting", "said"),
    [
        (Lighting("spot", ((0.9, 0.3),), 5.0, (50.0, 0.0, 0.0)), "a lighter or darker photograph could change what"),
        (
            Lighting("card", ((0.9, 0.3),), 5.0, (50.0, 0.0, 0.0), brightness=True),
            "right if the canvas got as much light as the card",
        ),
        (
            Lighting("chart, linear", (), 5.0, (50.0, 0.0, 0.0), brightness=True, left_over=1.0, white_left=1.0),
            "right if the canvas got as much light as the chart",
        ),
    ],
)
def test_of_a_crop_whose_colour_is_put_right_the_findings_that_its_brightness_could_change_are_named(
    on_wall, lighting, said
):
    picture = replace(on_wall, view=replace(on_wall.view, light=lighting))
    told = view_told(picture, ("value_range",))
    assert said in words(told) and "of value range" in words(told) and "Another lamp" not in words(told)
    assert said not in words(view_told(picture))
    assert any("could change: value range" in line for line in photograph_said(picture, ("value_range",)))


def test_a_canvas_cut_off_has_no_outline_and_no_corners_to_run(on_wall):
    picture = replace(on_wall, view=replace(on_wall.view, how="unsure", corners=ALL))
    told = view_told(picture)
    assert told.first and "cut off" in words(told) and "--corners" not in words(told)


def test_a_mere_guess_is_drawn_as_one_and_its_corners_are_no_command(on_wall):
    """A dark foreground's edge was once offered as the canvas's: the crop would have cut figures off."""
    guess = replace(on_wall.view, how="unsure", likely=False)
    told = view_told(replace(on_wall, view=guess))
    assert told.first and "by eye" in words(told) and '--corners "X,Y X,Y X,Y X,Y"' in words(told)
    assert not any(f"{x:.3f},{y:.3f}" in words(told) for x, y in guess.corners)
    likely = view_told(replace(on_wall, view=replace(guess, likely=True)))
    assert all(f"{x:.3f},{y:.3f}" in words(likely) for x, y in guess.corners)
    assert "guess" in told.plate.caption and "guess" not in likely.plate.caption
    light = [(np.asarray(one.plate.image) == LIGHT).all(axis=-1).sum() for one in (told, likely)]
    assert 0.35 * light[1] < light[0] < 0.75 * light[1]  # half of the line is gaps


def test_falloff_that_was_left_names_the_command_that_evens_it(on_wall):
    bad = next(one for one in on_wall.view.fitness if one.subject == "falloff")
    fitness = (replace(bad, figure=1.4, level="rework", remedy="two lamps"),)
    told = view_told(replace(on_wall, view=replace(on_wall.view, fitness=fitness)))
    assert "1.40 times the light" in words(told) and "--even" in words(told)


def test_where_nothing_tells_whether_the_photograph_is_sharp_it_is_not_called_so(on_wall):
    """A painting without a sharp step in it is told to have soft edges, and the camera may have made them."""
    good = tuple(replace(one, level="holds", remedy="none") for one in on_wall.view.fitness)
    guessed = tuple(replace(one, trust="a guess") if one.subject == "sharpness" else one for one in good)
    sharp, unknown = (
        words(view_told(replace(on_wall, view=replace(on_wall.view, fitness=one)))) for one in (good, guessed)
    )
    assert "The photograph is sharp" in sharp
    assert "sharp" not in unknown and "The photograph is clean" in unknown
