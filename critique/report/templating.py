"""The template engine as the pages beside the review's own use it."""

from pathlib import Path
from typing import Any

from critique import __version__
from critique.report.page import COUNTED_WORDS, LEVEL_WORDS, breakable
from critique.report.plates.look import INK, SURROUND
from critique.report.words import number, percent, typeset

TEMPLATES = Path(__file__).parent / "templates"


def rendered(template: str, style: str = "comparison.css", **context: Any) -> str:
    """A page of ``templates``; every text in it is escaped by the engine, and nothing on it is fetched.

    ``style`` is the sheet that the page needs beside the review's own.
    """
    from jinja2 import Environment, FileSystemLoader, StrictUndefined

    environment = Environment(
        loader=FileSystemLoader(TEMPLATES),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        auto_reload=False,
    )
    environment.filters.update(percent=percent, number=number, capital=_capital, set=typeset, breaks=breakable)
    environment.globals.update(level_words=LEVEL_WORDS, counted_words=COUNTED_WORDS)
    styles = "".join((TEMPLATES / name).read_text(encoding="utf-8") for name in ("report.css", style))
    page: str = environment.get_template(template).render(
        version=__version__, css=styles, surround=SURROUND, ink=INK, **context
    )
    return page


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
