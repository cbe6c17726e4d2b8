"""What a cropped repaint shows of its original, in words."""

from critique.pair.frame import Box, Frame
from critique.words.figures import percent
from critique.words.lists import listed

WORTH_A_WORD = 0.02  # of the area: below it the camera was held otherwise
LITTLE_SIDE = 0.012  # of a side: less is not called a cut
MOST_OF_IT = 0.75  # of all that was cut off, which one side must make up before it is told as that side's alone


def is_cropped(frame: Frame | None) -> bool:
    """Whether one of two pictures shows more than the other, by enough to be told."""
    return frame is not None and max(frame.cut_first, frame.cut_second) >= WORTH_A_WORD


def crop_in_words(frame: Frame | None) -> str:
    """Such as "The repaint shows the lower 54 % of the original"; empty where both show the same."""
    if frame is None or not is_cropped(frame):
        return ""
    less, more = frame.cut_first >= WORTH_A_WORD, frame.cut_second >= WORTH_A_WORD
    if less and more:
        return (
            f"The repaint shows {_share_of(frame.first, frame.cut_first)} of the original, and goes beyond it "
            f"{_sides(frame.second)}, by {percent(frame.cut_second)} of its own area"
        )
    if less:
        return f"The repaint shows {_share_of(frame.first, frame.cut_first)} of the original"
    return f"The repaint shows more than the original, which is {_share_of(frame.second, frame.cut_second)} of it"


def _cuts(box: Box) -> dict[str, float]:
    left, top, right, bottom = box
    cuts = {"top": top, "bottom": 1 - bottom, "left": left, "right": 1 - right}
    return {side: cut for side, cut in cuts.items() if cut >= LITTLE_SIDE}


def _share_of(box: Box, cut: float) -> str:
    """Such as "the lower 54 %", or "70 %, without 10 % at the left and 20 % at the bottom,"."""
    cuts = _cuts(box)
    if len(cuts) == 1 and sum(cuts.values()) >= MOST_OF_IT * cut:
        ((side, off),) = cuts.items()
        left_over = {"top": "lower", "bottom": "upper", "left": "right", "right": "left"}[side]
        return f"the {left_over} {percent(1 - off)}"
    at = {"top": "at the top", "bottom": "at the bottom", "left": "at the left", "right": "at the right"}
    if sum(cuts.values()) < MOST_OF_IT * cut:
        return percent(1 - cut)  # a little on every side, as a camera held otherwise cuts off
    without = listed([f"{percent(off)} {at[side]}" for side, off in cuts.items()])
    return f"{percent(1 - cut)} (cut off: {without})" if without else percent(1 - cut)


def _sides(box: Box) -> str:
    return (
        listed([{"top": "above", "bottom": "below"}.get(side, f"at the {side}") for side in _cuts(box)]) or "a little"
    )
