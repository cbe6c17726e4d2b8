"""Which parts of which paints mix to a colour."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import lru_cache

import numpy as np
from numpy.typing import ArrayLike, NDArray

from critique.errors import PaintError
from critique.one_thread import in_one_thread
from critique.paints.box import PaintBox
from critique.paints.cautions import cautions_for
from critique.paints.expected import Expected, doubt, expected_error
from critique.paints.fading import fading_in
from critique.paints.kubelka_munk import mixture_lab
from critique.paints.let_down import LetDown
from critique.paints.likely import likely_miss
from critique.paints.mixtures import Index, Mixer, Reach, nearest, reach_of, small_sets
from critique.paints.paint import USUAL_DENSITY, Paint
from critique.paints.studio import (
    burden_of,
    mixing_order,
    order_in_words,
    strength_of,
    tint_colour,
    waste,
    waste_effort,
)
from critique.paints.whole_parts import (
    ERROR_EFFORT,
    FINEST,
    MOST_TOTAL,
    NEAR_ENOUGH,
    PAINT_EFFORT,
    SIMPLER_WITHIN,
    measures,
    simplest,
    told_unit,
    told_units,
    whole_near,
)
from critique.perception.cielab import lab_to_lch, lab_to_srgb8
from critique.perception.difference import delta_e_2000
from critique.perception.hue import YELLOW_GREEN, turn
from critique.perception.names import colour_name
from critique.perception.srgb import hex_of
from critique.words.hues import hue_word
from critique.words.lists import listed

PAINTS_IN_A_MIXTURE = 3  # beside white: more go to mud and can't be mixed twice alike; common practice, no source
MOST_IN_A_MIXTURE = 4
KEPT_SETS = 16  # best sets of each size whose whole parts are tried
SETTLED_ERROR = 0.5  # ΔE00 below which sets of paints count as equally near
EXTENDED_SETS = 12  # best sets of three that a fourth paint is tried with
CLOSE, OFF = 2.0, 5.0  # ΔE00: told apart side by side; plainly another colour
SMALLEST_KEPT = 7  # paints: one more than a palette has
LARGEST_KEPT = 30  # paints of a box whose lattices are kept: 4,525 sets, 10 MB
SET_EFFORT = 0.15  # ΔE00 that one part of effort is worth when sets of paints are chosen from
AHEAD = 20.0  # degrees onward from a turned hue: the hue that is named as what it turned toward lies there
GREENS_END = 180.0  # degrees of hue up to which a colour is called a green: to Munsell 10G
DARKEST, LIGHTEST = -1.0, 101.0  # L* that is still a colour: single precision ends a little beyond black and white
NO_COLOUR = "a recipe wants a colour as three numbers: L*, a*, b*"
NOTICED_LIGHTNESS, NOTICED_CHROMA, NOTICED_HUE = 2.0, 3.0, 6.0  # L*, C*ab, degrees worth a word
PREDICTION = (
    "A prediction from measured matte acrylics, heavy-bodied, by weight: "
    "mix a test swatch and let it dry before you trust it."
)
# The measured K and S are on one scale by weight of paint. [paints_measured.csv]
# Wet paint of 1.15 kg/l beside these, of 1.45 to 1.60: 0.74 of a dab weighs as much.
HEAVY = "white, cadmiums, cobalts, bismuth yellow and opaque oxides"
DABS = f"counting dabs of one size, take three of {HEAVY} where four are told"
BY_WEIGHT = f"Parts are by weight: {DABS}."
FROM_MEMORY = "Some of its paints were not measured in mixtures: mix a swatch first, and expect more difference."


@dataclass(frozen=True, slots=True)
class RecipePart:
    """One paint of a recipe; ``share`` is its fraction of the whole, 0–1, by weight."""

    paint: str
    colour_index: str
    parts: int
    share: float
    measure: str  # as a painter counts it out: "11 parts", "a touch (¼ part)"
    touch: bool  # whether it is told as less than a part
    dabs: float  # the same in dabs of one size: heavy paints want fewer
    caution: str
    origin: str


@dataclass(frozen=True, slots=True)
class Recipe:
    """Parts of paints that mix to a colour, what they really make, and how far that is from the colour wanted."""

    parts: tuple[RecipePart, ...]  # in the order of mixing: the start, then by strength
    target_lab: tuple[float, float, float]
    lab: tuple[float, float, float]
    srgb: str
    name: str  # ISCC–NBS name of what the mixture really makes
    error: float  # ΔE00 between target and what exactly these parts are calculated to make
    expected: Expected  # how far real paint is likely to land
    within_reach: bool
    text: str  # the parts in words
    order: str  # what to begin with and what to add, in words; empty for one paint
    verdict: str  # how near it comes and how surely, in words
    cautions: tuple[str, ...]
    notes: tuple[str, ...]
    paints: tuple[Paint, ...] = field(metadata={"record": False})
    let_down: LetDown | None = None  # how it is measured in steps, where it holds too little of a paint to be dabbed

    @property
    def amounts(self) -> tuple[int, ...]:
        """Whole parts in the order of ``paints``."""
        return tuple(part.parts for part in self.parts)

    @property
    def near(self) -> str:
        """How far off it is by calculation, in words, where that shows, and what of it was not measured or fades."""
        close = self.error <= CLOSE
        near = "" if close else _near(np.array(self.target_lab), np.array(self.lab), self.error)
        return " ".join(one for one in (near, self.expected.swatch, *_fading(self.paints, self.parts)) if one)


def reaches_of(box: PaintBox) -> tuple[Reach, ...]:
    """Lattices of every set of one, two and three paints of a box with white; kept, since a picture asks many times.

    Those of a very large box are made anew each time, for sixty paints fill 70 MB; those of a palette too, for they are
    made in a moment and would take the place of the box that they were chosen from.
    """
    return _kept(box) if SMALLEST_KEPT <= len(box.paints) <= LARGEST_KEPT else _made(box)


@lru_cache(maxsize=2)  # the painter's box and the default one
def _kept(box: PaintBox) -> tuple[Reach, ...]:
    return _made(box)


def _made(box: PaintBox) -> tuple[Reach, ...]:
    count = len(box.paints)
    mixer = Mixer.of(box.with_white)
    return tuple(reach_of(mixer, small_sets(count, size)) for size in range(1, min(count, PAINTS_IN_A_MIXTURE) + 1))


def recipe(target: ArrayLike, box: PaintBox, paints: int = PAINTS_IN_A_MIXTURE) -> Recipe:
    """The parts of at most ``paints`` paints and white that come nearest to a colour.

    Parameters
    ----------
    target : (3,) CIELAB D65.
    paints : 1 to 4 beside white. Sets of up to three are all tried; a fourth paint is added to the best of them.

    Raises
    ------
    PaintError
        When the colour is not three finite numbers, no L* from 0 to 100, or ``paints`` is out of range.
    """
    try:
        aim = np.asarray(target, dtype=np.float64)
    except (TypeError, ValueError):  # words, or rows of unlike lengths
        raise PaintError(NO_COLOUR) from None
    return recipes(aim[None], box, paints)[0]


@in_one_thread
def recipes(
    targets: ArrayLike,
    box: PaintBox,
    paints: int = PAINTS_IN_A_MIXTURE,
    *,
    finest: int = FINEST,
    most: int = MOST_TOTAL,
) -> list[Recipe]:
    """Recipes for several colours (n, 3) at once, which is quicker than one by one.

    ``finest`` is how many touches make up a part, ``most`` how many parts may be counted.
    """
    aims = np.asarray(targets, dtype=np.float64)
    if aims.ndim != 2 or aims.shape[1] != 3 or not np.isfinite(aims).all():
        raise PaintError(NO_COLOUR)
    if aims.size and not (aims[:, 0].min() >= DARKEST and aims[:, 0].max() <= LIGHTEST):
        raise PaintError("a recipe wants a colour whose L* lies between 0 and 100")
    if not 1 <= paints <= MOST_IN_A_MIXTURE:
        raise PaintError(
            f"a recipe of {paints} paints can't be searched: ask for 1 to {MOST_IN_A_MIXTURE} beside white"
        )
    reaches = reaches_of(box)
    candidates = _candidates(aims, box, paints, reaches)
    mixer = reaches[0].mixer
    return [_best(aim, box, mixer, found, finest, most) for aim, found in zip(aims, candidates, strict=True)]


Candidate = tuple[Index, NDArray[np.float32]]  # which paints, (members,), and their parts


def _candidates(
    aims: NDArray[np.float64], box: PaintBox, paints: int, reaches: tuple[Reach, ...]
) -> list[list[Candidate]]:
    """For each colour, the best few sets of every size with their parts."""
    found: list[list[Candidate]] = [[] for _ in aims]
    burden = np.array([burden_of(paint) for paint in box.with_white])
    for reach in reaches[:paints]:
        _collect(found, reach, aims, burden)
    if paints == MOST_IN_A_MIXTURE and len(box.paints) >= MOST_IN_A_MIXTURE:
        for index, aim in enumerate(aims):
            sets = _extended([chosen for chosen, _ in found[index] if len(chosen) == 4], len(box.paints))
            alone: list[list[Candidate]] = [[]]
            _collect(alone, reach_of(reaches[0].mixer, sets), aim[None], burden)
            found[index] += alone[0]
    return found


def _collect(
    found: list[list[Candidate]], reach: Reach, aims: NDArray[np.float64], burden: NDArray[np.float64]
) -> None:
    best = nearest(reach, aims)
    effort = SET_EFFORT * burden[reach.sets].sum(axis=1)
    for index, gathered in enumerate(found):
        order = np.argsort(np.maximum(best.error[:, index], SETTLED_ERROR) + effort, kind="stable")[:KEPT_SETS]
        nearest_one = int(best.error[:, index].argmin())
        kept = order if nearest_one in order else np.append(order, nearest_one)
        gathered += [(reach.sets[chosen], best.parts[chosen, index]) for chosen in kept]


def _extended(triples: Sequence[Index], count: int) -> Index:
    """The best sets of three, each with every other paint added; white stays last."""
    fours = {
        tuple(sorted({*map(int, triple[:3]), extra}))
        for triple in triples[:EXTENDED_SETS]
        for extra in range(count)
        if extra not in triple[:3]
    }
    return np.array([(*four, count) for four in sorted(fours)], dtype=np.intp)


def _best(
    aim: NDArray[np.float64], box: PaintBox, mixer: Mixer, candidates: Sequence[Candidate], finest: int, most: int
) -> Recipe:
    """The candidate and whole parts to give for one colour."""
    rows = []
    for size in sorted({len(chosen) for chosen, _ in candidates}):
        alike = [(chosen, parts) for chosen, parts in candidates if len(chosen) == size]
        whole, near = whole_near(np.stack([parts for _, parts in alike]))
        full = np.zeros((len(whole), len(box.with_white)), np.int64)
        np.put_along_axis(full, np.stack([chosen for chosen, _ in alike])[near], whole, axis=1)
        rows.append(full)
    amounts = np.concatenate(rows)
    if (finest, most) != (FINEST, MOST_TOTAL):
        unit = told_units(amounts)
        amounts = amounts[(unit <= finest) & (amounts.sum(axis=1) <= most * unit)]
    everything = np.tile(np.arange(amounts.shape[1]), (len(amounts), 1))
    made = mixer.lab(everything, amounts.astype(np.float32))
    error = delta_e_2000(made, aim)
    nearest_one = int(error.argmin())
    if error[nearest_one] > OFF:  # so far off half a value costs little ΔE00, and anyone sees it: it must look alike
        same = delta_e_2000(made, made[nearest_one]) <= CLOSE
        amounts, error = amounts[same], error[same]
    burden = [PAINT_EFFORT + burden_of(paint) for paint in box.with_white]
    lost = waste(amounts, mixer.strength, np.stack([tint_colour(paint, box.white) for paint in box.with_white]))
    judged = np.hypot(error, doubt(amounts, box.with_white))
    chosen = simplest(
        amounts, judged, burden, (NEAR_ENOUGH, OFF), waste_effort(lost) + _unsteady(amounts, judged, aim, box, mixer)
    )
    return recipe_of(amounts[chosen], box.with_white, aim)


def _unsteady(
    amounts: NDArray[np.integer], judged: NDArray[np.float64], aim: NDArray[np.float64], box: PaintBox, mixer: Mixer
) -> NDArray[np.float64]:
    """What mixtures weigh (n,), in parts, for what real paint is likely to miss beyond what is calculated.

    Of two that are as near, that is given which a little more of one paint turns less, as a palette's choice has it.
    """
    near = judged <= judged.min() + SIMPLER_WITHIN  # none beyond is given
    weight = np.zeros(len(amounts))
    weight[near] = ERROR_EFFORT * (likely_miss(mixer, amounts[near], aim, box.with_white) - judged[near])
    return weight


def recipe_of(amounts: ArrayLike, paints: Sequence[Paint], target: ArrayLike) -> Recipe:
    """The recipe that given whole parts (paints,) make, judged against a target (3,)."""
    counts = np.asarray(amounts, dtype=np.int64)
    held = [int(index) for index in np.argsort(-counts, kind="stable") if counts[index] > 0]
    total = int(counts.sum())
    aim = np.asarray(target, dtype=np.float64)
    lab = mixture_lab(counts, paints)
    error = float(delta_e_2000(lab, aim))
    one = told_unit([int(counts[index]) for index in held])
    ordered = mixing_order([int(counts[index]) for index in held], [paints[index] for index in held], aim, one)
    used = tuple(paints[held[place]] for place in ordered)
    whole = [int(counts[held[place]]) for place in ordered]
    parts = tuple(
        RecipePart(
            paint.name,
            paint.colour_index,
            amount,
            amount / total,
            measure,
            amount < one,
            amount / one * USUAL_DENSITY / paint.density,
            paint.caution,
            paint.origin,
        )
        for paint, amount, measure in zip(used, whole, measures(whole, one), strict=True)
    )
    expected = expected_error(whole, used, [part.touch for part in parts], error)
    return Recipe(
        parts,
        (float(aim[0]), float(aim[1]), float(aim[2])),
        (float(lab[0]), float(lab[1]), float(lab[2])),
        hex_of(lab_to_srgb8(lab)),
        colour_name(lab),
        error,
        expected,
        error <= OFF,
        _in_words(parts),
        order_in_words([(part.paint, part.touch) for part in parts], [strength_of(paint) for paint in used]),
        " ".join((_verdict(aim, lab, error, expected), *_fading(used, parts))),
        tuple(caution.text for caution in cautions_for(used)),
        (PREDICTION, BY_WEIGHT, *((FROM_MEMORY,) if expected.unmeasured else ()), *_fading(used, parts)),
        used,
    )


def _fading(paints: Sequence[Paint], parts: Sequence[RecipePart]) -> tuple[str, ...]:
    """A word on paints that fade, sooner where they only tint."""
    return fading_in(paints, [part.share for part in parts])


def _in_words(parts: Sequence[RecipePart]) -> str:
    """Such as "12 parts titanium white PW6, 2 parts yellow ochre PY43, a touch (¼ part) of phthalo green … PG7"."""
    if len(parts) == 1:
        return f"{named(parts[0].paint, parts[0].colour_index)} alone"
    return ", ".join(
        f"{part.measure}{' of' if part.touch else ''} {named(part.paint, part.colour_index)}" for part in parts
    )


def named(paint: str, colour_index: str) -> str:
    """A paint's name with its Colour Index name after it, where it has one."""
    return f"{paint} {colour_index}".strip()


def _verdict(aim: NDArray[np.float64], lab: NDArray[np.floating], error: float, expected: Expected) -> str:
    return f"{_near(aim, lab, error)} {expected.text}"


def _near(aim: NDArray[np.float64], lab: NDArray[np.floating], error: float) -> str:
    if error <= CLOSE:
        return f"By calculation {error:.1f} steps from the colour asked for."
    how = difference_in_words(aim, lab)
    if error <= OFF:
        return f"By calculation close ({error:.1f} steps), but {how}."
    return f"Outside what this box can mix: the nearest ({error:.1f} steps by calculation) is {how}."


def difference_in_words(wanted: ArrayLike, made: ArrayLike) -> str:
    """How a mixture differs from the colour wanted: "duller by 12 in chroma and darker by 0.3 of a value"."""
    (L0, C0, h0), (L1, C1, h1) = lab_to_lch(np.asarray(wanted)), lab_to_lch(np.asarray(made))
    words = []
    if abs(C1 - C0) >= NOTICED_CHROMA:
        words.append(f"{'stronger' if C1 > C0 else 'duller'} by {abs(C1 - C0):.0f} in chroma")
    if abs(L1 - L0) >= NOTICED_LIGHTNESS:
        words.append(f"{'lighter' if L1 > L0 else 'darker'} by {abs(L1 - L0) / 10:.1f} of a value")
    turned = float(turn(h0, h1))
    if abs(turned) >= NOTICED_HUE and min(C0, C1) >= NOTICED_CHROMA:
        words.append(f"turned toward {toward_word(h0, turned)}")
    if words:
        return listed(words)
    return _a_touch(C1 - C0, L1 - L0, float(np.radians(turned) * np.sqrt(C0 * C1)), (h0, turned))


def _a_touch(chroma: float, lightness: float, across: float, turn_of: tuple[float, float]) -> str:
    """Which way a mixture differs that differs by little: the largest of its differences, each in L* or C*ab."""
    if abs(across) > max(abs(chroma), abs(lightness)):
        return f"a touch toward {toward_word(*turn_of)}"
    if abs(chroma) >= abs(lightness):
        return "a touch stronger" if chroma > 0 else "a touch greyer"
    return "a touch lighter" if lightness > 0 else "a touch darker"


def toward_word(hue: float, turned: float) -> str:
    """The hue that a turn leads toward, in the plain names of the CIELAB circle."""
    # A little farther on in the same sense, so that the name is of where it leads and not of where it starts.
    word = hue_word(float(hue + turned + np.sign(turned) * AHEAD) % 360)
    if word == "green" and YELLOW_GREEN.start <= hue <= GREENS_END:
        return "blue" if turned > 0 else "yellow"  # of a green that turns to green, nobody sees that it turned
    return word
