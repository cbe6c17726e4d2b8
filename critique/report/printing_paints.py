"""Paints, palettes and charts as they are printed in a terminal."""

import textwrap
from pathlib import Path

from critique.paints.box import PaintBox, default_box
from critique.paints.cards import PaintCard
from critique.paints.catalogue import Facts, known_paints
from critique.paints.chart import MixingChart
from critique.paints.paint import Paint
from critique.plain import json_line, plain
from critique.report.view_words import file_said
from critique.tasks.palette import PalettePlan

WIDTH = 100  # characters of a line
INDENT = "    "


def palette_text(plan: PalettePlan, page: Path) -> str:
    """Each palette with its reason and what it gives up, and where the page is."""
    lines = [plan.picture.file, *(f"  {line}" for line in file_said(plan.picture))]
    for offer in plan.offers:
        proposal = offer.proposal
        lines.append(f"  {proposal.kind}: {'; '.join(proposal.labels)}; {proposal.white}")
        lines += _wrapped(f"{proposal.reason} {proposal.gives_up}")
        lines += _wrapped(offer.left_over)
    lines += _cautions(plan.cautions)
    return "\n".join([*lines, f"  page: {page}"])


def chart_text(chart: MixingChart, page: Path) -> str:
    """What greys what, pair by pair, what fades, and where the page is."""
    lines = [f"  {pair.greyest.text}" for pair in chart.pairs if pair.greyest.neutralises]
    if not lines:
        nearest = min((pair.greyest for pair in chart.pairs), key=lambda grey: grey.chroma)
        lines = [
            "  No two of these paints grey each other to a neutral; this pair comes nearest:",
            f"  {nearest.text[:1].upper()}{nearest.text[1:]}",
        ]
    fading = [line for card in chart.cards if card.fading for line in _wrapped(card.fading)]
    return "\n".join([*lines, *fading, *_cautions(chart.cautions), f"  page: {page}"])


def card_text(card: PaintCard) -> str:
    """One paint in a few lines."""
    lines = [
        card.label,
        f"  pigment   {card.pigment or 'not told'}",
        f"  known     {card.origin}",
        f"  covers    {card.opacity}",
        *([f"  lasts     {card.lightfastness} (ASTM, as labels give it)"] if card.lightfastness else []),
        *([f"  mixed of  {', '.join(card.made_of)}"] if card.made_of else []),
        f"  alone     {_colour(card.masstone_lab, card.masstone)}  {card.name}",
        f"  1 in 10   {_colour(card.tint_lab, card.tint)}",
        *([] if card.light == "D65" else [f"  light     {card.light}"]),
        *_wrapped(card.hiding.text),
        *_wrapped(card.partner_text),
        *(_wrapped(card.fading) if card.fading else ()),
        *_wrapped(card.trust),
        *_cautions((card.caution,) if card.caution else ()),
    ]
    return "\n".join(lines)


def card_line(card: PaintCard) -> str:
    """One paint as one line of JSON."""
    return json_line(plain(card))


def listing(box: PaintBox | None) -> str:
    """Paints one a line: name, Colour Index name, opacity, how it is known, its hazard; a dot for the landscape set."""
    rows = [_row(entry) for entry in _entries(box)]
    in_set = {paint.name for paint in default_box().with_white} if box is None else set()
    width = max(len(row["name"]) for row in rows)
    lines = [
        f"{'·' if row['name'] in in_set else ' '} {row['name']:<{width}}  {row['colour_index']:<15}  "
        f"{row['opacity']:<16}  {row['origin']:<23}  {row['hazard']}".rstrip()
        for row in rows
    ]
    note = ["", "· in the landscape set, which is the default box"] if box is None else []
    return "\n".join([*lines, *note])


def listing_line(box: PaintBox | None) -> str:
    """The same as one line of JSON."""
    return json_line([_row(entry) for entry in _entries(box)])


def _entries(box: PaintBox | None) -> tuple[Paint | Facts, ...]:
    return known_paints() if box is None else box.with_white


def _row(entry: Paint | Facts) -> dict[str, str]:
    return {
        "name": entry.name,
        "colour_index": entry.colour_index,
        "pigment": entry.pigment,
        "opacity": entry.opacity_told if isinstance(entry, Paint) else entry.opacity,
        "origin": entry.origin,
        "hazard": ", ".join(entry.hazards),
    }


def _colour(lab: tuple[float, float, float], srgb: str) -> str:
    L, a, b = lab
    return f"L* {L:5.1f}  a* {a:6.1f}  b* {b:6.1f}  {srgb}".replace("-", "−")


def _cautions(cautions: tuple[str, ...]) -> list[str]:
    return [line for caution in cautions for line in _wrapped(f"Caution: {caution}")]


def _wrapped(text: str) -> list[str]:
    capital = text[:1].upper() + text[1:]
    return textwrap.wrap(capital, WIDTH, initial_indent=INDENT, subsequent_indent=INDENT)
