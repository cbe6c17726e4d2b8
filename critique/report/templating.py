"""The template engine of every page: what is escaped, how numbers and names are set, and the sheets of style."""

import re
import shlex
from functools import cache
from pathlib import Path
from typing import Any

from critique import __version__
from critique.advice.colour_words import word_of_lab
from critique.report.plates.look import INK, SURROUND
from critique.words.figures import number, percent, typeset
from critique.words.printed import shown, shown_value

TEMPLATES = Path(__file__).parent / "templates"
LEVEL_WORDS = {"holds": "holds", "watch": "to watch", "rework": "to rework"}
COUNTED_WORDS = {**LEVEL_WORDS, "holds": "hold"}


@cache
def environment() -> Any:
    """The engine: every text is escaped, a name that a template lacks is an error, and nothing on a page is fetched."""
    from jinja2 import Environment, FileSystemLoader, StrictUndefined

    engine = Environment(
        loader=FileSystemLoader(TEMPLATES),
        autoescape=True,
        undefined=StrictUndefined,
        finalize=shown_value,
        trim_blocks=True,
        lstrip_blocks=True,
        auto_reload=False,
    )
    engine.filters.update(percent=percent, number=number, capital=_capital)
    engine.filters.update(painted=_painted)
    engine.filters.update(set=in_print, breaks=breakable, pasteable=pasteable, pasted=shlex.quote, boxed=box_named)
    engine.globals.update(level_words=LEVEL_WORDS, counted_words=COUNTED_WORDS)
    return engine


def _painted(lab: tuple[float, float, float]) -> str:
    """What a painter calls a colour in CIELAB."""
    import numpy as np

    return word_of_lab(np.asarray(lab))


def styles(*names: str) -> str:
    """The sheets of style of a page, the review's own first."""
    return "".join((TEMPLATES / name).read_text(encoding="utf-8") for name in ("report.css", *names))


def rendered(template: str, style: str = "comparison.css", **context: Any) -> str:
    """A page of ``templates``; ``style`` is the sheet that it needs beside the review's own."""
    page: str = (
        environment()
        .get_template(template)
        .render(version=__version__, css=styles(style), surround=SURROUND, ink=INK, **context)
    )
    return page


def in_print(text: str) -> Any:
    """A sentence, escaped and typeset, in which an option such as ``--grey-original`` is never broken into lines."""
    from markupsafe import Markup, escape

    return Markup(
        re.sub(r"(?<![\w-])--[a-z-]+", r'<span class="option">\g<0></span>', str(escape(typeset(shown(text)))))
    )


def breakable(name: str) -> Any:
    """A file's name, escaped, that may break into lines after its underscores, hyphens and dots."""
    from markupsafe import Markup, escape

    name = shown(name)
    return Markup("<wbr>").join(escape(part) for part in re.split(r"(?<=[_\-.])", name))


def pasteable(command: str) -> Any:
    """A command, escaped, that breaks into lines between its words and after a path's slashes, and not in an option."""
    from markupsafe import Markup, escape

    broken = "<wbr>".join(str(escape(part)) for part in re.split(r"(?<=[/_])", shown(command)))
    return Markup(re.sub(r"(?<= )--[a-z-]+", r"<span>\g<0></span>", broken))


def box_named(name: str) -> str:
    """A paint box by its name, such as "landscape box" or "my field box": which isn't called a box twice."""
    return name if name.lower().endswith("box") else f"{name} box"


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
