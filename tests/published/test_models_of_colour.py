"""The published models of harmony and colourfulness against their papers."""

import numpy as np
import pytest

from critique.measures.harmony import TEMPLATES
from critique.measures.harmony_pairs import chroma_harmony, hue_harmony, lightness_harmony, pair_harmony
from critique.measures.variety import COLOURFULNESS_WORDS, colourfulness
from critique.perception.cielab import lch_to_lab


def test_template_sectors_are_those_of_the_paper():
    # Cohen-Or, Sorkine, Gal, Leyvand and Xu, "Color Harmonization", ACM Transactions on Graphics 25(3), 2006: sector
    # sizes as parts of the circle are 5 % (18°), 22 % (79.2°), 26 % (93.6°) and 50 % (180°); from memory of the paper.
    small, middle, large, half = 0.05 * 360, 0.22 * 360, 0.26 * 360, 0.50 * 360
    widths = {name: sorted(width for _, width in sectors) for name, sectors in TEMPLATES.items()}
    assert widths == {
        "i": [pytest.approx(small)],
        "V": [pytest.approx(large)],
        "L": [pytest.approx(small), pytest.approx(middle)],
        "I": [pytest.approx(small)] * 2,
        "T": [pytest.approx(half)],
        "Y": [pytest.approx(small), pytest.approx(large)],
        "X": [pytest.approx(large)] * 2,
    }
    for name in "IYX":
        first, second = (centre for centre, _ in TEMPLATES[name])
        assert abs(second - first) == 180
    assert [centre for centre, _ in TEMPLATES["L"]] == [0, 90]


def test_colourfulness_is_the_papers_formula_on_worked_pictures():
    # Hasler and Süsstrunk, "Measuring Colorfulness in Natural Images", SPIE 5007, 2003: σ + 0.3 μ of rg and yb.
    grey = np.full((10, 10, 3), 128, dtype=np.uint8)
    assert colourfulness(grey) == 0
    half = np.zeros((10, 10, 3), dtype=np.uint8)
    half[:5, :, 0] = 255  # half pure red, half black: rg is 255 or 0, yb 127.5 or 0
    spread = np.hypot(127.5, 63.75)
    mean = np.hypot(127.5, 63.75)
    assert colourfulness(half) == pytest.approx(spread + 0.3 * mean, rel=1e-6)


def test_colourfulness_words_begin_where_the_papers_do():
    # Same paper, table 2: 0 not, 15 slightly, 33 moderately, 45 averagely, 59 quite, 82 highly, 109 extremely.
    assert [limit for limit, _ in COLOURFULNESS_WORDS] == [15, 33, 45, 59, 82, 109, float("inf")]


def test_two_colour_harmony_by_hand():
    # Ou and Luo, Color Research and Application 31(3), 2006; formula from memory, worked by hand for two pairs.
    # A colour with itself: ΔC = 0, so H_C = 0.04 + 0.53 tanh 0.8 = 0.39194.
    same = np.array([50.0, 20.0, 120.0])
    assert chroma_harmony(same, same) == pytest.approx(0.04 + 0.53 * np.tanh(0.8))
    assert chroma_harmony(same, same) == pytest.approx(0.39194, abs=1e-5)
    # L 80 with L 40: the sum 120 gives 0.28 + 0.54 tanh(−0.4), the difference 40 gives 0.14 + 0.15 tanh 6.
    assert lightness_harmony([80, 0, 0], [40, 0, 0]) == pytest.approx(0.28 + 0.54 * np.tanh(-0.4) + 0.29, abs=1e-5)
    # A grey's hue says nothing much: its strength is 0.5 + 0.5 tanh(−2) = 0.018.
    assert abs(hue_harmony([50, 0, 200])) < 0.01
    # A strong red at hue 20: −0.08 − 0.14 sin 70° − 0.07 sin 130°, and no yellow term to speak of.
    assert hue_harmony([58.18, 40, 20]) == pytest.approx(-0.08 - 0.14 * 0.93969 - 0.07 * 0.76604, abs=1e-3)


def test_two_colour_harmony_likes_what_the_paper_found():
    # The paper's findings: little difference in chroma and hue, more lightness, and blue more than red harmonise.
    def harmony(first, second):
        return float(pair_harmony(lch_to_lab(np.array(first)), lch_to_lab(np.array(second))))

    assert harmony([60, 20, 120], [60, 22, 125]) > harmony([60, 20, 120], [60, 60, 300])
    assert harmony([80, 20, 120], [75, 22, 125]) > harmony([25, 20, 120], [20, 22, 125])
    assert harmony([50, 40, 250], [60, 40, 250]) > harmony([50, 40, 20], [60, 40, 20])
    assert harmony([50, 40, 250], [70, 20, 30]) == pytest.approx(harmony([70, 20, 30], [50, 40, 250]))
