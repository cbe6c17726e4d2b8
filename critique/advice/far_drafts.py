"""A change of the far land: what comes forward at the horizon goes back into the air over it."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import islice

import numpy as np
from numpy.typing import NDArray

from critique.advice.change_guided import Recede
from critique.advice.draft import Draft, Figure
from critique.advice.guiding import WORKED_AT, guided_mask, resized
from critique.advice.trial import Trial
from critique.measures.far_warmth import FarWarmth, comes_forward, warmth_of
from critique.measures.k_means import growing_means
from critique.measures.salience import blur
from critique.perception.channels import colours_in, over_channels
from critique.perception.ranks import middle_colour
from critique.picture.picture import lab_at
from critique.words.aloud import sentence

# Of the way into the air in value, at most so many L* (the value that the words name); of the way in colour; and a*, b* that
# the air is cooler than the sky. With 0.65 and no most two judges found a bleached, lilac patch in five of eight pairs.
HAZED, HAZED_LIFT, HAZED_COLOUR, HAZE_COOLER = 0.65, 10.0, 0.5, (-0.5, -5.0)
OVER, BELOW, AIR_OVER = 0.1, 0.06, 0.15  # of the height: how far hills are sought up and down, and the air over them
SOFT = 0.006  # of the long edge: strokes melt into the colour of their hill
OF_THE_HILL = 0.5  # of the way from what lies beside a hill to its warmth: what is so warm is the hill's
LEAST_WARMER = 8.0  # C* that a hill stands out by, at least: what lies under a ridge is cooler by so much
LEAST_FAR, MOST_FAR = 0.004, 0.33  # of the picture: what fills a third is no far land, or a near wood goes with it
# What a hill is made of is read off its crest, the first so much of the height under its outline: a castle on its slope is
# no part of that. Its colours in a few, each at least so much of it; and how near to one of them (L* counts for so much
# beside a* and b*, since a hill has its lights and darks) the hill goes on.
CREST, TONES, A_TONE = 0.1, 5, 0.08
IN_LIGHTNESS, ALIKE = 0.55, 8.0
STEPS, SETTLED = 30, 1e-3  # of the search for its colours, and of their variance
GAP = 3  # px of the small copy: strokes of another colour within a hill
# px of the small copy, and of the hill: so much of it lies in patches so wide. Crowns of a rusty wood about a castle had less,
# and went pale in scraps.
SOLID, IN_PATCHES = 5, 0.9
OF_ITS_CREST = 0.02  # of it, in one piece: less is no hill of its own
# Of what lies lower than this that may be of the hill's colours: a canyon's rim and the rocks at one's feet are one land,
# and a brown valley goes on from its hills. Nothing parts them, so nothing goes back: a third of the picture went grey.
FEET, AT_FEET = 0.75, 0.065


@dataclass(frozen=True, slots=True, eq=False)
class _Hill:
    """Far land (height, width), and the colour of the air over it (L*, a*, b*)."""

    land: NDArray[np.bool_]
    air: NDArray[np.float32]


def recede_land(trial: Trial, quieted: bool) -> Iterator[Draft]:
    """Grey, lighten and cool what comes forward at the horizon."""
    warmth = trial.case.measures.far_warmth
    if comes_forward(warmth) is None:
        return
    lab = lab_at(trial.case.picture, WORKED_AT)
    hill = _hill(lab, warmth, resized(trial.case.measures.parts.mask("sky"), lab.shape) > 0)
    if hill is None:
        return
    air = hill.air
    haze = (float(air[0]) - 8, float(air[1]) + HAZE_COOLER[0], float(min(air[2] + HAZE_COOLER[1], 2.0)))

    def apart(case: object) -> float:
        there = lab_at(case.picture, WORKED_AT)  # type: ignore[attr-defined]
        return float(np.linalg.norm(there[hill.land].mean(axis=0) - np.array(haze)))

    yield Draft.of(
        "recede_land",
        Recede(HAZED, HAZED_LIFT, HAZED_COLOUR, haze, guided_mask(lab, hill.land)),
        sentence(
            "let the far land go. Mix it with the colour of the air over it: half a value to a value lighter, greyer, and "
            "bluer than now, with less between its lights and its darks; keep full colour for the ground in front"
        ),
        (Figure("far land against the air over it (ΔE*ab)", apart, lambda apart: f"{apart:.0f}"),),
        "The far land lighter, greyer and cooler; the foreground as it is.",
        redrawn=True,
    )


def _hill(lab: NDArray[np.float32], warmth: FarWarmth, sky: NDArray[np.bool_]) -> _Hill | None:
    """The hill that comes forward, down to its foot, in a small copy of a picture; None where nothing parts it."""
    soft = blur(lab, SOFT * max(lab.shape[:2]))
    down = ((np.arange(len(lab)) + 0.5) / len(lab))[:, None]
    # The hill is what is nearer to it in warmth than to what stands over it and lies in front, along the horizon.
    beside = min(max(warmth.beyond, warmth.near), warmth.far - LEAST_WARMER)
    at_horizon, air_over = (down > warmth.y - OVER) & (down < warmth.y + BELOW), down < warmth.y - OVER / 2
    if warmth.mountain is not None:
        at_horizon, air_over = resized(warmth.mountain, lab.shape) > 0, sky
    warm = (warmth_of(soft) >= beside + OF_THE_HILL * (warmth.far - beside)) & at_horizon & ~sky
    if warm.mean() < LEAST_FAR:
        return None
    crest = _crest(warm)
    alike = _alike(soft, crest) & ~sky
    if float(alike[down[:, 0] > FEET].mean()) > AT_FEET:
        return None
    land = _reached(alike, crest) & ~sky
    over = np.broadcast_to((down > warmth.y - OVER - AIR_OVER) & air_over, land.shape) & ~land
    if not LEAST_FAR <= land.mean() <= MOST_FAR or not over.any() or not _is_solid(land):
        return None
    return _Hill(land, np.asarray(middle_colour(colours_in(lab, over)), dtype=np.float32))


def _crest(warm: NDArray[np.bool_]) -> NDArray[np.bool_]:
    """What of a hill (height, width) lies near its outline."""
    rows = np.arange(len(warm))[:, None]
    return np.asarray(warm & (rows < warm.argmax(axis=0) + max(3, round(CREST * len(warm)))))


def _alike(soft: NDArray[np.float32], crest: NDArray[np.bool_]) -> NDArray[np.bool_]:
    """Which colours (height, width, 3) are those of the crest of a hill."""
    scaled = soft * np.array((IN_LIGHTNESS, 1, 1), dtype=np.float32)
    points = scaled[crest].astype(np.float64)
    grown = growing_means(points, np.ones(len(points)), most_steps=STEPS, tolerance=SETTLED)
    _, tones, labels = next(islice(grown, min(TONES, len(points)) - 1, None))
    large = tones[np.bincount(labels, minlength=len(tones)) >= A_TONE * len(points)]
    away = np.min([over_channels(np.square(scaled - tone.astype(np.float32))) for tone in large], axis=0)
    return np.asarray(away < ALIKE**2)


def _reached(alike: NDArray[np.bool_], crest: NDArray[np.bool_]) -> NDArray[np.bool_]:
    """What of a mask (height, width) hangs together with the crest, strokes of another colour in it bridged."""
    from scipy.ndimage import binary_closing, label

    inner = np.pad(alike, GAP, mode="edge")
    pieces, _ = label(binary_closing(inner, np.ones((GAP, GAP), dtype=np.bool_))[GAP:-GAP, GAP:-GAP])
    of_crest = np.bincount(pieces[crest], minlength=int(pieces.max()) + 1)
    of_crest[0] = 0
    return np.asarray(np.isin(pieces, np.flatnonzero(of_crest > OF_ITS_CREST * of_crest.sum())))


def _is_solid(land: NDArray[np.bool_]) -> bool:
    """Whether nearly all of it (height, width) lies in broad patches, as hills do and crowns and roofs don't."""
    from scipy.ndimage import binary_opening

    inner = np.pad(land, SOLID, mode="edge")
    broad = binary_opening(inner, np.ones((SOLID, SOLID), dtype=np.bool_))[SOLID:-SOLID, SOLID:-SOLID]
    return bool((broad & land).sum() >= IN_PATCHES * land.sum())
