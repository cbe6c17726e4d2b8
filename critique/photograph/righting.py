"""The light of one photograph put right as it was asked: evened by its wall, made neutral by its grey, and told."""

from dataclasses import dataclass, field
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from critique.errors import CritiqueError
from critique.perception.cielab import linear_to_lab
from critique.perception.srgb import Float
from critique.photograph.balance import (
    CLIPPED,
    Balance,
    How,
    Level,
    balance_by_card,
    balance_by_chart,
    balance_by_patches,
    balance_by_spot,
)
from critique.photograph.corners import Corner, Corners
from critique.photograph.evening import Evening, light_across
from critique.photograph.find_chart import find_chart
from critique.photograph.light_asked import LightAsked

Evened = Literal["left", "evened", "evened by a guess", "even already", "unsure", "no wall"]


Doubt = Literal["hardly grey", "on the painting"]

# Brightest by darkest light across a canvas from which it is evened by a wall that is sure: some 2 L*. Of drawn
# photographs whose wall shows 1.08 to 1.15 all come nearer to the painting by it, by a tenth to a half of their ΔE00.
EVENED_FROM = 1.05
HARDLY_GREY = 10.0  # ΔE00: a brown wall by daylight, or a grey by a lamp that the camera left all in; our choice


@dataclass(frozen=True, slots=True)
class Lighting:
    """What was done about the light of a photograph, for the record.

    ``how`` names what it was made neutral by, None where nothing was named; ``places`` are the spot or the corners that
    were given. ``cast`` is how far from grey that was, ΔE(a*b*); ``neutral`` its L*a*b* afterwards. Of a chart:
    ``left_over`` the mean ΔE00 over its patches, each left out of the fit in turn, ``white_left`` the ΔE(a*b*) of its
    greys, ``level`` the best of ISO 19264-1:2021 that both keep. ``falloff`` is the brightest part of the canvas's
    light by the darkest, as the wall shows it, None where no wall does; ``evened`` what became of it.
    """

    how: How | None
    places: tuple[Corner, ...] = ()
    cast: float | None = None
    neutral: tuple[float, float, float] | None = None
    brightness: bool = False  # whether the exposure was put right too
    contrast: bool = False  # whether the camera's tone curve was taken out, as a chart's greys tell it
    veil: float | None = None  # stray light that was taken off, as a share of full light; None where none was
    left_over: float | None = None
    white_left: float | None = None
    level: Level | None = None
    falloff: float | None = None
    one_wall: bool = False  # whether the surround is one even wall, so that the falloff is sure
    likely: bool = False  # whether it shows the falloff, be it such a wall or not
    evened: Evened = "left"
    reference_light: float | None = None  # of the reference by the canvas's mean light, where that was reckoned with
    doubts: tuple[Doubt, ...] = ()  # why a spot that was marked may be no grey

    @property
    def brightness_known(self) -> bool:
        """Whether brightness was put right by what surely got the canvas's own light, as one even wall shows.

        Of drawn photographs with a card of known value, 16 whose wall is one and even come within 2 % of the
        painting's brightness; of 77 others 23 are off by more than 5 %, 7 by more than 10 %.
        """
        even = self.falloff is not None and self.falloff < EVENED_FROM
        return self.brightness and self.one_wall and (even or self.evened == "evened")


@dataclass(frozen=True, slots=True, eq=False)
class Righting:
    """What puts the light right, at any size: ``evening`` only where it is to be evened."""

    told: Lighting
    balance: Balance | None = field(repr=False)
    evening: Evening | None = field(repr=False)

    def on_canvas(self, light: Float, corners: Corners) -> Float:
        """The light (height, width, 3) of the canvas that was cropped out at ``corners``."""
        evened = light if self.evening is None else self.evening.on_canvas(light, corners)
        return evened if self.balance is None else self.balance.applied(evened, camera=light)

    def on_photograph(self, light: Float | NDArray[np.float16]) -> Float:
        """The light of the whole photograph; it is evened on a canvas alone."""
        return np.asarray(light, np.float32) if self.balance is None else self.balance.applied(light)


def righting_of(light: Float, asked: LightAsked, corners: Corners | None) -> Righting:
    """Find out what puts a photograph's light (height, width, 3) right; ``corners`` are the canvas's, if any was found.

    Raises
    ------
    CritiqueError
        One line, when what was named can't serve: outside, clipped, too dark, too coloured, no chart.
    """
    across = light_across(light, corners) if corners is not None else None
    evened = _evened(across, asked)
    evening = across if evened in ("evened", "evened by a guess") else None
    seen = light
    if asked.referenced and evening is not None and corners is not None:  # else nobody looks at it
        # What the camera clipped stays clipped: how much light it had there isn't known.
        seen = np.where(light < CLIPPED, evening.applied(light, corners), light)
    balance, places, neutral = _balance(seen, asked)
    reference_light = None
    if corners is not None and evening is None and balance is not None:
        reference_light = _reference_light(across, asked, corners)
    if balance is not None and reference_light is not None:
        balance = balance.brightened(reference_light)
    told = Lighting(
        how=None if balance is None else balance.how,
        places=places,
        cast=None if balance is None else balance.cast,
        neutral=neutral,
        brightness=asked.card_value is not None or asked.chart is not None,
        contrast=balance is not None and balance.fit is not None and balance.fit.exponent != 1,
        veil=float(balance.fit.veil.mean())
        if balance is not None and balance.fit is not None and balance.fit.veil.any()
        else None,
        left_over=None if balance is None else balance.left_over,
        white_left=None if balance is None or balance.white_left is None else balance.white_left,
        level=None if balance is None else balance.level,
        falloff=None if across is None else across.falloff,
        one_wall=across is not None and across.sure,
        likely=across is not None and across.likely,
        evened=evened,
        reference_light=reference_light,
        doubts=_doubts(balance, asked, corners),
    )
    return Righting(told, balance, evening)


def _reference_light(across: Evening | None, asked: LightAsked, corners: Corners) -> float | None:
    """By what a card or a chart of known value stands in more light than the canvas; None where that isn't known.

    Where the light was evened, that is done already. Where it wasn't, what lies around may be no wall to even a canvas
    by, and still tell this one number.
    """
    place = asked.card if asked.card_value is not None else asked.chart
    if across is None or asked.even is False or place is None or isinstance(place, str):
        return None
    x, y = place if len(place) == 2 else np.mean(place, axis=0)
    return across.on_mean((float(x), float(y)), corners)


def _doubts(balance: Balance | None, asked: LightAsked, corners: Corners | None) -> tuple[Doubt, ...]:
    """A spot in one lamp's light and one of that colour look alike: who marked it is told, and knows."""
    if balance is None or asked.grey is None:
        return ()
    doubts: list[Doubt] = ["hardly grey"] if balance.off_grey > HARDLY_GREY else []
    if corners is not None and _within(asked.grey, corners):
        doubts.append("on the painting")
    return tuple(doubts)


def _within(place: Corner, corners: Corners) -> bool:
    """Whether a place lies between corners that run clockwise."""
    points = np.asarray(corners)
    sides, there = np.roll(points, -1, axis=0) - points, np.asarray(place) - points
    return bool((sides[:, 0] * there[:, 1] - sides[:, 1] * there[:, 0] > 0).all())


def _evened(across: Evening | None, asked: LightAsked) -> Evened:
    sure = across is not None and across.sure
    falls_off = across is not None and across.falloff >= EVENED_FROM
    if asked.even is False or (asked.even is None and not (sure and falls_off)):
        return "left"
    if across is None:
        return "no wall"
    if not falls_off:
        return "even already"
    return "evened" if across.sure else "evened by a guess" if across.likely else "unsure"


def _balance(
    light: Float, asked: LightAsked
) -> tuple[Balance | None, tuple[Corner, ...], tuple[float, float, float] | None]:
    """The balance, the places that it stands on, and the L*a*b* of the reference once it is put right."""
    lightness = None if asked.card_value is None else 10 * asked.card_value
    if asked.grey is not None:
        balance = balance_by_spot(light, asked.grey)
        return balance, (asked.grey,), (balance.lightness, 0.0, 0.0)
    if asked.card is not None and len(asked.card) == 2:
        balance = balance_by_spot(light, asked.card, lightness=lightness, of="card")
        return balance, (asked.card,), (balance.lightness, 0.0, 0.0)
    if asked.card is not None:
        balance = balance_by_card(light, asked.card, lightness=lightness)
        return balance, asked.card, (balance.lightness, 0.0, 0.0)
    if asked.chart == "find":
        patches = find_chart(light)
        if patches is None:
            raise CritiqueError(
                "no chart of 24 patches was found in the photograph: give its corners, clockwise from the brown patch"
            )
        balance = balance_by_patches(patches)
        return balance, (), _greys(balance, patches)
    if asked.chart is not None:
        balance = balance_by_chart(light, asked.chart)
        return balance, asked.chart, _greys(balance, balance.patches)
    return None, (), None


def _greys(balance: Balance, patches: NDArray[np.float64] | None) -> tuple[float, float, float]:
    """The mean L*a*b* of a chart's four middle greys, put right."""
    assert patches is not None
    lab = linear_to_lab(balance.applied(patches[19:23].astype(np.float32))).mean(axis=0)
    return float(lab[0]), float(lab[1]), float(lab[2])
