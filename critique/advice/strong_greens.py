"""Which greens of a picture are too strong, and with which paint each of them is quieted."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from critique.advice.green_light import MOST_WARMED, OLIVE
from critique.advice.green_strength import BEYOND_WATCH, CHROMA_WATCH, RAW_WATCH
from critique.advice.judging import Case
from critique.advice.muting import LCh, PaintedMuting, painted_muting
from critique.advice.recipe_for import RecipeFor
from critique.advice.suggestion import QuietedGreen, Target
from critique.measures.families import SAME_FAMILY, assign_families
from critique.measures.land_greens import BLUER, BLUEST_LEAF, raw_land_greens
from critique.measures.parts import Parts
from critique.paints.box import default_box
from critique.paints.calm import calm_chroma
from critique.paints.recipes import recipe
from critique.perception.channels import chroma_of, colours_in
from critique.perception.cielab import lab_to_lch, lab_to_srgb8, lch_to_lab
from critique.perception.difference import delta_e_2000
from critique.perception.hue import YELLOW_GREEN, beyond_leaf, leaf_limit
from critique.perception.munsell import munsell_notation
from critique.perception.names import colour_name
from critique.perception.ranks import median_of, middle_colour
from critique.perception.srgb import hex_of

TOWARD_OLIVE = 0.5  # of the way that a strong green goes toward the hue that landscapes keep theirs at
KEPT_CHROMA = 12.0  # C*: greens this quiet are left as they are; the middle landscape's green
MUTED_MEDIAN_RANK = 95  # percentile of the landscapes' median green chroma: quiet, and still green
MUTING_TRIES = 3  # times that paint is asked for, each time for a quieter colour
MUTED_NEAR = 2.0  # C* above the aim that is near enough
# Degrees beyond the hue aimed at, toward yellow, at which a paint has turned a green brown; our choice.
STILL_GREEN = 18.0
NEARLY_BLACK = 20.0  # L*: a green so dark shouts at nobody, and is mixed for only where there is no other
MOST_GREENS = 3  # a light, a middle and a dark: more than a painter mixes in one go; common practice, no source
WORTH_MIXING = 0.15  # of the strong green: a smaller part follows the mixture nearest to it

LEAVES_PASS_BY = 4.0  # C* by which plausible leaves pass the limit, which is one leaf's


@dataclass(frozen=True, slots=True)
class StrongGreen:
    """A green that is too strong: its middle colour (L*, C*ab, h°) and its share of the picture."""

    lch: LCh
    share: float


def strong_area(lab: NDArray[np.float32], parts: Parts) -> NDArray[np.bool_]:
    """Where the green of a picture (height, width, 3) is too strong.

    That is what no leaf reaches, on the land what is bluer than any, where there is enough of it to be found fault with;
    else what is stronger than the middle green may be.
    """
    beyond, raw = beyond_leaf(lab), raw_land_greens(lab, parts)
    if raw.mean() >= RAW_WATCH:
        beyond |= raw
    if beyond.mean() > BEYOND_WATCH:
        return beyond
    inside = YELLOW_GREEN.contains(lab)
    strong = inside & (chroma_of(lab) > CHROMA_WATCH)
    return strong if strong.any() else inside


def may_be_sunlit(case: Case) -> bool:
    """Whether the strong greens may well be leaves with the light in them: quieted, the light would go.

    That is where the middle green is as quiet as it would be made, and what is beyond a leaf is so by little.
    """
    lab = case.picture.lab
    beyond = beyond_leaf(lab)
    if not beyond.any() or case.measures.greens.median_chroma > _middle_aimed_at(case):
        return False
    strong = colours_in(lab, beyond)
    chroma = chroma_of(strong)
    return median_of(chroma - leaf_limit(strong[:, 0])) <= LEAVES_PASS_BY


def _middle_aimed_at(case: Case) -> float:
    return case.norms.at("greens.median_chroma", MUTED_MEDIAN_RANK)


def strong_greens(case: Case) -> tuple[StrongGreen, ...]:
    """The greens of a picture that want quieting, at most three, the largest first; none in a picture without green.

    The strong green is parted by the picture's families, since those are what a painter mixes; parts that look alike
    (within ΔE00 5) are one green.
    """
    lab = case.picture.lab
    strong = colours_in(lab, strong_area(lab, case.measures.parts))
    if len(strong) == 0:
        return ()
    owner = assign_families(strong, case.measures.families)
    parts = [strong[owner == number] for number in np.unique(owner)]
    parts = sorted(parts, key=len, reverse=True)
    found: list[NDArray[np.float32]] = []
    for part in parts:
        alike = [
            index
            for index, known in enumerate(found)
            if float(delta_e_2000(middle_colour(known), middle_colour(part))) < SAME_FAMILY
        ]
        if alike:
            found[alike[0]] = np.concatenate([found[alike[0]], part])
        elif not found or len(part) >= WORTH_MIXING * len(strong):
            found.append(part)
    pixels = lab.shape[0] * lab.shape[1]
    greens = [StrongGreen(_middle(part), len(part) / pixels) for part in found]
    seen = [green for green in greens if green.lch[0] >= NEARLY_BLACK] or greens
    return tuple(sorted(seen, key=lambda green: -green.share)[:MOST_GREENS])


def _middle(part: NDArray[np.float32]) -> LCh:
    L, C, h = (float(value) for value in lab_to_lch(middle_colour(part)))
    return L, C, h


def quieted_greens(case: Case) -> tuple[QuietedGreen, ...]:
    """Every strong green with the paint that quiets it.

    All aim at one middle: the chroma that nineteen in twenty landscapes keep their greens below, each in the measure
    that it exceeds what is kept; and none stays stronger than a calmed green. The paint that quiets the largest is used for
    the others too where it does nearly as well. A green bluer than any leaf goes to where leaves begin, and from there
    as the others do; it is mixed afresh.
    """
    wanted, strong = _middle_aimed_at(case), strong_greens(case)
    blue = [green.lch[1] for green in strong if is_bluer(green.lch[2])]
    done: list[QuietedGreen] = []
    paint: str | None = None
    for green in strong:
        L, C, h = green.lch
        bluer = is_bluer(h)
        middle = blue[0] if bluer else case.measures.greens.median_chroma
        ratio = float(np.clip((wanted - KEPT_CHROMA) / max(middle - KEPT_CHROMA, 1.0), 0.1, 0.85))
        eased = KEPT_CHROMA + max(C - KEPT_CHROMA, 0.0) * ratio
        leaf = min(h, BLUEST_LEAF)
        olive = leaf - min(TOWARD_OLIVE * max(leaf - OLIVE, 0.0), MOST_WARMED)
        aim = (L, min(eased, float(calm_chroma(L, C))), olive)
        source = target_of(green.lch)
        if bluer:
            done.append(QuietedGreen(green.share, source, target_of(aim), _afresh(source, aim, green.share, case)))
            continue
        painted = _painted(green.lch, aim, case, paint)
        made = painted.made if painted else aim
        paint = paint or (painted.way.paint if painted else None)
        paint_for = painted.recipe_for(source.name, green.share) if painted else None
        done.append(QuietedGreen(green.share, source, target_of(made), paint_for))
    return tuple(done)


def is_bluer(hue: float) -> bool:
    """Whether a green of this hue, in degrees, is bluer than any leaf: no one paint added makes it a leaf's and quiet."""
    return BLUER[0] <= hue <= BLUER[1]


def _afresh(source: Target, aim: LCh, share: float, case: Case) -> RecipeFor:
    """The mixture of a leaf's green that goes in the place of one that no leaf has."""
    box = case.box or default_box()
    return RecipeFor(f"In place of the {source.name}", recipe(lch_to_lab(np.array(aim)), box), share)


def _painted(source: LCh, aim: LCh, case: Case, paint: str | None) -> PaintedMuting | None:
    """The paint that brings ``source`` nearest to ``aim``; asked for more where it stops short, as paint often does.

    None where whatever quiets it turns it brown: the green is meant, and is mixed afresh.
    """
    asked = aim
    best: PaintedMuting | None = None
    for _ in range(MUTING_TRIES):
        green, quiet = lch_to_lab(np.array(source)), lch_to_lab(np.array(asked))
        painted = painted_muting(green, quiet, case.box, paint, brown_below=aim[2] - STILL_GREEN)
        if painted is None or (best and abs(painted.made[1] - aim[1]) >= abs(best.made[1] - aim[1])):
            break
        best = painted
        short = painted.made[1] - aim[1]
        if short <= MUTED_NEAR:
            break
        asked = (asked[0], max(asked[1] - short, 2.0), asked[2])
    return best


def target_of(lch: LCh) -> Target:
    """A colour with all its names."""
    lab = lch_to_lab(np.array(lch))
    return Target(
        float(lch[0]), float(lch[1]), float(lch[2]), munsell_notation(lab), colour_name(lab), hex_of(lab_to_srgb8(lab))
    )
