"""How pages are filled in: one template engine, escaping every text, with the words and marks that all pages share."""

from pathlib import Path
from typing import Any

from critique import __version__
from critique.report.page import breakable
from critique.report.plates.look import INK, SURROUND
from critique.report.words import number, percent, typeset

TEMPLATES = Path(__file__).parent / "templates"
SHARED_CSS = ("report.css", "sheet.css")


def filled(template: str, **values: Any) -> str:
    """A page as one HTML document, with the shared style sheets in it."""
    page: str = (
        _environment()
        .get_template(template)
        .render(
            version=__version__,
            css="\n".join((TEMPLATES / name).read_text(encoding="utf-8") for name in SHARED_CSS),
            surround=SURROUND,
            ink=INK,
            **values,
        )
    )
    return page


def capital(text: str) -> str:
    """With a capital letter first."""
    return text[:1].upper() + text[1:]


def _environment() -> Any:
    from jinja2 import Environment, FileSystemLoader, StrictUndefined

    environment = Environment(
        loader=FileSystemLoader(TEMPLATES),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        auto_reload=False,
    )
    environment.filters.update(percent=percent, number=number, capital=capital, set=typeset, breaks=breakable)
    environment.globals.update(level_words={}, counted_words={})
    return environment
