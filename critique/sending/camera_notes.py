"""What of a camera's notes goes along with a picture that is sent: what describes it, and where it was taken if wanted.

A new set is made from the tags that are known to be harmless: a maker's own notes and whatever else a file carries
(XMP, IPTC, a thumbnail) may tell the place too, and stay behind. [EXIF 2.32, 4.6]
"""

from pathlib import Path
from typing import Any

from PIL import Image

from critique.photograph.files import open_image
from critique.photograph.source import source_of_file
from critique.sending.call import Call

# Description, camera (two), program, date, artist, rights.
DESCRIBING = (0x010E, 0x010F, 0x0110, 0x0131, 0x0132, 0x013B, 0x8298)
EXIF, GPS = 0x8769, 0x8825
# Of the second directory: maker's notes, size in px (two), further notes, where the subject was in the old frame (two).
LEFT = (0x927C, 0xA002, 0xA003, 0xA005, 0x9214, 0xA214)
COLOUR_SPACE, SRGB = 0xA001, 1
MOST_BYTES = 60_000  # of all notes: a JPEG's block of them holds 65,533


def notes_to_keep(path: Path, call: Call) -> bytes | None:
    """EXIF for the file that is sent; None where nothing is kept, or nothing was noted that can be read."""
    if call.metadata == "strip" and not call.keep_location:
        return None
    source = source_of_file(path)
    try:
        with open_image(source) as image:
            return _kept(_notes(image), call)
    except Exception:  # Pillow raises whatever damaged notes lead to; the picture is sent without them
        return None


def _notes(image: Image.Image) -> Image.Exif:
    """As the header has them: to ask a PNG would decode it."""
    stored = image.info.get("exif")
    if image.format == "TIFF" or not isinstance(stored, bytes):
        return image.getexif()
    notes = Image.Exif()
    notes.load(stored)
    return notes


def _kept(notes: Image.Exif, call: Call) -> bytes | None:
    kept = Image.Exif()
    if call.metadata == "keep":
        for tag in DESCRIBING:
            if tag in notes:
                kept[tag] = notes[tag]
        further = {tag: value for tag, value in notes.get_ifd(EXIF).items() if tag not in LEFT}
        if further:
            kept.get_ifd(EXIF).update({**further, COLOUR_SPACE: SRGB})
    if call.keep_location:
        place: dict[int, Any] = notes.get_ifd(GPS)
        if place:
            kept.get_ifd(GPS).update(place)
    if not (dict(kept) or kept.get_ifd(EXIF) or kept.get_ifd(GPS)):
        return None
    data = kept.tobytes()
    return data if len(data) <= MOST_BYTES else None
