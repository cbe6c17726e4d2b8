"""What the camera did to the painting: sharpness, glare, falloff, noise, too few px, borders, moiré; with remedies."""

from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from critique.perception.cielab import LIGHT_TO_LUMINANCE
from critique.perception.ranks import quantiles_of
from critique.perception.srgb import Float, encode_srgb
from critique.words.figures import percent

Subject = Literal["sharpness", "glare", "falloff", "noise", "few px", "border", "moire"]
Level = Literal["holds", "watch", "rework"]
Trust = Literal["sure", "likely", "a guess"]
Remedy = Literal[
    "none", "hold still", "turn the easel", "two lamps", "more light", "step closer", "crop", "turn the screen"
]

# px at the file's own size over which a sharp step is spread: the most that 84 paintings have is 1.7; plainly soft
SHARP, BLURRED = 1.8, 2.6
# Times as wide a step may be once it was averaged and interpolated: drawn photographs with a blur of 0.8 px stay below
# 1.55 times the limit of a file, with one of 1.5 px they begin at 1.9 times.
RESAMPLED = 1.65
GLARE, MUCH_GLARE = 0.002, 0.02  # of the painting's area clipped to the light's own colour
WHITE_GROUND = 0.5  # of the area: more than that is bare canvas or paper, not shine
CLIPPED = 0.985  # of full light in every channel
# px of those lines from a clipped patch to where its halo is looked at, and the light of the least channel there from
# which the patch fades out as shine does: put into 76 paintings, nine in ten patches of shine have 0.76 or more,
# half of the white that was cut out 0.48 or less.
HALO, FADING = (2, 4), 0.68
MARGIN = 0.12  # of the picture's border that is clipped, from which what is there is a margin: half of one side
SHINE = 0.5  # of the clipped area that must be shine before any is
GLARE_LINES = 500  # rows and columns, at the least, in which it is looked for
GLARE_PATCH = 0.0004  # of the area: smaller clipped spots are wet paint and impasto
FALLOFF, MUCH_FALLOFF = 1.15, 1.35  # brightest by darkest light across the canvas: seen side by side; shifts the values
GUESSED_FALLOFF = 1.25  # the same where the surround is no even wall, and less may be its own
NOISE, MUCH_NOISE = 2.4, 3.2  # L*, spread within flat parts: the touch of one in 84 paintings passes for the first
FEW, TOO_FEW = 640, 400  # px along the painting's long edge: figures are read at the first; masses and edges are lost
BORDER, WIDE_BORDER = 0.004, 0.015  # of the side
# Times the spectrum's height around it that a lone peak rises above it: the most that 84 paintings have is 6.9 (all but
# a few none), a pattern of 8 % in them 14 in the middle. Much is twice that most.
MOIRE, MUCH_MOIRE = 8.0, 14.0
LONE = 5.0  # times the mean around it that such a peak rises above, at the least; 121 px around it know it too
WAVES = 400  # px along the part from the middle in which a regular pattern is looked for
PEAKS = 12  # of them that are looked at
FLAT = 0.3  # of the px, those with least detail, that noise is read from
LINES = 80  # rows and columns, at the least, that tell how sharp the steps are
TILE, TILES = 120, 3  # px, and how many along each side: noise is the same all over


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


def fitness_of(
    light: Float,
    *,
    long_edge: int,
    straightened: bool = False,
    surround: bool = False,
    falloff: float | None = None,
    sure: bool = False,
) -> tuple[Fitness, ...]:
    """Judge the photograph of a painting.

    Parameters
    ----------
    light : linear light (height, width, 3) of the painting alone, at any size up to that of the file.
    long_edge : px that the file has along the painting's long edge.
    straightened : whether it was resampled, which spreads every step a little.
    surround : whether it shows more than the painting: a camera's photograph, in which that is no border left over, and
        which is as sharp as its canvas will be when it is cropped.
    falloff, sure : brightest by darkest light across the canvas, where its surround told it, and whether that was one
        even wall; otherwise it is a guess.
    """
    scale = long_edge / max(light.shape[:2])
    found = [
        _sharpness(light, scale, RESAMPLED if straightened or surround else 1.0),
        _glare(light, "likely" if straightened else "a guess"),
        _noise(light),
        _few(long_edge),
        *([] if surround else [_border(light)]),
        _moire(light),
    ]
    if falloff is not None:
        trust: Trust = "sure" if sure else "a guess"
        least = FALLOFF if sure else GUESSED_FALLOFF
        found.insert(2, _judged("falloff", falloff, least, MUCH_FALLOFF, "two lamps", trust))
    return tuple(found)


def said(fitness: Fitness) -> str:
    """One thing about the photograph, for the painter."""
    if (fitness.subject, fitness.trust) == ("sharpness", "a guess"):
        return "Whether the photograph is sharp can't be told: hardly a step in it is sharp."
    if fitness.level == "holds":
        told = fitness.subject == "falloff" and fitness.trust == "a guess"
        return "As far as its surround tells, the light is even across the canvas." if told else _GOOD[fitness.subject]
    if (fitness.subject, fitness.trust) == ("glare", "a guess"):
        return (
            f"Burnt-out white covers {percent(fitness.figure)} of it. If that is shine, and not a white cloud or "
            f"foam: {_REMEDIES[fitness.remedy][:1].lower()}{_REMEDIES[fitness.remedy][1:]}"
        )
    how = {"sure": "", "likely": " probably", "a guess": " perhaps"}[fitness.trust]
    return _BAD[fitness.subject].format(how=how, figure=fitness.figure, share=percent(fitness.figure)) + (
        f" {_REMEDIES[fitness.remedy]}" if fitness.remedy != "none" else ""
    )


_GOOD: dict[Subject, str] = {
    "sharpness": "The photograph is sharp.",
    "glare": "Nothing is burnt out by shine; a soft reflection isn't looked for.",
    "falloff": "The light is even across the canvas.",
    "noise": "The photograph is clean.",
    "few px": "There are px enough.",
    "border": "Nothing but the painting is in the picture.",
    "moire": "No moiré.",
}
_BAD: dict[Subject, str] = {
    "sharpness": "The photograph is{how} soft: a sharp edge takes {figure:.1f} px.",
    "glare": "Glare{how} hides {share} of the painting.",
    "falloff": "One part of the canvas{how} gets {figure:.2f} times the light of another: its values mislead.",
    "noise": "Noise of {figure:.1f} L*{how} hides small steps of value in the darks.",
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


def amiss(fitness: tuple[Fitness, ...], *, photographed: bool) -> tuple[Fitness, ...]:
    """What is worth a word: of a photograph with a surround what is to watch too, of a file that is all painting only
    what is plain, for there the painter's own touch may pass for the camera's."""
    levels = ("watch", "rework") if photographed else ("rework",)
    return tuple(one for one in fitness if one.level in levels)


def _grey(light: Float) -> Float:
    """Luminance as codes 0–1. [IEC 61966-2-1]"""
    red, green, blue = (np.float32(LIGHT_TO_LUMINANCE[channel]) * light[..., channel] for channel in range(3))
    return np.asarray(encode_srgb(red + green + blue))


def _sharpness(light: Float, scale: float, allowed: float) -> Fitness:
    """Over how many px of the file the sharpest steps are spread."""
    wide = step_width(light)
    if wide is None:
        return Fitness("sharpness", 0.0, "holds", "none", "a guess")
    # The two px of a step that is as sharp as can be lie one apart: such a step counts one.
    figure, allowed = wide * scale, allowed * max(scale, 1)
    return _judged("sharpness", figure, SHARP * allowed, BLURRED * allowed, "hold still", "likely")


def step_width(light: Float) -> float | None:
    """Over how many px the sharpest steps of light (height, width, 3) are spread: their height by their steepest part;
    None where there are too few."""
    step = max(1, min(light.shape[:2]) // LINES)
    widths = []
    # Copied first: px of a column lie far apart, and each would be fetched three times.
    columns, rows = np.ascontiguousarray(light[:, ::step]), light[::step]
    for grey in (np.ascontiguousarray(_grey(columns).T), _grey(rows)):
        steep = np.abs(np.diff(grey, axis=1))
        reach = _reach(grey)
        edges = (reach > 0.15) & (steep >= quantiles_of(steep, (0.98,))[0])
        if edges.sum() >= 30:
            widths.append(quantiles_of(reach[edges] / np.maximum(steep[edges], 1e-4), (0.2,))[0])
    return min(widths) if widths else None


def _reach(grey: Float) -> Float:
    """How far codes differ within three px to either side of each but the last, along lines (lines, px)."""
    padded = np.pad(grey, ((0, 0), (3, 3)), mode="symmetric")
    near = [padded[:, start : start + grey.shape[1] - 1] for start in range(7)]
    highest, lowest = near[0].copy(), near[0].copy()
    for shifted in near[1:]:
        np.maximum(highest, shifted, out=highest)
        np.minimum(lowest, shifted, out=lowest)
    return np.asarray(highest - lowest)


def _glare(light: Float, trust: Trust) -> Fitness:
    from scipy.ndimage import label

    step = max(1, min(light.shape[:2]) // GLARE_LINES)
    red, green, blue = (light[::step, ::step, channel] for channel in range(3))
    clipped = red >= CLIPPED
    if clipped.mean() < GLARE_PATCH:  # so are the other two together with it, then
        return Fitness("glare", 0.0, "holds", "none", "likely")
    clipped &= (green >= CLIPPED) & (blue >= CLIPPED)
    if not GLARE_PATCH <= clipped.mean() <= WHITE_GROUND:
        return Fitness("glare", 0.0, "holds", "none", "likely")
    parts, number = label(clipped)
    sizes = np.bincount(parts.ravel(), minlength=number + 1)[1:] / clipped.size
    large = np.flatnonzero(sizes >= GLARE_PATCH) + 1
    own = sizes[large - 1]
    share = float(own[_shines(light[::step, ::step], parts, large)].sum())
    if share < SHINE * own.sum():  # where most of the white is ground or paint, the rest will be
        share = 0.0
    return _judged("glare", share, GLARE, MUCH_GLARE, "turn the easel", trust)


def _shines(light: Float, parts: NDArray[np.int32], which: NDArray[np.intp]) -> NDArray[np.bool_]:
    """Which of the clipped patches numbered in ``parts`` are shine, and not the white of a ground, a margin or paint.

    Shine fades out over the paint; white paper and paint end where they end, and a margin runs along the border.
    """
    from scipy.ndimage import maximum_filter

    near, far = (maximum_filter(parts, 2 * reach + 1) for reach in HALO)
    halo = np.where(near == 0, far, 0)
    least = np.minimum(np.minimum(light[..., 0], light[..., 1]), light[..., 2])
    about, most = halo > 0, int(parts.max(initial=0)) + 1
    number, total = (np.bincount(halo[about], weights, most)[which] for weights in (None, least[about]))
    fading = total >= FADING * np.maximum(number, 1)  # a patch that fills the picture has nothing around it
    rim = np.concatenate([parts[0], parts[-1], parts[1:-1, 0], parts[1:-1, -1]])
    margin = np.isin(which, rim) & ((rim > 0).mean() >= MARGIN)
    return np.asarray(fading & ~margin)


def _noise(light: Float) -> Fitness:
    """Spread of what no smooth surface has, in the flattest parts. [kernel: Immerkær, CVIU 64(2), 1996]"""
    from scipy.ndimage import uniform_filter

    roughs, details, greys = [], [], []
    for tile in _tiles(light):
        grey = _grey(tile)
        rough = np.abs(_bent(_bent(np.pad(grey, 1, mode="symmetric")).T).T)  # the kernel is a product of two
        roughs.append(rough.ravel())
        details.append(uniform_filter(rough, 25).ravel())  # wide, so that few noisy px do not pass for flat
        greys.append(grey.ravel())
    rough, detail, grey = (np.concatenate(parts) for parts in (roughs, details, greys))
    flat = (detail <= quantiles_of(detail, (FLAT,))[0]) & (grey > 0.02) & (grey < 0.98)
    if flat.sum() < 100:
        return Fitness("noise", 0.0, "holds", "none", "a guess")
    spread = float(np.sqrt(np.pi / 2) * rough[flat].mean() / 6)
    return _judged("noise", 100 * spread, NOISE, MUCH_NOISE, "more light", "likely")  # codes run nearly as L* does


def _bent(rows: Float) -> Float:
    """Second difference from row to row: two rows fewer."""
    return rows[:-2] - 2 * rows[1:-1] + rows[2:]


def _tiles(light: Float) -> list[Float]:
    """Tiles spread over the picture; all of one that is small."""
    height, width = light.shape[:2]
    if min(height, width) < TILE * TILES:
        return [light]
    tops, lefts = (np.linspace(0, side - TILE, TILES).astype(int) for side in (height, width))
    return [light[top : top + TILE, left : left + TILE] for top in tops for left in lefts]


def _few(long_edge: int) -> Fitness:
    level: Level = "rework" if long_edge < TOO_FEW else "watch" if long_edge < FEW else "holds"
    return Fitness("few px", float(long_edge), level, "none" if level == "holds" else "step closer", "sure")


def _border(light: Float) -> Fitness:
    """The widest even strip along an edge that ends in a step from end to end."""
    widest = 0.0
    for turned in (light, light[::-1], light.transpose(1, 0, 2), light.transpose(1, 0, 2)[::-1]):
        along = max(1, turned.shape[1] // LINES)
        rows = encode_srgb(turned[: max(2, round(0.06 * len(turned))) + 1, ::along])
        even = rows.std(axis=1).max(axis=1) < 0.05
        step = np.abs(np.diff(rows, axis=0)).max(axis=2)
        ends = np.flatnonzero((step > 0.06).mean(axis=1) > 0.85)
        own = [end + 1 for end in ends if even[: end + 1].all()]
        widest = max(widest, max(own, default=0) / len(turned))
    return _judged("border", widest, BORDER, WIDE_BORDER, "crop", "likely")


def _moire(light: Float) -> Fitness:
    """How far a lone peak stands out of the spectrum at middle and high frequencies."""
    from scipy.fft import rfft2
    from scipy.ndimage import uniform_filter

    side = min(WAVES, *light.shape[:2])
    top, left = ((length - side) // 2 for length in light.shape[:2])
    part = _grey(light[top : top + side, left : left + side])
    window, middle = _waves(side)
    spectrum = np.abs(rfft2((part - part.mean()) * window))
    floor = 1e-3 * float(spectrum.max()) + 1e-9
    lone = np.where(middle, spectrum / (uniform_filter(spectrum, 11) + floor), 0)
    peaks = np.flatnonzero(lone >= LONE)
    ratio = 0.0
    for peak in peaks[np.argsort(lone.ravel()[peaks])[-PEAKS:]]:
        y, x = np.unravel_index(peak, spectrum.shape)
        around = np.median(spectrum[max(y - 5, 0) : y + 6, max(x - 5, 0) : x + 6])
        ratio = max(ratio, float(spectrum[y, x] / (around + floor)))
    return _judged("moire", ratio, MOIRE, MUCH_MOIRE, "turn the screen", "a guess")


@lru_cache(maxsize=4)
def _waves(side: int) -> tuple[Float, NDArray[np.bool_]]:
    """The window (side, side) that a square part is looked at through, and which of its waves could be a pattern."""
    window = (np.hanning(side)[:, None] * np.hanning(side)).astype(np.float32)
    down, across = np.fft.fftfreq(side)[:, None], np.fft.rfftfreq(side)
    return window, (np.hypot(down, across) > 0.08) & (np.abs(down) > 0.01) & (across > 0.01)
