"""What to change first: every change is tried, measured and judged again, and offered by what it does."""

from collections.abc import Iterable, Iterator

from critique.advice import green_drafts, light_drafts, shape_drafts
from critique.advice.draft import Draft
from critique.advice.finding import Finding, Suggestion
from critique.advice.green_findings import green_cast_owner
from critique.advice.judging import Case
from critique.advice.trial import SEVERITY, Effect, Trial, effect_of, trial_of

Try = tuple[Draft, Trial]  # a change, and the picture after it
MOST_SUGGESTIONS = 5  # more is a list and not advice
WORTH_TRYING = 0.15  # of a figure that must change before a suggestion that moves no level is offered
LESSER = 0.3  # of its worth that a touch of colour counts for: it moves a figure more than a picture; and so does
# a cast that may be the photograph's
FIRST_IN_DOUBT = (  # the order among equals: what shows across a room first
    "mute the greens",
    "less green",
    "move the division",
    "gather the values",
    "widen the values",
    "take out the green cast",
    "vary the greens",
    "let the far greens go",
    "part two values",
    "quiet the edge",
    "darken the edge",
    "warm the lights",
    "add a touch of relief",
)


def suggestions(case: Case, findings: tuple[Finding, ...]) -> tuple[Suggestion, ...]:
    """Changes for the findings that don't hold, the one that does most first; none for a picture that holds.

    Each is tried on a small copy of the picture. A change that wins no level and moves its own figure little, or that
    loses as much as it wins, is not offered.
    """
    open_subjects = {finding.subject for finding in findings if SEVERITY[finding.level] > 0}
    if not open_subjects:
        return ()
    before = trial_of(case)
    offers = []
    for base, tries in _tries(before, open_subjects):
        for draft, after in tries:
            effect = effect_of(base, after)
            worth = _worth(draft, base, after, effect)
            if worth > 0:
                offers.append((-worth, FIRST_IN_DOUBT.index(draft.subject), base, draft, after, effect))
                break
    muting = next((rank for rank, _, _, draft, _, _ in offers if draft.subject == "mute the greens"), 0.0)
    # What was tried on the quieted picture comes after the quieting.
    offers.sort(key=lambda offer: (offer[0] if offer[2] is before else max(offer[0], muting), offer[1]))
    return tuple(_offered(*offer[2:]) for offer in offers[:MOST_SUGGESTIONS])


def _tries(trial: Trial, subjects: set[str]) -> Iterator[tuple[Trial, Iterable[Try]]]:
    """For each open finding the changes that may mend it, in the order in which they are tried, and on what."""
    quieted = trial
    if "green strength" in subjects:
        quiet = green_drafts.mute(trial)
        quieted = trial.with_draft(quiet)
        yield trial, [(quiet, quieted)]
    if "green area" in subjects:
        # Where the greens are too strong as well, they are quieted first and what follows is measured from there.
        yield quieted, _tried(quieted, [green_drafts.trade(quieted, quieted is not trial)])
    if "evenness of greens" in subjects:
        yield quieted, _tried(quieted, [green_drafts.vary(quieted, quieted is not trial)])
    if "distance in the greens" in subjects:
        yield quieted, _tried(quieted, [light_drafts.recede(quieted, quieted is not trial)])
    if "green cast" in subjects and (quieted is trial or green_cast_owner(trial.case.measures.cast) == "photograph"):
        # Where the greens are too strong the cast is theirs: muting takes it out, a shift would redden the sky.
        yield trial, _tried(trial, [green_drafts.uncast(trial)])
    makers = {
        "value range": shape_drafts.widen,
        "value masses": shape_drafts.gather,
        "green against its neighbours": light_drafts.part_values,
        "run of colours": light_drafts.warm_lights,
        "relief for the green": shape_drafts.accent,
    }
    if "halving" in subjects:
        yield trial, _tried(trial, shape_drafts.crops(trial))
    if "edges and corners" in subjects:
        yield trial, _tried(trial, _quieter_edges(trial))
    for subject, make in makers.items():
        if subject in subjects:
            yield trial, _tried(trial, [make(trial)])


def _tried(base: Trial, drafts: Iterable[Draft]) -> Iterator[Try]:
    """Each change with the picture after it, one at a time: the first that is worth offering ends the trying."""
    return ((draft, base.with_draft(draft)) for draft in drafts)


def _quieter_edges(trial: Trial) -> Iterator[Draft]:
    """What pulls by its light is darkened first; what pulls otherwise is softened, and darkened if that fails."""
    makers = [shape_drafts.quiet_edge, light_drafts.darken_edge]
    by_light = trial.case.measures.eyepath.strongest_pull.kind == "light"
    return (make(trial) for make in (reversed(makers) if by_light else makers))


def _worth(draft: Draft, before: Trial, after: Trial, effect: Effect) -> float:
    """What a change is worth: levels won less levels lost, and something for its own figure; 0 when not worth offering."""
    mended = before.level(draft.mends) - after.level(draft.mends)
    moved = draft.figures[0].gain(before.case, after.case)
    if mended < 0 or (mended == 0 and (moved < WORTH_TRYING or draft.mends == "halving")):
        return 0.0
    if effect.lost and effect.won <= effect.lost:
        return 0.0
    doubtful = draft.mends == "green cast" and green_cast_owner(before.case.measures.cast) == "either"
    size = LESSER if doubtful or draft.subject == "add a touch of relief" else 1.0
    return size * (effect.won - effect.lost + min(max(moved, 0.0), 1.0) / 2)


def _offered(base: Trial, draft: Draft, after: Trial, effect: Effect) -> Suggestion:
    return Suggestion(
        draft.subject,
        draft.text,
        tuple(figure.change(base.case, after.case) for figure in draft.figures),
        effect=effect.text,
        greens=draft.greens,
        recipe=draft.recipe(),
        preview=after.case.picture,
        preview_caption=draft.caption,
    )
