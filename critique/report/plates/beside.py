"""The picture with its changes made, to lie beside the picture as it is."""

from critique.advice.change import Composed
from critique.advice.frame import Frame
from critique.picture.picture import Picture
from critique.report.plates.photograph import in_colour, plate_size
from critique.report.plates.plate import Plate, image_of
from critique.report.quick_change import QuickChange

BESIDE_LONG_EDGE = 1000  # px of each of the two: half the page, sharp on fine screens and in print
PREVIEW_LONG_EDGE = 640  # px of a change tried alone


def aim_plate(picture: Picture, composed: Composed, alt: str) -> Plate:
    """The aim as large as the picture that lies beside it, made from what is drawn, so that both are as sharp."""
    codes = in_colour(picture, BESIDE_LONG_EDGE)
    made = QuickChange(composed).on(codes, Frame(codes.shape[0], codes.shape[1]))
    return Plate("aim", image_of(made), alt, "")


def preview_plate(preview: Picture, name: str, alt: str, caption: str) -> Plate:
    """One change tried on the picture, at most as large as it was measured."""
    edge = min(PREVIEW_LONG_EDGE, max(plate_size(preview, PREVIEW_LONG_EDGE)))
    return Plate(name, image_of(in_colour(preview, edge)), alt, caption)
