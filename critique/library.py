"""What the library offers: each function takes pictures in any form, asks one task and gives its frozen result."""

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Literal, TypeVar

from numpy.typing import ArrayLike

from critique.advice.norms import Norms, read_norms
from critique.errors import CritiqueError, WrongUsage
from critique.paints.box import PaintBox, box_of, default_box, load_box
from critique.paints.chart import MixingChart, mixing_chart
from critique.paints.recipes import Recipe
from critique.paints.recipes import recipe as recipe_for
from critique.pair.compare import Comparison, Lineup, Passes, compare_passes, compare_pictures
from critique.pair.hold import state_of
from critique.pair.kept_plan import kept_plan
from critique.photograph.corners import Corners
from critique.photograph.light_asked import LightAsked
from critique.photograph.read import Given
from critique.picture.picture import Picture
from critique.picture.read import read_picture
from critique.sending.call import DOTS_PER_INCH, LONG_EDGE, MAX_MB, Call, Metadata, Paper
from critique.sending.submit import Submission, submitted
from critique.steps import telling
from critique.tasks.gallery import Gallery, gallery_of
from critique.tasks.palette import PalettePlan, plan_palette
from critique.tasks.plan import Plan, plan_repaint
from critique.tasks.plan_mixtures import mixtures_of_plan
from critique.tasks.review import Review, review_picture

__all__ = [
    "CritiqueError",
    "Picture",
    "Review",
    "chart",
    "compare",
    "gallery",
    "lineup",
    "palette",
    "passes",
    "plan",
    "read",
    "recipe",
    "review",
    "submit",
    "telling",
    "write",
]

Box = PaintBox | str | Path | Sequence[str]  # a paint box, the file of one, or the names of its paints
Several = TypeVar("Several")
Place = tuple[float, float]  # fractions of width and height, from the upper left


def read(
    picture: Given | Picture,
    *,
    name: str = "picture",
    corners: Corners | None = None,
    whole: bool = False,
    grey: Place | None = None,
    card: Place | Corners | None = None,
    card_value: float | None = None,
    chart: Corners | Literal["find"] | None = None,
    even: bool | None = None,
) -> Picture:
    """Read a picture once, to ask several things of it.

    A photograph of a painting is cropped to the canvas where that is sure: ``.view`` says how it was found.

    Parameters
    ----------
    picture : a path, the bytes of a file, a Pillow image, or an array (height, width, 3) of sRGB codes.
    name : what pages call it where it has no file name.
    corners : four of the canvas, clockwise from the painting's upper left, as fractions of the photograph.
    whole : take the whole file for the painting.
    grey, card, chart : what makes its light neutral: a spot that is grey or white, a spot on a card or its corners, the
        corners of a chart of 24 patches or "find". ``card_value`` (L*/10) sets the brightness too.
    even : whether the light across the canvas is evened by the wall; unless told otherwise where that is one even wall.

    Raises
    ------
    CritiqueError
        One line, when there is no such picture or it is outside the limits of size.
    """
    if isinstance(picture, Picture):
        return picture
    light = LightAsked(grey=grey, card=card, card_value=card_value, chart=chart, even=even)
    return read_picture(picture, name, corners=corners, whole=whole, light=light)


def review(
    picture: Given | Picture,
    *,
    norms: Norms | str | Path | None = None,
    box: Box | None = None,
    study: bool = False,
    aim: bool = False,
) -> Review:
    """Measure a picture and judge it: ``.measures``, ``.advice.findings``, ``.advice.suggestions``, ``.as_dict()``.

    Parameters
    ----------
    norms : what it is judged against, or the file of them; those that ship with the program unless told otherwise.
    box : the paints that recipes are mixed from; the landscape set unless told otherwise.
    study : whether to choose a limited palette too, and repaint the picture with it.
    aim : whether to compose the suggestions into one picture, ``.aim``, as a plan does; its page then leads with that.
    """
    held_to = read_norms(Path(norms)) if isinstance(norms, (str, Path)) else norms
    return review_picture(read(picture), held_to, _box(box), study, aim=aim)


def compare(
    original: Given | Picture,
    repaint: Given | Picture,
    *,
    greys: tuple[Place, Place] | None = None,
    box: Box | None = None,
    plan: str | Path | None = None,
) -> Comparison:
    """Compare an original with its repaint; ``greys`` is where the same grey lies in each.

    With ``plan``, the folder of the painting's plan, it is told first whether what was aimed at was reached.
    """
    if greys is not None and len(greys) != 2:
        raise WrongUsage("greys are two places: where the same grey lies in the original, and in the repaint")
    kept = kept_plan(Path(plan)) if plan is not None else None
    return compare_pictures(read(original, name="original"), read(repaint, name="repaint"), greys, _box(box), kept)


def passes(pictures: Sequence[Given | Picture], *, plan: str | Path | None = None) -> Passes:
    """Follow one painting through its states, in order: two or more, or one with the folder of its ``plan``."""
    kept = kept_plan(Path(plan)) if plan is not None else None
    return compare_passes([state_of(read(picture)) for picture in _several(pictures)], kept)


def lineup(pictures: Sequence[Given | Picture]) -> Lineup:
    """Lay versions of one subject side by side."""
    return Lineup(tuple(state_of(read(picture)) for picture in _several(pictures)))


def palette(picture: Given | Picture, *, box: Box | None = None, paints: int = 4, light: str = "D65") -> PalettePlan:
    """Choose limited palettes of ``paints`` beside white that carry a picture, with recipes and repaint studies."""
    return plan_palette(read(picture), _box(box) or default_box(), paints, light)


def plan(
    picture: Given | Picture,
    *,
    box: Box | None = None,
    paints: int = 4,
    take: Sequence[str] = (),
    leave: Sequence[str] = (),
    turned: Mapping[str, float] | None = None,
    like: Given | Picture | None = None,
    like_everything: bool = False,
    size: str | None = None,
    fresh: bool = False,
) -> Plan:
    """Plan how a picture is repainted: ``.aim``, ``.palette``, ``.passages``, ``.stages``; see ``plan_repaint``."""
    return plan_repaint(
        read(picture),
        box=_box(box),
        paints=paints,
        take=_names(take),
        leave=_names(leave),
        turned=turned,
        like=None if like is None else read(like, name="the picture that you admire"),
        like_everything=like_everything,
        size=size,
        fresh=fresh,
    )


def gallery(picture: Given | Picture, *, box: Box | None = None, plan: str | Path | None = None) -> Gallery:
    """Show a picture under gallery light: ``.lamps``, each with ``.greens``, ``.shifts`` and ``.preview(codes)``.

    With ``box``, or the folder of a ``plan``, colours have the spectra of the mixtures that make them.
    """
    mixtures = mixtures_of_plan(Path(plan)) if plan is not None else ()
    return gallery_of(read(picture), _box(box), mixtures)


def chart(paints: Sequence[str], *, light: str = "D65") -> MixingChart:
    """What every pair of some paints mixes to; paints go by pigment or Colour Index name."""
    return mixing_chart(_names(paints), light)


def recipe(lab: ArrayLike, *, box: Box | None = None) -> Recipe:
    """The mixture of a box that comes nearest to a CIELAB colour (3,), D65, L* from 0 to 100."""
    return recipe_for(lab, _box(box) or default_box())


def submit(
    pictures: Sequence[str | Path],
    folder: str | Path,
    *,
    long_edge: int = LONG_EDGE,
    max_mb: float = MAX_MB,
    name: str | None = None,
    price_list: str | Path | None = None,
    artist: str = "",
    metadata: Metadata = "strip",
    keep_location: bool = False,
    dpi: int = DOTS_PER_INCH,
    paper: Paper = "A4",
    prices: bool = True,
) -> Submission:
    """Make picture files ready for a call: JPEGs within its limits, a price list and a contact sheet in ``folder``.

    ``.pictures`` says of each what still falls short, ``.failed`` which couldn't be sent and why, ``.notes`` what is
    wrong with the price list; ``name`` is a pattern such as ``{artist}_{title}_{n}``.

    Raises
    ------
    CritiqueError
        One line, when the call, the price list or the pattern can't be used.
    """
    call = Call(
        long_edge=long_edge,
        max_mb=max_mb,
        name=name,
        artist=artist,
        metadata=metadata,
        keep_location=keep_location,
        dpi=dpi,
        paper=paper,
        prices=prices,
    )
    listed = None if price_list is None else Path(price_list)
    return submitted([Path(picture) for picture in _several(pictures)], Path(folder), call, listed)


def write(
    done: Gallery | Review | Comparison | Passes | Lineup | PalettePlan | MixingChart | Plan, folder: str | Path
) -> Path:
    """Write the page of a result with its record and plates into a folder; gives the page's path.

    Raises
    ------
    CritiqueError
        One line, when the files can't be written there.
    TypeError
        When that is no result of this library.
    """
    from critique.report import chart_page, gallery_page, palette_page, plan_page, write_compared
    from critique.report.write import write_review

    folder = Path(folder)
    if isinstance(done, Review):
        return write_review(done, folder)
    if isinstance(done, Comparison):
        return write_compared.write_comparison(done, folder)
    if isinstance(done, Passes):
        return write_compared.write_passes(done, folder)
    if isinstance(done, Lineup):
        return write_compared.write_lineup(done, folder)
    if isinstance(done, Gallery):
        return gallery_page.write_gallery(done, folder)
    if isinstance(done, Plan):
        return plan_page.write_plan(done, folder)
    if isinstance(done, PalettePlan):
        return palette_page.write_palette(done, folder)
    if isinstance(done, MixingChart):
        return chart_page.write_chart(done, folder)
    raise TypeError(f"{type(done).__name__} is no result that has a page")


def _several(pictures: Sequence[Several]) -> Sequence[Several]:
    """The pictures, if they are a list of them: the letters of one file's name are none."""
    if not isinstance(pictures, Sequence) or isinstance(pictures, (str, bytes, bytearray)) or not len(pictures):
        raise WrongUsage("give a list of pictures, also where it is of one")
    return pictures


def _names(given: Sequence[str]) -> Sequence[str]:
    """Names; one alone may come without a list around it."""
    return (given,) if isinstance(given, str) else given


def _box(box: Box | None) -> PaintBox | None:
    if box is None or isinstance(box, PaintBox):
        return box
    if isinstance(box, (str, Path)):
        return load_box(Path(box))
    return box_of(box)
