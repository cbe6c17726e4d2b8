"""How a limited palette is offered: its figures, its reasons, and what it gives up."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from numpy.typing import ArrayLike

from critique.paints.box import PaintBox
from critique.paints.paint import Paint
from critique.paints.recipes import CLOSE, OFF, difference_in_words
from critique.perception.cielab import as_three, lab_to_srgb8, lch_of
from critique.perception.hue import LEAF_TOP_CHROMA
from critique.perception.names import colour_name
from critique.perception.srgb import hex_of
from critique.words.aloud import sentence
from critique.words.figures import percent
from critique.words.lists import counted, listed
from critique.words.painters import painters_word

CLOSEST, CALMEST, WIDEST = "closest", "calmest greens", "widest gamut"

NAMED_LOSSES = 3  # families told by name when a palette can't reach them
NOTICED_GREEN = 3.0  # C*ab by which a strongest green must be calmer for it to be worth saying


@dataclass(frozen=True, slots=True)
class Carried:
    """One family of the picture and the nearest mixture of the palette."""

    name: str  # ISCC–NBS name of the family
    share: float  # of the families, 0–1
    target_lab: tuple[float, float, float]
    target_srgb: str
    lab: tuple[float, float, float]
    srgb: str
    error: float  # ΔE00

    @classmethod
    def of(cls, target: ArrayLike, made: ArrayLike, error: float, share: float) -> "Carried":
        """From the family's and the mixture's CIELAB (3,)."""
        return cls(
            colour_name(target),
            share,
            as_three(target),
            hex_of(lab_to_srgb8(target)),
            as_three(made),
            hex_of(lab_to_srgb8(made)),
            error,
        )


@dataclass(frozen=True, slots=True)
class Proposal:
    """A limited palette, why it is offered and what it gives up."""

    kind: str  # CLOSEST, CALMEST or WIDEST
    paints: tuple[str, ...]  # beside white, in the order of the box
    labels: tuple[str, ...]  # with Colour Index names, and how it is known where it was not measured
    white: str
    mean_error: float  # area-weighted ΔE00
    worst_error: float
    strongest_green: float  # C*ab of the strongest yellow-green that it mixes
    gamut: float  # a*b* area of its mixtures, as a share of the whole box's
    families: tuple[Carried, ...]
    reason: str
    gives_up: str
    cautions: tuple[str, ...]
    box: PaintBox = field(metadata={"record": False})


def reason(kind: str, figures: Mapping[str, float], closest: Mapping[str, float]) -> str:
    """Why a palette is offered, in a sentence or two; figures are error, likely, green and gamut."""
    if kind == CLOSEST:
        near = f"{max(figures['error'], 0.1):.1f} steps of colour"
        return (
            f"Likely to come closest to the picture's main colours, its families: mixed in the parts told, they miss "
            f"them by {near} on average as calculated, and real paint, weighed exactly, by about "
            f"{figures['likely']:.0f}."
        )
    if kind == CALMEST:
        return _calm_reason(figures["green"], closest["green"])
    return (
        f"Reaches farthest: its mixtures span {percent(figures['gamut'])} of what the whole box can mix, "
        f"against {percent(closest['gamut'])} for the closest palette, so it leaves room to move away from the picture."
    )


def _calm_reason(green: float, closest_green: float) -> str:
    if closest_green - green < NOTICED_GREEN:
        return (
            f"Its strongest yellow-green has chroma {green:.0f}, and the closest palette's {closest_green:.0f}: "
            "among palettes this near to the picture no calmer green is to be had."
        )
    leaf = f"a front-lit leaf stops at {LEAF_TOP_CHROMA:.0f}"
    if green <= LEAF_TOP_CHROMA:
        rest = f"{leaf}, so no green of it can glow"
    else:
        rest = f"{leaf}, so its strongest greens still want muting"
    strongest = f"Its strongest yellow-green has chroma {green:.0f}"
    return f"{strongest} against {closest_green:.0f} for the closest palette ({rest})."


def gives_up(
    kind: str,
    figures: Mapping[str, float],
    closest: Mapping[str, float],
    carried: Sequence[Carried],
    paints: Sequence[Paint] = (),
    fading: Sequence[str] = (),
) -> str:
    """What a palette can't do for the picture, in words; and which of its ``paints`` don't last.

    ``fading`` are the colours that it mixes only with what fades in them.
    """
    words = []
    extra = figures["error"] - closest["error"]
    if kind != CLOSEST and extra >= 0.05:
        words.append(
            f"On average it lies {extra:.1f} steps of colour farther from the picture's main colours than the closest "
            "palette."
        )
    lost = sorted((family for family in carried if family.error > OFF), key=lambda family: -family.share * family.error)
    for family in lost[:NAMED_LOSSES]:
        how = difference_in_words(family.target_lab, family.lab)
        words.append(f"Its nearest to the {_called(family)} ({percent(family.share)} of the picture) is {how}.")
    if len(lost) > NAMED_LOSSES:
        more = len(lost) - NAMED_LOSSES
        words.append(f"{more} more {'family is' if more == 1 else 'families are'} out of its reach.")
    off = sorted((family for family in carried if CLOSE < family.error <= OFF), key=lambda one: -one.share * one.error)
    if not lost and off:
        how = difference_in_words(off[0].target_lab, off[0].lab)
        words.append(
            f"No family is plainly out of its reach; most is lost of the {_called(off[0])} "
            f"({percent(off[0].share)} of the picture), which comes out {how}."
        )
    elif not lost:
        words.append("Every family of the picture is within its reach.")
    return " ".join([*words, *fading_words(paints, fading)])


def _called(family: Carried) -> str:
    """What a painter calls it, as its recipe does: two names for one colour are taken for two colours."""
    return painters_word(*lch_of(family.target_lab))


def fading_words(paints: Sequence[Paint], mixed: Sequence[str] = ()) -> tuple[str, ...]:
    """Which paints of a palette fade, and where; ``mixed`` are the colours that it mixes only with what fades there."""
    pale = f"these paints mix the {listed(list(dict.fromkeys(mixed)))} with it: take others where that must last"
    told = (
        ([paint.name for paint in paints if paint.fades], "", "keep {it} out of what must last"),
        (
            [paint.name for paint in paints if paint.fades_pale],
            " in pale tints",
            pale if mixed else "keep {it} out of skies and clouds",
        ),
    )
    return tuple(
        sentence(f"{listed(names)} fade{'s' if len(names) == 1 else ''}{where}: {so.format(it=_it(names))}")
        for names, where, so in told
        if names
    )


def _it(names: Sequence[str]) -> str:
    return "it" if len(names) == 1 else "them"


def is_calmer(proposal: Proposal, closest: Proposal) -> bool:
    """Whether a palette's strongest green is calmer than the closest palette's by enough to be offered for it."""
    return closest.strongest_green - proposal.strongest_green >= NOTICED_GREEN


def given_up(proposal: Proposal, closest: Proposal, carried: Sequence[Carried], fading: Sequence[bool] = ()) -> str:
    """The same for a proposal whose families have been mixed, such as by its recipes; ``fading`` tells which fade."""
    fade = [_called(family) for family, fades in zip(carried, fading, strict=False) if fades]
    error, least = {"error": proposal.mean_error}, {"error": closest.mean_error}
    return gives_up(proposal.kind, error, least, carried, proposal.box.paints, fade)


def left_over(unused: Sequence[str], paints: int) -> str:
    """Says which paints of a palette none of its recipes uses; empty when every one is used."""
    if not unused:
        return ""
    used = paints - len(unused)
    enough = f"{counted(used)} and white are" if used else "white alone is"
    return (
        f"None of its recipes uses {listed(unused)}: for these colours {enough} enough, and "
        f"{'it' if len(unused) == 1 else 'they'} could stay in the box."
    )
