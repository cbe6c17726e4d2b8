"""What a kind of change is."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from critique.advice.draft import Draft
from critique.advice.trial import Trial

Maker = Callable[[Trial, bool], Iterable[Draft]]


def never(trial: Trial) -> bool:
    """For a kind that waits for its turn."""
    return False


@dataclass(frozen=True, slots=True)
class ChangeKind:
    """One kind of change.

    Parameters
    ----------
    id : how data knows it, such as ``mute_greens``. It never changes.
    title : what to do, as people say it, such as "mute the greens".
    mends : ids of the kinds of finding that it may mend.
    make : gives the drafts of a picture that is tried on, the most promising first, none where there is nothing to
        change; told whether the greens were quieted in this review.
    quieted_first : whether it is tried on the picture with its greens quieted, where they want that too.
    eager : of a picture, whether it goes before the other kinds that mend the same.
    worst_only : whether it is offered only for a finding that is to rework: one that changes the picture's plan is too
        much for a doubt, and didn't win when such were looked at.
    trusted : whether an aim takes it though its finding is only to watch: blind readers preferred the picture with it.
    part_of_worth : how much it counts for beside the others, 0–1: a touch moves a figure more than a picture.
    eases : ids of other kinds of finding that weigh less for it, though it doesn't mend them: much green, quieted.
    """

    id: str
    title: str
    mends: tuple[str, ...]
    make: Maker
    quieted_first: bool = False
    eager: Callable[[Trial], bool] = never
    worst_only: bool = False
    trusted: bool = False
    part_of_worth: float = 1.0
    eases: tuple[str, ...] = ()
