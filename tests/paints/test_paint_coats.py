"""How paints cover."""

import numpy as np
import pytest

from critique.paints.box import find_paint, measured_box, whole_box
from critique.paints.coats import coat_lab, contrast_ratio, hiding
from critique.paints.kubelka_munk import paint_lab
from critique.paints.paint import OWN_DABS, Paint
from critique.perception.difference import delta_e_2000


def test_a_full_coat_is_that_of_titanium_white_which_just_hides():
    # 0.98 is where a coat is taken to hide fully [ISO 6504-3; ASTM D2805].
    assert contrast_ratio(find_paint("PW6")) == pytest.approx(0.98, abs=1e-6)


@pytest.mark.parametrize("paint", measured_box().paints, ids=lambda paint: paint.colour_index)
def test_more_paint_hides_more(paint):
    ratios = [contrast_ratio(paint, coats) for coats in (0.05, 0.2, 1.0, 3.0, 10.0)]
    assert np.all(np.diff(ratios) > 0) or ratios[-1] > 0.999
    assert 0 <= ratios[0] and ratios[-1] <= 1


def test_opaque_paints_of_the_trade_hide_better_than_transparent_ones_of_like_value():
    """Common practice, no source: cadmium and quinacridone red, bismuth and hansa yellow, cobalt and ultramarine."""
    for opaque, transparent in (("PR108", "PV19"), ("PY184", "PY74"), ("PB28", "PB29")):
        assert contrast_ratio(find_paint(opaque)) > contrast_ratio(find_paint(transparent)) + 0.05


def test_many_coats_of_any_paint_look_like_the_paint_itself():
    for name in ("PY74", "PB29", "PR122"):
        paint = find_paint(name)
        assert delta_e_2000(coat_lab(paint, find_paint("PG7"), 40), paint_lab(paint)) < 0.5


def test_the_coats_that_hide_are_where_the_contrast_reaches_its_mark():
    for name in ("PY74", "PO20", "PB28"):
        found = hiding(find_paint(name))
        assert contrast_ratio(find_paint(name), found.coats_to_hide) == pytest.approx(0.98, abs=1e-4)
        assert f"about {int(np.ceil(found.coats_to_hide))} full coats" in found.text


def test_words_for_a_see_through_yellow_speak_of_white_and_of_green():
    text = hiding(find_paint("PY74")).text
    assert "green" in text and "over white it glows" in text


def test_words_for_paints_that_were_not_measured_follow_their_label_and_say_so():
    for paint in whole_box().paints:
        found = hiding(paint)
        assert (paint.opacity in found.text and ("not measured" in found.text or "tube of several" in found.text)) == (
            paint.origin != "measured"
        )


@pytest.mark.parametrize("paint", measured_box().paints, ids=lambda paint: paint.name)
def test_a_label_that_the_coats_do_not_bear_out_is_reconciled_in_the_same_sentence(paint):
    """A label speaks of thin films: a dark stain called transparent hides laid thick, an opaque yellow takes coats."""
    found = hiding(paint)
    covers, promised = "covers in one or two" in found.text, paint.opacity in ("opaque", "semi-opaque")
    assert (f"is called {paint.opacity}" in found.text) == (covers != promised)


def test_how_a_paint_covers_is_not_claimed_where_its_label_was_not_given():
    known = find_paint("PG7")
    own = Paint("old green", "", "", "", "", OWN_DABS, known.K, known.S)
    text = hiding(own).text
    assert "not known" in text and "mostly covers" not in text and "opaque" not in text


def test_dioxazine_is_told_to_be_let_down_for_a_glaze_and_red_oxide_to_hide():
    """A paint for glazes isn't described in the words of an opaque earth. Common practice, no source."""
    assert hiding(find_paint("PV23")).text.endswith("laid thin it darkens much: let it down with medium to glaze.")
    assert hiding(find_paint("red oxide")).text.endswith("laid thin it lets little through.")
