"""Whether a paint fades in a mixture, and the word on it."""

from collections.abc import Sequence

from critique.paints.paint import Paint

LITTLE = 0.1  # share of a mixture below which a paint is a tint of it
# Share of white from which a mixture is a tint: a touch of it in a dark brown lets nothing down. Our choice; makers
# rate tints let down to a reflectance of 40 %, L* 69, which takes white for most of it. [ASTM D4303, from memory]
LET_DOWN = 0.25


def fading(paint: Paint, share: float, white: float) -> str:
    """A word on a paint that makes up ``share`` (0–1) of a mixture, where it fades there; empty where it lasts.

    ``white`` is the share of white in that mixture.
    """
    name = f"{paint.name[:1].upper()}{paint.name[1:]}"
    if paint.fades:
        return f"{name} fades: keep it out of what must last."
    if paint.fades_pale and share < LITTLE and white >= LET_DOWN:
        return f"{name} fades in tints such as this one."
    return ""


def fading_in(paints: Sequence[Paint], shares: Sequence[float]) -> tuple[str, ...]:
    """The same for all the paints of a mixture."""
    white = sum(share for paint, share in zip(paints, shares, strict=True) if paint.is_white)
    told = (fading(paint, share, white) for paint, share in zip(paints, shares, strict=True))
    return tuple(one for one in told if one)
