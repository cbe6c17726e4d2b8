"""A card or a chart is covered with the colour around it, and nothing else of the photograph changes."""

import numpy as np

from critique.photograph.reference_places import laid_over

CARD = ((0.4, 0.4), (0.6, 0.4), (0.6, 0.7), (0.4, 0.7))  # of a photograph of 100 × 200 px


def test_a_card_is_covered_with_the_colour_around_it():
    wall, card = np.array([0.5, 0.4, 0.2], np.float32), np.array([0.1, 0.2, 0.3], np.float32)
    light = np.broadcast_to(wall, (100, 200, 3)).copy()
    light[40:70, 80:120] = card
    light[:20] = 0.9  # far from the card
    given = light.copy()
    covered = laid_over(light, CARD)
    assert np.array_equal(light, given)
    assert np.array_equal(covered[30:80, 70:130], np.broadcast_to(wall, (50, 60, 3)))
    assert np.array_equal(covered[:20], given[:20])


def test_a_photograph_that_its_card_fills_is_left_as_it_is():
    light = np.random.default_rng(3).random((40, 60, 3), dtype=np.float32)
    assert laid_over(light, ((0, 0), (1, 0), (1, 1), (0, 1))) is light
