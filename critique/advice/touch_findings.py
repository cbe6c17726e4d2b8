"""Whether edges are crisp, lost and found, shapes free of outlines and rims, and the touch at rest somewhere."""

from critique.advice.colour_words import SOME_SKY, SURE_SKY
from critique.advice.fault_limits import (
    RULED,
    cut_straight,
    judge_even_foreground,
    judge_flecks,
    judge_hard_edges,
    judge_outlines,
    judge_ruled,
    softer,
)
from critique.advice.finding import Finding
from critique.advice.judging import Case
from critique.advice.kind import Kind
from critique.measures.closed_darks import ClosedDarks
from critique.measures.even_foreground import NEAR
from critique.measures.land_greens import land_green_share
from critique.measures.ruled import Ruled
from critique.picture.picture import Picture
from critique.picture.places import spot
from critique.words.aloud import sentence
from critique.words.figures import percent

CLOSE_VALUES = 3.5  # from dark to light: where all is so near in value, no edge looks cut out, however sharp
# Of the outlines that rise into the sky: from how much on a rim runs how far.
RIMMED = ((0.5, "round most of"), (0.3, "along much of"), (0.0, "along a part of"))
TREES = 0.15  # of the picture: green land, in which there may be trees
FILLED_IN = 0.5  # of the foreground: so much of it closed, it is a black silhouette


def hard_edges(case: Case, kind: Kind) -> Finding | None:
    """Whether every edge is as hard as every other."""
    edges = case.measures.edges
    if case.measures.values.range < CLOSE_VALUES:
        return None
    if cut_straight(edges, case.measures.ruled, kind.by_limits):
        return _ruled(case.measures.ruled, kind)
    level = judge_hard_edges(edges, kind.by_limits)
    if level == "holds":
        return None
    limit = kind.limit_of(level)
    some = f"{_skyline(case)}those between planes near in value, and keep the sharp ones for the subject"
    text = (
        f"cloud and haze apart, nearly every edge is hard, as if cut out, so none of them leads. Lose some: {some}"
        if level == "rework"
        else "cloud and haze apart, most edges are hard and few are lost, more than in most landscapes. If nothing leads among "
        f"them, soften some: {some}"
    )
    return kind.finding(
        level=level,
        text=sentence(text),
        figure=edges.softness,
        limit=None if limit is None else limit - softer(edges),
        figure_text=f"softness {edges.softness:.2f} (1 has no hard edge)",
        norm=case.standing("edges.softness"),
        percentile=case.percentile("edges.softness"),
    )


def _ruled(ruled: Ruled, kind: Kind) -> Finding:
    """Masses that end in straight, equally sharp edges."""
    level = judge_ruled(ruled)
    many, how = ("many", "as if cut out with a knife") if level == "rework" else ("some", "as if drawn along a ruler")
    text = (
        f"{many} of the edges between its masses run straight and equally sharp, {how}, most plainly "
        f"{spot(ruled.x, ruled.y)}. Where that is no wall or roof, let the brush waver along it, lose a stretch, and keep "
        "an edge sharp at the subject alone"
    )
    return kind.finding(
        level=level,
        text=sentence(text),
        figure=ruled.share,
        figure_text=f"{percent(ruled.share)} of the edges of its masses run ruled",
        norm="no norm",
        stands_on="ruled.share",
        limit=RULED.rework if level == "rework" else RULED.watch,
    )


def soft_edges(case: Case, kind: Kind) -> Finding | None:
    """Whether no edge is crisp; of mist, where all is near in value, nothing is said."""
    found = case.measures.crispness.found
    level = kind.by_limits(found)
    if level == "holds" or case.measures.values.range < CLOSE_VALUES:
        return None
    if _photographed_softly(case.picture):
        level = "watch"  # whose softness it is nobody can tell
    seen = (
        "hardly an edge in it is crisp, and the eye finds none to rest on"
        if level == "rework"
        else "even its plainest edges are soft, and none tells the eye where to rest"
    )
    text = (
        f"{seen}. If the painting itself is crisp, the photograph is out of focus: take another before you change an edge. "
        "If not, sharpen a few round the subject, where light meets dark, and leave the rest soft"
    )
    return kind.finding(
        level=level,
        text=sentence(text),
        figure=found,
        figure_text=f"crispness {found:.2f} (1 is a cut edge)",
        norm=case.standing("crispness.found"),
        percentile=case.percentile("crispness.found"),
    )


def _photographed_softly(picture: Picture) -> bool:
    """Whether the photograph is soft, as far as can be told."""
    fitness = picture.view.fitness if picture.view is not None else ()
    return any(one.subject == "sharpness" and one.level != "holds" for one in fitness)


def _skyline(case: Case) -> str:
    """The edge that is lost first against a sky, to begin a list with; empty where no sky is sure."""
    parts = case.measures.parts
    if parts.sky_sureness < SURE_SKY or parts.sky_share < SOME_SKY:
        return ""
    return "sky into tree tops, " if land_green_share(case.picture, parts) >= TREES else "the skyline here and there, "


def pale_rims(case: Case, kind: Kind) -> Finding | None:
    """Whether a rim paler than the sky runs round what stands against it."""
    rims = case.measures.pale_rims
    level = kind.by_limits(rims.length)
    if level == "holds":
        return None
    how_far = next(words for least, words in RIMMED if rims.share >= least)
    looks = "which looks cut out and pasted on" if level == "rework" else "as if the sky had stopped short of it"
    text = (
        f"a rim paler than the sky runs {how_far} what stands against it, {looks}. Wet that edge, draw the sky's own colour "
        "right up to it and a little way in, and let the two melt here and there"
    )
    return kind.finding(
        level=level,
        text=sentence(text),
        figure=rims.length,
        figure_text=f"{percent(rims.share)} of the outlines that rise into the sky have a pale rim",
        norm="no norm",
    )


def outlines(case: Case, kind: Kind) -> Finding | None:
    """Whether shapes are drawn round with dark lines."""
    found = case.measures.outlines
    level = judge_outlines(found, kind.by_limits)
    if level == "holds":
        return None
    where = f", most of all {spot(found.x, found.y)}" if found.in_one_place else ""
    text = (
        f"thin dark lines run along many of its edges{where}. Twigs, poles and roofs have them by nature, and drawing "
        "may be its manner; where one only goes round a shape, the difference of two colours is edge enough"
        if level == "watch"
        else f"shapes are drawn round with dark lines{where}. Where two colours meet, their own difference is "
        "the edge: paint over the line from one side or the other"
    )
    return kind.finding(
        level=level,
        text=sentence(text),
        figure=found.length,
        figure_text=f"dark lines of {found.length:.1f} long edges in all",
        norm=case.standing("outlines.length"),
        percentile=case.percentile("outlines.length"),
    )


def equal_flecks(case: Case, kind: Kind) -> Finding | None:
    """Whether the same small marks cover everything."""
    detail = case.measures.detail
    level = judge_flecks(detail)
    if level == "holds":
        return None
    parts = case.measures.parts
    open_sky = parts.sky_sureness >= SURE_SKY and parts.sky_share >= SOME_SKY
    text = (
        f"the same small marks cover everything, {'sky and land alike' if open_sky else 'from edge to edge'}, and the eye "
        f"finds no rest. Let some passages go flat, in {'the sky or in ' if open_sky else ''}the shadows, and keep the broken "
        "touch for where the light plays"
    )
    return kind.finding(
        level=level,
        text=sentence(text),
        figure=detail.evenness,
        figure_text=f"the quietest tenth is {percent(detail.evenness)} as busy as the busiest",
        norm=case.standing("detail.evenness"),
        percentile=case.percentile("detail.evenness"),
    )


def _filled_in(darks: ClosedDarks) -> bool:
    """Whether most of the lowest quarter is a closed dark, of which more is said than that it varies little."""
    return float(darks.mask[round(NEAR * len(darks.mask)) :].mean()) >= FILLED_IN


def even_foreground(case: Case, kind: Kind) -> Finding | None:
    """Whether the lowest quarter is nearly one tone and one colour: bushes and stones may be drawn in it all the same."""
    found = case.measures.even_foreground
    level = judge_even_foreground(found, kind.by_limits)
    if level == "holds" or _filled_in(case.measures.closed_darks):
        return None
    text = (
        "the foreground, the lowest quarter, varies little in tone and colour. If it is to rest the eye, leave it; if not, "
        "a light or a shadow across it, a path or a change of colour would lead the eye in"
    )
    return kind.finding(
        level=level,
        text=sentence(text),
        figure=found.spread,
        figure_text=f"its tones and colours span {found.spread:.0f}, the tones of the whole picture {found.above_and_below:.0f}",
        norm=case.standing("even_foreground.spread"),
        percentile=case.percentile("even_foreground.spread"),
    )
