"""What a command is told of a photograph: where the painting lies in it, and by what its light is put right."""

import functools
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from critique.cli.options import OUT, one_line_errors
from critique.errors import WrongUsage

if TYPE_CHECKING:
    from critique.photograph.corners import Corners
    from critique.photograph.light_asked import LightAsked, Spot

CORNERS = '"X,Y X,Y X,Y X,Y"'
NONE = "-"  # written for a photograph of which there is nothing to say
LIGHT = ("grey", "card", "card_value", "chart", "even")  # the options that say something of the light


@dataclass(frozen=True, slots=True)
class Asked:
    """What is asked of one photograph, now or on an earlier run into the same folder."""

    corners: "Corners | None"
    whole: bool
    light: "LightAsked"


@dataclass(frozen=True, slots=True)
class InPhotograph:
    """What was written on the command line of the photographs that it names."""

    corners: str | None = None
    whole: bool = False
    as_photographed: bool = False
    light: dict[str, Any] = field(default_factory=dict)

    def check(self, pictures: Sequence[Path]) -> None:
        """Places belong to one photograph, and nothing is given and taken back in the same breath."""
        named = [name for name in ("grey", "card", "chart") if self.light.get(name) is not None]
        if self.corners is not None and self.whole:
            raise click.UsageError("give --corners or --whole, not both")
        if self.as_photographed and (named or self.light.get("even")):
            raise click.UsageError(f"give --{(named or ['even'])[0]} or --as-photographed, not both")
        if self.corners is not None and len(pictures) > 1:
            raise click.UsageError("--corners belong to one photograph: give one at a time")
        if named and len(pictures) > 1:
            raise click.UsageError(f"--{named[0]} belongs to one photograph: give one at a time")

    def of(self, picture: Path, folder: Path, *others: Path) -> Asked:
        """What was written for a picture, and what wasn't as it was on an earlier run into ``folder``.

        Corners are looked for in ``others`` too, where other commands may have kept them.
        """
        from critique.photograph.corners import parse_corners
        from critique.photograph.light_asked import LightAsked, parse_light, remembered_light

        corners = None
        if not self.whole:
            given = self.corners
            corners = _remembered(picture, (folder, *others)) if given is None else parse_corners(given)
        if self.as_photographed:
            light = LightAsked(even=False)
        elif any(value is not None for value in self.light.values()):
            light = parse_light(**self.light)
        else:
            light = remembered_light(folder, picture.name)
        return Asked(corners, self.whole, light)

    def keep(self, picture: Path, folder: Path, asked: Asked) -> None:
        """Remember beside the result what served, or forget what was taken back."""
        from critique.photograph.corners import forget_corners, remember_corners
        from critique.photograph.light_asked import NOTHING_ASKED, LightAsked, forget_light, remember_light

        if self.whole:
            forget_corners(folder, picture.name)
        elif self.corners is not None and asked.corners is not None:
            remember_corners(folder, picture.name, asked.corners)
        if self.as_photographed:
            forget_light(folder, picture.name)
        elif asked.light not in (NOTHING_ASKED, LightAsked(even=False)):
            remember_light(folder, picture.name, asked.light)


_EACH = (
    click.option(
        "--corners",
        multiple=True,
        metavar=CORNERS,
        help="Of the canvas in its photograph; once for each picture, in their order, and - for one without; "
        "remembered for the next run.",
    ),
    click.option(
        "--whole",
        is_flag=True,
        help="The files are all painting, but for those with corners; forget corners given before.",
    ),
    click.option(
        "--grey",
        "greys",
        multiple=True,
        metavar="X,Y",
        help="Where something grey lies in each photograph, 0–1 from upper left; as with --corners.",
    ),
)
_OPTIONS = (
    click.option(
        "--corners",
        metavar=CORNERS,
        help="Corners of the canvas in its photograph, clockwise from the painting's upper left, as fractions; "
        "remembered beside the result.  [default: the canvas is looked for]",
    ),
    click.option("--whole", is_flag=True, help="The whole file is the painting; forget corners given before."),
    click.option("--grey", metavar="X,Y", help="A spot in the photograph that is grey or white."),
    click.option(
        "--card",
        metavar='"X,Y ..."',
        help="A spot on a grey or white card in the photograph, or its four corners, clockwise.",
    ),
    click.option("--card-value", type=float, help="The card's value (18 % grey is 5): sets brightness."),
    click.option("--chart", metavar=CORNERS, help='Of a 24-patch chart, from the brown one; or "find".'),
    click.option(
        "--even/--no-even",
        default=None,
        help="Even the light across the canvas by the wall.  [default: where that is one even wall]",
    ),
    click.option("--as-photographed", is_flag=True, help="Leave the light; forget greys named before."),
)


NOTHING_WRITTEN = InPhotograph()


@dataclass(frozen=True, slots=True)
class InEach:
    """What was written of each of several photographs, in their order; None for one of which nothing was."""

    corners: tuple["Corners | None", ...]
    greys: tuple["Spot | None", ...]
    whole: bool

    def is_whole(self, number: int) -> bool:
        """Whether that file is all painting: corners that were given overrule."""
        return self.whole and self.corners[number] is None

    def with_remembered(self, homes: "Sequence[Sequence[Path]]", pictures: Sequence[Path]) -> "InEach":
        """The same, with the corners of an earlier run for those photographs of which none were written now.

        ``homes`` are the folders where each one's may have been kept, the first to be asked first.
        """
        corners = tuple(
            _remembered(picture, own) if written is None and not self.whole else written
            for written, picture, own in zip(self.corners, pictures, homes, strict=True)
        )
        return replace(self, corners=corners)

    def keep(self, homes: "Sequence[Sequence[Path]]", pictures: Sequence[Path]) -> None:
        """Remember the corners that were written now, or forget those of files that are all painting."""
        from critique.photograph.corners import forget_corners, remember_corners

        for number, (written, picture, own) in enumerate(zip(self.corners, pictures, homes, strict=True)):
            if self.is_whole(number):
                for folder in own:
                    forget_corners(folder, picture.name)
            elif written is not None and own:
                remember_corners(own[0], picture.name, written)


def homes_in(folder: Path, place: Path, pictures: Sequence[Path]) -> list[tuple[Path, ...]]:
    """Where corners of photographs are kept whose result lies in ``place``, within ``folder``.

    Each in the folder of the painting that it shows, where that has one, for a review remembers them there; else in
    the result's own, unless another of the same name would be mistaken for it.
    """
    from critique.painting.history import read_history
    from critique.painting.identity import painting_folder

    homes = []
    for picture, alone in zip(pictures, _alone(pictures), strict=True):
        own = painting_folder(folder, picture)
        beside = (place,) if alone and own != place else ()
        homes.append((own, *beside) if own == place or read_history(own) is not None else beside)
    return homes


def homes_beside(folder: Path, pictures: Sequence[Path]) -> list[tuple[Path, ...]]:
    """The same for a result that is no painting's: in ``folder``, else where a review kept them."""
    return [
        (folder, *elsewhere(picture)) if alone else elsewhere(picture)
        for picture, alone in zip(pictures, _alone(pictures), strict=True)
    ]


def elsewhere(picture: Path) -> tuple[Path, ...]:
    """The painting's own folder, where it has one, for commands whose results go into another."""
    from critique.painting.history import read_history
    from critique.painting.identity import painting_folder

    own = painting_folder(Path(OUT), picture)
    return () if read_history(own) is None else (own,)


def _alone(pictures: Sequence[Path]) -> list[bool]:
    """Whether none of the others has the same name."""
    names = [picture.name for picture in pictures]
    return [names.count(name) == 1 for name in names]


def _remembered(picture: Path, folders: Sequence[Path]) -> "Corners | None":
    """The corners that the first of the folders remembers which remembers any."""
    from critique.photograph.corners import remembered_corners

    return next((found for folder in folders if (found := remembered_corners(folder, picture.name)) is not None), None)


def each_options(command: Callable[..., Any]) -> Callable[..., Any]:
    """``--corners`` and ``--grey`` once for each photograph, and ``--whole``; the command gets them as ``each``."""

    @functools.wraps(command)
    def gathered(*, corners: tuple[str, ...], greys: tuple[str, ...], whole: bool, **given: Any) -> Any:
        from critique.photograph.corners import parse_corners
        from critique.photograph.light_asked import parse_light

        pictures = given["pictures"]
        with one_line_errors():
            quads = [None if text == NONE else parse_corners(text) for text in _written(pictures, corners, "corners")]
            spots = [
                None if text == NONE else parse_light(grey=text).grey for text in _written(pictures, greys, "grey")
            ]
        return command(**given, each=InEach(tuple(quads), tuple(spots), whole))

    for option in reversed(_EACH):
        gathered = option(gathered)
    return gathered


def _written(pictures: Sequence[Path], given: Sequence[str], name: str) -> Sequence[str]:
    """What was given for each picture; nothing for all of them where nothing was given at all."""
    if not given:
        return [NONE] * len(pictures)
    if len(given) != len(pictures):
        raise WrongUsage(
            f"--{name} was given {len(given)} times for {len(pictures)} pictures: give it once for each, in their "
            f"order, and {NONE} for one without"
        )
    return given


def photograph_options(command: Callable[..., Any]) -> Callable[..., Any]:
    """``--corners``, ``--whole`` and those of the light; the command gets all of them as ``shown``, checked."""

    @functools.wraps(command)
    def gathered(**given: Any) -> Any:
        light = {name: given.pop(name) for name in LIGHT}
        shown = InPhotograph(given.pop("corners"), given.pop("whole"), given.pop("as_photographed"), light)
        shown.check(given["pictures"] if "pictures" in given else [given["picture"]])
        return command(**given, shown=shown)

    for option in reversed(_OPTIONS):
        gathered = option(gathered)
    return gathered
