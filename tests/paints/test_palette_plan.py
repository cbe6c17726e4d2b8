"""What ``critique palette`` works out for one picture."""

import json
from dataclasses import replace

import numpy as np
import pytest

from critique.errors import PaintError, ReferenceDataError
from critique.measures.families import measure_families
from critique.measures.greens import measure_greens
from critique.paints.box import box_of, default_box
from critique.paints.calm import calm_greens
from critique.paints.kubelka_munk import mixture_lab
from critique.paints.neutral import neutralising_partners
from critique.paints.palette_words import CALMEST, NOTICED_GREEN, is_calmer, left_over
from critique.perception.cielab import lab_to_lch, lab_to_srgb8, lch_of, lch_to_lab
from critique.perception.difference import delta_e_2000
from critique.perception.hue import beyond_leaf
from critique.perception.srgb import hex_of
from critique.picture.picture import picture_from_lab, picture_from_srgb
from critique.tasks.palette import plan_palette, study_for_review
from critique.words.painters import painters_word


def picture_of(fields):
    """Fields of colour one below the other, each a little broken."""
    lab = np.repeat(np.array(fields, np.float32), 24, axis=0)[:, None] + np.zeros((1, 180, 1), np.float32)
    lab += np.random.default_rng(1).normal(0, 1.2, lab.shape).astype(np.float32)
    return picture_from_lab(lab, picture_from_srgb(np.zeros((*lab.shape[:2], 3), np.uint8), "Ostermell.png"))


MEADOW = picture_of([[78, -5, -14], [84, 0, 6], [40, -30, 26], [57, -36, 50], [60, -34, 52], [52, 8, 22]])
QUIET = picture_of([[78, -3, -8], [70, 2, 10], [40, -6, 12], [52, -4, 18], [35, 4, 6], [60, 6, 20]])


@pytest.fixture(scope="module")
def plan():
    return plan_palette(MEADOW, default_box(), 4)


def test_three_palettes_are_worked_out_with_a_recipe_for_every_family(plan):
    assert [offer.proposal.kind for offer in plan.offers] == ["closest", "calmest greens", "widest gamut"]
    for offer in plan.offers:
        assert [row.family for row in offer.recipes] == [family.name for family in plan.families]
        held = {*offer.proposal.paints, offer.proposal.white}
        assert {part.paint for row in offer.recipes for part in row.recipe.parts} <= held
        assert [card.paint for card in offer.cards] == list(offer.proposal.paints) == list(offer.study.paints)
        assert {grey.partner for card in offer.cards for grey in card.partners} <= held
    assert plan.tried == 495 and plan.exhaustive


@pytest.mark.slow
def test_what_is_out_of_reach_in_the_reasons_is_out_of_reach_in_the_recipes():
    """A box without reds or violets asked for a purple that lies just at the edge of its reach, and beyond it."""
    box = box_of(["yellow ochre", "burnt sienna", "PB29", "PG7", "PY74"])
    for chroma in (8, 12, 16, 20, 24, 28):
        purple = picture_of([[78, -5, -8], [40, chroma, -chroma], [60, 2, 20], [50, -8, 18]])
        for offer in plan_palette(purple, box, 4).offers:
            outside = [row for row in offer.recipes if not row.recipe.within_reach]
            everything = "Every family of the picture is within its reach." in offer.proposal.gives_up
            assert everything <= (not outside)
            called = [painters_word(*lch_of(row.recipe.target_lab)) for row in outside]  # as the recipe is
            assert all(word in offer.proposal.gives_up for word in called[:1] if len(outside) <= 3)
            assert all(("Outside" in row.recipe.verdict) != row.recipe.within_reach for row in offer.recipes)


def test_a_paint_that_no_recipe_uses_is_said_to_be_one_for_the_box(plan):
    for offer in plan.offers:
        used = {part.paint for row in offer.recipes for part in row.recipe.parts}
        unused = [paint for paint in offer.proposal.paints if paint not in used]
        assert bool(offer.left_over) == bool(unused) and all(paint in offer.left_over for paint in unused)
    assert left_over(["PG7"], 4).endswith("three and white are enough, and it could stay in the box.")
    assert left_over([], 4) == ""


def test_recipes_of_the_closest_palette_come_near_the_picture(plan):
    for row, family in zip(plan.offers[0].recipes, plan.families, strict=True):
        assert not row.calmed and row.recipe.target_lab == pytest.approx(family.lab)
    assert (
        np.average([r.recipe.error for r in plan.offers[0].recipes], weights=[r.share for r in plan.offers[0].recipes])
        < 3
    )


def test_what_a_palette_is_said_to_miss_by_is_what_its_recipes_miss_by():
    """Averaged by area over the parts that are printed, in which strong tinters are let down in steps."""
    teals = picture_of([[78, -5, -14], [88, -6, -4], [40, -30, 26], [57, -36, 50], [70, -20, -12], [52, 8, 22]])
    (offer, *_) = plan_palette(teals, box_of(["PY35", "PG50", "PG18", "PY150", "raw umber", "PB28"]), 4).offers
    missed = np.average([row.recipe.error for row in offer.recipes], weights=[row.share for row in offer.recipes])
    assert offer.proposal.mean_error == pytest.approx(float(missed), abs=1e-3)
    assert [one.error for one in offer.proposal.families] == [row.recipe.error for row in offer.recipes]


def test_the_calmest_palette_is_told_and_painted_with_quieter_greens(plan):
    closest, calmest, _ = plan.offers
    calmed = [row for row in calmest.recipes if row.calmed]
    assert calmed and all(not beyond_leaf(np.array(row.recipe.target_lab)) for row in calmest.recipes)
    assert calmest.study.after.beyond_leaf_share < 0.02 < 0.2 < closest.study.after.beyond_leaf_share
    off = delta_e_2000(MEADOW.lab, calmest.study.picture.lab).mean()
    assert calmest.study.mean_error == pytest.approx(float(off), abs=0.3), "held to the picture, not to the calmed one"
    assert all(offer.study.before == measure_greens(MEADOW) for offer in plan.offers)


def test_calmed_greens_keep_value_hue_and_order_and_other_colours_stay():
    chroma = np.linspace(5, 90, 300)
    greens = lch_to_lab(np.stack([np.full(300, 58.0), chroma, np.full(300, 125.0)], -1)).astype(np.float32)
    before, after = lab_to_lch(greens), lab_to_lch(calm_greens(greens))
    assert np.allclose(before[:, [0, 2]], after[:, [0, 2]], atol=0.05)
    assert (np.diff(after[:, 1]) > 0).all() and not beyond_leaf(calm_greens(greens)).any()
    assert np.allclose(after[chroma < 20, 1], before[chroma < 20, 1], atol=0.1)
    others = np.array([[50, 60, 40], [40, 5, -40], [70, 10, 60]], np.float32)
    assert np.allclose(calm_greens(others), others, atol=1e-4)


def test_mixtures_are_also_shown_under_the_lamp_that_is_asked_for():
    lamp = plan_palette(QUIET, box_of(["ochre", "red oxide", "PB29", "PG7"]), 3, "A")
    row = lamp.offers[0].recipes[0]
    assert row.lamp_srgb == hex_of(lab_to_srgb8(mixture_lab(row.recipe.amounts, row.recipe.paints, "A")))
    assert row.lamp_srgb != row.recipe.srgb and lamp.offers[0].cards[0].light == "A"
    partners = neutralising_partners(lamp.offers[0].proposal.box, light="A")
    assert any(partners.values())
    for card in lamp.offers[0].cards:
        assert [grey.text for grey in card.partners] == [grey.text for grey in partners[card.paint]]


def test_the_record_is_plain_json_without_pictures(plan):
    record = json.loads(plan.as_line())
    assert record["picture"]["file"] == "Ostermell.png" and len(record["offers"]) == 3
    assert "lab" not in record["picture"] and "picture" not in record["offers"][0]["study"]
    assert record["offers"][0]["study"]["before"]["area_share"] == pytest.approx(
        measure_greens(MEADOW).area_share, rel=1e-5
    )
    assert any("titanium dioxide" in caution for caution in record["cautions"])


@pytest.mark.slow
def test_progress_is_told_palette_by_palette():
    seen = []

    def watched(proposals):
        for proposal in proposals:
            seen.append(proposal.kind)
            yield proposal

    plan_palette(MEADOW, box_of(["ochre", "red oxide", "PB29", "PG7", "PR254", "PY74"]), 3, watched=watched)
    assert seen[0] == "closest" and len(seen) == len(set(seen)) >= 2


@pytest.mark.parametrize("picture, kind", [(MEADOW, "calmest greens"), (QUIET, "closest")], ids=["loud", "quiet"])
def test_a_review_is_shown_the_calmest_study_only_where_greens_are_too_strong(picture, kind):
    limited = study_for_review(picture, measure_families(picture), measure_greens(picture))
    proposal, study = limited.proposal, limited.study
    assert proposal.kind == kind and study.paints == proposal.paints
    assert study.after.beyond_leaf_share < 0.02 and study.value_error < 0.2


def test_a_box_of_three_paints_carries_a_review_as_it_can_and_one_of_two_gives_no_palette():
    families, greens = measure_families(QUIET), measure_greens(QUIET)
    three = study_for_review(QUIET, families, greens, box_of(["PG7", "PY74", "PB29"]))
    assert len(three.proposal.paints) == 3
    assert study_for_review(QUIET, families, greens, box_of(["PG7", "PY74"])) is None


def test_a_box_too_small_and_a_light_unknown_are_refused():
    with pytest.raises(PaintError, match="too few to choose 4"):
        plan_palette(QUIET, box_of(["PG7", "PY74", "PB29"]), 4)
    with pytest.raises(ReferenceDataError, match="no light"):
        plan_palette(QUIET, default_box(), 4, "moon")


@pytest.mark.slow
def test_a_calmest_palette_is_offered_only_where_it_is_calmer():
    # Three greens of a leaf among greys: the closest palette of so small a box is as calm as any.
    rng = np.random.default_rng(1)
    codes = np.full((96, 128, 3), 128, np.uint8) + rng.integers(-9, 9, (96, 128, 3)).astype(np.uint8)
    codes[40:] = (90, 110, 60)
    found = plan_palette(picture_from_srgb(codes), box_of(["PY3", "PR108", "burnt sienna", "ultramarine", "PB15:3"]), 4)
    closest = found.offers[0].proposal
    for offer in found.offers[1:]:
        if offer.proposal.kind == CALMEST:
            assert closest.strongest_green - offer.proposal.strongest_green >= NOTICED_GREEN
    assert not is_calmer(closest, closest)
    assert is_calmer(replace(closest, strongest_green=closest.strongest_green - NOTICED_GREEN), closest)
