"""How large and how small a picture may be, and what decoding it may cost."""

from dataclasses import dataclass

from critique.errors import UnreadablePicture

DRAWN_LONG_EDGE = 1600  # px that are kept for drawing: a page's width on a fine screen
VIEWED_LONG_EDGE = 640  # px that are measured: one arc-minute a pixel from 5.4 long edges away, across a room
LEAST_SIDE = 64  # px, of the file and of what is measured; below it there are no masses or divisions to find
CLEAR_SEEN = 0.002  # of the file, transparent: a soft rim or a few specks change no figure that is told
LEAST_MEGAPIXELS = 1.0  # fewer are read, but brushwork and small accents are lost: the reader is told
MOST_MEGAPIXELS = 400.0  # a stitched panorama or a museum scan
LONGEST_SHAPE = VIEWED_LONG_EDGE / LEAST_SIDE  # times as long as high, so that what is measured keeps LEAST_SIDE
MOST_BYTES = 1.6e9  # that decoding may take: with the program itself, 2 GB
MOST_SECONDS = 18.0  # that decoding may take on a slow core


@dataclass(frozen=True, slots=True)
class Cost:
    """What decoding costs: bytes of memory a pixel of the file, seconds a megapixel, and what sort of file that is."""

    bytes_a_pixel: float
    seconds_a_megapixel: float
    sort: str = ""  # such as "interlaced 16-bit PNG", for the person who is refused

    @property
    def most_megapixels(self) -> float:
        """As many as fit into the time and the memory."""
        return min(
            MOST_MEGAPIXELS, MOST_BYTES / self.bytes_a_pixel / 1e6, MOST_SECONDS / max(self.seconds_a_megapixel, 1e-9)
        )


ORDINARY = Cost(4, 0.04)


def check_size(width: int, height: int, name: str, cost: Cost = ORDINARY) -> tuple[str, ...]:
    """Notes on a picture of this size in px; raises ``UnreadablePicture`` if it is too small, too large or a strip.

    The size is as stored: a camera that was held upright exchanges the sides, which ``size_notes`` are told after it.
    """
    megapixels = width * height / 1e6
    size = f"{width} × {height} px"
    if min(width, height) < LEAST_SIDE:
        raise UnreadablePicture(
            f"{name}: {size} is too small to judge; give a picture of at least {LEAST_SIDE} px a side."
        )
    if megapixels > cost.most_megapixels:
        of = f" for {cost.sort}" if cost.sort and cost.most_megapixels < MOST_MEGAPIXELS else ""
        raise UnreadablePicture(
            f"{name}: {size} is {_told(megapixels)} megapixels; the limit{of} is {_told(cost.most_megapixels)}. "
            "Save a smaller copy."
        )
    if max(width, height) > LONGEST_SHAPE * min(width, height):
        raise UnreadablePicture(
            f"{name}: {size} is a strip more than {LONGEST_SHAPE:.0f} times as long as it is wide; "
            "crop it to the part to be judged."
        )
    return size_notes(width, height)


def size_notes(width: int, height: int) -> tuple[str, ...]:
    """What the reader is told of a picture of this size in px."""
    if width * height / 1e6 >= LEAST_MEGAPIXELS:
        return ()
    size = f"{width} × {height} px"
    return (f"small picture: {size}; it is judged as seen across a room, and its smallest accents may be lost",)


def _told(megapixels: float) -> str:
    return f"{megapixels:,.0f}" if megapixels >= 10 else f"{megapixels:.1f}"
