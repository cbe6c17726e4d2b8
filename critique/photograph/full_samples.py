"""The samples of a file at every px that it has, and what has to be known to read them as light."""

from dataclasses import dataclass, field

from critique.errors import UnreadablePicture
from critique.photograph.colour import Light, light_of
from critique.photograph.cost import cost_of
from critique.photograph.deep import stored_samples
from critique.photograph.exif import orientation_of
from critique.photograph.files import open_image
from critique.photograph.limits import check_size
from critique.photograph.named_spaces import named_space
from critique.photograph.samples import Samples
from critique.photograph.source import Source
from critique.photograph.tiff import is_tiff, tiff_header, tiff_samples


@dataclass(frozen=True, slots=True, eq=False)
class FullSamples:
    """Samples as stored, the light that they stand for, how they are turned upright (EXIF 1–8), the camera's notes."""

    samples: Samples = field(repr=False)
    light: Light = field(repr=False)
    orientation: int
    exif: bytes | None


def full_samples(source: Source) -> FullSamples:
    """Open a file, whatever it takes; raises ``UnreadablePicture`` as when it is read to be judged."""
    try:
        image = open_image(source)
    except UnreadablePicture:
        if not is_tiff(source):
            raise
        return _unusual_tiff(source)
    with image:
        check_size(*image.size, source.name, cost_of(image))
        samples = stored_samples(image, source)
        orientation, _ = orientation_of(image)
        space, _ = named_space(image)
        light = light_of(samples, image.info.get("icc_profile") or None, space)
        return FullSamples(samples, light, orientation, image.info.get("exif"))


def _unusual_tiff(source: Source) -> FullSamples:
    """Of a kind that Pillow does not open at all, such as floating-point colour."""
    header = tiff_header(source)
    check_size(header.width, header.height, source.name)
    samples = tiff_samples(source)
    return FullSamples(samples, light_of(samples, header.icc, None), header.orientation, None)
