"""The eye path is checked on pictures whose focus, corners and lines are known, because they were made with them."""

import json

import numpy as np
import pytest
from measured import measured as measured_of
from one_picture import one_picture

from critique.measures.eyepath import EyePath
from critique.perception.cielab import lab_to_srgb8
from critique.picture.picture import Picture
from critique.plain import plain

HEIGHT, WIDTH = 400, 600
GROUND = (118, 128, 104)


def ground(shape: tuple[int, int] = (HEIGHT, WIDTH), amount: float = 5, seed: int = 3) -> np.ndarray:
    """Quiet grey-green with a little brush texture: floats 0–255."""
    noise = np.random.default_rng(seed).normal(0, amount, (*shape, 1))
    return np.array(GROUND, dtype=float) + noise


def spotted(x: float, y: float, colour: tuple[int, int, int], size: float = 0.02, scene: np.ndarray | None = None):
    """A round spot at (x, y), 0–1; ``size`` is its radius as a part of the width."""
    scene = ground() if scene is None else scene.copy()
    height, width, _ = scene.shape
    down, across = np.mgrid[0:height, 0:width] + 0.5
    scene[np.hypot(across - x * width, down - y * height) < size * width] = colour
    return scene


def lined(scene: np.ndarray, ends: list[tuple[float, float, float, float]], colour: int = 40) -> np.ndarray:
    """Straight bars 1 % of the width thick from (x1, y1) to (x2, y2), 0–1."""
    scene = scene.copy()
    height, width, _ = scene.shape
    down, across = np.mgrid[0:height, 0:width] + 0.5
    for x1, y1, x2, y2 in np.array(ends) * [width, height, width, height]:
        length = np.hypot(x2 - x1, y2 - y1)
        along = ((across - x1) * (x2 - x1) + (down - y1) * (y2 - y1)) / length
        away = np.abs((across - x1) * (y2 - y1) - (down - y1) * (x2 - x1)) / length
        scene[(along >= 0) & (along <= length) & (away <= 0.005 * width)] = colour
    return scene


def picture(scene: np.ndarray) -> Picture:
    return one_picture(np.rint(np.clip(scene, 0, 255)).astype(np.uint8))


def measured(scene: np.ndarray) -> EyePath:
    return measured_of(picture(scene)).eyepath


@pytest.mark.parametrize(
    ("place", "colour"),
    [
        ((0.5, 0.5), (235, 232, 220)),
        ((1 / 3, 2 / 3), (190, 60, 45)),
        ((0.7, 0.3), (30, 30, 34)),
        ((0.2, 0.8), (235, 232, 220)),
        ((0.85, 0.5), (190, 60, 45)),
    ],
)
def test_the_focal_place_is_where_the_only_contrast_is(
    place: tuple[float, float], colour: tuple[int, int, int]
) -> None:
    path = measured(spotted(*place, colour))
    assert path.focus.x == pytest.approx(place[0], abs=0.015)
    assert path.focus.y == pytest.approx(place[1], abs=0.02)
    assert path.focus.strength > 0.7
    assert not path.competing


def test_chroma_alone_makes_a_focal_place() -> None:
    path = measured(spotted(0.3, 0.6, (178, 98, 92), scene=np.full((HEIGHT, WIDTH, 3), 124.0)))  # L* 52 both, in CIELAB
    assert (path.focus.x, path.focus.y) == (pytest.approx(0.3, abs=0.015), pytest.approx(0.6, abs=0.02))


def test_the_stronger_of_two_spots_is_the_focus_and_the_other_competes_when_near_as_strong() -> None:
    one = spotted(0.3, 0.5, (200, 60, 40))
    weak = measured(spotted(0.7, 0.5, (124, 134, 110), scene=one))
    equal = measured(spotted(0.7, 0.5, (200, 60, 40), scene=one))
    assert weak.focus.x == pytest.approx(0.3, abs=0.015) and not weak.competing
    assert equal.competing
    assert sorted(place.x for place in equal.places[:2]) == pytest.approx([0.3, 0.7], abs=0.02)


def cropped(scene: np.ndarray, share: float = 0.03) -> np.ndarray:
    rows, columns = (round(share / 2 * length) for length in scene.shape[:2])
    return scene[rows:-rows, columns:-columns]


@pytest.mark.slow
@pytest.mark.parametrize("second", [(124, 134, 110), (150, 120, 96), (165, 100, 78), (200, 60, 40)])
@pytest.mark.parametrize("seed", [1, 2, 3])
def test_a_small_crop_changes_neither_the_places_nor_whether_two_compete(
    second: tuple[int, int, int], seed: int
) -> None:
    scene = spotted(0.7, 0.55, second, scene=spotted(0.3, 0.55, (200, 60, 40), scene=ground(amount=12, seed=seed)))
    path, after = measured(scene), measured(cropped(scene))
    assert after.competing == path.competing == (second == (200, 60, 40))
    assert len(after.places) == len(path.places)
    inside = sorted((place.x - 0.5) / 0.97 + 0.5 for place in path.places)  # of two equals either may come first
    assert sorted(place.x for place in after.places) == pytest.approx(inside, abs=0.02)


@pytest.mark.slow
def test_two_crests_of_one_ridge_are_one_place() -> None:
    one_mass = lined(ground(), [(0.3, 0.6, 0.7, 0.6)], colour=235)
    parted = lined(ground(), [(0.25, 0.6, 0.3, 0.6), (0.7, 0.6, 0.75, 0.6)], colour=235)
    assert len(measured(one_mass).places) == 1 and not measured(one_mass).competing
    assert len(measured(parted).places) == 2 and measured(parted).competing


def test_what_stands_low_outdoes_the_same_thing_high_up() -> None:
    spot = (200, 60, 40)
    path = measured(spotted(0.5, 0.15, spot, scene=spotted(0.5, 0.65, spot)))
    assert path.focus.y == pytest.approx(0.65, abs=0.02)


def test_of_two_spots_as_far_from_the_ground_the_red_one_is_found_first() -> None:
    # L* 50 and C* 40 away from a neutral grey in CIELAB, one toward red, one toward green.
    red, green = (tuple(int(code) for code in lab_to_srgb8(np.float32([[50, a, 0]]))[0]) for a in (40, -40))
    grey = np.full((HEIGHT, WIDTH, 3), 118.0)
    assert measured(spotted(0.7, 0.6, red, scene=spotted(0.3, 0.6, green, scene=grey))).focus.x > 0.5
    assert measured(spotted(0.3, 0.6, red, scene=spotted(0.7, 0.6, green, scene=grey))).focus.x < 0.5


def test_a_grey_among_strong_greens_is_not_red() -> None:
    from critique.measures.salience import salience

    lab = np.full((100, 150, 3), (55, -45, 45), dtype=np.float32)
    lab[40:60, 60:90] = (55, 0, 0)
    assert float(salience(lab)["red"].max()) == 0


def test_a_flat_picture_has_no_focal_place_no_pull_and_no_lines() -> None:
    path = measured(np.full((300, 400, 3), 128.0))
    assert path.focus.strength == 0
    assert path.pulls == () and path.lines == () and not path.competing
    assert path.framing == pytest.approx(0, abs=1e-4)


def test_texture_alone_has_a_weaker_focal_place_than_a_spot() -> None:
    texture = measured(ground(amount=30))
    assert texture.focus.strength < 0.5 * measured(spotted(0.5, 0.5, (235, 232, 220))).focus.strength
    assert texture.lines == ()


def test_distances_are_from_the_middle_to_a_corner() -> None:
    at_third = measured(spotted(1 / 3, 2 / 3, (235, 232, 220)))
    assert at_third.from_thirds == pytest.approx(0, abs=0.04)
    assert at_third.from_middle == pytest.approx(1 / 3, abs=0.04)  # a third of the half diagonal, by proportion
    assert measured(spotted(0.5, 0.5, (235, 232, 220))).from_middle == pytest.approx(0, abs=0.03)


def test_corner_and_interior_values_are_those_of_scikit_image() -> None:
    from skimage.color import rgb2lab

    scene = ground(amount=0)
    scene[:80, :120] = (60, 62, 58)
    scene[-80:, -120:] = (210, 208, 200)
    path = measured(scene)
    value = rgb2lab(np.rint(scene).astype(np.uint8))[..., 0] / 10
    corners = [value[:80, :120], value[:80, -120:], value[-80:, :120], value[-80:, -120:]]
    assert path.corner_values == pytest.approx([float(corner.mean()) for corner in corners], abs=0.02)
    assert path.interior_value == pytest.approx(float(value[40:-40, 60:-60].mean()), abs=0.02)
    assert path.dark_corners == 1


def test_darker_corners_frame_the_picture() -> None:
    down, across = np.mgrid[0:HEIGHT, 0:WIDTH]
    off = np.hypot((across + 0.5) / WIDTH - 0.5, (down + 0.5) / HEIGHT - 0.5)[..., None]
    vignette = measured(ground() * (1 - 0.8 * off**2))
    assert vignette.framing > 0.5 and vignette.border_framing > 0
    assert vignette.dark_corners == 4
    assert measured(ground() * (0.7 + 0.6 * off**2)).framing < -0.5


@pytest.mark.parametrize(("corner", "rows", "columns"), [("top left", 0, 0), ("bottom right", 1, 1)])
def test_a_bright_corner_pulls(corner: str, rows: int, columns: int) -> None:
    scene = spotted(0.45, 0.5, (150, 100, 80))
    down, across = np.mgrid[0:HEIGHT, 0:WIDTH]
    away = np.hypot(across - columns * (WIDTH - 1), down - rows * (HEIGHT - 1))[..., None]
    path = measured(scene + 125 * np.exp(-((away / 110) ** 2)))
    assert path.pulls[0].place == f"{corner} corner"
    assert path.strongest_pull == path.pulls[0]
    assert path.pulls[0].kind == "light"


@pytest.mark.parametrize(
    ("x", "y", "place"),
    [(0.98, 0.5, "right edge"), (0.02, 0.4, "left edge"), (0.5, 0.97, "bottom edge"), (0.03, 0.04, "top left corner")],
)
def test_a_coloured_spot_at_the_edge_pulls_there_by_its_chroma(x: float, y: float, place: str) -> None:
    grey = np.full((HEIGHT, WIDTH, 3), 124.0)
    path = measured(spotted(x, y, (164, 108, 104), scene=spotted(0.5, 0.5, (164, 108, 104), scene=grey)))
    assert path.pulls[0].place == place
    assert path.pulls[0].kind == "chroma"
    assert (path.pulls[0].x, path.pulls[0].y) == (pytest.approx(x, abs=0.03), pytest.approx(y, abs=0.04))


@pytest.mark.parametrize(("x", "y", "place"), [(0.98, 0.5, "right edge"), (0.5, 0.97, "bottom edge")])
def test_a_light_spot_at_the_edge_pulls_there_by_its_value(x: float, y: float, place: str) -> None:
    middle = spotted(0.5, 0.4, (150, 150, 150), scene=np.full((HEIGHT, WIDTH, 3), 124.0))
    one = measured(spotted(x, y, (215, 215, 215), scene=middle)).pulls[0]
    assert (one.place, one.kind) == (place, "value")


def test_a_level_horizon_is_no_pull_at_the_edges() -> None:
    scene = ground()
    scene[:160] = (190, 200, 212)
    path = measured(spotted(0.4, 0.55, (200, 60, 40), scene=scene))
    assert path.pulls == ()


def test_lines_that_converge_on_the_focus_lead_toward_it() -> None:
    at = (0.6, 0.4)
    feet = [(0.05, 0.95), (0.3, 0.97), (0.95, 0.95), (0.04, 0.1), (0.96, 0.08)]
    ends = [(x, y, at[0] + 0.3 * (x - at[0]), at[1] + 0.3 * (y - at[1])) for x, y in feet]
    path = measured(spotted(*at, (200, 60, 40), scene=lined(ground(), ends)))
    assert (path.focus.x, path.focus.y) == (pytest.approx(0.6, abs=0.03), pytest.approx(0.4, abs=0.03))
    assert path.lines_toward >= 5 and path.lines_out == 0
    assert all(line.leads == "toward" and line.miss < 0.03 for line in path.lines)


def test_a_slanting_line_that_misses_the_focus_and_meets_an_edge_leads_out() -> None:
    path = measured(spotted(0.25, 0.3, (200, 60, 40), scene=lined(ground(), [(0.6, 0.95, 1.0, 0.4)])))
    assert path.lines_out >= 1 and path.lines_toward == 0


def test_a_level_line_and_an_upright_one_lead_nowhere() -> None:
    scene = lined(ground(), [(0.0, 0.8, 1.0, 0.8), (0.8, 0.1, 0.8, 0.7)])
    path = measured(spotted(0.3, 0.3, (200, 60, 40), scene=scene))
    assert len(path.lines) >= 2
    assert {line.leads for line in path.lines} == {"past"}


@pytest.mark.parametrize("line", [(0.2, 0.3, 0.7, 0.8), (0.5, 0.1, 0.55, 0.9), (0.15, 0.7, 0.9, 0.55)])
def test_the_ends_of_a_line_are_where_they_were_drawn(line: tuple[float, float, float, float]) -> None:
    path = measured(lined(ground(), [line]))
    assert path.lines
    for found in path.lines:
        assert (found.x1, found.y1, found.x2, found.y2) == pytest.approx(line, abs=0.02)


def test_a_curve_is_no_straight_line() -> None:
    scene = ground()
    down, across = np.mgrid[0:HEIGHT, 0:WIDTH] + 0.5
    scene[np.abs(np.hypot(across - 300, down - 200) - 120) < 3] = 40
    assert measured(scene).lines == ()


def test_mirrored_only_the_sides_change() -> None:
    scene = lined(spotted(0.7, 0.4, (200, 60, 40)), [(0.05, 0.95, 0.5, 0.55), (0.3, 0.1, 0.9, 0.2)])
    scene = spotted(0.97, 0.6, (230, 225, 210), scene=scene)
    path, mirrored = measured(scene), measured(scene[:, ::-1])
    assert (mirrored.focus.x, mirrored.focus.y) == pytest.approx((1 - path.focus.x, path.focus.y), abs=0.01)
    assert mirrored.focus.strength == pytest.approx(path.focus.strength, abs=0.01)
    assert mirrored.from_middle == pytest.approx(path.from_middle, abs=0.01)
    assert mirrored.from_thirds == pytest.approx(path.from_thirds, abs=0.01)
    assert mirrored.framing == pytest.approx(path.framing, abs=0.01)
    left, right = mirrored.corner_values[0], path.corner_values[1]
    assert left == pytest.approx(right, abs=0.01)
    swapped = {"left": "right", "right": "left"}
    assert [pull.place for pull in mirrored.pulls] == [
        " ".join(swapped.get(word, word) for word in pull.place.split()) for pull in path.pulls
    ]
    assert (mirrored.lines_toward, mirrored.lines_out) == (path.lines_toward, path.lines_out)
    assert [line.length for line in mirrored.lines] == pytest.approx([line.length for line in path.lines], abs=0.02)


def test_scaled_by_two_nothing_changes() -> None:
    scene = lined(spotted(0.7, 0.4, (200, 60, 40)), [(0.05, 0.95, 0.5, 0.55), (0.3, 0.1, 0.9, 0.2)])
    path, doubled = measured(scene), measured(np.kron(scene, np.ones((2, 2, 1))))
    for name in (
        "from_middle",
        "from_thirds",
        "interior_value",
        "border_value",
        "framing",
        "lines_toward",
        "lines_out",
    ):
        assert getattr(doubled, name) == pytest.approx(getattr(path, name), abs=0.01), name
    assert (doubled.focus.x, doubled.focus.y) == pytest.approx((path.focus.x, path.focus.y), abs=0.01)
    assert doubled.focus.strength == pytest.approx(path.focus.strength, abs=0.01)
    assert doubled.strongest_pull.strength == pytest.approx(path.strongest_pull.strength, abs=0.01)


@pytest.mark.parametrize("shape", [(64, 64), (64, 320), (900, 120), (64, 6400)])
def test_small_and_narrow_pictures_are_measured_too(shape: tuple[int, int]) -> None:
    path = measured(spotted(0.5, 0.5, (235, 232, 220), size=0.1 * min(shape) / shape[1], scene=ground(shape)))
    assert (path.focus.x, path.focus.y) == (pytest.approx(0.5, abs=0.06), pytest.approx(0.5, abs=0.06))


def test_the_record_is_plain_and_leaves_the_drawing_out() -> None:
    path = measured(lined(spotted(0.7, 0.4, (200, 60, 40)), [(0.05, 0.95, 0.5, 0.55)]))
    record = json.loads(json.dumps(plain(path)))
    assert "salience" not in record
    assert record["focus"]["x"] == pytest.approx(0.7, abs=0.02)
    assert record["lines"][0]["leads"] in ("toward", "out", "past")
    assert path.salience.max() == pytest.approx(1)
