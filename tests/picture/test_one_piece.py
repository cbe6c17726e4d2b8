"""The largest connected piece of a shape, held to scikit-image's regions."""

import numpy as np
import pytest
from scipy.ndimage import gaussian_filter
from skimage.measure import label, regionprops

from critique.picture.one_piece import largest_piece


@pytest.mark.parametrize("seed", range(4))
def test_it_is_the_region_of_the_most_pixels_and_the_heaviest_where_they_are_weighed(seed):
    generator = np.random.default_rng(seed)
    mask = gaussian_filter(generator.normal(size=(90, 120)), 2) > 0.05
    weight = np.exp(4 * generator.normal(size=(90, 1))) * np.ones_like(mask, dtype=np.float64)
    regions = regionprops(label(mask, connectivity=1), intensity_image=weight)
    assert len(regions) > 5
    most = max(regions, key=lambda region: region.area)
    heaviest = max(regions, key=lambda region: region.area * region.intensity_mean)
    assert np.argwhere(largest_piece(mask)).tolist() == most.coords.tolist()
    assert np.argwhere(largest_piece(mask, weight)).tolist() == heaviest.coords.tolist()


def test_places_that_touch_at_a_corner_alone_are_two_and_nothing_has_no_piece():
    stairs = np.eye(6, dtype=bool)
    stairs[0, 1] = True
    assert np.argwhere(largest_piece(stairs)).tolist() == [[0, 0], [0, 1], [1, 1]]
    assert not largest_piece(np.zeros((4, 5), dtype=bool)).any()
