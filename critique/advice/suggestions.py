"""What to change first, and what the picture measures with the change applied."""

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from critique.advice.finding import Change, Finding, Suggestion, Target
from critique.advice.green_findings import MAP_LONG_EDGE
from critique.advice.judging import Case
from critique.advice.muting import painted_muting, pair_recipe, repaint_greens
from critique.advice.places import place_of
from critique.advice.previews import (
    EARTH_CHROMA,
    EARTH_HUE,
    STRAW_CHROMA,
    STRAW_HUE,
    shift_cast,
    stretch_values,
    trade_greens,
    vary_greens,
)
from critique.advice.wording import percent, sentence
from critique.measures.cast import measure_cast
from critique.measures.division import measure_division
from critique.measures.greens import Greens, measure_greens
from critique.perception.cielab import lab_to_lch, lab_to_srgb8, lch_to_lab
from critique.perception.hue import YELLOW_GREEN, beyond_leaf
from critique.perception.munsell import munsell_notation
from critique.perception.names import colour_name
from critique.perception.srgb import hex_of
from critique.picture.picture import lab_at, picture_from_lab

KEPT_CHROMA = 12.0  # C*: greens this quiet are left as they are; the middle landscape's green
MUTED_MEDIAN_RANK = 90  # percentile of the landscapes' median green chroma that muting aims at
TRADE_FROM, TRADE_FULL = 0.7, 1.4  # standard deviations of the green's value: about two fifths of it is traded
WARM_TURN, COOL_TURN = 14.0, 26.0  # degrees that lights and shadows of an even green are turned; common practice
MOST_CROPPED = 0.3  # of the height that a trial crop may take
CROP_MISS = 0.05  # of the height that the line, measured again, may lie off the place aimed at
MOST_SUGGESTIONS = 5  # more is a list and not advice


def suggestions(case: Case, findings: tuple[Finding, ...]) -> tuple[Suggestion, ...]:
    """A suggestion for each finding that doesn't hold and that a change of paint or of frame can mend, worst first."""
    makers = {
        "green strength": _mute,
        "green area": _trade,
        "evenness of greens": _vary,
        "green cast": _uncast,
        "halving": _move_line,
        "value range": _widen,
    }
    order = {"rework": 0, "watch": 1}
    open_findings = sorted((f for f in findings if f.level in order), key=lambda f: order[f.level])
    made = [makers[finding.subject](case) for finding in open_findings if finding.subject in makers]
    return tuple(suggestion for suggestion in made if suggestion is not None)[:MOST_SUGGESTIONS]


def target_of(lch: tuple[float, float, float]) -> Target:
    """A colour with all its names."""
    lab = lch_to_lab(np.array(lch))
    return Target(
        float(lch[0]), float(lch[1]), float(lch[2]), munsell_notation(lab), colour_name(lab), hex_of(lab_to_srgb8(lab))
    )


def _mute(case: Case) -> Suggestion:
    lab = case.picture.lab
    greens = case.measures.greens
    beyond = beyond_leaf(lab)
    strong = lab[beyond] if beyond.mean() > 0.001 else lab[YELLOW_GREEN.contains(lab)]
    L, C, h = (float(part) for part in lab_to_lch(np.median(strong, axis=0)))
    wanted = case.norms.at("greens.median_chroma", MUTED_MEDIAN_RANK)
    ratio = float(np.clip((wanted - KEPT_CHROMA) / max(greens.median_chroma - KEPT_CHROMA, 1.0), 0.1, 0.85))
    source, aim = (L, C, h), (L, KEPT_CHROMA + (C - KEPT_CHROMA) * ratio, h)
    painted = painted_muting(lch_to_lab(np.array(source)), lch_to_lab(np.array(aim)))
    made = painted.made if painted else aim
    preview = picture_from_lab(repaint_greens(lab, KEPT_CHROMA, source, made), case.picture)
    after = measure_greens(preview)
    small = lab_at(case.picture, MAP_LONG_EDGE)
    mask = beyond_leaf(small)
    where = place_of(mask if mask.any() else YELLOW_GREEN.contains(small))
    text = (
        f"mute the greens {where}. Take the strong one from chroma {C:.0f} to about {made[1]:.0f} and hold its "
        f"value ({L / 10:.1f}), so that the drawing of light and shade stays"
    )
    return Suggestion(
        "mute the greens",
        sentence(text),
        _green_changes(greens, after),
        target=target_of(made),
        source=target_of(source),
        recipe=painted.recipe if painted else None,
        preview=preview,
        preview_caption="The picture with that mixture in its strong greens; all other colours as they are.",
    )


def _trade(case: Case) -> Suggestion:
    greens = case.measures.greens
    middle, spread = greens.median_lightness, 10 * max(greens.value_spread, 0.5)
    start, full = TRADE_FROM * spread, TRADE_FULL * spread
    preview = picture_from_lab(trade_greens(case.picture.lab, middle, start, full), case.picture)
    after = measure_greens(preview)
    text = (
        "give some of the green away. Let what is lighter than about value "
        f"{(middle + start) / 10:.1f} go to straw and ochre, and what is darker than {(middle - start) / 10:.1f} "
        "to a warm grey; what stays green then reads as green"
    )
    return Suggestion(
        "less green",
        sentence(text),
        _green_changes(greens, after),
        recipe=pair_recipe(
            ("Straw for the lights", lch_to_lab(np.array([middle + full, STRAW_CHROMA, STRAW_HUE]))),
            ("Warm grey for the shadows", lch_to_lab(np.array([middle - full, EARTH_CHROMA, EARTH_HUE]))),
        ),
        preview=preview,
        preview_caption="The lit greens turned to straw and the dark ones to a warm grey; the middle greens stay.",
    )


def _vary(case: Case) -> Suggestion:
    greens = case.measures.greens
    middle, reach = greens.median_lightness, 10 * max(greens.value_spread, 0.5)
    preview = picture_from_lab(vary_greens(case.picture.lab, middle, reach, WARM_TURN, COOL_TURN), case.picture)
    after = measure_greens(preview)
    changes = (
        _change("evenness", greens.evenness, after.evenness, percent),
        _change("spread of green hues", greens.hue_spread, after.hue_spread, lambda degrees: f"{degrees:.0f}°"),
    )
    text = (
        "vary the greens by light. Turn the lit ones about a step toward yellow and the shaded ones two steps toward "
        "blue-green, even where you see no difference: the eye reads that as sun and air"
    )
    return Suggestion(
        "vary the greens",
        sentence(text),
        changes,
        recipe=pair_recipe(
            ("In the light", _green_at(greens, middle + reach, -WARM_TURN)),
            ("In the shade", _green_at(greens, middle - reach, COOL_TURN)),
        ),
        preview=preview,
        preview_caption="The same values, with warmer greens in the light and cooler ones in the shade.",
    )


def _green_at(greens: Greens, lightness: float, turned: float) -> NDArray[np.floating]:
    """The middle green at another lightness, turned by some degrees of hue."""
    return lch_to_lab(np.array([lightness, greens.median_chroma, greens.mean_hue + turned]))


def _uncast(case: Case) -> Suggestion:
    cast = case.measures.cast
    neutral = cast.most_neutral if cast.likely == "photograph" else cast.mean
    a, b = min(neutral.a, 0.0), neutral.b if cast.likely == "photograph" else 0.0
    preview = picture_from_lab(shift_cast(case.picture.lab, a, b), case.picture)
    after, greens = measure_cast(preview), measure_greens(preview)
    changes = (
        _change("mean a* (below 0 is green)", cast.mean.a, after.mean.a, lambda a: f"{a:.1f}".replace("-", "−")),
        _change("green area", case.measures.greens.area_share, greens.area_share, percent),
    )
    if cast.likely == "photograph":
        text = "take the cast out of the photograph before you touch the painting: this is the picture with its greys made grey"
    else:
        text = "warm the whole by a thin glaze or by red in the greys: this is the picture with its lean toward green taken out"
    return Suggestion(
        "take out the green cast",
        sentence(text),
        changes,
        preview=preview,
        preview_caption="The picture with the lean toward green taken out.",
    )


def _move_line(case: Case) -> Suggestion | None:
    """Crop so that the line leaves the middle, from the side where less happens; the crop is measured again.

    None when no crop of less than a third does it: then only a repaint can.
    """
    division = case.measures.division
    detail = np.abs(np.diff(lab_at(case.picture, MAP_LONG_EDGE)[..., 0], axis=0)).mean(axis=1)
    crops = []
    for aim in division.alternatives:
        side = "bottom" if aim > 0.5 else "top"
        cut = 1 - division.height / aim if side == "bottom" else (division.height - aim) / (1 - aim)
        if 0 < cut <= MOST_CROPPED:
            rows = round(len(detail) * cut)
            lost = float(detail[-rows:].mean() if side == "bottom" else detail[:rows].mean())
            crops.append((lost * cut, cut, side, aim))
    for _, cut, side, aim in sorted(crops):
        removed = round(case.picture.height * cut)
        kept = case.picture.lab[:-removed] if side == "bottom" else case.picture.lab[removed:]
        preview = picture_from_lab(np.ascontiguousarray(kept), case.picture)
        after = measure_division(preview)
        if after.nearly_halved or abs(after.height - aim) > CROP_MISS:
            continue
        text = (
            f"move the line out of the middle. The quickest trial is a crop: cover {percent(cut)} of the picture at the "
            f"{side} and the line comes to {percent(aim)} of the height. In a repaint, move the line itself and keep the "
            "format"
        )
        return Suggestion(
            "move the division",
            sentence(text),
            (
                _change("height of the line", division.height, after.height, percent),
                _change("distance from the middle", abs(division.height - 0.5), abs(after.height - 0.5), percent),
            ),
            preview=preview,
            preview_caption=f"Cropped at the {side}, where the least is lost.",
        )
    return None


def _widen(case: Case) -> Suggestion:
    values = case.measures.values
    low, high = 10 * values.percentiles["p5"], 10 * values.percentiles["p95"]
    wanted = 10 * case.norms.at("values.range", 25)
    grow = max(wanted - (high - low), 0.0)
    room_below, room_above = max(low - 8, 0.0), max(94 - high, 0.0)
    down = min(room_below, grow * room_below / max(room_below + room_above, 1e-6))
    to_low, to_high = low - down, min(high + grow - down, 94.0)
    preview = picture_from_lab(stretch_values(case.picture.lab, low, high, to_low, to_high), case.picture)
    after = np.percentile(preview.lab[..., 0], (5, 95)) / 10
    return Suggestion(
        "widen the values",
        sentence(
            f"push the darks to about value {to_low / 10:.1f} and the lights to {to_high / 10:.1f}, the darkest darks and "
            "lightest lights only where you want to be looked at"
        ),
        (_change("range of values", values.range, float(after[1] - after[0]), lambda value: f"{value:.1f}"),),
        preview=preview,
        preview_caption="The same picture with its values spread wider.",
    )


def _green_changes(before: Greens, after: Greens) -> tuple[Change, ...]:
    return (
        _change("green area", before.area_share, after.area_share, percent),
        _change("beyond a leaf", before.beyond_leaf_share, after.beyond_leaf_share, percent),
        _change("middle chroma of the green", before.median_chroma, after.median_chroma, lambda c: f"{c:.0f}"),
    )


def _change(name: str, before: float, after: float, text: Callable[[float], str]) -> Change:
    return Change(name, float(before), float(after), text(float(before)), text(float(after)))
