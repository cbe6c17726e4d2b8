"""Masses, touch, outlines, edges and closed darks, on scenes whose figure is known."""

import numpy as np
import pytest
from scenes import bands, doubled, grey, mirrored, painted, rough
from scipy.ndimage import gaussian_filter
from scipy.spatial import cKDTree

from critique.advice.fault_limits import (
    judge_busy_foreground,
    judge_closed_darks,
    judge_flecks,
    judge_hard_edges,
    judge_outlines,
    judge_scattered,
    patchy,
)
from critique.measures.closed_darks import measure_closed_darks
from critique.measures.detail import measure_detail
from critique.measures.edges import measure_edges
from critique.measures.masses import measure_masses
from critique.measures.outlines import DARK, measure_outlines
from critique.measures.parts import measure_parts
from critique.measures.smoothing import FINEST
from critique.perception.cielab import lab_to_srgb8
from critique.picture.picture import picture_from_srgb


def tiles(seed=1, size=16):
    rng = np.random.default_rng(seed)
    return grey(rng.uniform(15, 90, (27, 40)).repeat(size, 0).repeat(size, 1)[:426, :640])


def hill(width=640, height=426):
    """A smooth sky, and a hill whose crest is a parabola."""
    y, x = np.mgrid[:height, :width]
    crest = 250 - 100 * (1 - ((x - width / 2) / (width / 2)) ** 2)
    return y, crest


EVERY = (measure_masses, measure_detail, measure_outlines, measure_edges, measure_closed_darks)


def test_random_tiles_keep_less_than_a_third_of_their_variance_and_a_landscape_of_bands_almost_all():
    # Figures of an outside reading: random grey tiles under 0.3, landscapes 0.28-0.9.
    assert measure_masses(tiles()).kept < 0.3
    assert judge_scattered(measure_masses(tiles())) == "rework"
    calm = measure_masses(bands((0.4, (80, 0, 0)), (0.6, (30, 0, 0))))
    assert calm.kept > 0.85
    assert judge_scattered(calm) == "holds"


@pytest.mark.parametrize(("half", "level"), ((28, "watch"), (46, "rework")))
def test_tiles_beside_one_large_quiet_shape_leave_that_to_hold_on_to(half, level):
    light = np.random.default_rng(1).uniform(50 - half, 50 + half, (27, 40)).repeat(16, 0).repeat(16, 1)[:426, :640]
    all_over = measure_masses(grey(light))
    light[:, :200] = 50
    beside = measure_masses(grey(light))
    assert beside.kept < 0.36 and beside.scraps_everywhere < 1
    assert (judge_scattered(all_over), judge_scattered(beside)) == (level, "holds")


def test_confetti_over_a_landscape_is_heard_everywhere_and_a_busy_half_alone_is_no_confetti():
    y, crest = hill()
    masses = np.where(y < crest, 72.0, 32.0)
    steps = np.random.default_rng(4).choice([-12.0, 12.0], (24, 36)).repeat(18, 0).repeat(18, 1)[:426, :640]
    all_over = measure_masses(grey(masses + steps))
    assert all_over.scraps < 9.3 and judge_scattered(all_over) == "watch"
    below = measure_masses(grey(np.where(y < crest, masses, masses + steps)))
    assert judge_scattered(below) == "holds" and below.scraps_everywhere < 0.5 * all_over.scraps_everywhere


def test_broken_values_are_no_confetti_where_colour_tells_big_shapes_apart():
    lab = np.zeros((426, 640, 3), dtype=np.float32)
    spots = np.random.default_rng(1).uniform(-1, 1, (27, 40)).repeat(16, 0).repeat(16, 1)[:426, :640]
    lab[..., 0] = 50 + spots * np.linspace(8, 34, 640)  # hardly a shape in them, and quieter on one side
    broken = measure_masses(picture_from_srgb(lab_to_srgb8(lab)))
    lab[:213, :, 2], lab[213:, :, 2] = -16, 16
    coloured = measure_masses(picture_from_srgb(lab_to_srgb8(lab)))
    assert broken.colour_apart < 2 < 12 < coloured.colour_apart < 17
    assert coloured.scraps == pytest.approx(broken.scraps, rel=0.05)
    assert (judge_scattered(broken), judge_scattered(coloured)) == ("watch", "holds")


def test_blotches_over_big_shapes_are_patchy_and_the_shapes_are_still_there():
    y, crest = hill()
    shapes = np.where(y < crest, 78.0, 30.0)
    blotches = gaussian_filter(np.random.default_rng(4).standard_normal(shapes.shape), 6)
    gone_over = measure_masses(grey(shapes + 7 * blotches / blotches.std()))
    assert patchy(gone_over) and judge_scattered(gone_over) == "watch" and gone_over.kept > 0.8
    in_the_ground = measure_masses(grey(shapes + np.where(y < crest, 0, 7) * blotches / blotches.std()))
    assert not patchy(in_the_ground) and judge_scattered(in_the_ground) == "holds"


def test_masses_of_three_bands_are_three_with_their_shares_values_and_places():
    masses = measure_masses(bands((0.5, (82, 0, 0)), (0.2, (25, 0, 0)), (0.3, (55, 0, 0))))
    assert masses.regions == 3
    sky, wood, field = (min(masses.largest, key=lambda mass: abs(mass.value - value)) for value in (8.2, 2.5, 5.5))
    assert [mass.value for mass in (sky, wood, field)] == pytest.approx([8.2, 2.5, 5.5], abs=0.4)
    assert [mass.share for mass in (sky, wood, field)] == pytest.approx([0.5, 0.2, 0.3], abs=0.05)
    assert [mass.y for mass in (sky, wood, field)] == pytest.approx([0.25, 0.6, 0.85], abs=0.03)
    assert [mass.x for mass in (sky, wood, field)] == pytest.approx([0.5, 0.5, 0.5], abs=0.01)
    assert masses.held == pytest.approx(1.0, abs=0.01)
    assert (masses.map == masses.largest[0].label).mean() == pytest.approx(masses.largest[0].share)


def test_a_plain_grey_has_one_mass_and_no_scraps():
    masses = measure_masses(bands((1.0, (50, 0, 0))))
    assert (masses.kept, masses.regions) == (1.0, 1)
    assert masses.scraps < 0.01


def test_equal_touches_all_over_are_even_and_a_smooth_sky_makes_them_uneven():
    everywhere = measure_detail(grey(rough(np.full((426, 640), 50.0), 9)))
    assert everywhere.evenness > 0.8
    assert judge_flecks(everywhere) == "rework"
    light = np.full((426, 640), 70.0)
    light[200:] = rough(light, 9)[200:] - 20
    assert measure_detail(grey(light)).evenness < 0.1
    assert judge_flecks(measure_detail(grey(light))) == "holds"


def test_strokes_that_hang_here_and_lie_there_are_not_the_same_marks_and_those_that_all_hang_are():
    noise = np.random.default_rng(3).normal(0, 1, (426, 640))
    hanging, lying = (gaussian_filter(noise, spreads) for spreads in ((4, 1), (1, 4)))
    hanging, lying = (50 + 7 * strokes / strokes.std() for strokes in (hanging, lying))
    alike = measure_detail(grey(hanging))
    apart = measure_detail(grey(np.concatenate([hanging[:213], lying[213:]])))
    assert alike.evenness > 0.7 and apart.evenness > 0.7
    assert alike.directions < 0.2 and apart.directions > 0.6
    assert judge_flecks(alike) != "holds" and judge_flecks(apart) == "holds"


def test_detail_is_the_spread_of_the_touches_in_lightness():
    # Touches of a known root mean square, made of noise by a blur of 1 px; a second blur, by what the finest is, leaves
    # them 1/√(1 + spread²) of it. The blur that parts touch from shape leaves some of each in the other.
    fine, strong = (measure_detail(grey(rough(np.full((426, 640), 50.0), rms))).quietest for rms in (4.0, 8.0))
    assert strong == pytest.approx(2 * fine, rel=0.05)
    assert fine == pytest.approx(4.0 / np.hypot(1, FINEST * 640), rel=0.25)


def test_a_busy_lowest_quarter_outdoes_the_focal_zone_and_a_quiet_one_does_not():
    light = np.full((426, 640), 60.0)
    light[140:200, 380:460] = rough(light, 8, seed=5)[140:200, 380:460]
    quiet = measure_detail(grey(light))
    assert judge_busy_foreground(quiet) == "holds"
    assert (quiet.zone_x, quiet.zone_y) == (pytest.approx(420 / 640, abs=0.05), pytest.approx(170 / 426, abs=0.06))
    light[320:] = rough(light, 14)[320:]
    busy = measure_detail(grey(light))
    assert busy.foreground > 1.2 and busy.foreground_to_rest > 3
    assert judge_busy_foreground(busy) != "holds"


def test_the_same_detail_below_is_busy_sooner_as_small_marks_than_as_larger_shapes():
    light = np.full((426, 640), 60.0)
    light[140:200, 380:460] = rough(light, 12, seed=5)[140:200, 380:460]
    gathered = light.copy()
    light[320:] = rough(light, 12)[320:]
    gathered[320:] = 60 + gaussian_filter(np.random.default_rng(4).normal(0, 220, light.shape), 4)[320:]
    marks, shapes = measure_detail(grey(light)), measure_detail(grey(gathered))
    assert judge_busy_foreground(marks) != "holds"
    assert shapes.foreground_marks / shapes.foreground < 0.6 * marks.foreground_marks / marks.foreground


def test_a_black_line_round_a_hill_is_as_long_as_its_crest_and_without_it_there_is_none():
    y, crest = hill()
    light = gaussian_filter(np.where(y > crest, 50.0, 75.0), 0.7)
    assert measure_outlines(grey(light)).length == 0
    drawn = np.where(np.abs(y - crest) < 2.2, 8.0, light)
    lines = measure_outlines(grey(drawn))
    length = np.hypot(1, np.gradient(crest[0])).sum() / 640
    assert lines.length == pytest.approx(length, rel=0.15)
    assert lines.y == pytest.approx(crest[0].mean() / 426, abs=0.03) and lines.lightness < 25
    assert judge_outlines(lines) == "watch"


def test_a_thin_line_round_a_cloud_is_an_outline_though_it_is_seen_as_a_grey_one():
    y, x = np.mgrid[:426, :640]
    away = np.hypot(y - 150, x - 320)
    sky = np.zeros((426, 640, 3)) + np.where(away < 110, 94.0, 76.0)[..., None]
    sky[..., 1:] = np.where((away < 110)[..., None], (0, 2), (-6, -24))
    without = measure_outlines(picture_from_srgb(lab_to_srgb8(sky)))
    sky[np.abs(away - 110) < 1.1] = (40, 0, 0)
    lines = measure_outlines(picture_from_srgb(lab_to_srgb8(sky)))
    assert without.length == 0 and lines.lightness > DARK[0]
    assert lines.length == pytest.approx(2 * np.pi * 110 / 640, rel=0.25) and judge_outlines(lines) == "watch"


def test_short_dark_strokes_in_water_go_round_no_shape_and_the_same_on_land_may():
    lab, water = painted().lab, measure_parts(painted()).mask("water")
    assert 0.05 < water.mean() < 0.5

    def struck(where):
        drawn, rng = lab.copy(), np.random.default_rng(5)
        rows, columns = np.nonzero(where[4:-16, 4:-24])
        for at in rng.choice(len(rows), 60):
            row = 4 + rows[at] * lab.shape[0] // where.shape[0]
            column = 4 + columns[at] * lab.shape[1] // where.shape[1]
            drawn[row : row + 2, column : column + 18] = (8, 0, 0)
            drawn[row + 2 : row + 9, column : column + 18, 0] += 14
        return measure_outlines(picture_from_srgb(lab_to_srgb8(drawn)))

    wet, dry = struck(water), struck(~water)
    assert wet.length > 0.3 and wet.drawn < 0.5 * wet.length
    assert dry.length > 0.2 and dry.drawn > 0.9 * dry.length


def test_the_shadows_of_waves_all_run_one_way_and_a_line_round_a_shape_does_not():
    y, x = np.mgrid[:426, :640]
    waves = 50.0 + 8 * ((y // 60) % 2 * 2 - 1)
    waves[np.abs((y + 30) % 60 - 30) < 2.2] = 8
    along = measure_outlines(grey(waves))
    away = np.hypot(y - 213, x - 320)
    island = np.where(away < 160, 42.0, 62.0)
    island[np.abs(away - 160) < 2.2] = 8
    around = measure_outlines(grey(island))
    assert along.length > 3 and along.one_way > 0.98
    assert around.length == pytest.approx(2 * np.pi * 160 / 640, rel=0.15) and around.one_way < 0.1
    assert (judge_outlines(along), judge_outlines(around)) == ("holds", "watch")


def test_a_branch_against_one_sky_is_no_outline():
    y, crest = hill()
    assert measure_outlines(grey(np.where(np.abs(y - crest) < 2.2, 8.0, 75.0))).length < 0.05


def test_an_even_slope_is_all_lost_edge():
    slope = measure_edges(grey(np.tile(np.linspace(5, 95, 160), (100, 1))))
    assert slope.softness == pytest.approx(1, abs=0.03)
    assert (slope.found, slope.lost) == (0, pytest.approx(1, abs=0.02))
    assert judge_hard_edges(slope) == "holds"


def test_cut_edges_between_flat_fields_have_the_softness_of_their_width():
    # A step read through a Gaussian of spread s in a place n px wide: mean slope 1/n, mean square 1/(2 s √π n), so the
    # one against the root of the other is √(2 s √π / n). The central difference widens s by a third of a px squared.
    # Places that hold an edge's tail alone bring the mean down by up to a sixth.
    light = 35.0 + 40 * ((np.arange(426) // 45) % 2)[:, None] * np.ones((1, 640))
    for spread in (0.3, 0.7):
        edges = measure_edges(grey(gaussian_filter(light, (spread, 0))))
        width = np.sqrt(spread**2 + 1.6**2 + 1 / 3)
        assert edges.softness == pytest.approx(0.91 * np.sqrt(2 * width * np.sqrt(np.pi) / 21), rel=0.09)
    assert edges.found > 0.8
    assert judge_hard_edges(edges) == "rework"


def test_blended_and_broken_edges_are_softer_than_cut_ones():
    y, crest = hill()
    hills = 35 + 40 * (((y - crest) // 45) % 2)
    cut, blended = measure_edges(grey(hills)), measure_edges(grey(rough(gaussian_filter(hills, 2.5), 1.5)))
    assert blended.softness > cut.softness + 0.2
    assert (judge_hard_edges(cut), judge_hard_edges(blended)) == ("rework", "holds")


def test_a_dune_among_faint_dabs_is_not_cut_out_all_over_and_many_cut_shapes_are():
    y, crest = hill()
    random = np.random.default_rng(7)
    middles = random.uniform(0, (426, 640), (900, 2))
    dab = cKDTree(middles).query(np.stack(np.mgrid[:426, :640], -1).reshape(-1, 2))[1].reshape(426, 640)
    faint, strong = (random.choice([-1.0, 1.0], 900)[dab] * amount for amount in (1.5, 9.0))
    dune = measure_edges(grey(np.where(y < crest, 65.0, 40.0) + faint))
    assert dune.found > 0.5 and dune.lost < 0.1 and dune.seen < 0.3
    paper = measure_edges(grey(np.where(y < crest, 65.0, 40.0) + strong))
    assert paper.seen > 0.6
    assert (judge_hard_edges(dune), judge_hard_edges(paper)) == ("holds", "rework")


def chips(spread: float) -> np.ndarray:
    """L* of flat patches whose borders have a spread in px, all of it under level tracks of a brush."""
    random = np.random.default_rng(7)
    middles = random.uniform(0, (426, 640), (220, 2))
    patch = cKDTree(middles).query(np.stack(np.mgrid[:426, :640], -1).reshape(-1, 2))[1].reshape(426, 640)
    light = gaussian_filter(random.uniform(20, 80, 220)[patch], spread)
    tracks = gaussian_filter(random.standard_normal(light.shape), (1.5, 12))
    return light + 2.5 * tracks / tracks.std()


def test_patches_with_cut_borders_are_cut_out_though_strokes_melt_in_them_and_chips_with_soft_ones_are_not():
    cut, soft = measure_edges(grey(chips(0.4))), measure_edges(grey(chips(1.5)))
    assert min(cut.lost, soft.lost) > 0.02 and cut.at_once > 0.9 and soft.at_once < 0.7
    assert (judge_hard_edges(cut), judge_hard_edges(soft)) == ("watch", "holds")


@pytest.mark.parametrize("measure", EVERY)
def test_a_mirrored_picture_measures_the_same(measure):
    picture = painted()
    there, back = measure(picture), measure(mirrored(picture))
    for name in there.__dataclass_fields__:
        one, other = getattr(there, name), getattr(back, name)
        if not isinstance(one, float):
            continue
        if name in ("x", "zone_x"):
            other = 1 - other
        assert one == pytest.approx(other, rel=0.06, abs=0.05), name


@pytest.mark.slow
@pytest.mark.parametrize("measure", (measure_masses, measure_detail, measure_closed_darks))
def test_a_doubled_picture_measures_the_same(measure):
    codes = painted(width=640, height=426).srgb.copy()
    codes[120:180, 420:500] = lab_to_srgb8(grey(rough(np.full((426, 640), 60.0), 9)).lab)[
        120:180, 420:500
    ]  # a busy place
    picture = picture_from_srgb(codes)
    once, twice = measure(picture), measure(doubled(picture))
    for name in once.__dataclass_fields__:
        if isinstance(getattr(once, name), float):
            assert getattr(once, name) == pytest.approx(getattr(twice, name), rel=0.06, abs=0.05), name


@pytest.mark.parametrize("measure", EVERY)
@pytest.mark.parametrize("shape", ((1, 1), (2, 9), (30, 40), (5, 640)))
def test_tiny_and_blank_pictures_have_figures_and_no_fault(measure, shape):
    result = measure(grey(np.full(shape, 60.0)))
    numbers = [value for name in result.__dataclass_fields__ if isinstance(value := getattr(result, name), float)]
    assert np.isfinite(numbers).all()
    judges = {
        measure_masses: (judge_scattered,),
        measure_detail: (judge_flecks, judge_busy_foreground),
        measure_outlines: (judge_outlines,),
        measure_edges: (judge_hard_edges,),
        measure_closed_darks: (judge_closed_darks,),
    }
    assert all(judge(result) == "holds" for judge in judges[measure])
