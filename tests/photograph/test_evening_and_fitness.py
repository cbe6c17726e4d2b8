"""Falloff read off a wall, and what a camera did, put in by the test itself."""

import numpy as np
import pytest
from demo_pictures import demo_path

from critique.photograph.evening import light_across
from critique.photograph.fitness import fitness_of, said
from critique.photograph.read import read_photograph

CANVAS = ((0.25, 0.25), (0.75, 0.25), (0.75, 0.75), (0.25, 0.75))


@pytest.fixture(scope="module")
def painting():
    return read_photograph(demo_path("tolvesk_01_ostermell_meadow.jpg")).light


def on_wall(painting, fall):
    """A painting on a grey wall, lit from the left so that the wall's ends differ by ``fall``."""
    scene = np.full((480, 640, 3), 0.4, np.float32)
    scene[120:360, 160:480] = painting[: 5 * 240 : 5, : 5 * 320 : 5][:240, :320]
    x = (np.arange(640, dtype=np.float32) + 0.5) / 640 - 0.5
    noise = np.random.default_rng(0).normal(1, 0.01, scene.shape)
    return (scene * np.exp(-np.log(fall) * x)[:, None] * noise * 0.8).astype(np.float32)


def judged(light, long_edge=None, **options):
    found = fitness_of(light, long_edge=long_edge or max(light.shape[:2]), **options)
    return {one.subject: one for one in found}


@pytest.mark.parametrize("fall", [1.0, 1.2, 1.6])
def test_falloff_on_the_canvas_is_read_off_the_wall(painting, fall):
    found = light_across(on_wall(painting, fall), CANVAS)
    assert found is not None and found.sure
    assert found.falloff == pytest.approx(fall**0.5, rel=0.03)  # the canvas is half as wide as the wall


def test_evening_takes_the_falloff_away(painting):
    lit, even = on_wall(painting, 1.6), on_wall(painting, 1.0)
    found = light_across(lit, CANVAS)
    done = found.applied(lit, CANVAS)
    inside = slice(130, 350), slice(170, 470)
    ratio = done[inside].mean((0, 2)) / even[inside].mean((0, 2))
    assert np.ptp(ratio) / ratio.mean() < 0.03


def test_a_wall_of_two_paints_is_not_sure(painting):
    scene = on_wall(painting, 1.2)
    scene[:, :330] *= np.array([1.0, 0.6, 0.4], np.float32)
    found = light_across(scene, CANVAS)
    assert found is None or not found.sure


@pytest.mark.parametrize("fall", [1.0, 1.8])
def test_planks_show_the_falloff_as_a_guess(painting, fall):
    """Boards of other tones, 40 px wide, in the same light."""
    scene = on_wall(painting, fall)
    outside = np.ones(scene.shape[:2], bool)
    outside[120:360, 160:480] = False
    tones = np.random.default_rng(3).normal(1, 0.13, 16)[(np.arange(640) // 40)]
    scene[outside] *= np.broadcast_to(tones[None, :, None], scene.shape)[outside].astype(np.float32)
    found = light_across(scene, CANVAS)
    assert found is not None and not found.sure
    assert found.falloff == pytest.approx(fall**0.5, rel=0.08)
    told = judged(painting, falloff=found.falloff if found.likely else None, sure=found.sure).get("falloff")
    if fall > 1.5:
        assert found.likely is True and told.level != "holds" and told.trust == "a guess" and "perhaps" in said(told)
    else:
        assert told is None or told.level == "holds"


@pytest.mark.parametrize("dark", [slice(0, 90), slice(560, 640)])
def test_a_wall_that_goes_back_into_a_corner_is_not_sure(painting, dark):
    """The same paint, another plane: no light falls off like that, and what lies between is guessed."""
    scene = on_wall(painting, 1.1)
    scene[:, dark] *= 0.6
    found = light_across(scene, CANVAS)
    assert found is not None and not found.sure


def test_a_sharp_clean_picture_holds(painting):
    found = judged(painting)
    assert {subject: one.level for subject, one in found.items()} == dict.fromkeys(found, "holds")


def test_blur_is_seen(painting):
    from scipy.ndimage import gaussian_filter

    blurred = gaussian_filter(painting, (3, 3, 0))
    assert judged(blurred)["sharpness"].level == "rework"
    assert judged(blurred)["sharpness"].figure > judged(gaussian_filter(painting, (1, 1, 0)))["sharpness"].figure


@pytest.mark.slow
def test_where_no_step_is_sharp_the_photograph_is_not_called_sharp(painting):
    from scipy.ndimage import gaussian_filter

    unknown = judged(gaussian_filter(painting, (40, 40, 0)))["sharpness"]
    assert unknown.level == "holds" and "can't be told" in said(unknown)
    assert said(judged(painting)["sharpness"]) == "The photograph is sharp."


def test_glare_is_seen_and_stray_lights_are_not(painting):
    shine = shine_on(painting)
    clipped = ((painting + shine) >= 1).all(axis=2).mean()
    assert clipped > 0.02 and judged(np.minimum(painting + shine, 1))["glare"].level == "rework"
    assert judged(np.minimum(painting + shine, 1))["glare"].figure == pytest.approx(clipped, rel=0.1)
    lit = np.minimum(painting + shine, 1)
    assert said(judged(lit, straightened=True)["glare"]).startswith("Glare probably hides")
    assert "If that is shine" in said(judged(lit)["glare"])  # a file that is all painting may show a white cloud
    speckled = painting.copy()
    speckled[::40, ::40] = 1
    assert judged(speckled)["glare"].level == "holds"


@pytest.mark.filterwarnings("error")
def test_white_patches_with_nothing_around_them_are_told_without_a_warning():
    # Between patches as near to each other as these no paint lies for shine to fade over: there is no mean of it.
    white = (np.arange(150) + 8) % 10 < 6
    codes = np.where((white[:, None] & white)[..., None], 255, np.full(3, 20)).astype(np.uint8)
    fitness = fitness_of(read_photograph(codes).light, long_edge=150, straightened=False, falloff=None, sure=False)
    assert "glare" in {one.subject for one in fitness}


def test_white_paper_is_no_glare(painting):
    holed, edged = painting.copy(), painting.copy()
    holed[300:500, 400:600] = 0.995  # ends where it ends
    edged[:60] = edged[:, :60] = 0.995
    assert judged(holed)["glare"].level == judged(edged)["glare"].level == "holds"
    assert judged(np.minimum(edged + shine_on(painting), 1))["glare"].figure < 0.06  # a margin isn't counted with it


def shine_on(painting):
    """Light that fades out over the paint, (height, width, 1)."""
    height, width, _ = painting.shape
    u, v = np.meshgrid(np.arange(width) / width - 0.4, np.arange(height) / height - 0.5)
    return (1.6 * np.exp(-(((u**2 + v**2) / 0.15**2) ** 2)))[..., None].astype(np.float32)


def test_noise_is_measured(painting):
    from critique.perception.srgb import decode_srgb, encode_srgb

    flat = np.full((400, 400, 3), 0.5, np.float32)
    noisy = flat + np.random.default_rng(1).normal(0, 0.03, (400, 400, 1)).astype(np.float32)
    assert judged(decode_srgb(noisy))["noise"].figure == pytest.approx(3.0, rel=0.15)
    codes = encode_srgb(painting) + np.random.default_rng(1).normal(0, 0.04, (*painting.shape[:2], 1))
    assert judged(decode_srgb(np.clip(codes, 0, 1).astype(np.float32)))["noise"].level != "holds"


def test_few_px_are_seen(painting):
    assert judged(painting, 390)["few px"].level == "rework"
    assert judged(painting, 600)["few px"].level == "watch"


def test_a_border_left_in_is_seen(painting):
    framed = painting.copy()
    framed[:30] = 0.05
    found = judged(framed)["border"]
    assert found.level == "rework" and found.figure == pytest.approx(30 / painting.shape[0], abs=0.002)


def test_moire_is_seen(painting):
    y, x = np.mgrid[: painting.shape[0], : painting.shape[1]]
    waves = 1 + 0.25 * np.sin(2 * np.pi * (0.21 * x + 0.13 * y))
    assert judged((painting * waves[..., None]).astype(np.float32))["moire"].level != "holds"


def test_every_finding_has_a_sentence_and_a_bad_one_its_remedy(painting):
    bad = painting.copy()
    bad[300:500, 400:600] = 1
    for one in fitness_of(bad, long_edge=390):
        assert said(one).endswith(".") and "{" not in said(one)
        assert (one.remedy == "none") == (one.level == "holds")
