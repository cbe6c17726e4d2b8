"""The JSON Schema of every record that the program writes, from the dataclasses that it writes them from.

    python reference_data/make_record_schema.py

writes record_schema.json beside this script: one definition a record (review, palette, chart, gallery, plan, study,
straightened, sent picture, submission, comparison, passes, lineup, portfolio), none of which allows a key that it
doesn't name. [JSON Schema, draft 2020-12]
"""

import dataclasses
import json
import types
import typing
from pathlib import Path
from typing import Any, Literal

import numpy as np

from critique.advice.finding import LEVELS, Finding
from critique.advice.recipe_for import RecipeFor
from critique.advice.suggestion import Moved, Target
from critique.measures.families import Family
from critique.measures.figures import all_figures
from critique.measures.measure import Measures
from critique.paints.chart import MixingChart
from critique.pair.change_maps import ChangeMaps
from critique.pair.compare import Held, PaletteNeed
from critique.pair.toward_aim import TowardAim
from critique.pair.toward_words import TowardWords
from critique.pair.transport import Transport
from critique.photograph.fitness import Fitness
from critique.picture.picture import Picture
from critique.portfolio.columns import figures_in_table
from critique.portfolio.common import Trait
from critique.records import FORMAT
from critique.sending.submit import Sent, Submission
from critique.tasks.aim import Aim, Step
from critique.tasks.gallery import Gallery
from critique.tasks.palette import LimitedStudy, PalettePlan
from critique.tasks.plan import Plan
from critique.tasks.straightening import Straightening

Schema = dict[str, Any]
HERE = Path(__file__).parent

STRING: Schema = {"type": "string"}
NUMBER: Schema = {"type": ["number", "null"]}  # what there is nothing to measure on is null
ANY: Schema = {"type": "object"}  # by the kind of change or by the figures that were asked for
SIMPLE = {str: STRING, int: {"type": "integer"}, bool: {"type": "boolean"}, float: NUMBER, type(None): {"type": "null"}}


def closed(properties: Schema, optional: tuple[str, ...] = ()) -> Schema:
    """An object with these keys and no others."""
    required = [name for name in properties if name not in optional]
    return {"type": "object", "properties": properties, "required": required, "additionalProperties": False}


def list_of(items: Schema) -> Schema:
    return {"type": "array", "items": items}


def of(kind: Any) -> Schema:
    """What ``critique.plain.plain`` makes of a value of this type."""
    if kind in SIMPLE:
        return dict(SIMPLE[kind])
    if dataclasses.is_dataclass(kind):
        return closed(fields_of(kind))
    origin, given = typing.get_origin(kind), typing.get_args(kind)
    if origin in (typing.Union, types.UnionType):
        return {"anyOf": [of(each) for each in given]}
    if origin is Literal:
        return {"enum": list(given)}
    if origin is dict or getattr(origin, "__name__", "") == "Mapping":
        return {"type": "object", "additionalProperties": of(given[1])}
    if origin is tuple and given[-1:] != (Ellipsis,):
        return {"type": "array", "prefixItems": [of(each) for each in given], "items": False}
    if origin in (tuple, list) or getattr(origin, "__name__", "") == "Sequence":
        return list_of(of(given[0]))
    if origin is np.ndarray:
        return {"type": "array"}
    raise TypeError(f"no schema for {kind!r}")


def fields_of(kind: Any) -> Schema:
    """The keys that a dataclass has in the record."""
    hints = typing.get_type_hints(kind)
    kept = (field.name for field in dataclasses.fields(kind) if field.metadata.get("record", True))
    return {name: of(hints[name]) for name in kept}


def measured() -> Schema:
    """The measures, and every figure at the path that is its name."""
    properties = fields_of(Measures)
    for figure in all_figures():
        *folders, last = figure.name.split(".")
        found = properties
        for folder in folders:
            if folder.isdigit():
                continue
            entry = found.setdefault(folder, closed({}))
            entry = entry["items"] if entry.get("type") == "array" and "items" in entry else entry
            if "properties" not in entry:
                break
            found = entry["properties"]
        else:
            if last not in found and not folders[-1:] == [last]:
                found[last] = dict(NUMBER)
    return properties


def record(properties: Schema, optional: tuple[str, ...] = ()) -> Schema:
    return closed({"format": {"const": FORMAT}, "version": STRING, **properties}, optional)


def suggestion() -> Schema:
    green = {"share": NUMBER, "source": of(Target), "target": of(Target), "recipe": of(str | None)}
    return closed(
        {
            "kind": STRING,
            "subject": STRING,
            "text": STRING,
            "parameters": ANY,
            "upon": list_of(STRING),
            "effect": STRING,
            "changes": list_of(of(Moved)),
            "before": {"type": "object", "additionalProperties": NUMBER},
            "after": {"type": "object", "additionalProperties": NUMBER},
            "greens": list_of(closed(green)),
            "recipe": of(str | None),
            "recipes": list_of(of(RecipeFor)),
            "preview_caption": STRING,
        }
    )


def records() -> dict[str, Schema]:
    """Every record by its name."""
    review = {
        "picture": of(Picture),
        "held_to": STRING,
        **measured(),
        "verdict": list_of(STRING),
        "findings": list_of(of(Finding)),
        "light_decides": list_of(STRING),
        "suggestions": list_of(suggestion()),
        "aim": of(Aim),
        "repaint_study": of(LimitedStudy),
    }
    return {
        "review": record(review, optional=("aim", "repaint_study")),
        "palette": record(fields_of(PalettePlan)),
        "chart": record(fields_of(MixingChart)),
        "gallery": record(fields_of(Gallery)),
        "sent": record(fields_of(Sent)),
        "submission": record(fields_of(Submission)),
        "plan": record(planned()),
        "study": record({"file": STRING, "sheets": list_of(STRING), "cut_off": NUMBER}),
        "straightened": record(straightened()),
        "portfolio": record(portfolio()),
        **compared(),
    }


def planned() -> Schema:
    """The record of a plan: the aim's steps are told with what they change, and its findings in short."""
    change = {"parameters": ANY, "strength": NUMBER, "recipes": list_of(of(RecipeFor))}
    finding = closed({"subject": STRING, "level": STRING, "text": STRING})
    steps = list_of(closed({**fields_of(Step), **change}))
    return {**fields_of(Plan), "aim": closed({**fields_of(Aim), "steps": steps, "findings": list_of(finding)})}


def straightened() -> Schema:
    """The record of a photograph that was put straight."""
    kept = (
        "file",
        "corners",
        "sure",
        "whole",
        "how",
        "width",
        "height",
        "proportion",
        "proportion_seen",
        "other",
        "light",
    )
    hints = typing.get_type_hints(Straightening)
    fitness = closed({**fields_of(Fitness), "said": STRING})
    return {**{name: of(hints[name]) for name in kept}, "picture": STRING, "fitness": list_of(fitness)}


def portfolio() -> Schema:
    """``portfolio.json``: every picture has the columns that are named in it."""
    level = {"enum": [*LEVELS, None]}
    picture = closed(
        {
            **dict.fromkeys(("path", "review", "level", "key", "content"), STRING),
            **dict.fromkeys(("rank", "rework", "watch", "holds", "width", "height"), of(int)),
            "unusual": NUMBER,
            "colours": list_of(STRING),
            **{figure.name: dict(NUMBER) for figure in figures_in_table()},
        }
    )
    group = closed({"paths": list_of(STRING), "apart": NUMBER, "usual": NUMBER})
    return {
        "columns": {"type": "object", "additionalProperties": STRING},
        "counts": closed({name: of(int) for name in LEVELS}),
        "in_common": list_of(of(Trait)),
        "hang_together": list_of(group),
        "not_reviewed": list_of(STRING),
        "removed": list_of(STRING),
        "pictures": list_of({**picture, "patternProperties": {"^level: ": level}}),
    }


def compared() -> dict[str, Schema]:
    """The records of two pictures and more."""
    held = typing.get_type_hints(Held)
    changes = typing.get_type_hints(held["changes"])
    state = closed({"picture": of(Picture), **measured(), "findings": list_of(of(Finding))})
    light = closed(
        {"text": STRING, "balance": of(held["balance"]), "moved_alike": of(held["alike"]), "shine": of(held["shine"])}
    )
    maps = closed({**fields_of(ChangeMaps), "texts": list_of(STRING)})
    places = {"anyOf": [maps, {"type": "null"}]}
    frame = {"unrelated": of(bool), "turned_round": of(bool), "frame": of(held["frame"])}
    drawing = closed({"text": STRING, **fields_of(held["registration"]), **frame})
    need = closed({**fields_of(PaletteNeed), "needed": of(int | None)})
    palette = {"box": STRING, "error": NUMBER, "sizes": list_of(of(int)), "first": need, "second": need}
    moves = {"figures": of(changes["figures"]), "findings": of(held["moves"]), "changed_places": places}
    comparison = {
        "verdict": list_of(STRING),
        "answers": of(held["answers"]),
        "light": light,
        "drawing": drawing,
        "definition": of(held["definition"]),
        **moves,
        "families": closed({**fields_of(Transport), "matched": of(tuple[tuple[Family, ...], tuple[Family, ...]])}),
        "palette": closed(palette),
        "first": state,
        "second": state,
    }
    step = closed({"text": STRING, "light": light, **moves})
    toward = fields_of(TowardAim)
    passes = {"advice": STRING, "passes": list_of(state), "steps": list_of(step)}
    told = {"toward_aim": closed({**toward, "told": of(TowardWords)})}
    by_plan = ("toward_aim",)  # there is one only where a plan was given
    return {
        "comparison": record({**comparison, "toward_aim": closed(toward)}, optional=by_plan),
        "passes": record({**passes, **told}, optional=by_plan),
        "lineup": record({"figures": list_of(STRING), "pictures": list_of(state)}),
    }


def schema() -> Schema:
    """All of it."""
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": f"Records of critique, format {FORMAT}",
        "$defs": records(),
    }


if __name__ == "__main__":
    text = json.dumps(schema(), indent=1, ensure_ascii=False)
    (HERE / "record_schema.json").write_text(text + "\n", encoding="utf-8")
