"""Whether a paint fades in a mixture, and the word on it."""

from collections.abc import Sequence

from critique.paints.paint import Paint

LITTLE = 0.1  # share of a mixture below which a paint is a tint of it
# Share of white from which a mixture is a tint: a touch of it in a dark brown lets nothing down. Our choice; makers
# rate tints let down to a reflectance of 40 %, L* 69, which takes white for most of it. [ASTM D4303, from memory]
LET_DOWN = 0.25


def fades_there(paint: Paint, share: float, white: float) -> bool:
    """Whether a paint fades where it makes up ``share`` (0–1) of a mixture of which ``white`` (0–1) is white."""
    return paint.fades or (paint.fades_pale and share < LITTLE and white >= LET_DOWN)


def fading(paint: Paint, share: float, white: float) -> str:
    """A word on a paint that fades in such a mixture; empty where it lasts."""
    if not fades_there(paint, share, white):
        return ""
    name = f"{paint.name[:1].upper()}{paint.name[1:]}"
    return (
        f"{name} fades: keep it out of what must last." if paint.fades else f"{name} fades in tints such as this one."
    )


def fading_in(paints: Sequence[Paint], shares: Sequence[float]) -> tuple[str, ...]:
    """The same for those paints of a mixture that fade there."""
    white = white_among(paints, shares)
    told = (fading(paint, share, white) for paint, share in zip(paints, shares, strict=True))
    return tuple(one for one in told if one)


def white_among(paints: Sequence[Paint], shares: Sequence[float]) -> float:
    """How much of a mixture is white, 0–1, where ``shares`` are those of its paints."""
    return sum(share for paint, share in zip(paints, shares, strict=True) if paint.is_white)
