"""Every record is what its schema says: no key is missing, none is there that nobody was told of."""

import json
import runpy
from pathlib import Path

import pytest
from click.testing import CliRunner
from demo_pictures import demo_path
from jsonschema import Draft202012Validator
from PIL import Image

import critique
from critique.cli.main import main
from critique.paints.box import default_box
from critique.perception.reference import reference_path
from critique.tasks.review import review_file

SCHEMA = json.loads(reference_path("record_schema.json").read_text(encoding="utf-8"))
DEMOS = sorted(path.name for path in demo_path("titles.csv").parent.glob("tolvesk_*.jpg"))


def held_to_schema(kind, record):
    """The record as it is written and read again, after it was found to be one of its kind."""
    written = json.loads(json.dumps(record, allow_nan=False))
    Draft202012Validator({**SCHEMA, "$ref": f"#/$defs/{kind}"}).validate(written)
    return written


@pytest.fixture(scope="module")
def small(tmp_path_factory):
    """The first demo pictures, small enough to be compared quickly."""
    folder = tmp_path_factory.mktemp("small")
    for name in DEMOS[:2]:
        image = Image.open(demo_path(name))
        image.thumbnail((240, 240))
        image.save(folder / name)
    return [folder / name for name in DEMOS[:2]]


@pytest.mark.slow
def test_the_schema_is_one_and_is_what_the_script_makes_of_the_program():
    Draft202012Validator.check_schema(SCHEMA)
    made = runpy.run_path(str(Path(__file__).parents[1] / "reference_data" / "make_record_schema.py"))["schema"]()
    assert json.loads(json.dumps(made)) == SCHEMA, "run reference_data/make_record_schema.py"


@pytest.mark.slow
def test_records_of_every_kind_keep_to_it(small):
    first, second = small
    records = {
        "review": critique.review(first, study=True),
        "palette": critique.palette(first),
        "chart": critique.chart([paint.name for paint in default_box().paints][:3]),
        "comparison": critique.compare(first, second),
        "passes": critique.passes(small),
        "lineup": critique.lineup(small),
        "plan": critique.plan(first),
    }
    for kind, done in records.items():
        assert held_to_schema(kind, done.as_dict())["format"] == 4


@pytest.mark.slow
def test_records_held_against_a_plan_keep_to_it(small, tmp_path):
    folder = critique.write(critique.plan(small[0]), tmp_path).parent
    compared = held_to_schema("comparison", critique.compare(small[0], small[0], plan=folder).as_dict())
    followed = held_to_schema("passes", critique.passes([small[0]], plan=folder).as_dict())
    assert compared["toward_aim"]["states"] and followed["toward_aim"]["told"]["standing"]


@pytest.mark.slow
def test_what_other_commands_print_and_write_keeps_to_it(small, tmp_path):
    for kind, command in {"straightened": "straighten", "study": "study"}.items():
        done = CliRunner().invoke(main, [command, str(small[0]), "--out", str(tmp_path), "--json"])
        assert done.exit_code == 0, done.output
        held_to_schema(kind, json.loads(done.stdout))
    made = CliRunner().invoke(main, ["portfolio", str(small[0].parent), "--out", str(tmp_path / "all"), "--jobs", "1"])
    assert made.exit_code == 0, made.output
    kept = held_to_schema("portfolio", json.loads((tmp_path / "all" / "portfolio.json").read_text(encoding="utf-8")))
    assert set(kept["pictures"][0]) == set(kept["columns"])


def test_an_unknown_key_and_a_missing_one_are_found(small):
    record = critique.review(small[0]).as_dict()
    held_to_schema("review", record)
    validator = Draft202012Validator({**SCHEMA, "$ref": "#/$defs/review"})
    assert not validator.is_valid(json.loads(json.dumps({**record, "greenness": 1})))
    assert not validator.is_valid(json.loads(json.dumps({**record, "greens": {**record["greens"], "greenness": 1}})))
    assert not validator.is_valid({name: part for name, part in record.items() if name != "greens"})


@pytest.mark.slow
@pytest.mark.parametrize("name", DEMOS)
def test_the_record_of_every_demo_picture_keeps_to_it(name):
    held_to_schema("review", review_file(demo_path(name), study=True).as_dict())
