"""What was done about the light of a photograph, in sentences for the painter."""

from critique.photograph.balance import MEAN_COLOUR, WHITE_BALANCE
from critique.photograph.righting import Doubt, Lighting

_BY = {
    "spot": "the spot that you marked as grey",
    "card": "the card",
    "chart, white balance": "the chart",
    "chart, linear": "the chart",
    "chart, root-polynomial": "the chart",
}
_FIT = {
    "chart, white balance": "its white balance alone",
    "chart, linear": "least squares",
    "chart, root-polynomial": "root-polynomial regression",
}


_DOUBTS: dict[Doubt, str] = {
    "hardly grey": "That spot was hardly grey. By a strong lamp a true grey looks so, and so does a brown wall by "
    "daylight: if the lights look cold now, mark something else, such as a grey or white card.",
    "on the painting": "That spot lies on the painting: if its paint is no plain grey, every colour is turned with it. "
    "A card beside the canvas is surer.",
}


def light_said(light: Lighting) -> tuple[str, ...]:
    """A sentence or two for each thing that was asked for; none where nothing was."""
    return (*_neutral(light), *(_DOUBTS[one] for one in light.doubts), *_evened(light))


def _neutral(light: Lighting) -> tuple[str, ...]:
    if light.how is None or light.cast is None:
        return ()
    by = _BY[light.how]
    if light.how in ("spot", "card"):
        bright = "brightness too is put right by its value" if light.brightness else "the brightness is as photographed"
        return (
            f"The light is made neutral by {by}: it was ΔE(a*b*) {light.cast:.0f} from grey and is grey now; {bright}.",
        )
    assert light.left_over is not None and light.white_left is not None
    curve = ", with its contrast" if light.contrast else ""
    told = (
        f"The light is put right by {by} of 24 patches ({_FIT[light.how]}{curve}, the best of what was tried on "
        f"patches left out of the fit). Left over on such a patch is ΔE00 {light.left_over:.1f} on average, on its "
        f"greys ΔE(a*b*) {light.white_left:.1f} at most."
    )
    if light.level is None:
        bars = f"white {WHITE_BALANCE['C']:.0f}, mean colour {MEAN_COLOUR['C']:.0f}"
        return (told, f"That misses every level of ISO 19264-1:2021 (C allows {bars}): take the colours with care.")
    bars = f"white {WHITE_BALANCE[light.level]:.0f}, mean colour {MEAN_COLOUR[light.level]:.0f}"
    return (told, f"That keeps level {light.level} of ISO 19264-1:2021 ({bars}).")


def _evened(light: Lighting) -> tuple[str, ...]:
    times = "" if light.falloff is None else f"{light.falloff:.2f}"
    if light.evened == "evened":
        return (f"One part of the canvas got {times} times the light of another, as the wall shows; that is evened.",)
    if light.evened == "even already":
        return (f"The light across the canvas is even, {times} times at most: nothing was evened.",)
    if light.evened == "unsure":
        return (
            f"What lies around the canvas isn't one even wall, so nothing was evened. As far as it tells, one part got "
            f"{times} times the light of another: light it from both sides at 45°, and photograph it again.",
        )
    if light.evened == "no wall":
        return ("Too little wall is seen around the canvas to read the light from: nothing was evened.",)
    return ()
