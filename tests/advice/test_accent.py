"""The small colour that is seen beside the main ones is named with them, and touches beyond the values are told."""

import numpy as np
import pytest
from measured import measured

from critique.advice.accent import Accent, accent
from critique.advice.kinds import kind_named
from critique.advice.value_findings import value_range
from critique.advice.verdict import verdict
from critique.measures.values import has_touches
from critique.perception.cielab import lab_to_srgb8
from critique.picture.picture import picture_from_srgb
from tests.advice.changes import case_of

SKY, FIELD = (84, -4, -16), (36, -6, 22)
ROOF, BLACK = (45, 48, 40), (6, 0, 1)


def field_with(colour, height=50, width=80, places=((220, 400),)):
    """A sky over a field, 640 px by 420, with patches of a colour at each of these places (down, across)."""
    lab = np.empty((420, 640, 3), dtype=np.float32)
    lab[:180], lab[180:] = SKY, FIELD
    for down, across in places:
        lab[down : down + height, across : across + width] = colour
    return picture_from_srgb(lab_to_srgb8(lab))


def found(picture, told=("pale blue", "olive ochre")):
    return accent(picture, measured(picture), list(told))


@pytest.mark.parametrize(("colour", "word"), [(ROOF, "red"), (BLACK, "near-black")])
def test_a_small_roof_or_a_black_horse_is_the_accent_of_its_field(colour, word):
    its = found(field_with(colour))
    assert its is not None and word in its.word and "right" in its.place
    assert its.share == pytest.approx(50 * 80 / (420 * 640), abs=0.003)


def test_no_accent_is_what_is_told_or_large_or_scattered_or_hardly_another_colour():
    assert found(field_with(ROOF, height=100, width=200)) is None
    assert found(field_with((50, 0, 36))) is None
    assert found(field_with(ROOF), told=("red", "pale blue", "olive")) is None
    rng = np.random.default_rng(4)
    scattered = [(int(down), int(across)) for down, across in rng.uniform((190, 0), (400, 620), (40, 2))]
    assert found(field_with(ROOF, height=8, width=8, places=scattered)) is None


def test_the_verdict_names_the_accent_with_the_main_colours():
    case = case_of(field_with(ROOF))
    portrait = verdict(case, (), ())[1]
    assert "an accent of red (1." in portrait and "%) at mid-height on the right" in portrait


def test_an_accent_that_no_words_place_is_named_without_a_place():
    """Boats here and there along a whole shore: "an accent of orange (1.3 %) , with little green" was printed."""
    told = Accent("orange", 0.013, "")
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("critique.advice.verdict.accent", lambda *_: told)
        portrait = verdict(case_of(field_with(ROOF)), (), ())[1]
    assert "an accent of orange (1.3 %)" in portrait and " ," not in portrait and " ." not in portrait


@pytest.mark.slow
def test_small_darks_and_lights_beyond_the_others_are_told_and_are_no_haze():
    """Readers denied "from 2.4 to 7.2" of a field with black horses, though they are two hundredths of it."""
    kind = kind_named("value_range")
    plain, with_black = case_of(field_with(FIELD)), case_of(field_with(BLACK))
    assert not has_touches(plain.measures.values, "darks") and "touches" not in value_range(plain, kind).text
    assert has_touches(with_black.measures.values, "darks")
    values = with_black.measures.values
    assert f"touches as dark as {values.darkest:.1f}" in value_range(with_black, kind).text
    assert values.darkest <= values.percentiles["p2"] <= values.percentiles["p98"] <= values.lightest
