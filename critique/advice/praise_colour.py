"""The colour that a picture has to be praised for: two that make a chord, one small red."""

from functools import cache

import numpy as np

from critique.advice.patches import in_patches
from critique.advice.seen import Seen, lying
from critique.advice.virtue import Virtue
from critique.measures.eye_judging import surely_settles
from critique.perception.channels import chroma_of
from critique.perception.hue import hue_of, turn
from critique.perception.ranks import median_of
from critique.picture.areas import same_frame
from critique.picture.one_piece import largest_piece
from critique.picture.places import roughly, spot
from critique.words.aloud import strength_word

HUES, APART = 36, 80.0  # steps of hue, and degrees between two colours of a chord
SMOOTH = 12.0
# Degrees between the two as they are named, and the strength of the weaker: a mauve and a violet, or a brown and an ochre,
# are no chord to readers of such pictures.
NAMED_APART, LEAST_CHORD = 50.0, 0.5
# Degrees: a green and a blue, neither of them warm, are what any field has under any sky. Of eight such pictures, twice read
# each, readers signed that they make a chord in a third.
GREEN_TO_BLUE = (110.0, 290.0)
OF_IT, COLOURED = 30.0, 10.0  # degrees to either side that count as one colour; C* from which they are seen
STRONG = 60  # percentile of the chroma of a colour, from which on it is named
RED, RED_A = (350.0, 50.0), 24.0
RED_LEAST, RED_MOST = 0.0008, 0.02
AT_THE_PLACE = 0.15  # of the width and height: a red so near to what leads is part of it
TOGETHER, MOSTLY = 0.12, 0.7  # of the sides from their middle, and of the red that lies within it
# C* and hues of a warm colour, and L* of one that is a light; of the picture; of them, in one piece.
WARM_CHROMA, WARM, WARM_LIGHT = 20.0, (340.0, 85.0), 50.0
WARM_LEAST, WARM_MOST, IN_ONE = 0.003, 0.15, 0.6
BESIDE, COOL_BESIDE = (2, 8), 6.0  # px of a glance beyond its border; b* of what lies there, at most
GREYISH, MOSTLY_COOL = 6.0, 0.55  # C* below which it is as good as cool; of all else that is so
ENOUGH_GREEN, QUIET_CHROMA = 0.15, 22.0  # of the picture, from which its greens' quiet is worth a word; median C*


def chord(seen: Seen) -> Virtue | None:
    """Two colours, far apart in hue, that carry it together."""
    from scipy.ndimage import gaussian_filter1d

    chroma = chroma_of(seen.lab)
    hue = hue_of(seen.lab[..., 1], seen.lab[..., 2])
    weight = np.bincount((hue // 10).astype(np.intp).ravel(), chroma.ravel(), minlength=HUES) / chroma.size
    weight = gaussian_filter1d(weight, SMOOTH / 10, mode="wrap")
    angles = np.arange(HUES) * 10 + 5.0
    pairs = [(float(min(weight[i], weight[j])), i, j) for i, j in _far_apart() if not _both_cool(angles[i], angles[j])]
    strength, first, second = max(pairs)
    masks = [(np.abs(turn(hue, float(angles[index]))) <= OF_IT) & (chroma >= COLOURED) for index in (first, second)]
    if min(float(mask.mean()) for mask in masks) < 0.02:
        return None
    strong = [mask & (chroma >= np.percentile(chroma[mask], STRONG)) for mask in masks]
    names, hues = [seen.colour(mask) for mask in strong], seen.hues(*strong)
    if strength < LEAST_CHORD or len(hues) < 2 or abs(float(turn(hues[0], hues[1]))) < NAMED_APART:
        return None
    if _both_cool(*hues):
        return None
    if _noun(names[0]) == _noun(names[1]):
        return None  # two browns are one colour to the eye, however far apart in hue
    spread = float(seen.lab[..., 1].std())
    one, two = (f"{name} {lying(mask)}" for name, mask in zip(names, masks, strict=True))
    return Virtue(f"the {one} and the {two} make a chord", (strength, spread), hues=hues)


def _both_cool(one: float, other: float) -> bool:
    """Whether two hues, in degrees, are a green and a blue: what any field has under any sky."""
    return all(GREEN_TO_BLUE[0] <= hue <= GREEN_TO_BLUE[1] for hue in (one, other))


@cache
def _far_apart() -> list[tuple[int, int]]:
    """Pairs of tens of degrees of hue that lie far apart, the first of each the smaller."""
    apart = np.abs(turn(np.arange(HUES)[:, None] * 10.0, np.arange(HUES) * 10.0)) >= APART
    return [(int(i), int(j)) for i, j in np.argwhere(np.triu(apart, 1))]


def _noun(word: str) -> str:
    """The colour itself in a word for one: "brown" of "dark reddish brown"."""
    return word.replace("-", " ").split()[-1]


def accent(seen: Seen) -> Virtue | None:
    """One small red among quieter colours."""
    soft = in_patches(seen.case.picture)
    a, b = soft[..., 1], soft[..., 2]
    hue = hue_of(a, b)
    red = (a >= RED_A) & ((hue >= RED[0]) | (hue <= RED[1]))
    share = float(red.mean())
    if not RED_LEAST <= share <= RED_MOST:
        return None
    y, x = (float(np.median(at) + 0.5) / size for at, size in zip(np.nonzero(red), red.shape, strict=True))
    away = np.hypot((np.nonzero(red)[0] + 0.5) / red.shape[0] - y, (np.nonzero(red)[1] + 0.5) / red.shape[1] - x)
    if float((away <= TOGETHER).mean()) < MOSTLY:
        return None  # reds strewn about are no accent
    leads = surely_settles(seen.case.measures.eyepath)
    if leads is None or max(abs(leads.x - x), abs(leads.y - y)) > AT_THE_PLACE:
        return None  # a red that the eye passes lights nothing up
    if float(same_frame(seen.sky, red.shape)[red].mean()) >= MOSTLY:
        return None  # a glow in the sky
    text = f"one small red {spot(x, y)} lights up the {seen.colour(~seen.sky)} around it"
    return Virtue(text, (), (x, y), (median_of(turn(hue[red], 0.0)) % 360,))


def warm_among_cool(seen: Seen) -> Virtue | None:
    """One warm light in a cool picture: a lit summit, an evening's glow."""
    from scipy.ndimage import binary_dilation

    a, b = seen.lab[..., 1], seen.lab[..., 2]
    chroma, hue = np.hypot(a, b), hue_of(a, b)
    warm = (chroma >= WARM_CHROMA) & ((hue >= WARM[0]) | (hue <= WARM[1])) & (seen.lab[..., 0] >= WARM_LIGHT)
    piece = largest_piece(warm)
    if not WARM_LEAST <= float(warm.mean()) <= WARM_MOST or piece.sum() < IN_ONE * warm.sum():
        return None
    beside = binary_dilation(piece, iterations=BESIDE[1]) & ~binary_dilation(piece, iterations=BESIDE[0])
    if not beside.any() or median_of(b[beside]) > COOL_BESIDE:
        return None
    cool = (chroma < GREYISH) | (b < 0)
    lighter = seen.lightness(piece) >= seen.lightness(~warm)
    if not lighter or float(cool[~warm].mean()) < MOSTLY_COOL or not seen.warm(piece):
        return None
    y, x = (float(np.median(at) + 0.5) / size for at, size in zip(np.nonzero(piece), piece.shape, strict=True))
    return Virtue(f"the {seen.a_light(piece)} {roughly(x, y)} glows among cool colours", (), (x, y), seen.hues(piece))


def quiet_greens(seen: Seen) -> Virtue | None:
    """Much green that stays quiet."""
    measures = seen.case.measures
    greens = measures.greens
    if max(greens.area_share, measures.reads_as_green.share) < ENOUGH_GREEN or not greens.median_chroma <= QUIET_CHROMA:
        return None
    return Virtue(f"its greens stay {strength_word(greens.median_chroma)}", ())
