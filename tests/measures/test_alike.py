"""Results can be asked whether they are the same, arrays and all."""

import dataclasses

from scenes import MEADOW, SKY, bands

from critique.alike import alike
from critique.measures.measure import measure_picture


def small(*parts):
    return bands(*parts, width=180, height=120)


def test_every_measure_equals_itself_measured_again_and_not_another():
    one, again = (measure_picture(small((0.4, SKY), (0.6, MEADOW))) for _ in range(2))
    other = measure_picture(small((0.7, SKY), (0.3, MEADOW)))
    assert one == again and one != other
    for field in dataclasses.fields(one):
        assert alike(getattr(one, field.name), getattr(again, field.name)), field.name
    assert one.values == again.values and one.values != other.values
    assert one.division == again.division and one.division != other.division
