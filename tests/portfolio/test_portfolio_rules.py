"""Which findings matter, the ranking that follows, and the exit codes for a gallery or a school."""

import json
from pathlib import Path

import pytest
from click.testing import CliRunner

from critique.advice.kinds import KINDS
from critique.cli.main import main
from critique.portfolio.ranking import standing_of
from critique.portfolio.rules import LIMITS, Rules, RulesError, read_rules


def rules_of(tmp_path: Path, text: str) -> Rules:
    (tmp_path / "rules.toml").write_text(text, encoding="utf-8")
    return read_rules(tmp_path / "rules.toml")


def row(*findings: tuple[str, str, float | None, float | None]) -> dict:
    names = ("kind", "level", "figure", "percentile")
    return {"findings": [dict(zip(names, finding, strict=True)) for finding in findings]}


def test_a_finding_is_named_by_its_title_or_by_its_id(tmp_path):
    by_title = rules_of(tmp_path, '["green area"]\nmatters = false\n')
    assert by_title == rules_of(tmp_path, "[green_area]\nmatters = false\n")
    assert by_title.level("green_area", "rework", 0.5) is None
    with pytest.raises(RulesError, match="'green area' has two tables"):
        rules_of(tmp_path, '["green area"]\nmatters = false\n[green_area]\nwatch_above = 0.2\n')


def test_limits_take_the_place_of_the_programs_own(tmp_path):
    rules = rules_of(tmp_path, '["green area"]\nwatch_above = 0.25\nrework_above = 0.4\n')
    assert [rules.level("green_area", "rework", figure) for figure in (0.25, 0.26, 0.4, 0.41)] == [
        "holds",
        "watch",
        "watch",
        "rework",
    ]
    assert rules.level("value_range", "rework", 1.0) == "rework"


def test_limits_from_below_and_figures_that_are_missing(tmp_path):
    rules = rules_of(tmp_path, '["value range"]\nrework_below = 3\n')
    assert [rules.level("value_range", "holds", figure) for figure in (2.9, 3.0)] == ["rework", "holds"]
    assert rules.level("value_range", "watch", None) == "holds"


def test_what_does_not_matter_is_left_out_of_the_standing(tmp_path):
    rules = rules_of(tmp_path, "[halving]\nmatters = false\n")
    judged = row(("halving", "rework", 0.5, None), ("green_area", "watch", 0.3, 90.0))
    assert standing_of(judged, Rules()).order == (False, 1, 1)
    standing = standing_of(judged, rules)
    assert (standing.level, standing.rework, standing.watch, dict(standing.levels)) == (
        "watch",
        0,
        1,
        {"green_area": "watch"},
    )


def test_fewer_to_rework_comes_first_then_fewer_to_watch_and_what_is_unusual_is_no_fault():
    one = standing_of(row(("halving", "rework", 0.5, None)), Rules())
    two = standing_of(row(("halving", "watch", 0.5, None), ("green_area", "watch", 0.3, None)), Rules())
    three = standing_of(row(("green_area", "watch", 0.3, 95.0)), Rules())
    four = standing_of(row(("green_area", "watch", 0.3, 80.0)), Rules())
    ranked = sorted((one, two, three, four), key=lambda standing: standing.order)
    assert ranked == [three, four, two, one]
    assert (three.unusual, four.unusual) == (20.0, 5.0)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("[greens]\nmatters = false\n", "no finding on 'greens'; the nearest are: green cast"),
        ("halving = false\n", "needs a table"),
        ('["green area"]\nwatch = 0.3\n', "no setting 'watch'"),
        ('["green area"]\nwatch_above = "much"\n', "is a number"),
        ('["green area"]\nwatch_above = nan\n', "is a number"),
        ('["green area"]\nmatters = 1\n', "true or false"),
        ("[halving]\nwatch_above = 0.5\n", "has no limits"),
        ('["green area"\n', "is not TOML"),
    ],
)
def test_a_rules_file_that_cannot_be_used_is_refused_in_one_line(tmp_path, text, said):
    with pytest.raises(RulesError) as caught:
        rules_of(tmp_path, text)
    assert said in str(caught.value) and "\n" not in str(caught.value) and "rules.toml" in str(caught.value)


def test_a_rules_file_that_is_missing_is_named(tmp_path):
    with pytest.raises(RulesError, match=r"none\.toml: the rules can't be read"):
        read_rules(tmp_path / "none.toml")


def run(pictures: Path, out: Path, *options: str):
    return CliRunner().invoke(main, ["portfolio", str(pictures), "--out", str(out), "--jobs", "1", *options])


@pytest.mark.slow
def test_strict_follows_the_rules_and_nothing_is_measured_again_for_them(copied, tmp_path):
    pictures, out = copied()
    (tmp_path / "hard.toml").write_text('["value range"]\nrework_above = 0\n')
    easy = "".join(f'["{kind.title}"]\nmatters = false\n' for kind in KINDS)
    (tmp_path / "easy.toml").write_text(easy)
    for rules, code, rework in (("hard", 4, 4), ("easy", 0, 0)):
        said = run(pictures, out, "--strict", "--json", "--rules", str(tmp_path / f"{rules}.toml"))
        assert said.exit_code == code, said.output
        (line,) = said.stdout.splitlines()
        summary = json.loads(line)
        assert (summary["pictures"], summary["reviewed"], summary["rework"]) == (4, 0, rework)
    assert run(pictures, out, "--rules", str(tmp_path / "hard.toml")).exit_code == 0  # not asked to be strict


def test_the_help_shows_an_example_and_a_rules_file():
    said = CliRunner().invoke(main, ["portfolio", "--help"]).output
    assert "Example: critique portfolio" in said and "watch_above" in said and "--cluster" in said
    assert {"watch_above", "rework_above", "watch_below", "rework_below"} == set(LIMITS)


def test_a_folder_that_is_not_there_is_wrong_usage(tmp_path):
    assert run(tmp_path / "nowhere", tmp_path / "out").exit_code == 2
