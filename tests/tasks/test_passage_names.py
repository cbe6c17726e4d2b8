"""What the places of a plan are called: no word for their light that their own colour denies."""

import numpy as np

from critique.picture.places import place_of
from critique.tasks.passage_names import passage_names

EVERYWHERE = place_of(np.ones((4, 4), bool))


def named(lights: list[float], words: list[str]) -> list[str]:
    colours = np.array([(light, 0.0, 5.0) for light in lights])
    even = np.full(len(lights), 1 / len(lights))
    return passage_names(colours, even, ["near"] * len(lights), [EVERYWHERE] * len(lights), words)


def test_of_a_dark_land_the_lightest_is_called_lighter_and_none_of_middle_value_or_light():
    names = named([9.0, 16.0, 24.0], ["near-black", "dark olive", "dark brown"])
    assert names[0].startswith("foreground (near-black)"), "a near-black is heard to be dark"
    assert names[1].startswith("foreground (dark olive)")
    assert names[2].startswith("foreground, lighter (dark brown)")


def test_of_a_light_land_the_darkest_is_called_darker_and_a_pale_one_no_lighter_than_its_word():
    names = named([62.0, 72.0, 90.0], ["ochre", "buff", "pale cream"])
    assert names[0].startswith("foreground, darker (ochre)")
    assert names[1].startswith("foreground (buff)")
    assert names[2].startswith("foreground (pale cream)")
