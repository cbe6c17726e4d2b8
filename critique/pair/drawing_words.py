"""Whether two pictures follow one drawing, in words: how one is cropped, what was moved in it."""

from critique.pair.crop_words import crop_in_words, is_cropped
from critique.pair.frame import Frame
from critique.pair.register import MovedPart, Registration
from critique.picture.places import spot
from critique.words.aloud import sentence
from critique.words.figures import percent
from critique.words.lists import listed

LITTLE_CUT = 0.002  # of the area: less is nothing
TWO_PICTURES = "These look like two different pictures: is that the right file?"
TURNED_ROUND = "The repaint is the original turned round, left for right"


def drawing_in_words(
    registration: Registration,
    frame: Frame | None,
    unrelated: bool = False,
    crop: Frame | None = None,
    *,
    turned_round: bool = False,
) -> str:
    """Whether the two follow one drawing, and whether one of them shows more of it."""
    if turned_round:
        return f"{TURNED_ROUND}, so the two are compared as two pictures, without maps of where they changed."
    if registration.moved is not None:
        return (
            f"{sentence(moved_in_words(registration.moved))} So the two can't be laid on each other, and are compared as "
            "two pictures, without maps of where they changed."
        )
    if registration.found:
        cut = (
            _much_cut_in_words(crop)
            if frame is None
            else f" They are cropped otherwise: {_cut_in_words(frame)}. Figures of what both show are given beside those "
            "of the whole, and decide."
        )
        return (
            f"The two follow the same drawing: {registration.keeping} of {registration.matches} matching places keep to "
            f"one view. The second was laid on the first to see where it changed.{cut}"
        )
    if unrelated:
        return f"{TWO_PICTURES} Nor do they lie on each other ({registration.reason}): there are no maps of where they changed."
    return (
        f"The two don't lie on each other ({registration.reason}), so they are compared as two pictures, without maps of "
        "where they changed."
    )


def moved_in_words(moved: MovedPart) -> str:
    """Such as "part of the drawing, low in the centre, lies some 8 % of the height lower than it did"."""
    if abs(moved.down) >= abs(moved.right):
        far = f"{percent(abs(moved.down))} of the height {'lower' if moved.down > 0 else 'higher'}"
    else:
        far = f"{percent(abs(moved.right))} of the width farther {'right' if moved.right > 0 else 'left'}"
    return f"part of its drawing ({spot(moved.x, moved.y)}) lies some {far} than it did"


def _much_cut_in_words(crop: Frame | None) -> str:
    return (
        f" {crop_in_words(crop)}. Its division, its edges and its findings are those of each as it is; how loud, how "
        "rich and how light it is, and where it leans, is judged on what both show."
        if is_cropped(crop)
        else ""
    )


def _cut_in_words(frame: Frame) -> str:
    """Such as "3 % of the original and 1 % of the repaint lie outside what both show"."""
    parts = [
        f"{percent(cut)} of the {side}"
        for cut, side in ((frame.cut_first, "original"), (frame.cut_second, "repaint"))
        if cut >= LITTLE_CUT
    ]
    return f"{listed(parts or ['a hair'])} {'lies' if len(parts) < 2 else 'lie'} outside what both show"
