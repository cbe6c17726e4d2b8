"""What is said of a picture under its lamps: where it keeps its look, where it changes most, what its greens do."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np

from critique.paints.recipes import toward_word
from critique.perception.hue import YELLOW_GREEN
from critique.perception.lamps import Lamp
from critique.words.figures import number, percent
from critique.words.lists import listed

if TYPE_CHECKING:
    from critique.tasks.gallery import GreensUnder, Shift, UnderLamp, Verdict

TURNS = 5.0  # degrees of hue: at C* 40 that is ΔE00 2
SEEN = 2.0  # ΔE00: from there on a shift is worth a word
NEXT_TO_NONE = 0.05  # of the greens' chroma: with less they are said to keep their strength
LITTLE_GREEN = 0.1  # of the picture: where less is green, that it keeps its strength is no news
TOLD = 3  # families at most that a lamp's text names
IN_VERDICT = 2  # families at most that the verdict names
BARELY = 0.5  # ΔE00 on average below which how far a picture moves isn't worth a figure; our choice
UNSEEN, MOVES = 1.0, 2.0  # ΔE00, of all on average and of one large colour, up to which it keeps its look; our choice
JUST_SEEN = 2.5  # ΔE00 on average up to which it changes little: as is just seen side by side; our choice
PLAINLY = 4.0  # ΔE00 of one large colour: seen without anything beside it; our choice
A_PATCH = 0.05  # of the picture: a family smaller than that isn't what the picture turns on

WORDS: "tuple[tuple[Verdict, str], ...]" = (
    ("die", "die"),
    ("glare", "glare"),
    ("fade", "grow quieter"),
    ("gain", "grow stronger"),
)


def text_under(lamp: Lamp, shift: float, shifts: "Sequence[Shift]", greens: "GreensUnder") -> str:
    seen = [one for one in shifts if one.difference >= SEEN][:TOLD]
    parts = [f"Colours move by {number(shift)} steps on average."] if seen or shift >= BARELY else []
    if seen:
        parts.append("Most: " + "; ".join(f"{_called(one)} ({percent(one.share)}), {one.text}" for one in seen) + ".")
    else:
        parts.append("None of its colours moves as far as an eye would notice on the way from daylight.")
    named = any(_is_green(one) for one in seen)
    if greens.verdict != "none":
        change = abs(changed_by(greens))
        parts.append(
            {
                "die": f"The greens die: they lose {percent(change)} of their chroma.",
                "fade": f"The greens grow quieter: they lose {percent(change)} of their chroma.",
                "glare": f"The greens glare: they gain {percent(change)} of chroma.",
                "gain": f"The greens grow stronger: they gain {percent(change)} of chroma.",
                "hold": held_in_words(greens, named),
                "none": "",
            }[greens.verdict]
        )
    # A green that was named above has told already where it goes.
    if greens.verdict != "none" and not named and abs(greens.turned) >= TURNS:
        parts.append(f"They turn {_turn(greens)}.")
    return " ".join(parts)


def _is_green(shift: "Shift") -> bool:
    return bool(YELLOW_GREEN.contains(np.asarray(shift.lab)))


def _called(shift: "Shift") -> str:
    return f"{shift.name} {shift.place}".rstrip()


def _called_together(shifts: "Sequence[Shift]") -> str:
    """Such as "blue and pale blue of the sky"."""
    places = {one.place for one in shifts}
    if len(places) > 1:
        return listed([_called(one) for one in shifts])
    return f"{listed([one.name for one in shifts])} {places.pop()}".rstrip()


def changed_by(greens: "GreensUnder") -> float:
    """By what share their chroma grows; below 0 where it falls."""
    return greens.chroma_under / max(greens.chroma, 1e-6) - 1


def held_in_words(greens: "GreensUnder", named: bool) -> str:
    """That greens as a whole hold; with by how much they change, where one of them was named as moving."""
    change = changed_by(greens)
    if not named and abs(change) < NEXT_TO_NONE:
        return "As a whole the greens keep their strength."
    return f"All greens taken together {'gain' if change > 0 else 'lose'} {percent(abs(change))} of chroma."


def verdict_of_lamps(lamps: "Sequence[UnderLamp]") -> tuple[str, ...]:
    worst = max(lamps, key=lambda one: one.mean_shift)
    told, seen_told = _keeps(lamps)
    most = [one for one in worst.shifts if one.difference >= SEEN and one.share >= A_PATCH][:IN_VERDICT]
    above_all = f", above all the {_called_together(most)}" if most else ""
    if most or worst.mean_shift >= BARELY:
        told.append(
            f"It changes most under {_named(worst.lamp)}{above_all}: by {number(worst.mean_shift)} steps of colour on "
            f"average{'' if seen_told else ', of which one or two are just seen'}."
        )
    told += of_greens(lamps)
    return tuple(told)


def _keeps(lamps: "Sequence[UnderLamp]") -> tuple[list[str], bool]:
    """Under which lamps the picture looks as it does by day: what is asked before it is hung.

    And whether that tells of steps of colour, which are explained once.
    """
    kept = [one for one in lamps if _within(one, UNSEEN, MOVES)]
    little = [one for one in lamps if one not in kept and _within(one, JUST_SEEN, PLAINLY)]
    if len(kept) == len(lamps):
        return ["It keeps its look under every one of these lamps."], False
    if not kept and not little:
        return ["Under none of these lamps does it quite keep its look."], False
    told = [f"It keeps its look under {listed([_named(one.lamp) for one in kept])}."] if kept else []
    if little:
        far = max(one.mean_shift for one in little)
        by = "" if len(little) == 1 else "at most "
        told.append(
            f"It changes little under {listed([_named(one.lamp) for one in little])}: by {by}{number(far)} steps of "
            "colour on average, of which one or two are just seen."
        )
    return told, bool(little)


def _within(under: "UnderLamp", on_average: float, at_most: float) -> bool:
    """Whether neither the whole nor any large colour moves by more than so much (ΔE00), and the greens hold."""
    moved = max((one.difference for one in under.shifts if one.share >= A_PATCH), default=0.0)
    return under.mean_shift <= on_average and moved <= at_most and under.greens.verdict in ("hold", "none")


def of_greens(lamps: "Sequence[UnderLamp]") -> list[str]:
    """What the verdict says of the greens: which lamp takes from them and how much, or that none does."""
    told = []
    for verdict, word in WORDS:
        where = [one for one in lamps if one.greens.verdict == verdict]
        if where:
            how = listed([percent(abs(changed_by(one.greens))) for one in where])
            far = max(where, key=lambda one: abs(changed_by(one.greens)))
            of = [one for one in far.shifts if _is_green(one) and one.difference >= SEEN]
            of = sorted(of, key=lambda one: -one.difference * one.share)[:1]
            most = "".join(f", most of all the {_called(one)} ({percent(one.share)} of the picture)" for one in of)
            under = listed([_named(one.lamp) for one in where])
            told.append(f"Its greens {word} under {under}, by {how} of their chroma{most}.")
    first = lamps[0].greens
    if all(one.greens.verdict == "hold" for one in lamps) and first.area_share >= LITTLE_GREEN:
        far = max(lamps, key=lambda one: abs(changed_by(one.greens)))
        change = changed_by(far.greens)
        told.append(
            "Its greens keep their strength under every one of these lamps."
            if abs(change) < NEXT_TO_NONE
            else f"Its greens hold: at most they {'gain' if change > 0 else 'lose'} {percent(abs(change))} of their "
            f"strength, under {_named(far.lamp)}."
        )
    coldest = max(lamps, key=lambda one: abs(one.greens.turned))
    if abs(coldest.greens.turned) >= TURNS and first.area_share >= LITTLE_GREEN:
        greens = coldest.greens
        told.append(f"They turn toward {toward_word(greens.hue, greens.turned)}, most under {_named(coldest.lamp)}.")
    return told


def _turn(greens: "GreensUnder") -> str:
    return f"{abs(greens.turned):.0f}° toward {toward_word(greens.hue, greens.turned)}"


def _named(lamp: Lamp) -> str:
    title = f"an {lamp.title}" if lamp.name == "FL4" else lamp.title  # a tube is one thing, daylight and halogen aren't
    return title if lamp.name == "D75" else f"{title} ({lamp.kelvin} K)"
