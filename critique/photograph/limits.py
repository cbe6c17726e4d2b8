"""How large and how small a picture may be."""

from critique.errors import UnreadablePicture

DRAWN_LONG_EDGE = 1600  # px that are kept for drawing: a page's width on a fine screen
VIEWED_LONG_EDGE = 640  # px that are measured: one arc-minute a pixel from 5.4 long edges away, across a room
LEAST_SIDE = 64  # px, of the file and of what is measured; below it there are no masses or divisions to find
LEAST_MEGAPIXELS = 1.0  # fewer are read, but brushwork and small accents are lost: the reader is told
MOST_MEGAPIXELS = 400.0  # a stitched panorama or a museum scan; more would not fit in the memory of a usual machine
LONGEST_SHAPE = VIEWED_LONG_EDGE / LEAST_SIDE  # times as long as high, so that what is measured keeps LEAST_SIDE


def check_size(width: int, height: int, name: str) -> tuple[str, ...]:
    """Notes on a picture of this size in px; raises ``UnreadablePicture`` if it is too small, too large or a strip."""
    megapixels = width * height / 1e6
    size = f"{width} × {height} px"
    if min(width, height) < LEAST_SIDE:
        raise UnreadablePicture(
            f"{name}: {size} is too small to judge; give a picture of at least {LEAST_SIDE} px a side."
        )
    if megapixels > MOST_MEGAPIXELS:
        raise UnreadablePicture(
            f"{name}: {size} is {megapixels:,.0f} megapixels; the limit is {MOST_MEGAPIXELS:.0f}. Save a smaller copy."
        )
    if max(width, height) > LONGEST_SHAPE * min(width, height):
        raise UnreadablePicture(
            f"{name}: {size} is a strip more than {LONGEST_SHAPE:.0f} times as long as it is wide; "
            "crop it to the part to be judged."
        )
    if megapixels < LEAST_MEGAPIXELS:
        return (f"small picture: {size}; fine detail cannot be judged",)
    return ()
