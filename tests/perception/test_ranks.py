"""Medians and quantiles by bins beside numpy's, which are the outside source here."""

import numpy as np
import pytest

from critique.perception.channels import chroma_of, colours_in
from critique.perception.hue import hue_of
from critique.perception.ranks import median_of, middle_colour, quantiles_of

PARTS = (0.0, 0.1, 0.5, 0.9, 0.998, 1.0)


@pytest.mark.parametrize("size", [1, 2, 999, 30_000, 60_001])
@pytest.mark.parametrize("shape", ["spread", "steps", "one value", "few far off"])
def test_as_numpy_has_them(size: int, shape: str) -> None:
    random = np.random.default_rng(size)
    values = {
        "spread": random.normal(0, 20, size),
        "steps": random.normal(0, 3, size).round(1),
        "one value": np.full(size, 7.0),
        "few far off": np.where(random.random(size) < 0.99, 0.0, 1e4 * random.random(size)),
    }[shape].astype(np.float32)
    wanted = np.quantile(values.astype(np.float64), PARTS)
    assert quantiles_of(values, PARTS) == pytest.approx(wanted, rel=1e-6, abs=1e-6)
    assert median_of(values) == pytest.approx(float(np.median(values)), rel=1e-6, abs=1e-6)


def test_none_has_no_median() -> None:
    assert np.isnan(median_of(np.array([], dtype=np.float32)))


def test_colours_under_a_mask_and_their_middle_and_chroma() -> None:
    random = np.random.default_rng(1)
    lab = random.normal(0, 20, (120, 160, 3)).astype(np.float32)
    mask = random.random((120, 160)) < 0.7
    assert np.array_equal(colours_in(lab, mask), lab[mask])
    assert middle_colour(lab[mask]) == pytest.approx(np.median(lab[mask], axis=0), rel=1e-6)
    assert chroma_of(lab) == pytest.approx(np.hypot(lab[..., 1], lab[..., 2]), rel=1e-6)


def test_the_hue_of_one_colour_is_one_number() -> None:
    assert float(hue_of(np.asarray(3.0), np.asarray(-4.0))) == pytest.approx(306.8699, abs=1e-3)
