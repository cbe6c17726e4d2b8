"""What the camera did to the painting: sharpness, glare, falloff, noise, too few px, borders, moiré; with remedies."""

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from critique.perception.srgb import Float, encode_srgb
from critique.photograph.evening import Evening

Subject = Literal["sharpness", "glare", "falloff", "noise", "few px", "border", "moire"]
Level = Literal["holds", "watch", "rework"]
Trust = Literal["sure", "likely", "a guess"]
Remedy = Literal[
    "none", "hold still", "turn the easel", "two lamps", "more light", "step closer", "crop", "turn the screen"
]

SHARP, BLURRED = (
    1.6,
    2.6,
)  # px at the file's own size over which a sharp step is spread: as a camera leaves it; plainly soft
GLARE, MUCH_GLARE = 0.002, 0.02  # of the painting's area clipped to the light's own colour
CLIPPED = 0.985  # of full light in every channel
GLARE_PATCH = 0.0004  # of the area: smaller clipped spots are wet paint and impasto
FALLOFF, MUCH_FALLOFF = 1.15, 1.35  # brightest by darkest light across the canvas: seen side by side; shifts the values
NOISE, MUCH_NOISE = 1.6, 2.2  # L*, spread within flat parts [noise of ISO 19264-1:2021 levels A and C]
FEW, TOO_FEW = 1200, 640  # px along the painting's long edge: brushwork is lost; masses and edges too
BORDER, WIDE_BORDER = 0.004, 0.015  # of the side
MOIRE, MUCH_MOIRE = 12.0, 40.0  # times the spectrum's height around it that a lone peak rises above it
FLAT = 0.3  # of the px, those with least detail, that noise is read from


@dataclass(frozen=True, slots=True)
class Fitness:
    """One thing about the photograph: ``figure`` in the unit of its subject, how bad, what helps, how far to trust it.

    Units: sharpness in px, glare as a share of the area, falloff as brightest by darkest, noise in L*, few px along the
    long edge, border as a share of the side, moiré as a ratio.
    """

    subject: Subject
    figure: float
    level: Level
    remedy: Remedy
    trust: Trust


def fitness_of(light: Float, *, long_edge: int, evening: Evening | None = None) -> tuple[Fitness, ...]:
    """Judge the photograph of a painting.

    Parameters
    ----------
    light : linear light (height, width, 3) of the painting alone, at any size up to that of the file.
    long_edge : px that the file has along the painting's long edge.
    evening : the light across the canvas where a wall told it.
    """
    grey = encode_srgb(light @ np.array([0.2126, 0.7152, 0.0722], dtype=np.float32))  # IEC 61966-2-1
    scale = long_edge / max(light.shape[:2])
    found = [
        _sharpness(np.asarray(grey), scale),
        _glare(light),
        _noise(np.asarray(grey)),
        _few(long_edge),
        _border(light),
        _moire(np.asarray(grey)),
    ]
    if evening is not None:
        trust: Trust = "sure" if evening.sure else "a guess"
        found.insert(2, _judged("falloff", evening.falloff, FALLOFF, MUCH_FALLOFF, "two lamps", trust))
    return tuple(found)


def said(fitness: Fitness) -> str:
    """One thing about the photograph, for the painter."""
    if fitness.level == "holds":
        return _GOOD[fitness.subject]
    how = {"sure": "", "likely": " probably", "a guess": " perhaps"}[fitness.trust]
    return _BAD[fitness.subject].format(how=how, figure=fitness.figure, share=f"{fitness.figure:.1%}") + (
        f" {_REMEDIES[fitness.remedy]}" if fitness.remedy != "none" else ""
    )


_GOOD: dict[Subject, str] = {
    "sharpness": "The photograph is sharp.",
    "glare": "No glare.",
    "falloff": "The light is even across the canvas.",
    "noise": "The photograph is clean.",
    "few px": "There are px enough.",
    "border": "Nothing but the painting is in the picture.",
    "moire": "No moiré.",
}
_BAD: dict[Subject, str] = {
    "sharpness": "The photograph is{how} soft: a sharp edge takes {figure:.1f} px.",
    "glare": "Glare hides{how} {share} of the painting.",
    "falloff": "One part of the canvas gets{how} {figure:.2f} times the light of another: its values mislead.",
    "noise": "Noise of {figure:.1f} L* hides{how} small steps of value in the darks.",
    "few px": "The painting is only {figure:.0f} px long: small accents and brushwork are lost.",
    "border": "A border {share} wide is{how} left in the picture, and is judged with it.",
    "moire": "A regular pattern lies{how} over the picture: a screen, a print or a weave.",
}
_REMEDIES: dict[Remedy, str] = {
    "none": "",
    "hold still": "Hold the camera still, on a stand or with the self-timer, and tap the canvas to focus.",
    "turn the easel": "Turn the easel until the shine goes, light from 45° on both sides, shade the lens, or polarise.",
    "two lamps": "Light it from both sides at 45°, from two canvas lengths away, or outdoors in shade.",
    "more light": "Give it more light, or a longer exposure on a stand.",
    "step closer": "Fill the frame with the canvas: step closer, or step back and zoom.",
    "crop": "Crop it, or give its corners.",
    "turn the screen": "Photograph the painting itself, or turn the camera by some degrees and step back a little.",
}


def _judged(subject: Subject, figure: float, watch: float, rework: float, remedy: Remedy, trust: Trust) -> Fitness:
    level: Level = "rework" if figure >= rework else "watch" if figure >= watch else "holds"
    return Fitness(subject, float(figure), level, "none" if level == "holds" else remedy, trust)


def _sharpness(grey: Float, scale: float) -> Fitness:
    """Over how many px of the file the sharpest steps are spread: their height by their steepest part."""
    from scipy.ndimage import maximum_filter1d, minimum_filter1d

    widths = []
    for axis in (0, 1):
        steep = np.abs(np.diff(grey, axis=axis))
        reach = maximum_filter1d(grey, 7, axis=axis) - minimum_filter1d(grey, 7, axis=axis)
        reach = np.take(reach, range(steep.shape[axis]), axis=axis)
        edges = (reach > 0.15) & (steep >= np.quantile(steep, 0.98))
        if edges.sum() >= 30:
            widths.append(float(np.quantile(reach[edges] / np.maximum(steep[edges], 1e-4), 0.2)))
    if not widths:
        return Fitness("sharpness", 0.0, "holds", "none", "a guess")
    # The two px of a step that is as sharp as can be lie one apart: such a step counts one.
    figure = min(widths) * scale
    return _judged("sharpness", figure, SHARP * max(scale, 1), BLURRED * max(scale, 1), "hold still", "likely")


def _glare(light: Float) -> Fitness:
    from scipy.ndimage import label

    clipped = light.min(axis=2) >= CLIPPED
    parts, number = label(clipped)
    sizes = np.bincount(parts.ravel(), minlength=number + 1)[1:] / clipped.size
    share = float(sizes[sizes >= GLARE_PATCH].sum())
    return _judged("glare", share, GLARE, MUCH_GLARE, "turn the easel", "likely")


def _noise(grey: Float) -> Fitness:
    """Spread of what no smooth surface has, in the flattest parts. [kernel: Immerkær, CVIU 64(2), 1996]"""
    from scipy.ndimage import convolve, uniform_filter

    kernel = np.array([[1, -2, 1], [-2, 4, -2], [1, -2, 1]], dtype=np.float32)
    rough = np.abs(convolve(grey, kernel))
    detail = uniform_filter(rough, 25)  # wide, so that few noisy px do not pass for flat
    flat = (detail <= np.quantile(detail, FLAT)) & (grey > 0.02) & (grey < 0.98)
    if flat.sum() < 100:
        return Fitness("noise", 0.0, "holds", "none", "a guess")
    spread = float(np.sqrt(np.pi / 2) * rough[flat].mean() / 6)
    return _judged("noise", 100 * spread, NOISE, MUCH_NOISE, "more light", "likely")  # codes run nearly as L* does


def _few(long_edge: int) -> Fitness:
    level: Level = "rework" if long_edge < TOO_FEW else "watch" if long_edge < FEW else "holds"
    return Fitness("few px", float(long_edge), level, "none" if level == "holds" else "step closer", "sure")


def _border(light: Float) -> Fitness:
    """The widest even strip along an edge that ends in a step from end to end."""
    codes = encode_srgb(light)
    widest = 0.0
    for turned in (codes, codes[::-1], codes.transpose(1, 0, 2), codes.transpose(1, 0, 2)[::-1]):
        most = max(2, round(0.06 * len(turned)))
        rows = np.asarray(turned[: most + 1])
        even = rows.std(axis=1).max(axis=1) < 0.05
        step = np.abs(np.diff(rows, axis=0)).max(axis=2)
        ends = np.flatnonzero((step > 0.06).mean(axis=1) > 0.85)
        own = [end + 1 for end in ends if even[: end + 1].all()]
        widest = max(widest, max(own, default=0) / len(turned))
    return _judged("border", widest, BORDER, WIDE_BORDER, "crop", "likely")


def _moire(grey: Float) -> Fitness:
    """How far a lone peak stands out of the spectrum at middle and high frequencies."""
    from scipy.ndimage import median_filter

    side = min(512, *grey.shape)
    top, left = ((length - side) // 2 for length in grey.shape)
    part = grey[top : top + side, left : left + side]
    window = np.hanning(side)[:, None] * np.hanning(side)
    spectrum = np.abs(np.fft.rfft2((part - part.mean()) * window))
    around: NDArray[np.floating] = median_filter(spectrum, 11)
    down, across = np.meshgrid(np.fft.fftfreq(side), np.fft.rfftfreq(side), indexing="ij")
    middle = (np.hypot(down, across) > 0.08) & (np.abs(down) > 0.01) & (across > 0.01)
    ratio = float((spectrum / (around + 1e-3 * spectrum.max() + 1e-9))[middle].max()) if middle.any() else 0.0
    return _judged("moire", ratio, MOIRE, MUCH_MOIRE, "turn the screen", "a guess")
