"""The picture as it is beside the picture with a suggestion followed."""

from dataclasses import dataclass

import numpy as np

from critique.advice.suggestion import Suggestion
from critique.perception.srgb import Codes
from critique.picture.picture import Picture
from critique.report.plates.look import surround_codes
from critique.report.plates.photograph import in_colour
from critique.report.plates.plate import Plate, image_of

HALF_LONG_EDGE = 640  # px of each of the two: a quarter more than the page shows
GAP = 24  # px of surround between them


@dataclass(frozen=True, slots=True)
class Beside:
    """The two pictures apart, for a page that can put one under the other, and both on one plate."""

    before: Plate
    after: Plate
    together: Plate


def beside_plates(picture: Picture, suggestions: tuple[Suggestion, ...]) -> tuple[Beside | None, ...]:
    """For each suggestion the picture and the preview, at one scale; None where there is no preview."""
    if all(suggestion.preview is None for suggestion in suggestions):
        return (None,) * len(suggestions)
    before = in_colour(picture, HALF_LONG_EDGE)
    return tuple(
        None if suggestion.preview is None else _beside(before, suggestion, suggestion.preview, number)
        for number, suggestion in enumerate(suggestions, start=1)
    )


def _beside(before: Codes, suggestion: Suggestion, preview: Picture, number: int) -> Beside:
    # A preview may be a smaller copy; a crop keeps the width, so that the width tells the scale.
    scale = before.shape[1] / preview.width
    after = in_colour(preview, max(1, round(scale * max(preview.width, preview.height))))
    caption = suggestion.preview_caption or "The picture with the suggestion followed."
    name = f"suggestion_{number}"
    return Beside(
        Plate(f"{name}_before", image_of(before), "The picture as it is.", "As it is."),
        Plate(f"{name}_after", image_of(after), f"The picture changed. {caption}", caption),
        Plate(name, image_of(_joined(before, after)), f"The picture as it is, and changed. {caption}", caption),
    )


def _joined(first: Codes, second: Codes) -> Codes:
    """Side by side, panoramas one above the other; a smaller one (a crop) is centred on the surround."""
    stacked = first.shape[1] > 2 * first.shape[0]
    height, width = (max(sizes) for sizes in zip(first.shape[:2], second.shape[:2], strict=True))
    sheet = np.empty((2 * height + GAP, width, 3) if stacked else (height, 2 * width + GAP, 3), dtype=np.uint8)
    sheet[...] = surround_codes()
    for place, codes in enumerate((first, second)):
        top = (height - codes.shape[0]) // 2 + (place * (height + GAP) if stacked else 0)
        left = (width - codes.shape[1]) // 2 + (0 if stacked else place * (width + GAP))
        sheet[top : top + codes.shape[0], left : left + codes.shape[1]] = codes
    return sheet
