"""Our few lines of k-means against scikit-learn's, whose seeds and steps they follow."""

from itertools import islice

import numpy as np
import pytest
from sklearn.cluster import KMeans

from critique.measures.k_means import growing_means, k_means


def clouds(seed, number):
    """Colours in a few clouds of unlike weight."""
    random = np.random.default_rng(seed)
    middles = random.uniform((20, -40, -40), (90, 40, 40), (6, 3))
    points = (middles[:, None] + random.normal(0, 6, (6, number // 6, 3))).reshape(-1, 3)
    return points, random.uniform(0.1, 5, len(points))


@pytest.mark.parametrize("seed", range(4))
@pytest.mark.parametrize("number", [5, 7, 9])
def test_centres_and_scatter_are_those_of_scikit_learn(seed, number):
    points, weights = clouds(seed, 240)
    model = KMeans(number, n_init=2, random_state=1, max_iter=60, tol=1e-3).fit(points, sample_weight=weights)
    scatter, centres, labels = k_means(points, weights, number, starts=2, seed=1, most_steps=60, tolerance=1e-3)
    assert scatter == pytest.approx(model.inertia_, rel=1e-9)
    assert np.allclose(centres, model.cluster_centers_, atol=1e-8)
    assert (labels == model.labels_).all()


def test_every_centre_has_points_even_where_colours_crowd():
    points = np.concatenate([np.full((40, 3), 50.0) + np.arange(40)[:, None] * 1e-6, np.eye(3) * 90])
    _, centres, labels = k_means(points, np.ones(len(points)), 4, starts=1, seed=0, most_steps=20, tolerance=1e-3)
    assert len(np.unique(labels)) == 4
    assert np.isfinite(centres).all()


@pytest.mark.parametrize("seed", range(4))
def test_grown_one_by_one_centres_are_nearly_as_good_as_the_best_of_many_starts(seed):
    points, weights = clouds(seed, 240)
    grown = growing_means(points, weights, most_steps=60, tolerance=1e-3)
    for number, (scatter, centres, labels) in zip(range(1, 10), grown, strict=False):
        best = KMeans(number, n_init=20, random_state=1).fit(points, sample_weight=weights).inertia_
        # Two clouds of six may be parted otherwise; as many centres as a picture has families hardly are.
        assert best * 0.99 <= scatter <= best * (1.03 if number >= 5 else 1.2)
        assert len(centres) == len(np.unique(labels)) == number


def test_nothing_is_drawn_so_the_order_of_colours_is_nothing_to_centres_that_grow():
    points, weights = clouds(3, 240)
    turned = np.random.default_rng(5).permutation(len(points))
    once, again = (
        next(islice(growing_means(points[order], weights[order], most_steps=60, tolerance=1e-3), 6, None))[1]
        for order in (np.arange(len(points)), turned)
    )
    assert np.allclose(once[np.lexsort(once.T)], again[np.lexsort(again.T)], atol=1e-6)
