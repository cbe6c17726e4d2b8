"""Whether the ends of a picture's values are left empty: darks filled in, a sky left white."""

from critique.advice.fault_limits import BLACK, CLOSED, judge_bare_sky, judge_closed_darks
from critique.advice.finding import Finding
from critique.advice.judging import Case
from critique.advice.kind import Kind
from critique.measures.bare_sky import BareSky
from critique.measures.closed_darks import ClosedDarks
from critique.picture.areas import area_aside, area_of
from critique.picture.places import place_of, spot
from critique.words.aloud import about, sentence
from critique.words.figures import number, percent

AS_WHITE = 76.0  # L* of the lightest touches below: readers saw that snow and stones so light are white too
MOST_OF_THE_SKY = 0.6  # of it: with as much bare, it is the sky that one sees bare


def closed_darks(case: Case, kind: Kind) -> Finding | None:
    """Whether the darks are filled in."""
    darks = case.measures.closed_darks
    level = judge_closed_darks(darks, kind.by_limits)
    if level == "holds":
        return None
    if level == "watch" and darks.black > darks.share:
        return kind.finding(
            level=level,
            text=sentence(
                f"{about(darks.black)} of the picture is near black, with little to be seen in it{_black_lies(darks)}. If it "
                "isn't meant as a silhouette, open it: lay a warm dark beside a cool one, half a value up"
            ),
            figure=darks.share,
            figure_text=f"{percent(darks.black)} of the picture near black, {percent(darks.share)} quite closed",
            norm=f"{case.standing('closed_darks.share')}; near black is named from {percent(BLACK)} on",
            percentile=case.percentile("closed_darks.share"),
        )
    # where it lies in many pieces the plate shows them: readers took another for the largest in most of such pictures
    where = f", most of it {spot(darks.x, darks.y)}" if darks.in_one_place else ""
    text = f"{about(darks.share)} of the picture is dark with next to nothing to be seen in it{where}"
    if level == "watch":
        text += (
            ", and reads as one flat shape from afar. If something should be found in there, lay a warm dark beside a cool "
            "one, half a value up"
        )
    else:
        text += (
            ". Open it: lay a warm dark beside a cool one there, half a value up, and keep the deepest darks for small "
            "accents"
        )
    return kind.finding(
        level=level,
        text=sentence(text),
        figure=darks.share,
        figure_text=f"{percent(darks.share)} of the picture closed and dark",
        norm=f"{case.standing('closed_darks.share')}; named from {percent(CLOSED.watch or 0.0)} on",
        percentile=case.percentile("closed_darks.share"),
    )


def bare_sky(case: Case, kind: Kind) -> Finding | None:
    """Whether the sky is left white, without a tone, where all else is darker."""
    found = case.measures.bare_sky
    level = judge_bare_sky(found, kind.by_limits)
    if level == "holds":
        return None
    return kind.finding(
        level=level,
        text=sentence(
            f"{_of_the_sky(found, case.measures.parts.sky_share)} is bare white{_outshines(found)}. A little "
            "ochre or grey in it would keep the lightest light for what you want seen; if the painting has tone there, the "
            "photograph is too light"
        ),
        figure=found.share,
        figure_text=f"{percent(found.share)} of the picture is bare white sky; the lights below it have a value of {number(found.lights / 10)}",
        norm=case.standing("bare_sky.share"),
        percentile=case.percentile("bare_sky.share"),
    )


def _outshines(found: BareSky) -> str:
    """What that does to all below, where nothing there is as light: snow, foam or a white wall may be."""
    return " and outshines everything below it" if found.lightest < AS_WHITE else ", much more of it than below"


def _of_the_sky(found: BareSky, sky_share: float) -> str:
    """How much of the sky is bare, and where that part lies."""
    if found.share >= MOST_OF_THE_SKY * sky_share:
        return f"the sky, {about(found.share)} of the picture,"
    return f"part of the sky{area_aside(found.mask)}, {about(found.share)} of the picture,"


def _black_lies(darks: ClosedDarks) -> str:
    """Where most of what is near black lies, to follow it; empty where two thirds of the picture or more hold it."""
    place = place_of(darks.black_mask)
    if place.column == "wide" and place.row not in ("top", "middle", "bottom"):
        return ""
    return f", most of it {area_of(darks.black_mask) or place.words}"
