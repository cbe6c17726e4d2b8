"""Matching of families: against SciPy's assignment, and against cases that can be worked by hand."""

import numpy as np
import pytest
from scipy.optimize import linear_sum_assignment

from critique.measures.families import measure_families
from critique.pair.transport import match_families, transport_plan
from critique.perception.difference import delta_e_2000
from critique.picture.picture import picture_from_srgb


@pytest.mark.parametrize("seed", range(8))
def test_with_equal_weights_the_cost_is_that_of_the_best_assignment(seed: int) -> None:
    """Birkhoff's theorem: with equal weights a one-to-one matching is among the cheapest plans."""
    rng = np.random.default_rng(seed)
    number = 5 + seed % 5
    first, second = (rng.uniform((5, -40, -40), (95, 40, 40), (number, 3)) for _ in range(2))
    costs = delta_e_2000(first[:, None], second[None])
    rows, columns = linear_sum_assignment(costs)
    plan = transport_plan(costs, np.ones(number), np.ones(number))
    assert (plan * costs).sum() == pytest.approx(costs[rows, columns].mean(), rel=1e-9)


def test_every_share_leaves_and_every_share_arrives() -> None:
    rng = np.random.default_rng(3)
    supplies, demands = rng.dirichlet(np.ones(6)), rng.dirichlet(np.ones(9))
    plan = transport_plan(rng.uniform(0, 50, (6, 9)), supplies, demands)
    assert plan.sum(axis=1) == pytest.approx(supplies, abs=1e-9)
    assert plan.sum(axis=0) == pytest.approx(demands, abs=1e-9)
    assert (plan >= 0).all()


def test_a_worked_case_of_three_sources_and_two_sinks() -> None:
    """By hand: the first source fills the near sink, the last the far one, the middle one is split."""
    plan = transport_plan([[0, 4], [1, 2], [5, 0]], [0.3, 0.4, 0.3], [0.5, 0.5])
    assert plan == pytest.approx(np.array([[0.3, 0], [0.2, 0.2], [0, 0.3]]), abs=1e-9)


def test_a_picture_matches_itself_at_no_cost_and_a_recoloured_half_tells_what_it_became() -> None:
    codes = np.zeros((80, 100, 3), np.uint8)
    codes[:50] = (120, 160, 210)
    codes[50:] = (60, 150, 40)
    repainted = codes.copy()
    repainted[50:] = (150, 130, 70)
    first, second = (measure_families(picture_from_srgb(each)) for each in (codes, repainted))
    assert match_families(first, first).cost == pytest.approx(0, abs=1e-6)
    matched = match_families(first, second)
    green = next(index for index, family in enumerate(first) if family.lch[2] > 120 and family.lch[1] > 40)
    became = matched.became(green)
    assert sum(flow.share for flow in became) == pytest.approx(0.375, abs=1e-3)
    assert second[became[0].second].lch[2] < 100
    expected = 0.375 * float(delta_e_2000(first[green].lab, second[became[0].second].lab))
    assert matched.cost == pytest.approx(expected, rel=0.02)
