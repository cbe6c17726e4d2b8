"""Two that look like different pictures, where one may show more than its painting: whether that is why, in words."""

from collections.abc import Sequence

from critique.picture.picture import Picture
from critique.words.lists import listed

OF_A_PAIR = ("--corners-original", "--corners-repaint")
OF_STATES = ("--corners", "--corners")
LAST_UNCROPPED = (
    "The last photograph may show more than the painting: whether to stop can't be said before its canvas is known."
)


def uncropped(picture: Picture) -> bool:
    """Whether a picture may have been judged with wall and frame, since where its canvas ends wasn't sure."""
    return picture.view is not None and picture.view.how == "unsure"


def not_yet_in_words(pictures: Sequence[Picture], corners: tuple[str, str]) -> str:
    """Why two that look different may be one painting yet; empty where both are known to be painting alone.

    ``corners`` are the options that say where the canvas of each lies.
    """
    found = [(picture.file, option) for picture, option in zip(pictures, corners, strict=True) if uncropped(picture)]
    if not found:
        return ""
    several = len(found) > 1
    canvas, its = ("canvases", "their") if several else ("canvas", "its")
    options = listed(list(dict.fromkeys(option for _, option in found)))
    return (
        "The two can't be held against each other yet, nor can it be seen whether they are one painting: where the "
        f"{canvas} of {listed([file for file, _ in found])} {'end' if several else 'ends'} isn't sure, so wall and "
        f"frame would be judged too. Give {its} corners ({options}), or say --whole if all of it is painting."
    )
