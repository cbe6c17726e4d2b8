"""Findings lie beside the plate that shows their place, gravest first, and every plate is there once."""

import dataclasses

import pytest

from critique.advice.finding import Finding
from critique.advice.kinds import kind_named
from critique.report.plates.plate import Plate, image_of
from critique.report.plates.review_plates import draw_plates
from critique.report.shown_findings import holding, open_findings


@pytest.fixture(scope="module")
def plates(review):
    return draw_plates(review)


def finding(kind: str, level: str) -> Finding:
    return Finding(kind, kind_named(kind).title, level, "A sentence.", 1.0, "1", "")  # type: ignore[arg-type]


def of(*pairs: tuple[str, str]) -> tuple[Finding, ...]:
    return tuple(finding(kind, level) for kind, level in pairs)


def told(groups):
    return [([plate.name for plate in group.plates], [one.kind for one in group.findings]) for group in groups]


def test_findings_of_one_place_share_its_plate_and_what_is_to_rework_comes_first(plates):
    shown = open_findings(
        of(("green_area", "watch"), ("value_range", "watch"), ("halving", "rework"), ("green_relief", "watch")), plates
    )
    assert told(shown) == [
        (["division"], ["halving"]),
        (["greens"], ["green_area", "green_relief"]),
        (["values_3"], ["value_range"]),
    ]


def test_a_finding_with_a_place_of_its_own_has_its_own_plate(review, plates):
    own = Plate("where_loudest_colour", image_of(review.picture.drawn), "There.", "")
    shown = open_findings(
        of(("loudest_colour", "watch"), ("green_cast", "watch")),
        dataclasses.replace(plates, places={"loudest_colour": own}),
    )
    assert {group.plates[0].name for group in shown} == {"where_loudest_colour", "families"}


def test_what_shares_a_row_comes_by_twos_and_what_is_broad_last(plates):
    several = of(("green_area", "rework"), ("green_cast", "watch"), ("value_range", "watch"), ("halving", "watch"))
    assert [group.layout for group in open_findings(several, plates)] == ["led", "half", "half", "broad"]
    fewer = open_findings(several[:3], plates)
    assert [group.layout for group in fewer] == ["led", "led", "broad"]


def test_every_plate_is_beside_a_finding_or_with_what_holds_and_never_twice(review, plates):
    shown = open_findings(review.advice.findings, plates)
    held = holding(review, plates, shown)
    names = [plate.name for group in (*shown, *held) for plate in group.plates]
    assert len(names) == len(set(names))
    assert set(names) >= {"greens", "values_2", "values_3", "values_5", "division", "families", "eye_path"}
    findings = [one for group in (*shown, *held) for one in group.findings]
    assert sorted(one.kind for one in findings) == sorted(one.kind for one in review.advice.findings)
    assert all(
        (one.level == "holds") == (one in [each for group in held for each in group.findings]) for one in findings
    )


def test_a_map_of_greens_that_would_be_grey_is_left_out(review, plates):
    few = dataclasses.replace(review.measures.greens, area_share=0.001)
    bare = dataclasses.replace(
        review,
        measures=dataclasses.replace(review.measures, greens=few),
        advice=dataclasses.replace(review.advice, findings=()),
    )
    assert "greens" not in [plate.name for group in holding(bare, plates, ()) for plate in group.plates]
