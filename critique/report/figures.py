"""All figures of a review as rows of a table, each with what it means."""

import math
from dataclasses import dataclass

from critique.measures.cast import Lean
from critique.measures.greens import GreenFigures
from critique.measures.measure import Measures
from critique.report import glossary, glossary_colour
from critique.report.glossary import Entry
from critique.words.figures import number, percent


@dataclass(frozen=True, slots=True)
class Row:
    """A figure as text beside its entry in the glossary."""

    entry: Entry
    text: str


@dataclass(frozen=True, slots=True)
class Group:
    """The rows of one question."""

    title: str
    rows: tuple[Row, ...]


def figure_groups(measures: Measures) -> tuple[Group, ...]:
    """Every figure of the review, grouped as the page is."""
    return (
        Group(
            "Greens",
            _rows(glossary.GREENS, _greens(measures))
            + _rows(glossary.GREEN_KINDS, _green_kinds(measures))
            + _rows(glossary.FAMILY_GREENS, _family(measures)),
        ),
        Group("Values", _rows(glossary.VALUES, _values(measures))),
        Group("Division", _rows(glossary.DIVISION, _division(measures))),
        Group("Harmony", _rows(glossary_colour.HARMONY, _harmony(measures))),
        Group("Variety", _rows(glossary_colour.VARIETY, _variety(measures))),
        Group("Cast", _rows(glossary_colour.CAST, _cast(measures))),
        Group("Eye path", _rows(glossary_colour.EYE_PATH, _eyepath(measures))),
    )


def _rows(entries: dict[str, Entry], texts: dict[str, str]) -> tuple[Row, ...]:
    return tuple(Row(entry, texts[name]) for name, entry in entries.items())


def _greens(measures: Measures) -> dict[str, str]:
    greens = measures.greens
    return {
        **_green_figures(greens),
        "median_lightness": number(greens.median_lightness / 10),
        "p95_chroma": number(greens.p95_chroma, 0),
        "mean_hue": number(greens.mean_hue, 0, "°"),
        "hue_spread": number(greens.hue_spread, 0, "°"),
        "value_spread": number(greens.value_spread),
        "evenness": percent(greens.evenness),
        "relief_share": percent(greens.relief_share),
        "beyond_leaf_share": percent(greens.beyond_leaf_share),
    }


def _green_figures(greens: GreenFigures) -> dict[str, str]:
    return {
        "area_share": percent(greens.area_share),
        "chroma_share": percent(greens.chroma_share),
        "median_chroma": number(greens.median_chroma, 0),
    }


def _green_kinds(measures: Measures) -> dict[str, str]:
    kinds = measures.green_kinds
    if not (kinds.near and kinds.far and kinds.lit and kinds.shaded):
        return dict.fromkeys(glossary.GREEN_KINDS, "too little green")
    return {
        "near_far": f"value {number(kinds.near.value)}, chroma {number(kinds.near.chroma, 0)}; "
        f"value {number(kinds.far.value)}, chroma {number(kinds.far.chroma, 0)}",
        "light_shade": f"{number(kinds.lit.hue, 0, '°')}, {number(kinds.shaded.hue, 0, '°')}",
        "strongest": f"{percent(kinds.strongest_x or 0)}, {percent(kinds.strongest_y or 0)}",
    }


def _family(measures: Measures) -> dict[str, str]:
    return _green_figures(measures.greens.family)


def _values(measures: Measures) -> dict[str, str]:
    values = measures.values
    p = values.percentiles
    twins = [f"{measures.families[pair.first].name} and {measures.families[pair.second].name}" for pair in values.twins]
    return {
        "key": f"{values.key}, {values.spread}",
        "percentiles": f"{number(p['p5'])}, {number(p['p50'])}, {number(p['p95'])}",
        "range": number(values.range),
        **{f"separation_{plan.levels}": percent(plan.separation) for plan in values.plans},
        "largest_mass": percent(values.largest_mass),
        "twins": "; ".join(twins) or "none",
        "neighbours": _neighbours(measures),
    }


def _neighbours(measures: Measures) -> str:
    near = measures.neighbours
    if near.green is None or near.other is None or near.value_difference is None:
        return "none touch"
    names = measures.families[near.green].name, measures.families[near.other].name
    return f"{names[0]} and {names[1]}, {number(abs(near.value_difference))} apart"


def _division(measures: Measures) -> dict[str, str]:
    division = measures.division
    vertical = division.vertical
    return {
        "height": number(division.height, 2) if division.present else "no line",
        "strength": number(division.strength, 2),
        "straightness": percent(division.straightness),
        "slope": number(division.slope, 2),
        "near_middle": percent(division.near_middle),
        "value_step": number(division.value_step),
        "vertical": f"at {number(vertical.position, 2)}" if vertical.present else "none",
        "lights": f"{percent(division.lights.light_share)} light",
    }


def _harmony(measures: Measures) -> dict[str, str]:
    harmony, families = measures.harmony, measures.families
    pairs = [f"{families[pair.first].name} and {families[pair.second].name}" for pair in harmony.complements]
    return {
        "template": f"{harmony.template}: {harmony.template_words}",
        "distance": number(harmony.distance, 1, "°"),
        "pair_harmony": number(harmony.pair_harmony, 2),
        "warm_share": percent(harmony.warm_share),
        "complements": "; ".join(pairs) or "none",
    }


def _variety(measures: Measures) -> dict[str, str]:
    variety = measures.variety
    return {
        "effective_hues": number(variety.effective_hues),
        "hull_area": number(variety.hull_area, 0),
        "names": str(variety.names),
        "colourfulness": f"{number(variety.colourfulness, 0)}, {variety.colourfulness_word}",
    }


def _cast(measures: Measures) -> dict[str, str]:
    cast = measures.cast
    sure = f", {percent(cast.sureness)} sure" if math.isfinite(cast.sureness) else ""
    return {
        "mean": _lean(cast.mean),
        "lightest": _lean(cast.lightest),
        "most_neutral": _lean(cast.most_neutral),
        "likely": ("no cast" if cast.likely == "none" else f"the {cast.likely}") + sure,
    }


def _lean(lean: Lean) -> str:
    return f"{number(lean.chroma)} to {lean.word}"


def _eyepath(measures: Measures) -> dict[str, str]:
    path = measures.eyepath
    return {
        "focus": f"{percent(path.focus.x)}, {percent(path.focus.y)}",
        "from_middle": number(path.from_middle, 2),
        "from_thirds": number(path.from_thirds, 2),
        "framing": number(path.framing),
        "border_framing": number(path.border_framing),
        "strongest_pull": f"{number(path.strongest_pull.strength, 2)}, {path.strongest_pull.place}",
        "lines": f"{path.lines_toward} toward, {path.lines_out} out",
    }
