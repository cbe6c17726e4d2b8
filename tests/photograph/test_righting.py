"""The light of a whole photograph put right: what comes out is held to the painting that was photographed."""

from dataclasses import replace

import numpy as np
import pytest
from demo_pictures import demo_path

from critique.errors import CritiqueError
from critique.perception.cielab import lab_to_linear, linear_to_lab
from critique.perception.difference import delta_e_2000
from critique.perception.srgb import srgb8_to_linear
from critique.photograph.balance import balance_by_patches, chart_lab, chart_likeness
from critique.photograph.corners import checked_corners
from critique.photograph.find_chart import find_chart
from critique.photograph.light_asked import LightAsked, forget_light, parse_light, remember_light, remembered_light
from critique.photograph.light_words import light_said
from critique.photograph.painting import painting_of
from critique.photograph.photograph import NO_PROFILE, Photograph
from critique.photograph.read import read_photograph
from critique.photograph.righting import righting_of

LAMP = np.array([1.25, 1.0, 0.55], np.float32) * 0.8
CANVAS = ((0.15, 1 / 6), (0.75, 1 / 6), (0.75, 23 / 30), (0.15, 23 / 30))
CARD = ((0.83, 0.21), (0.91, 0.21), (0.91, 0.36), (0.83, 0.36))
CHART = ((0.8, 0.466), (0.975, 0.466), (0.975, 0.64), (0.8, 0.64))


@pytest.fixture(scope="module")
def painting():
    """Linear light (400, 534, 3)."""
    light = read_photograph(demo_path("tolvesk_01_ostermell_meadow.jpg")).light
    return light[::3, ::3]


@pytest.fixture(scope="module")
def flat(painting):
    """The painting on a grey wall with a card (L* 49.5) and a chart beside it, as white light would show it."""
    from skimage.transform import resize

    scene = np.full((750, 1000, 3), 0.5, np.float32)
    scene[125:575, 150:750] = resize(painting, (450, 600), anti_aliasing=True)
    scene[150:280, 820:920] = lab_to_linear(np.array([49.5, 0, 0], np.float32))
    scene[350:480, 800:975] = 0.02
    patches = lab_to_linear(chart_lab().astype(np.float32)).reshape(4, 6, 3)
    for row in range(4):
        for column in range(6):
            top, left = 353 + row * 32, 803 + column * 29
            scene[top : top + 26, left : left + 23] = patches[row, column]
    return scene


def photographed(flat, fall=1.0):
    x = (np.arange(flat.shape[1], dtype=np.float32) + 0.5) / flat.shape[1] - 0.5
    scene = flat * LAMP * np.exp(-np.log(fall) * x)[:, None]
    noise = np.random.default_rng(0).normal(0, 0.003, scene.shape)
    return np.clip(scene + noise, 0, 1).astype(np.float32)


def off(flat, asked, fall=1.0):
    """ΔE00 of the canvas put right from the painting in white light, their brightness made alike, 90th percentile."""
    done = righting_of(photographed(flat, fall), asked, CANVAS)
    canvas = slice(130, 570), slice(155, 745)
    at = ((0.155, 130 / 750), (0.745, 130 / 750), (0.745, 570 / 750), (0.155, 570 / 750))
    light = done.on_canvas(photographed(flat, fall)[canvas], at)
    if asked.card_value is None and asked.chart is None:
        light = light * (flat[canvas].mean() / light.mean())
    light, wanted = (part.reshape(44, 10, 59, 10, 3).mean((1, 3)) for part in (light, flat[canvas]))
    return float(np.quantile(delta_e_2000(linear_to_lab(light), linear_to_lab(wanted)), 0.9)), done.told


@pytest.mark.slow
@pytest.mark.parametrize(
    ("asked", "how", "bar"),
    [
        (LightAsked(grey=(0.87, 0.28)), "spot", 2.0),
        (LightAsked(card=CARD, card_value=4.95), "card", 2.0),
        (LightAsked(card=(0.87, 0.28), card_value=4.95), "card", 2.0),
        (LightAsked(chart=CHART), "chart", 1.5),
        (LightAsked(chart="find"), "chart", 1.5),
    ],
)
def test_a_warm_lamp_is_taken_out_of_the_painting(flat, asked, how, bar):
    error, told = off(flat, asked)
    assert error < bar
    assert told.how is not None and told.how.startswith(how)
    assert told.neutral is not None and np.hypot(*told.neutral[1:]) < 1.5
    assert light_said(told)[0].endswith(".")


@pytest.mark.slow
def test_a_chart_that_is_small_in_the_photograph_is_found(flat):
    """As wide as a tenth of it: in the photograph as a whole its patches are too small to be seen."""
    wide = np.full((1350, 1800, 3), 0.5, np.float32) * LAMP
    wide[550:1300, 100:1100] = photographed(flat)
    wide += np.random.default_rng(1).normal(0, 0.003, wide.shape).astype(np.float32)
    found = find_chart(wide)
    assert found is not None and chart_likeness(found) > 0.95
    assert balance_by_patches(found).level == "A"


def test_without_a_reference_nothing_is_done(flat):
    error, told = off(flat, LightAsked())
    assert error > 8 and told.how is None and told.neutral is None and light_said(told) == ()


def test_uneven_light_is_evened_by_one_even_wall(flat):
    asked = LightAsked(card=CARD, card_value=4.95, even=True)
    error, told = off(flat, asked, fall=2.0)
    assert told.evened == "evened" and told.falloff == pytest.approx(2**0.6, rel=0.03)
    assert error < 2 < off(flat, LightAsked(card=CARD, card_value=4.95, even=False), fall=2.0)[0]


def test_one_even_wall_evens_unasked_and_not_against_the_painters_word(flat):
    scene = photographed(flat, 2.0)
    assert righting_of(scene, LightAsked(), CANVAS).told.evened == "evened"
    assert righting_of(scene, LightAsked(even=False), CANVAS).told.evened == "left"
    assert righting_of(photographed(flat), LightAsked(), CANVAS).told.evened == "left"  # there is nothing to even


def of_other_paints(flat, fall):
    scene = photographed(flat, fall)
    scene[:, :150] *= np.array([1.0, 0.6, 0.4], np.float32)
    scene[580:] *= np.array([0.5, 0.9, 0.6], np.float32)
    return scene


def test_by_a_wall_of_several_paints_light_is_evened_when_asked_alone(flat):
    """The falloff across the canvas, 2^0.6, is read off places that share a paint; rather less is believed."""
    scene = of_other_paints(flat, 2.0)
    assert righting_of(scene, LightAsked(), CANVAS).told.evened == "left"
    done = righting_of(scene, LightAsked(even=True), CANVAS)
    assert done.told.evened == "evened by a guess" and 2**0.45 < done.told.falloff < 2**0.62
    canvas = np.ascontiguousarray(scene[130:570, 155:745])

    def unevenness(light):
        return np.ptp(np.log(light.mean(2) / flat[130:570, 155:745].mean(2)).mean(0)[::20])

    assert unevenness(done.on_canvas(canvas, CANVAS)) < 0.4 * unevenness(canvas)


def test_where_what_lies_around_scatters_nothing_is_evened(flat):
    """Bricks, each of another tone: a falloff may be read off them, and so may chance."""
    scene = photographed(flat, 2.0)
    bricks = np.exp(np.random.default_rng(8).normal(0, 0.35, (25, 20))).repeat(30, 0).repeat(50, 1)
    wall = np.abs(flat - 0.5).max(axis=2) < 1e-6
    wall[125:575, 150:750] = False
    scene[wall] *= 0.4 * bricks[wall][:, None].astype(np.float32)
    done = righting_of(scene, LightAsked(even=True), CANVAS)
    assert done.told.evened in ("unsure", "no wall") and done.evening is None
    assert np.array_equal(done.on_canvas(scene[130:570, 155:745], CANVAS), scene[130:570, 155:745])


@pytest.mark.parametrize("asked", [LightAsked(card=CARD, card_value=4.95), LightAsked(chart=CHART)])
def test_a_reference_in_other_light_than_the_canvas_is_reckoned_with(flat, asked):
    """Beside a wall of planks, which is no even one to even the canvas by."""
    planks = np.repeat(np.exp(np.random.default_rng(3).normal(0, 0.12, 100)), 10).astype(np.float32)
    scene = flat.copy()
    wall = np.abs(flat - 0.5).max(axis=2) < 1e-6
    wall[125:575, 150:750] = False
    scene[wall] *= np.broadcast_to(planks[None, :, None], flat.shape)[wall]
    dim = photographed(scene, 1.5)

    def brightness_off(asked):
        done = righting_of(dim, asked, CANVAS)
        seen = done.on_canvas(np.ascontiguousarray(dim[125:575, 150:750]), CANVAS)
        return abs(np.log(seen.mean() / flat[125:575, 150:750].mean())), done.told

    error, told = brightness_off(asked)
    assert told.likely and not told.one_wall and told.evened == "left" and told.reference_light is not None
    against, plain = brightness_off(replace(asked, even=False))
    assert plain.reference_light is None and error < 0.05 < 0.1 < against
    assert any("the light of the" in line for line in light_said(told)) and len(light_said(plain)) < len(
        light_said(told)
    )


def test_the_painting_that_is_judged_is_the_balanced_one(flat):
    height, width, _ = flat.shape
    photograph = Photograph(photographed(flat), "easel.jpg", width, height, "JPEG", "RGB", NO_PROFILE, 8)
    as_it_is = painting_of(photograph, corners=CANVAS)
    balanced = painting_of(photograph, corners=CANVAS, light=LightAsked(grey=(0.87, 0.28)))
    blue = [one.photograph.light[..., 2].mean() / one.photograph.light[..., 0].mean() for one in (as_it_is, balanced)]
    assert blue[1] / blue[0] == pytest.approx(1.25 / 0.55, rel=0.03)
    assert balanced.fitness == as_it_is.fitness  # the camera is judged by what it saw


@pytest.mark.parametrize(
    ("asked", "words"),
    [
        ({"grey": "1.4,0.2"}, "lies outside the photograph"),
        ({"grey": "here"}, "give two fractions"),
        ({"card": "0.1,0.1 0.9,0.9 0.9,0.1 0.1,0.9"}, "the card: the corners cross"),
        ({"card": "0.1,0.1 0.2,0.1"}, "or one spot on it"),
        ({"chart": "0.975,0.64 0.8,0.64 0.8,0.466 0.975,0.466"}, "the chart is upside down"),
        ({"chart": "0.1,0.1 0.4,0.1 0.4,0.4 0.1,0.4"}, "no 24-patch chart"),
        ({"chart": "0.1,0.1 0.4,0.1"}, "or say find"),
        ({"grey": "0.1,0.1", "chart": "find"}, "give one of them"),
        ({"card_value": 5.0}, "needs the card"),
        ({"card": "0.87,0.28", "card_value": 18.0}, "is no card's"),
    ],
)
def test_what_cannot_serve_is_refused_in_one_line(flat, asked, words):
    with pytest.raises(CritiqueError, match=words) as refused:
        righting_of(photographed(flat), parse_light(**asked), CANVAS)
    assert "\n" not in str(refused.value)


def test_a_spot_that_is_hardly_grey_and_one_on_the_painting_are_told(flat):
    wall = righting_of(flat, parse_light(grey="0.1,0.1"), CANVAS).told
    assert wall.doubts == () and len(light_said(wall)) == 1
    brown = flat.copy()
    brown[:125] = srgb8_to_linear(np.array([[157, 139, 110]], np.uint8))  # a wall of mid brown
    assert righting_of(brown, parse_light(grey="0.1,0.1"), CANVAS).told.doubts == ("hardly grey",)
    grey = flat.copy()
    grey[300:340, 300:340] = 0.3  # a patch of grey paint
    told = righting_of(grey, parse_light(grey="0.32,0.425"), CANVAS).told
    assert told.doubts == ("on the painting",) and any("on the painting" in line for line in light_said(told))
    assert righting_of(brown, parse_light(card="0.1,0.1"), CANVAS).told.doubts == ()  # a card is known to be grey


def test_a_cream_light_clipped_in_red_comes_out_no_greener(flat):
    cream = lab_to_linear(np.array([87.0, -2.2, 14.8], np.float32))
    scene = photographed(flat)
    scene[200:260, 300:360] = np.clip(cream * LAMP / 0.8 * 1.1, 0, 1)
    assert scene[230, 330, 0] == 1 > scene[230, 330, 1]
    done = righting_of(scene, LightAsked(grey=(0.87, 0.28)), CANVAS)
    assert abs(linear_to_lab(done.on_photograph(scene)[230, 330])[1] - -2.2) < 1.2


def test_a_clipped_grey_is_refused(flat):
    with pytest.raises(CritiqueError, match="clipped"):
        righting_of(np.clip(photographed(flat) * 9, 0, 1), LightAsked(grey=(0.87, 0.28)), CANVAS)


def test_a_clipped_spot_is_refused_where_the_light_is_evened_too(flat):
    # On the bright side of the wall evening takes light away, and clipped white would pass for a grey.
    scene = photographed(flat, 1.4)
    scene[300:400, 30:100] = 1
    assert righting_of(scene, LightAsked(grey=(0.87, 0.28)), CANVAS).evening is not None
    with pytest.raises(CritiqueError, match="clipped"):
        righting_of(scene, LightAsked(grey=(0.065, 0.467)), CANVAS)


def test_a_cream_light_clipped_in_red_comes_out_no_greener_where_the_light_is_evened(flat):
    cream = lab_to_linear(np.array([87.0, -2.2, 14.8], np.float32))
    scene = photographed(flat, 1.8)
    scene[200:260, 160:220] = np.clip(cream * LAMP * 1.2 * 1.8**0.31, 0, 1)  # as bright as that side of the wall
    done = righting_of(scene, LightAsked(grey=(0.87, 0.28)), CANVAS)
    canvas = done.on_canvas(np.ascontiguousarray(scene[125:575, 150:750]), CANVAS)
    assert done.evening is not None and abs(linear_to_lab(canvas[105, 40])[1] - -2.2) < 1.2


def test_what_was_asked_is_remembered_until_it_is_forgotten(tmp_path):
    for asked in (
        LightAsked(grey=(0.25, 0.5)),
        LightAsked(card=checked_corners(CARD), card_value=4.95, even=True),
        LightAsked(chart="find"),
    ):
        remember_light(tmp_path, "easel.jpg", asked)
        assert remembered_light(tmp_path, "easel.jpg") == asked
    assert remembered_light(tmp_path, "other.jpg") == LightAsked()
    forget_light(tmp_path, "easel.jpg")
    assert remembered_light(tmp_path, "easel.jpg") == LightAsked()
    (tmp_path / "light.json").write_text('{"easel.jpg": {"grey": "anywhere"}}')
    with pytest.raises(CritiqueError, match="delete it"):
        remembered_light(tmp_path, "easel.jpg")


@pytest.mark.parametrize("named", [True, False])
def test_a_chart_is_not_taken_for_the_canvas(named):
    """Its sides are the straightest in the room, those of a picture near the wall's own value are fainter."""
    scene = np.full((750, 1000, 3), 0.5, np.float32)
    scene[60:660, 80:700] = 0.42
    scene[360:660, 80:700] = 0.36
    scene[350:640, 760:975] = 0.02
    patches = lab_to_linear(chart_lab().astype(np.float32)).reshape(4, 6, 3)
    for row, column in np.ndindex(4, 6):
        top, left = 360 + row * 70, 768 + column * 34
        scene[top : top + 60, left : left + 28] = patches[row, column]
    corners = ((0.768, 0.48), (0.966, 0.48), (0.966, 0.84), (0.768, 0.84))
    photograph = Photograph(scene, "wall.jpg", 1000, 750, "JPEG", "RGB", NO_PROFILE, 8)
    found = painting_of(photograph, light=LightAsked(chart=corners if named else None))
    assert found.canvas is not None
    np.testing.assert_allclose(found.canvas.corners, ((0.08, 0.08), (0.7, 0.08), (0.7, 0.88), (0.08, 0.88)), atol=0.01)
