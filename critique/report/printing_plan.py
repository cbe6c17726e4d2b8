"""A plan as it is printed in a terminal."""

import textwrap
from pathlib import Path

from critique.advice.recipe_words import SWATCH_FIRST
from critique.paints.cautions import cautions_for, in_one
from critique.paints.recipes import OFF, Recipe, difference_in_words
from critique.report.plan_page import SHEET, cut_told, opening, to_try
from critique.report.plan_words import short_mixture, short_start
from critique.report.view_words import file_said
from critique.tasks.plan import Plan
from critique.words.lists import listed

WIDTH, INDENT = 100, "    "  # characters


def plan_text(plan: Plan, page: Path) -> str:
    """What the aim is, its tubes, its passages in a line each, and where page and sheet are."""
    lines = [plan.picture.file, *(f"  {line}" for line in file_said(plan.picture))]
    for sentence in opening(plan):
        lines += _wrapped(sentence)
    first = plan.first_step
    for one in plan.aim.left_out:
        if first is not None and one.kind == first.kind:
            lines += _wrapped(f"To take it: the same command with --take {one.kind}")
            continue
        lines += _wrapped(f"Left out: {one.title} ({one.kind}): {one.reason}")
    for subject, title, kind in to_try(plan):
        lines += _wrapped(f"For its {subject}, try: {title} (--take {kind})")
    for sentence in cut_told(plan):
        lines += _wrapped(sentence)
    lines.append(f"  tubes: {listed(list(plan.palette.labels))}, with {plan.palette.white}")
    if plan.palette.help is not None:
        lines += _wrapped(plan.palette.help.text)
    for passage in plan.passages.passages:
        mixture = short_mixture(passage.recipe)
        if passage.same_as is not None:
            mixture = f"the heap of {passage.same_as}"
        elif passage.mother is not None:
            mixture = short_start(passage.mother)
        if passage.same_as is None:
            mixture += _reach(passage.recipe)
        lines += _wrapped(f"{passage.number}  {passage.name}, value {passage.value:.0f}: {mixture}", "  ")
    for accent in plan.passages.accents:
        touch = f"{accent.letter}  {accent.colour}, {accent.place.words}, laid last: {short_mixture(accent.recipe)}"
        touch += _reach(accent.recipe)
        lines += _wrapped(touch, "  ")
    lines += _wrapped(SWATCH_FIRST, "  ")
    if cautions := cautions_for(plan.palette.box.with_white):
        lines += _wrapped(in_one(cautions), "  ")
    return "\n".join([*lines, f"  page: {page}", f"  sheet to print: {page.parent / SHEET}"])


def _reach(recipe: Recipe) -> str:
    if recipe.error <= OFF:
        return ""
    return f" (out of reach: {difference_in_words(recipe.target_lab, recipe.lab)})"


def _wrapped(text: str, indent: str = INDENT) -> list[str]:
    return textwrap.wrap(text, WIDTH, initial_indent=indent, subsequent_indent=INDENT)
