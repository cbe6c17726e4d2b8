"""How a picture's values are spread, and whether a few masses carry it."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Literal

import numpy as np
from numpy.typing import NDArray

from critique.alike import by_value
from critique.measures.families import Family
from critique.measures.figure import CIELAB, MASS, MASSES, OWN, PRACTICE, VALUE, Figure, Words
from critique.measures.finely_seen import finely_seen
from critique.measures.histogram import rank_value
from critique.measures.squint import squint
from critique.perception.hue import turn
from critique.picture.one_piece import largest_piece
from critique.picture.picture import Picture, lab_at
from critique.words.figures import number, percent

if TYPE_CHECKING:
    from critique.measures.measure import Measures

LEVELS = (2, 3, 5)  # masses of the value plans: notan, three, five
PLAN_LONG_EDGE = 400  # px: masses are the large things of a picture
BINS = 128  # of L* for the thresholds: 0.8 L* each, finer than a painter mixes
FINER, SETTLED = 16, 30  # parts of a bin in which thresholds are then laid, and how many times
# Median value above and below which the key is high or low; common practice, no source. Two readers called medians of
# 6.1 and 6.2 middle, and of 6.3 and more light.
HIGH_KEY, LOW_KEY = 6.25, 4.0
MAJOR_SPREAD = 5.0  # values from the 5th to the 95th percentile: half the scale; common practice, no source
CARRIES = 0.75  # of the variance of value that a plan must explain before it carries the picture
TWIN_VALUE = 0.5  # values: closer than this, two families print as one grey
TWIN_HUE = 40.0  # degrees of hue that make a pair differ in hue
TWIN_CHROMA = 10.0  # C*: both must be coloured
TWIN_SHARE = 0.05  # of the area: both must matter
PERCENTILES = (2, 5, 25, 50, 75, 95, 98)
# Of the picture: darks and lights so small are still seen, a dark horse or a white one in a wide field; and values by
# which they lie beyond most others where readers missed them. Our choice.
TOUCH, BEYOND = 0.005, 1.0


@dataclass(frozen=True, slots=True)
class ValuePlan:
    """The picture in a few masses, darkest first. Thresholds and means are values (L*/10)."""

    levels: int
    thresholds: tuple[float, ...]
    shares: tuple[float, ...]
    means: tuple[float, ...]
    separation: float  # 0–1: how much of the variance of value lies between the masses


@dataclass(frozen=True, slots=True)
class ValueTwins:
    """Two families, by index, that differ in hue but not in value."""

    first: int
    second: int
    value_difference: float
    hue_difference: float


@by_value
@dataclass(frozen=True, slots=True, eq=False)
class Values:
    """Value is L*/10 on the painter's scale of 0–10."""

    percentiles: dict[str, float]
    darkest: float  # what half a hundredth of the picture is darker than
    lightest: float  # what half a hundredth of it is lighter than
    mean: float
    key: str  # high, middle or low
    spread: str  # major or minor
    range: float  # from the 5th to the 95th percentile
    plans: tuple[ValuePlan, ...]
    carried_by: int  # the fewest masses that carry the picture; 0 when five don't
    largest_mass: float  # share of the largest connected mass of the three-mass plan
    twins: tuple[ValueTwins, ...]
    squinted: NDArray[np.float32] = field(metadata={"record": False})  # L* (h, w) after the squint

    def plan(self, levels: int) -> ValuePlan:
        """The plan of 2, 3 or 5 masses."""
        return next(plan for plan in self.plans if plan.levels == levels)


def measure_values(picture: Picture, families: tuple[Family, ...] = ()) -> Values:
    """Measure the value structure of a picture; ``families`` are searched for pairs alike in value."""
    light = finely_seen(picture)
    ranks = [rank / 100 for rank in PERCENTILES]
    *percentiles, darkest, lightest = rank_value(light.ravel(), [*ranks, TOUCH, 1 - TOUCH]) / 10
    named = {f"p{rank}": float(value) for rank, value in zip(PERCENTILES, percentiles, strict=True)}
    spread = named["p95"] - named["p5"]
    squinted = squint(np.ascontiguousarray(lab_at(picture, PLAN_LONG_EDGE)[..., 0]))
    plans = value_plans(squinted, LEVELS)
    return Values(
        percentiles=named,
        darkest=float(darkest),
        lightest=float(lightest),
        mean=float(picture.lab[..., 0].mean(dtype=np.float64)) / 10,
        key="high" if named["p50"] > HIGH_KEY else "low" if named["p50"] < LOW_KEY else "middle",
        spread="major" if spread >= MAJOR_SPREAD else "minor",
        range=spread,
        plans=plans,
        carried_by=next((plan.levels for plan in plans if plan.separation >= CARRIES), 0),
        largest_mass=_largest_mass(apply_plan(squinted, plans[LEVELS.index(3)])),
        twins=_twins(families),
        squinted=squinted,
    )


def has_touches(values: Values, end: Literal["darks", "lights"]) -> bool:
    """Whether small darks or lights lie well beyond most others."""
    ranks = values.percentiles
    return (ranks["p5"] - values.darkest if end == "darks" else values.lightest - ranks["p95"]) >= BEYOND


def value_plan(lightness: NDArray[np.float32], levels: int) -> ValuePlan:
    """Group L* (any shape) into masses by multi-level Otsu. [Otsu, 1979; Liao, Chen and Chung, 2001]"""
    return value_plans(lightness, (levels,))[0]


def value_plans(lightness: NDArray[np.float32], each: Sequence[int]) -> tuple[ValuePlan, ...]:
    """A plan of L* (height, width) for each number of levels: one histogram and one search serve them all."""
    count, edges = np.histogram(lightness, bins=BINS * FINER, range=(0, 100))
    cuts = _cuts(count.reshape(BINS, FINER).sum(axis=1), each)
    return tuple(
        _value_plan(lightness, levels, _settled(edges[cut * FINER], count, edges))
        for levels, cut in zip(each, cuts, strict=True)
    )


def _settled(
    thresholds: NDArray[np.floating], count: NDArray[np.intp], edges: NDArray[np.floating]
) -> NDArray[np.floating]:
    """Thresholds laid midway between the means of the masses on either side, where the best ones lie: by whole bins
    they would jump. [Lloyd, Least squares quantization in PCM, 1982]"""
    weight = np.concatenate([[0.0], np.cumsum(count, dtype=np.float64)])
    moment = np.concatenate([[0.0], np.cumsum(count * (edges[:-1] + edges[1:]) / 2)])
    for _ in range(SETTLED):
        ends = np.concatenate([edges[:1], thresholds, edges[-1:]])
        share = np.diff(np.interp(ends, edges, weight))
        if (share <= 0).any():  # fewer greys than masses
            break
        means = np.diff(np.interp(ends, edges, moment)) / share
        before, thresholds = thresholds, (means[:-1] + means[1:]) / 2
        if np.array_equal(before, thresholds):
            break
    return thresholds


def _value_plan(lightness: NDArray[np.float32], levels: int, thresholds: NDArray[np.floating]) -> ValuePlan:
    mass = _masses(lightness, thresholds).ravel()
    shares = np.bincount(mass, minlength=levels) / mass.size
    sums = np.bincount(mass, weights=lightness.ravel(), minlength=levels)
    means = np.divide(sums, shares * mass.size, out=np.zeros(levels), where=shares > 0)
    variance = float(lightness.var(dtype=np.float64))
    between = float((shares * (means - float(lightness.mean(dtype=np.float64))) ** 2).sum())
    return ValuePlan(
        levels=levels,
        thresholds=tuple(float(value) / 10 for value in thresholds),
        shares=tuple(float(share) for share in shares),
        means=tuple(float(value) / 10 for value in means),
        separation=min(between / variance, 1.0) if variance > 1e-6 else 0.0,
    )


def apply_plan(lightness: NDArray[np.float32], plan: ValuePlan) -> NDArray[np.intp]:
    """The mass of each L* (height, width), 0 the darkest."""
    return _masses(lightness, np.array(plan.thresholds) * 10)


def _masses(lightness: NDArray[np.float32], thresholds: NDArray[np.floating]) -> NDArray[np.intp]:
    """How many thresholds each L* has reached: with so few of them, quicker than a search for each."""
    mass = np.zeros(lightness.shape, dtype=np.uint8)
    for threshold in thresholds:
        mass += lightness >= threshold
    return mass.astype(np.intp)


def otsu_cuts(count: NDArray[np.intp], levels: int) -> NDArray[np.intp]:
    """Bins (levels - 1,) at which cuts part a histogram (bins,) so that the variance between its parts is greatest.

    Exact, by dynamic programming over the cuts. Each cut is the first bin of the brighter part.
    """
    return _cuts(count, (levels,))[0]


def _cuts(count: NDArray[np.intp], each: Sequence[int]) -> tuple[NDArray[np.intp], ...]:
    """The cuts for each number of levels: the search for the most of them passes by all others."""
    bins = np.arange(len(count))
    weight = np.concatenate([[0.0], np.cumsum(count, dtype=np.float64)])
    moment = np.concatenate([[0.0], np.cumsum(count * bins, dtype=np.float64)])
    part_weight = weight[None, :] - weight[:, None]
    part_moment = moment[None, :] - moment[:, None]
    gain = np.divide(part_moment**2, part_weight, out=np.full_like(part_weight, -np.inf), where=part_weight > 0)
    gain[np.tril_indices(len(gain))] = -np.inf
    best, choices = [gain[0]], []
    for _ in range(max(each) - 1):
        reach = best[-1][:, None] + gain
        choices.append(reach.argmax(axis=0))
        best.append(reach[choices[-1], np.arange(len(gain))])
    return tuple(
        _cuts_back(choices[: levels - 1], bool(np.isfinite(best[levels - 1][-1])), len(count)) for levels in each
    )


def _cuts_back(choices: Sequence[NDArray[np.intp]], enough: bool, end: int) -> NDArray[np.intp]:
    """The cuts that end with the last bin, from the last one back."""
    if not enough:  # fewer greys than masses: cut where there is something to cut
        return np.linspace(0, end, len(choices) + 2).astype(np.intp)[1:-1]
    cuts = []
    for choice in reversed(choices):
        end = int(choice[end])
        cuts.append(end)
    return np.array(cuts[::-1], dtype=np.intp)


def _largest_mass(masses: NDArray[np.intp]) -> float:
    levels = np.flatnonzero(np.bincount(masses.ravel()))
    return max(int(largest_piece(masses == level).sum()) for level in levels) / masses.size


def _twins(families: tuple[Family, ...]) -> tuple[ValueTwins, ...]:
    pairs = []
    for first, one in enumerate(families):
        for second in range(first + 1, len(families)):
            other = families[second]
            value = abs(one.lab[0] - other.lab[0]) / 10
            hue = abs(float(turn(one.lch[2], other.lch[2])))
            coloured = min(one.lch[1], other.lch[1]) >= TWIN_CHROMA and min(one.share, other.share) >= TWIN_SHARE
            if coloured and value < TWIN_VALUE and hue >= TWIN_HUE:
                pairs.append(ValueTwins(first, second, value, hue))
    return tuple(pairs)


_OTSU = "N. Otsu, 1979"


def _lights_and_darks(measures: "Measures") -> str:
    ranks = measures.values.percentiles
    return f"{number(ranks['p5'])}, {number(ranks['p50'])}, {number(ranks['p95'])}"


def _alike(measures: "Measures") -> str:
    names = [family.name for family in measures.families]
    return "; ".join(f"{names[pair.first]} and {names[pair.second]}" for pair in measures.values.twins) or "none"


FIGURES = (
    Words(
        page="values",
        label="Key",
        meaning="where the middle of the values lies, and how far they reach",
        definition=f"High when the median value is above {HIGH_KEY:g}, low below {LOW_KEY:g}; major when nine "
        "tenths "
        f"span {MAJOR_SPREAD:.0f} values or more.",
        source=PRACTICE,
        told=lambda measures: f"{measures.values.key}, {measures.values.spread}",
        stands_on=("values.percentiles.p50", "values.range"),
        in_words=True,
    ),
    Words(
        page="values",
        label="Darks, middle, lights",
        meaning="the 5th, 50th and 95th percentiles of value",
        definition="Value is L*/10, the finest detail left out: 0 is black, 10 is white.",
        source=CIELAB,
        told=_lights_and_darks,
        stands_on=("values.percentiles.p50", "values.percentiles.p5", "values.percentiles.p95"),
    ),
    Figure(name="values.percentiles.p2", unit="value", norm=True),
    Figure(name="values.percentiles.p5", unit="value", worth=VALUE),
    Figure(
        name="values.percentiles.p50",
        unit="value",
        norm=True,
        column="middle value, 0 black to 10 white",
        worth=VALUE,
    ),
    Figure(name="values.percentiles.p95", unit="value", worth=VALUE),
    Figure(name="values.percentiles.p98", unit="value", norm=True),
    Figure(name="values.darkest", unit="value"),
    Figure(name="values.lightest", unit="value"),
    Figure(name="values.mean", unit="value", worth=VALUE),
    Figure(
        name="values.range",
        label="Range of values",
        meaning="how far the values reach",
        definition="95th percentile of value less the 5th, the finest detail left out.",
        source=CIELAB,
        unit="value",
        norm=True,
        column="values from the 5th to the 95th percentile",
        worth=VALUE,
    ),
    Figure(
        name="values.plans.0.separation",
        label="Two masses hold",
        meaning="how far two values alone carry the picture",
        definition="Variance of value between the masses over all of it, after a squint, at the best threshold.",
        source=_OTSU,
        unit="share",
        show=percent,
        norm=True,
        worth=MASSES,
    ),
    Figure(
        name="values.plans.1.separation",
        label="Three masses hold",
        meaning="the same with three values",
        definition="As above, at the best two thresholds.",
        source=_OTSU,
        unit="share",
        show=percent,
        norm=True,
        column="how far three masses carry the values, 0–1",
        worth=MASSES,
    ),
    Figure(
        name="values.plans.2.separation",
        label="Five masses hold",
        meaning="the same with five values",
        definition="As above, at the best four thresholds.",
        source=_OTSU,
        unit="share",
        show=percent,
        norm=True,
        worth=MASSES,
    ),
    Figure(
        name="values.largest_mass",
        label="Largest shape",
        meaning="how much the largest connected shape covers",
        definition="Largest connected part of one mass of the three-value plan, over the whole area.",
        source=OWN,
        unit="share",
        show=percent,
        norm=True,
        worth=MASS,
        jumps=True,
    ),
    Words(
        page="values",
        label="Alike in value",
        meaning="colours that differ in hue but print as one grey",
        definition=f"Pairs of dominant colours {TWIN_HUE:.0f}° or more apart in hue and under {TWIN_VALUE} of a value "
        f"apart, each over {TWIN_SHARE:.0%} of the area.",
        source=PRACTICE,
        told=_alike,
    ),
)
