"""The table of findings: what it says of them holds, and one entry more is a finding everywhere."""

import csv
import dataclasses
import json
import sys
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import numpy as np
import pytest
from demo_pictures import demo_path
from measured import measured, with_others
from PIL import Image

from critique.advice.added_kind import registered
from critique.advice.advise import judge
from critique.advice.finding import Finding
from critique.advice.judging import Case
from critique.advice.kind import Kind, Limits, Part
from critique.advice.kind_order import in_order
from critique.advice.kinds import KINDS, all_kinds, kind_named
from critique.advice.norms import read_norms
from critique.pair.compare import Lineup, compare_passes, compare_pictures
from critique.pair.finding_moves import subjects_of
from critique.pair.hold import state_of
from critique.picture.picture import Picture, picture_from_lab, picture_from_srgb
from critique.picture.read import read_picture
from critique.portfolio.columns import columns_of
from critique.portfolio.rules import read_rules
from critique.portfolio.run import make_portfolio
from critique.report.printing_compared import lineup_summary
from critique.report.write import write_review
from critique.report.write_compared import write_comparison
from critique.tasks.review import review_picture

TITLE = "weight of the middle"


def weight(case: Case, kind: Kind) -> Finding:
    middle = case.measures.values.percentiles["p50"]
    return kind.finding(
        level=kind.by_limits(middle),
        text=f"The middle of the values weighs {middle:.1f}.",
        figure=middle,
        figure_text=f"{middle:.1f} at the middle",
        norm="no norm",
    )


NEW = Kind(
    id="middle_weight",
    title=TITLE,
    part=Part.COLOURS,
    figures=("values.percentiles.p50",),
    judge=weight,
    limits=Limits("below", watch=6.0, rework=3.5),
)


def scene(darker: float = 0.0) -> Picture:
    """A demo picture, small, and lighter than the new finding asks for; or darker by so much L*."""
    lab = picture_from_srgb(read_picture(demo_path("tolvesk_03_tussalund_snow.jpg")).srgb[::6, ::6]).lab.copy()
    lab[..., 0] = np.clip(lab[..., 0] + 70 - np.median(lab[..., 0]) - darker, 2, 100)
    return picture_from_lab(lab, picture_from_srgb(np.zeros((*lab.shape[:2], 3), np.uint8)))


def test_ids_are_no_sentences_and_no_two_findings_share_one() -> None:
    ids, titles = [kind.id for kind in KINDS], [kind.title for kind in KINDS]
    assert len({*ids, *titles}) >= len(KINDS) and len(set(ids)) == len(set(titles)) == len(KINDS)
    assert all(name.isidentifier() and name == name.lower() for name in ids)
    assert all(kind_named(kind.id) is kind_named(kind.title) is kind for kind in KINDS)
    with pytest.raises(KeyError):
        kind_named("green")


def test_the_table_has_every_kind_that_the_parts_of_the_page_write_out() -> None:
    modules = [module for name, module in sys.modules.items() if name.startswith("critique.advice.kinds_")]
    by_module = [[one for one in vars(module).values() if isinstance(one, Kind)] for module in modules]
    assert len(modules) == len(Part) and all(len({kind.part for kind in kinds}) == 1 for kinds in by_module)
    written = [kind for kinds in by_module for kind in kinds]
    assert sorted(kind.id for kind in written) == sorted(kind.id for kind in KINDS)


FAULTS = ("halving", "closed", "busy", "hard edges", "flecks", "bull's", "pull", "dead", "competing", "cast")


def test_what_holds_is_called_by_its_virtue_everywhere() -> None:
    """ "Halving holds" reads as if the fault stayed."""
    for kind in KINDS:
        words = kind.called("holds").replace("without outlines", "")
        assert not any(fault in words for fault in FAULTS), kind.id
        assert kind.called("rework") == kind.called("watch") == kind.title
        assert kind_named(kind.called("holds")) is kind
    names = {kind.title for kind in KINDS} | {kind.virtue for kind in KINDS if kind.virtue}
    assert len(names) == len(KINDS) + sum(bool(kind.virtue) for kind in KINDS)
    held, virtue = found_as("halving", "holds"), kind_named("halving").virtue
    open_one = found_as("halving", "rework")
    assert (held.subject, open_one.subject) == (virtue, "halving")
    assert subjects_of((held,), (open_one,)) == subjects_of((), (open_one,)) == {"halving": "halving"}
    assert subjects_of((held,), (held,)) == {"halving": virtue}
    assert subjects_of((open_one,), (open_one,)) == {"halving": "halving"}
    assert f"level: {virtue}" in {column.name for column in columns_of({"halving": virtue})}


def found_as(kind: str, level: str) -> Finding:
    return kind_named(kind).finding(level=level, text=".", figure=0.5, figure_text="", norm="")  # type: ignore[arg-type]


def test_the_order_is_that_of_the_table_and_strangers_come_last() -> None:
    assert in_order(["edges", "stranger", "halving", "green_area"]) == ["green_area", "halving", "edges", "stranger"]


@pytest.mark.parametrize("name", ["hard_edges", "outlines", "closed_darks"])
def test_the_limits_of_a_kind_are_what_its_finding_is_judged_by(name: str) -> None:
    picture = scene()
    measures = measured(picture)
    measures = with_others(measures, edges=dataclasses.replace(measures.edges, lost=0.0, seen=0.5))  # lost ones excuse
    case = Case.of(picture, measures, read_norms())
    kind = kind_named(name)
    assert kind.limits is not None
    far = {"above": -1.0, "below": 1e6}[kind.limits.direction]
    judged = dataclasses.replace(kind, limits=Limits(kind.limits.direction, far, far))
    found = judged.judge(case, judged)
    assert found is not None and found.level == "rework"


def test_hard_edges_are_as_far_beyond_their_limit_as_what_melts_and_what_is_eased_leave_them() -> None:
    picture = scene()
    measures = measured(picture)
    edges = dataclasses.replace(measures.edges, softness=0.73, lost=0.12, seen=0.5, at_once=0.8)
    case = Case.of(picture, with_others(measures, edges=edges), read_norms())
    kind = kind_named("hard_edges")
    found = kind.judge(case, kind)
    assert found is not None and found.level == "watch" and kind.limits is not None
    assert found.limit is not None and kind.limits.watch is not None
    assert found.limit - found.figure == pytest.approx(kind.limits.watch - (0.73 + 0.03 + 0.05))


def test_limits_are_passed_on_their_side_only() -> None:
    below, above = Limits("below", 6.0, 3.5), Limits("above", 0.3)
    assert [below.level(figure) for figure in (6.0, 5.9, 3.5, 3.4, float("nan"))] == [
        "holds", "watch", "watch", "rework", "holds",
    ]  # fmt: skip
    assert [above.level(figure) for figure in (0.3, 0.31, 9.0)] == ["holds", "watch", "watch"]


@pytest.mark.slow
def test_a_place_on_the_page_does_not_come_from_the_words_of_a_title(tmp_path: Path) -> None:
    """A title with "key" in it, which stands among the colours all the same."""
    monkey = Kind("monkey", "green monkey halving the edge", Part.COLOURS, NEW.figures, weight, NEW.limits)
    with registered(monkey):
        page = write_review(review_picture(scene()), tmp_path).read_text(encoding="utf-8")
    places = page[: page.index('<details id="figures"')].split('<div class="place ')
    (colours,) = [place for place in places if 'class="plate families"' in place]
    assert [place for place in places if "Green monkey halving the edge" in place] == [colours]


@pytest.mark.slow
def test_one_entry_is_a_finding_on_the_page_in_the_record_and_in_the_portfolio(tmp_path: Path) -> None:
    pictures = tmp_path / "pictures"
    pictures.mkdir()
    for name, darker in (("light", 0.0), ("dark", 45.0)):
        Image.fromarray(scene(darker).srgb).save(pictures / f"{name}.png")
    (tmp_path / "rules.toml").write_text(f'["{TITLE}"]\nrework_above = 0\n', encoding="utf-8")
    with registered(NEW, before="halving"):
        page = write_review(review_picture(scene(45.0)), tmp_path / "review")
        done = make_portfolio(pictures, tmp_path / "out", jobs=1)
        strict = make_portfolio(pictures, tmp_path / "out", jobs=1, rules=read_rules(tmp_path / "rules.toml"))
    assert TITLE.capitalize() in page.read_text(encoding="utf-8")
    record = json.loads((tmp_path / "review" / "report.json").read_text(encoding="utf-8"))
    kinds = [finding["kind"] for finding in record["findings"]]
    (found,) = [finding for finding in record["findings"] if finding["kind"] == NEW.id]
    assert (found["subject"], found["level"]) == (TITLE, "rework") and kinds.index(NEW.id) < kinds.index("halving")
    assert TITLE in record["verdict"][0]
    assert strict.rework == 2 and done.pictures == 2
    with (tmp_path / "out" / "portfolio.csv").open(encoding="utf-8-sig", newline="") as stream:
        assert {row[f"level: {TITLE}"] for row in csv.DictReader(stream)} == {"rework"}
    assert f">{TITLE}</option>" in (tmp_path / "out" / "portfolio.html").read_text(encoding="utf-8")


@pytest.mark.slow
def test_one_entry_is_a_finding_in_a_comparison_passes_and_a_line_up(tmp_path: Path) -> None:
    with registered(NEW):
        compared = compare_pictures(scene(), scene(45.0))
        page = write_comparison(compared, tmp_path)
        states = [state_of(picture) for picture in (scene(), scene(45.0))]
        passes = compare_passes(states)
        told = lineup_summary(Lineup(tuple(states)), page)
    (move,) = [move for move in compared.as_dict()["findings"] if move["kind"] == NEW.id]
    assert (move["subject"], move["before"]) == (TITLE, "holds") and move["after"] != "holds"
    assert TITLE.capitalize() in page.read_text(encoding="utf-8")
    assert TITLE in " ".join(passes.texts) and TITLE in told


def test_what_one_thread_adds_no_other_sees() -> None:
    picture = scene()
    measures = measured(picture)
    with registered(NEW), ThreadPoolExecutor(1) as other:
        assert NEW.id in {finding.kind for finding in judge(picture, measures)}
        assert NEW.id not in {finding.kind for finding in other.submit(judge, picture, measures).result()}
        with pytest.raises(ValueError, match="already"), registered(NEW):
            pass
    assert all_kinds() is KINDS
