"""How mixtures cover what lies below, and how surely that is told."""

import pytest

from critique.paints.box import box_of, find_paint
from critique.paints.recipes import recipe_of
from critique.tasks.covering import covering


def test_white_covers_and_a_thin_stain_over_a_dark_wants_white_first():
    box = box_of(["hansa yellow opaque", "ultramarine"])
    white = recipe_of([0, 0, 1], box.with_white, (97, 0, 2))
    stain = recipe_of([1, 0, 0], box.with_white, (70, 10, 80))
    dark = recipe_of([0, 1, 0], box.with_white, (15, 20, -40))
    assert covering(white, dark).opacity == "opaque"
    over_dark = covering(stain, dark)
    assert over_dark.white_first and over_dark.opacity != "opaque"
    assert not covering(stain, None).white_first


@pytest.mark.parametrize("amounts", [[8, 4, 1, 1], [0, 5, 1, 1]])
def test_a_mixture_is_certain_to_cover_only_where_all_its_paints_were_measured(amounts):
    """White comes first among them, and was measured: PY3, PR83 and PB27 are known by two dabs. [paints_typical.csv]"""
    names = ["titanium white", "lemon yellow", "alizarin crimson", "prussian blue"]
    held = covering(recipe_of(amounts, [find_paint(name) for name in names], (60, -10, 30)), None)
    assert not held.certain and held.coats and "try it there first" in held.text
    sure = covering(recipe_of([8, 1], [find_paint("titanium white"), find_paint("ultramarine")], (70, 0, -20)), None)
    assert sure.certain and "try it" not in sure.text
