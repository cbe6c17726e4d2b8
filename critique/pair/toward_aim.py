"""How far the states of a painting have come toward its aim: masses, forms, edges and finish, passage by passage."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any, Literal

import numpy as np
from numpy.typing import NDArray

from critique.errors import CritiqueError
from critique.measures.greens import measure_greens
from critique.measures.values import measure_values
from critique.pair.balance import balance_by_greys, in_gains
from critique.pair.kept_plan import KeptPlan
from critique.pair.overlay import overlaid
from critique.pair.register import register
from critique.pair.same_picture import kinship
from critique.perception.difference import delta_e_2000
from critique.perception.srgb import Float
from critique.picture.picture import Picture, lab_at

LONG_EDGE = 320  # px: a passage is more than its strokes
FORM, FINE = 0.015, 0.005  # of the long edge: what is blurred away before forms, and before strokes, are read
SAME_SHAPE = 0.06  # of the ratio of the sides: then a state without enough drawing is laid on by its frame
EDGE_BAND = 3  # px of the small copy to each side of a border
STEEPEST = 90  # percentile of the slope along a border: where it is drawn, not where it is lost

# A state of another shape can't be laid on; one of another composition is not, since its places are other places.
Laid = Literal["by its drawing", "by its frame", "another composition", "not at all"]
Float64 = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class PassageState:
    """One passage in one state. ``colour`` is ΔE00 of its mean from the aim's, NaN where it can't be seen.

    ``values``, ``chroma`` and ``hue`` say how it differs: values lighter, C*ab stronger, degrees turned. ``form`` is
    how much of the aim's light and shade in it is there (0–1).
    """

    number: int
    colour: float
    values: float
    chroma: float
    hue: float
    form: float


@dataclass(frozen=True, slots=True)
class WholeFigure:
    """A figure of a whole state and of the whole aim."""

    name: Literal["green of all colour", "green beyond a leaf", "value range"]
    state: float
    aim: float


@dataclass(frozen=True, slots=True)
class StateTowardAim:
    """One state against the aim: mean ΔE00 of its passages, and its forms, edges and finish as parts of the aim's.

    All of them are NaN where it isn't laid on the aim.
    """

    laid: Laid
    light_balanced: bool
    colour: float
    form: float
    edges: float
    finish: float
    passages: tuple[PassageState, ...]
    found_edges: tuple[float, ...]  # of each edge to find, its steepness as a part of the aim's
    whole: tuple[WholeFigure, ...] = ()  # of another composition, beside the aim's

    @property
    def is_laid(self) -> bool:
        """Whether it lies on the aim, passage on passage."""
        return self.laid in ("by its drawing", "by its frame")


@dataclass(frozen=True, slots=True)
class TowardAim:
    """All states of a painting against its plan."""

    plan: KeptPlan
    shares: tuple[float, ...]  # of each passage
    states: tuple[StateTowardAim, ...]
    aim_forms: tuple[float, ...] = field(metadata={"record": False})  # L* of light and shade in each of its passages


def toward_aim(states: Sequence[Picture], plan: KeptPlan) -> TowardAim:
    """Hold the states of one painting, in order, against the aim of its plan.

    Raises
    ------
    CritiqueError
        When a state is another picture than the plan's.
    """
    aim = np.asarray(lab_at(plan.aim, LONG_EDGE), dtype=np.float32)
    labels = _labels_at(plan, aim.shape[:2])
    count = len(plan.passages)
    shares = np.bincount(labels.ravel(), minlength=count) / labels.size
    forms = tuple(float(_deviation(aim, labels == number).std()) for number in range(count))
    told = tuple(_state(state, plan, aim, labels, shares) for state in states)
    return TowardAim(plan, tuple(float(share) for share in shares), told, forms)


def _labels_at(plan: KeptPlan, shape: tuple[int, ...]) -> NDArray[np.intp]:
    rows = ((np.arange(shape[0]) + 0.5) / shape[0] * plan.labels.shape[0]).astype(int)
    columns = ((np.arange(shape[1]) + 0.5) / shape[1] * plan.labels.shape[1]).astype(int)
    return np.asarray(plan.labels[rows][:, columns])


def _state(state: Picture, plan: KeptPlan, aim: Float, labels: NDArray[np.intp], shares: Float64) -> StateTowardAim:
    lab, covered, laid, balanced = _laid(state, plan, aim, labels)
    if laid in ("another composition", "not at all"):
        return _not_laid(laid, state, plan, len(shares))
    passages = tuple(
        _passage(number, lab, aim, (labels == number) & covered, labels == number) for number in range(len(shares))
    )
    seen = np.array([np.isfinite(one.colour) for one in passages])
    weights = np.where(seen, shares, 0)
    total = max(float(weights.sum()), 1e-9)
    colour = float(np.nansum([one.colour * weight for one, weight in zip(passages, weights, strict=True)])) / total
    depth = np.array([float(_deviation(aim, labels == number).std()) for number in range(len(shares))])
    strength = weights * depth**2
    form = float(np.nansum([one.form * weight for one, weight in zip(passages, strength, strict=True)]))
    borders = _borders(labels)
    edges = _steepness(lab, borders & covered) / max(_steepness(aim, borders & covered), 1e-6)
    inside = covered & ~borders
    finish = _fine(lab, inside) / max(_fine(aim, inside), 1e-6)
    found = tuple(
        _between(lab, labels, edge.first - 1, edge.second - 1)
        / max(_between(aim, labels, edge.first - 1, edge.second - 1), 1e-6)
        for edge in plan.edges
        if edge.kind == "find"
    )
    return StateTowardAim(
        laid, balanced, colour, form / max(float(strength.sum()), 1e-9), float(edges), float(finish), passages, found
    )


def _not_laid(laid: Laid, state: Picture, plan: KeptPlan, count: int) -> StateTowardAim:
    """A state of which only the whole can be held against the aim, or not even that."""
    nothing = float("nan")
    passages = tuple(PassageState(number + 1, *[nothing] * 5) for number in range(count))
    found = (nothing,) * sum(edge.kind == "find" for edge in plan.edges)
    whole = _whole(state, plan.aim) if laid == "another composition" else ()
    return StateTowardAim(laid, False, nothing, nothing, nothing, nothing, passages, found, whole)


def _whole(state: Picture, aim: Picture) -> tuple[WholeFigure, ...]:
    """What the aim is about, of both as wholes."""
    greens = measure_greens(state), measure_greens(aim)
    ranges = measure_values(state).range, measure_values(aim).range
    return (
        WholeFigure("green of all colour", greens[0].chroma_share, greens[1].chroma_share),
        WholeFigure("green beyond a leaf", greens[0].beyond_leaf_share, greens[1].beyond_leaf_share),
        WholeFigure("value range", *ranges),
    )


def _laid(
    state: Picture, plan: KeptPlan, aim: Float, labels: NDArray[np.intp]
) -> tuple[Float, NDArray[np.bool_], Laid, bool]:
    """A state's CIELAB in the frame of the aim, where it covers it, how it was laid on, and whether in its light."""
    picture = plan.aim
    registration = register(picture, state)
    if registration.found:
        balance = balance_by_greys(picture, state, registration)
        balanced = balance is not None and balance.needed
        if balance is not None and balance.needed:
            ratio = np.asarray(balance.gains_second) / np.asarray(balance.gains_first)
            state = in_gains(state, (float(ratio[0]), float(ratio[1]), float(ratio[2])))
        both = overlaid(picture, state, registration, LONG_EDGE)
        return both.second, both.covered, "by its drawing", balanced
    lab = _resized(np.asarray(lab_at(state, LONG_EDGE)), aim.shape[:2])
    kin = kinship(state, picture, lab, aim, labels)
    if kin == "another picture":
        raise CritiqueError(f"{state.file}: another picture than that of the plan in {plan.folder}: give its own plan")
    own, wanted = state.width / state.height, picture.width / picture.height
    laid: Laid = "by its frame" if abs(own / wanted - 1) <= SAME_SHAPE else "not at all"
    if kin == "another composition":
        laid = kin
    return lab, np.full(aim.shape[:2], True), laid, False


def _resized(lab: Float, shape: tuple[int, ...]) -> Float:
    from skimage import transform

    if lab.shape[:2] == shape[:2]:
        return lab
    resize: Any = transform.resize
    return np.asarray(resize(lab, (*shape[:2], 3), order=1, preserve_range=True), dtype=np.float32)


def _passage(number: int, lab: Float, aim: Float, seen: NDArray[np.bool_], whole: NDArray[np.bool_]) -> PassageState:
    nothing = float("nan")
    if seen.sum() < max(0.5 * whole.sum(), 1):
        return PassageState(number + 1, nothing, nothing, nothing, nothing, nothing)
    mean, wanted = lab[seen].mean(axis=0).astype(np.float64), aim[seen].mean(axis=0).astype(np.float64)
    chroma, aimed = float(np.hypot(*mean[1:])), float(np.hypot(*wanted[1:]))
    turned = float(np.degrees(np.arctan2(mean[2], mean[1]) - np.arctan2(wanted[2], wanted[1])))
    return PassageState(
        number + 1,
        float(delta_e_2000(mean, wanted)),
        float(mean[0] - wanted[0]) / 10,
        chroma - aimed,
        (turned + 180) % 360 - 180,
        _shared_form(_deviation(lab, seen), _deviation(aim, seen)),
    )


def _shared_form(own: Float64, wanted: Float64) -> float:
    """How much of the wanted light and shade is there: 1 where it is the same, 0 where nothing of it is."""
    energy = float((wanted**2).sum())
    if energy < 1e-6:
        return 1.0
    return float(np.clip((own * wanted).sum() / energy, 0, 1))


def _deviation(lab: Float, inside: NDArray[np.bool_]) -> Float64:
    """L* in a place, strokes blurred away, from its mean there."""
    from scipy.ndimage import gaussian_filter

    weight = inside.astype(np.float32)
    sigma = FORM * max(lab.shape[:2])
    smooth = gaussian_filter(lab[..., 0] * weight, sigma) / np.maximum(gaussian_filter(weight, sigma), 1e-3)
    here = smooth[inside].astype(np.float64)
    return here - here.mean() if here.size else np.zeros(1)


def _borders(labels: NDArray[np.intp]) -> NDArray[np.bool_]:
    from scipy.ndimage import maximum_filter, minimum_filter

    size = 2 * EDGE_BAND + 1
    return np.asarray(maximum_filter(labels, size) != minimum_filter(labels, size))


def _slope(lab: Float) -> Float64:
    """How steeply colour changes at each place, CIELAB units a px."""
    down, across = (np.gradient(lab, axis=axis) for axis in (0, 1))
    return np.asarray(np.sqrt((down**2 + across**2).sum(axis=-1)), dtype=np.float64)


def _steepness(lab: Float, where: NDArray[np.bool_]) -> float:
    return float(np.percentile(_slope(lab)[where], STEEPEST)) if where.any() else 0.0


def _between(lab: Float, labels: NDArray[np.intp], one: int, other: int) -> float:
    """The same along the border of two passages."""
    from scipy.ndimage import binary_dilation

    band = binary_dilation(labels == one, iterations=EDGE_BAND) & binary_dilation(labels == other, iterations=EDGE_BAND)
    return _steepness(lab, np.asarray(band))


def _fine(lab: Float, where: NDArray[np.bool_]) -> float:
    """How strong the strokes are: the spread of L* about its blur."""
    from scipy.ndimage import gaussian_filter

    fine = lab[..., 0] - gaussian_filter(lab[..., 0], FINE * max(lab.shape[:2]) + 1)
    return float(fine[where].std()) if where.any() else 0.0
