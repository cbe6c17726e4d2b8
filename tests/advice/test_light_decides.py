"""What a lamp puts into a photograph is not said to hold in any light: the same paint is told otherwise by another."""

from dataclasses import replace

import numpy as np
import pytest
from demo_pictures import demo_path

from critique.advice.findings import all_findings
from critique.advice.judging import Case
from critique.advice.light_decides import light_decides
from critique.advice.norms import read_norms
from critique.measures.measure import measure_picture
from critique.photograph.corners import ALL
from critique.photograph.read import read_photograph
from critique.picture.picture import picture_of
from critique.picture.view import View

BY_DAY, BY_A_LAMP = (1.0, 1.0, 1.0), (1.3, 1.0, 0.6)


@pytest.fixture(scope="module")
def beeches():
    return read_photograph(demo_path("tolvesk_05_orvalden_beeches.jpg"))


def told(photograph, light):
    """The kinds that are told of a canvas found in a photograph by that light, and those that another could change."""
    lit = np.clip(photograph.light * np.array(light, np.float32), 0, 1)
    picture = picture_of(replace(photograph, light=lit), View("found", ALL))
    case = Case.of(picture, measure_picture(picture), read_norms())
    findings = all_findings(case)
    return {finding.kind for finding in findings}, light_decides(case, findings)


def test_a_colour_that_only_the_lamp_makes_loud_is_the_lights_to_decide(beeches):
    by_day, _ = told(beeches, BY_DAY)
    by_lamp, decided = told(beeches, BY_A_LAMP)
    assert "loudest_colour" in by_lamp and "loudest_colour" not in by_day
    assert "loudest_colour" in decided
