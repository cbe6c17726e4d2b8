"""What was done about the light of a photograph, in sentences for the painter."""

import math

from critique.photograph.righting import Doubt, Lighting

_BY = {
    "spot": "the spot that you marked as grey",
    "card": "the card",
    "chart, white balance": "the chart",
    "chart, linear": "the chart",
    "chart, root-polynomial": "the chart",
}
# ΔE(a*b*) below which a cast is called so: 2 is the just visible step of most people, and by a household's warm lamp an
# unbalanced grey lies 30 and more away; the steps between are our choice.
_CASTS = (
    (2.0, "as good as grey before"),
    (6.0, "a little tinted"),
    (15.0, "plainly tinted"),
    (30.0, "strongly tinted"),
    (math.inf, "very strongly tinted"),
)


_DOUBTS: dict[Doubt, str] = {
    "hardly grey": "That spot was hardly grey. By a strong lamp a true grey looks so, and so does a brown wall by "
    "daylight: if the lights look cold now, mark something else, such as a grey or white card.",
    "on the painting": "That spot lies on the painting: if its paint is no plain grey, every colour is turned with it. "
    "A card beside the canvas is surer.",
}


SAID = 1.03  # by which a reference's light differs from the canvas's before it is told; our choice
STANDARD = "ISO 19264-1:2021, by which museums copy paintings"
AS_PHOTOGRAPHED = (
    "Nothing grey was named, so its colour is the photograph's, lamp and all: --grey X,Y names a grey or white spot "
    "beside the canvas."
)  # of a canvas cropped out of a photograph


def left_as_photographed(light: Lighting | None) -> bool:
    """Whether nothing was named to tell the light of a photograph by."""
    return light is None or light.how is None


def light_said(light: Lighting) -> tuple[str, ...]:
    """A sentence or two for each thing that was asked for; none where nothing was."""
    return (*_neutral(light), *(_DOUBTS[one] for one in light.doubts), *_evened(light))


def _neutral(light: Lighting) -> tuple[str, ...]:
    if light.how is None or light.cast is None:
        return ()
    by = _BY[light.how]
    if light.how in ("spot", "card"):
        bright = "brightness too is put right by its value" if light.brightness else "the brightness is as photographed"
        told = f"The light is made neutral by {by}: it was {_cast(light.cast)}, and is grey now; {bright}."
        return (told, *_reference_light(light, by))
    assert light.left_over is not None and light.white_left is not None
    curve = ", with its contrast" if light.contrast else ", with the stray light taken off" if light.veil else ""
    told = (
        f"The light is put right by {by} of 24 patches{curve}. What is left over on a patch is {light.left_over:.1f} "
        f"steps of colour on average, on its greys {light.white_left:.1f} at most (one or two are just seen side by "
        "side)."
    )
    kept = f"That keeps level {light.level} of {STANDARD} (A is the strictest)."
    if light.level is None:
        kept = f"That misses every level of {STANDARD}: take the colours with care."
    return (told, kept, *_reference_light(light, by))


def _reference_light(light: Lighting, by: str) -> tuple[str, ...]:
    """What the canvas got less or more of than what its brightness was read off."""
    times = light.reference_light
    if times is None or max(times, 1 / times) < SAID:
        return ()
    more, less = (by[:1].upper() + by[1:], "the canvas") if times > 1 else ("The canvas", by)
    return (
        f"{more} got {max(times, 1 / times):.2f} times the light of {less}, as far as the surround shows: the "
        "brightness reckons with that.",
    )


def _cast(cast: float) -> str:
    """How far from grey something was, in words: ΔE(a*b*)."""
    return next(words for limit, words in _CASTS if cast < limit)


def _evened(light: Lighting) -> tuple[str, ...]:
    times = "" if light.falloff is None else f"{light.falloff:.2f}"
    if light.evened == "evened":
        return (f"One part of the canvas got {times} times the light of another, as the wall shows; that is evened.",)
    if light.evened == "evened by a guess":
        return (
            f"One part of the canvas got {times} times the light of another, as far as its surround shows; that is "
            "evened, as you asked. The surround isn't one even wall: see whether the picture looks right.",
        )
    if light.evened == "even already":
        return (f"The light across the canvas is even, {times} times at most: nothing was evened.",)
    if light.evened == "unsure":
        return (
            f"What lies around the canvas isn't one even wall, so nothing was evened. As far as it tells, one part got "
            f"{times} times the light of another: light it from both sides at 45°, and photograph it again.",
        )
    if light.evened == "no wall":
        return ("Too little of one paint is seen around the canvas to read the light from: nothing was evened.",)
    return ()
