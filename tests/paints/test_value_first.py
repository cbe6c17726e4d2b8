"""A colour whose hue a box can't reach is mixed in its value: the values carry a picture."""

import numpy as np
import pytest

from critique.paints.at_easel import easel_recipes
from critique.paints.box import box_of, default_box
from critique.paints.kubelka_munk import mixture_lab
from critique.paints.value_first import VALUE_COSTS, VALUE_LOST, loses_value, value_kept
from critique.perception.difference import delta_e_2000

EARTHS = ("burnt sienna", "yellow ochre", "raw umber", "PR101")
SKIES = np.array([(71.0, -7.0, -22.0), (77.0, -6.0, -17.0), (86.0, -1.0, -5.0)])


def test_a_blue_sky_out_of_earths_keeps_its_value_and_goes_not_to_white():
    """With white alone sky and clouds were one, and nearly three values too light."""
    box = box_of(EARTHS)
    plain, kept = easel_recipes(SKIES, box), value_kept(SKIES, box, easel_recipes)
    assert plain[0].lab[0] > SKIES[0, 0] + 20, "the nearest by colour is white"
    for one, was, sky in zip(kept, plain, SKIES, strict=True):
        assert abs(one.lab[0] - sky[0]) < min(0.5 * abs(was.lab[0] - sky[0]), VALUE_LOST + 2)
        assert one.target_lab == pytest.approx(tuple(sky)) and one.error <= was.error + VALUE_COSTS
        assert one.error == pytest.approx(float(delta_e_2000(np.array(one.lab), sky)))
        assert one.lab == pytest.approx(tuple(mixture_lab(np.array(one.amounts), one.paints)), abs=1e-6)
    assert loses_value(plain[0], kept[0]) and not loses_value(kept[0], plain[0])


def test_what_a_box_reaches_stays_as_it_was():
    box = default_box()
    plain, kept = easel_recipes(SKIES, box), value_kept(SKIES, box, easel_recipes)
    assert [one.text for one in kept] == [one.text for one in plain]
