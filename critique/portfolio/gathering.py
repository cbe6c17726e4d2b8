"""All pictures of a ledger as one body of work: ranked, compared, and written as page and tables."""

import os
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path, PurePosixPath
from typing import Any
from urllib.parse import quote

from critique.advice.finding import LEVELS
from critique.advice.kind_order import in_order
from critique.advice.kinds import all_kinds
from critique.advice.verdict import PORTRAIT, portrait_in
from critique.portfolio.body import Body, body_of
from critique.portfolio.columns import columns_of, record_of
from critique.portfolio.common import Trait, common_traits
from critique.portfolio.ledger import FAILED, PRESENT, REMOVED, UNSEEN, File, Ledger
from critique.portfolio.places import REVIEWS, outline_path, shown_path, thumbnail_path
from critique.portfolio.ranking import Standing, standing_of
from critique.portfolio.rules import Rules
from critique.portfolio.same_painting import MOST, same_paintings
from critique.portfolio.tables import CsvTable, JsonTable, written
from critique.portfolio.together import CONSIDERED, Hanging, hangings
from critique.portfolio.version import measuring_version
from critique.portfolio.walls import shared_colours, wall_order, why_together
from critique.report.contact_sheet import Card, Crop, Remark, Sheet, Wall, sheet_html
from critique.report.write import PAGE as REVIEW_PAGE

PAGE, CSV, JSON = "portfolio.html", "portfolio.csv", "portfolio.json"


@dataclass(frozen=True, slots=True)
class Gathered:
    """How many pictures stand at each level, and the page that shows them."""

    page: Path
    holds: int
    watch: int
    rework: int
    failed: tuple[str, ...]
    cropped: int
    unsure: tuple[str, ...]  # photographs in which the canvas's edge is unsure, so that nothing was cropped
    cleared: tuple[str, ...]  # files with transparent parts, which were taken as white
    twins: tuple[tuple[str, ...], ...]  # groups of files that show one painting
    unjudged: int  # pictures of which nothing is said


@dataclass(frozen=True, slots=True)
class _Ranked:
    """The pictures' paths, readiest first; only this and the body are held in memory, never the rows."""

    paths: tuple[str, ...]
    counts: dict[str, int]
    subjects: dict[str, str]  # titles of all kinds of finding by their ids, in the order of a review
    names: dict[str, str]  # the same, as they are called beside every level


def gather(ledger: Ledger, rules: Rules, out: Path, title: str, unread: tuple[str, ...] = ()) -> Gathered:
    """Rank what the ledger knows and write ``portfolio.html``, ``.csv`` and ``.json``.

    ``unread`` are lines on folders that couldn't be read, told beside the files that couldn't.

    The same ledger and rules give the same bytes, however many runs it took to fill it.
    """
    ranked = _rank(ledger, rules)
    walk = ((file.content, standing, row) for file, standing, row in _walk(ledger, ranked, rules))
    body = body_of(walk, len(ranked.paths), ranked.subjects)
    counts = ranked.counts
    alike = _twins(ledger, ranked, out)
    traits, groups = common_traits(body), hangings(body, alike)
    failed = (*unread, *(_named(file) for file in ledger.files(FAILED)))
    crops, cleared = _write_tables(ledger, ranked, rules, out, traits, groups, failed)
    unsure = tuple(crop.name for crop in crops if crop.unsure)
    twins = tuple(tuple(sorted(shown_path(ranked.paths[rank]) for rank in group)) for group in alike)
    sheet = Sheet(
        title=title,
        pictures=len(ranked.paths),
        counts=tuple((level, ranked.counts[level]) for level in reversed(LEVELS) if ranked.counts[level]),
        subjects=tuple(ranked.names.values()),
        faults=tuple(ranked.subjects.values()),
        walls=tuple(_wall(ledger, ranked, rules, body, group) for group in groups),
        considered=CONSIDERED,
        remarks=_remarks(traits, unsure),
        cleared=cleared,
        failed=failed,
        removed=tuple(shown_path(file.path) for file in ledger.files(REMOVED)),
        crops=crops,
        twins=twins,
        columns=tuple((column.name, column.meaning) for column in columns_of(ranked.names)),
    )
    with written(out / PAGE) as stream:
        cards = (_card(ranked.subjects, rank, *found) for rank, found in enumerate(_walk(ledger, ranked, rules), 1))
        stream.writelines(sheet_html(sheet, cards))
    return Gathered(
        out / PAGE,
        counts["holds"],
        counts["watch"],
        counts["rework"],
        failed,
        len(crops) - len(unsure),
        unsure,
        tuple(name for name, _ in cleared),
        twins,
        len(ranked.paths) - sum(counts.values()),
    )


def _remarks(traits: tuple[Trait, ...], unsure: tuple[str, ...]) -> tuple[Remark, ...]:
    """What the pictures have in common, and which of them may not be the painting alone."""
    told = tuple(Remark(trait.text, trait.srgb) for trait in traits)
    if not told or not unsure:
        return told
    counted = "One photograph is" if len(unsure) == 1 else f"{len(unsure)} photographs are"
    own, its = ("its", "canvas ends") if len(unsure) == 1 else ("their", "canvases end")
    return (*told, Remark(f"{counted} counted with wall or frame around {own} canvas: where the {its} isn't sure."))


def _twins(ledger: Ledger, ranked: _Ranked, out: Path) -> tuple[tuple[int, ...], ...]:
    """The ranks of pictures that show one painting, a group each, the group with the readiest first."""
    files = [ledger.file(path) for path in ranked.paths[: MOST + 1]]
    return same_paintings([out / thumbnail_path(file.content) for file in files if file is not None])


def _rank(ledger: Ledger, rules: Rules) -> _Ranked:
    counts = dict.fromkeys(LEVELS, 0)
    titles = {kind.id: kind.title for kind in all_kinds()}
    held = {kind.id: kind.called("holds") for kind in all_kinds()}
    orders: list[tuple[tuple[bool, int, int], str]] = []
    for file in ledger.files(PRESENT, UNSEEN):
        if file.state == UNSEEN and not ledger.known(file.content, measuring_version()):
            continue  # measured by another version, and out of reach now
        row = ledger.row(file.content)
        standing = standing_of(row, rules)
        counts[standing.level] += standing.judged
        for finding in row["findings"]:
            titles.setdefault(finding["kind"], finding["subject"])
        orders.append((standing.order, file.path))
    orders.sort(key=lambda item: (item[0], os.fsencode(item[1])))
    return _Ranked(
        tuple(path for _, path in orders),
        {str(level): count for level, count in counts.items()},
        {kind: titles[kind] for kind in in_order(titles)},
        {kind: held.get(kind, titles[kind]) for kind in in_order(titles)},
    )


def _walk(ledger: Ledger, ranked: _Ranked, rules: Rules) -> Iterator[tuple[File, Standing, dict[str, Any]]]:
    """Every picture by rank, read from the ledger again one at a time."""
    for path in ranked.paths:
        yield _found(ledger, path, rules)


def _found(ledger: Ledger, path: str, rules: Rules) -> tuple[File, Standing, dict[str, Any]]:
    file = ledger.file(path)
    assert file is not None  # it was there when the pictures were ranked, and the ledger is held by this run
    row = ledger.row(file.content)
    return file, standing_of(row, rules), row


def _write_tables(
    ledger: Ledger,
    ranked: _Ranked,
    rules: Rules,
    out: Path,
    traits: tuple[Trait, ...],
    groups: tuple[Hanging, ...],
    failed: tuple[str, ...],
) -> tuple[tuple[Crop, ...], tuple[tuple[str, str], ...]]:
    """Write both tables; gives the photographs that they passed, cropped or unsure, and the files with clear parts.

    Of those the name, and the place of the review.
    """
    crops, cleared = [], []
    columns = columns_of(ranked.names)
    about = {
        "counts": ranked.counts,
        "in_common": traits,
        "hang_together": [
            {
                "paths": [shown_path(ranked.paths[rank]) for rank in group.ranks],
                "apart": group.apart,
                "usual": group.usual,
            }
            for group in groups
        ],
        "not_reviewed": failed,
        "removed": [shown_path(file.path) for file in ledger.files(REMOVED)],
    }
    with written(out / CSV, CsvTable.encoding) as csv_stream, written(out / JSON, JsonTable.encoding) as json_stream:
        spreadsheet, script = CsvTable(csv_stream, columns), JsonTable(json_stream, columns, about)
        for rank, (file, standing, row) in enumerate(_walk(ledger, ranked, rules), 1):
            path, review = shown_path(file.path), f"{REVIEWS}/{file.folder}/{REVIEW_PAGE}"
            if row["crop"]:
                outline = quote(outline_path(file.content))
                crops.append(Crop(path, quote(review), outline, row["crop"] == "unsure"))
            if row.get("transparent"):
                cleared.append((path, quote(review)))
            record = record_of(rank, file, path, review, standing, row, ranked.names)
            spreadsheet.add(record)
            script.add(record)
        script.close()
    return tuple(crops), tuple(cleared)


def _card(subjects: Mapping[str, str], rank: int, file: File, standing: Standing, row: dict[str, Any]) -> Card:
    folder = PurePosixPath(file.path).parent
    return Card(
        rank=rank,
        name=file.name,
        folder="" if folder == PurePosixPath() else shown_path(str(folder)),
        href=quote(f"{REVIEWS}/{file.folder}/{REVIEW_PAGE}"),
        thumbnail=quote(thumbnail_path(file.content)),
        width=row["width"],
        height=row["height"],
        level=standing.level,
        levels=tuple(standing.levels.get(kind) for kind in subjects),
        key=row["key"],
        green=row["green"]["area_share"],
        value=row["figures"]["values.percentiles.p50"],
        alt=portrait_in(row["verdict"]),
        word=row["verdict"][-1] if standing.level == "holds" and len(row["verdict"]) > PORTRAIT + 1 else "",
        uncropped=row["crop"] == "unsure",
    )


def _wall(ledger: Ledger, ranked: _Ranked, rules: Rules, body: Body, group: Hanging) -> Wall:
    """A group laid out as on a wall: the picture that the others are nearest to in the middle."""
    cards, rows = [], []
    for rank in wall_order(group.ranks):
        found = _found(ledger, ranked.paths[rank], rules)
        cards.append(_card(ranked.subjects, rank + 1, *found))
        rows.append(found[2])
    return Wall(tuple(cards), why_together(rows, group), shared_colours(rows))


def _named(file: File) -> str:
    """Why a file was not reviewed, with its folder where it lies in one."""
    folder = PurePosixPath(file.path).parent
    return file.reason if folder == PurePosixPath() else f"{shown_path(str(folder))}/{file.reason}"
