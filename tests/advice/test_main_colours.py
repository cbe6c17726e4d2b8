"""The colours that a picture is said to be made of are those that one sees in it."""

from dataclasses import replace

from measured import measured, with_others

from critique.advice.findings import all_findings
from critique.advice.judging import Case
from critique.advice.main_colours import main_colours
from critique.advice.norms import read_norms
from tests.measures.scenes import bands, painted

RAPE = (81, -11, 79)  # rape in flower, measured on a photograph of a field


def told(*parts):
    picture = bands(*parts)
    return main_colours(picture, measured(picture))


def test_a_sky_that_pales_downward_is_one_blue():
    colours = dict(told((0.2, (45, 0, -35)), (0.2, (60, -3, -28)), (0.2, (78, -4, -14)), (0.4, (40, 10, 22))))
    blues = [name for name in colours if "blue" in name]
    assert len(blues) == 1 and abs(colours[blues[0]] - 0.6) < 0.03


def test_a_strong_colour_is_named_though_two_quieter_ones_cover_more():
    colours = dict(told((0.45, (75, -3, -12)), (0.42, (35, 6, 14)), (0.13, (62, 38, 55))))
    assert len(colours) == 3 and any("orange" in name for name in colours)


def test_what_covers_much_is_not_left_out_and_greys_are_told_together():
    """Readers of a brook between pale rocks, a third of it in two greys: pale grey rocks are a third."""
    colours = dict(told((0.4, (30, -10, 12)), (0.26, (17, -2, 3)), (0.2, (54, -1, 3)), (0.14, (75, 0, 0))))
    assert abs(colours["greys"] - 0.34) < 0.02
    river = dict(told((0.45, (45, -14, 20)), (0.35, (80, 2, 10)), (0.2, (60, -6, -20))))
    assert any("blue" in name for name in river)


def test_what_readers_missed_is_told_a_brown_sea_cream_sails_and_an_orange_sky():
    """A fourth colour of a fifth; a cream that stands out from greys; a strong little sky beside four others."""
    sea = dict(told((0.3, (88, -1, 3)), (0.26, (63, 11, -32)), (0.24, (73, 8, -30)), (0.2, (37, 8, 7))))
    assert any("brown" in name for name in sea)
    ship = dict(told((0.5, (61, 0, -14)), (0.42, (68, 0, 6)), (0.08, (86, -2, 24))))
    assert any("cream" in name or "yellow" in name for name in ship)
    village = told(
        (0.36, (42, 11, 1)), (0.32, (12, 5, -1)), (0.14, (26, 35, 14)), (0.12, (42, 18, 33)), (0.06, (76, 18, 56))
    )
    assert len(village) == 5


def test_no_fourth_colour_is_told_that_is_another_tone_or_name_of_one_before_it():
    names = [
        name for name, _ in told((0.34, (48, -4, 26)), (0.3, (32, -6, 14)), (0.2, (70, -1, 2)), (0.16, (84, 0, 1)))
    ]
    assert sum("grey" in name or "white" in name for name in names) <= 2
    assert len(names) == len(set(names)) <= 4


def test_browns_far_apart_in_hue_are_not_one_colour():
    colours = dict(told((0.35, (23, 20, 1)), (0.35, (58, 15, 19)), (0.3, (70, -2, -14))))
    assert max(colours.values()) < 0.5


def test_a_field_of_rape_is_yellow_and_neither_grass_nor_a_lean_to_green():
    picture = bands((0.3, (45, 0, -35)), (0.3, (75, -3, -16)), (0.4, RAPE))
    measures = measured(picture)
    assert measures.greens.reads_as_green_share < 0.05
    case = Case(picture, measures, read_norms())
    findings = {finding.kind: finding for finding in all_findings(case)}
    assert "green_strength" not in findings or findings["green_strength"].level == "holds"
    assert "green_cast" not in findings
    assert any("yellow" in name for name, _ in main_colours(picture, measures))


def test_no_edge_is_told_to_be_cut_out_where_all_values_are_close():
    picture = painted()
    measures = measured(picture)
    hard = replace(measures.edges, softness=0.5, lost=0.0, seen=0.5)
    told = {}
    for spread in (3.0, 6.0):
        case = Case(
            picture, with_others(measures, edges=hard, values=replace(measures.values, range=spread)), read_norms()
        )
        told[spread] = any(finding.kind == "hard_edges" for finding in all_findings(case))
    assert told == {3.0: False, 6.0: True}


def test_a_black_of_a_tenth_is_named_and_so_is_one_that_is_counted_to_a_dark_colour():
    """Readers missed black horses before a meadow and a sky, and denied that a black tree was dark olive."""
    horses = dict(told((0.5, (82, -9, -23)), (0.22, (60, -9, 21)), (0.15, (50, -9, 18)), (0.13, (9, -1, 0))))
    assert abs(horses["near-black"] - 0.13) < 0.01 and sum(horses.values()) <= 1.0
    few = dict(told((0.5, (82, -9, -23)), (0.27, (60, -9, 21)), (0.2, (50, -9, 18)), (0.03, (9, -1, 0))))
    assert "near-black" not in few
    picture = bands((0.5, (61, 0, -25)), (0.2, (75, 3, 24)), (0.1, (5, 0, 1)), (0.2, (18, 2, 14)))
    measures = measured(picture)
    sky, wall = (family for family in measures.families if family.lch[0] > 50)
    dark = replace(sky, share=0.3, lab=(14.0, 1.0, 9.0), lch=(14.0, 9.1, 84.0))
    castle = dict(main_colours(picture, with_others(measures, families=(sky, dark, wall))))
    shade = next(share for name, share in castle.items() if name.startswith("dark"))
    assert abs(castle["near-black"] - 0.1) < 0.01 and abs(shade - 0.2) < 0.01


def test_a_quiet_colour_that_nothing_told_is_like_is_told_too():
    """Red-brown cows in a grey-green field, a seventh of it, were left out for three grey-greens."""
    cows = dict(told((0.36, (67, -6, 19)), (0.3, (56, -8, 24)), (0.22, (54, 0, 12)), (0.12, (42, 17, 13))))
    assert any("brown" in name for name in cows)
    meadow = told((0.36, (67, -6, 19)), (0.3, (56, -8, 24)), (0.22, (60, -7, 22)), (0.12, (58, -4, 14)))
    assert len(meadow) <= 2
