"""One photograph straightened at its full size, and what is said of it."""

from dataclasses import dataclass
from pathlib import Path
from typing import Any

from critique.photograph.corners import Corners
from critique.photograph.full import read_full_light
from critique.photograph.painting import How, painting_of
from critique.photograph.proportions import Size, proportion
from critique.photograph.read import read_photograph
from critique.photograph.saving import jpeg_of, write_beside
from critique.photograph.straighten import straightened, straightened_size


@dataclass(frozen=True, slots=True)
class Straightening:
    """What became of one photograph; ``picture`` is the new file, or the old one where nothing was cropped."""

    file: str
    corners: Corners
    sure: bool
    whole: bool
    picture: Path
    how: How
    width: int
    height: int

    @property
    def cropped(self) -> bool:
        """Whether there is a new file."""
        return self.how != "unsure" and not self.whole

    def as_dict(self) -> dict[str, Any]:
        """Its record."""
        return {
            "file": self.file,
            "corners": [[round(x, 5), round(y, 5)] for x, y in self.corners],
            "sure": self.sure,
            "whole": self.whole,
            "picture": str(self.picture),
            "how": self.how,
            "width": self.width,
            "height": self.height,
        }

    def told(self) -> str:
        """What was done, in a line for the painter."""
        if self.how == "unsure":
            places = " ".join(f"{x:.3f},{y:.3f}" for x, y in self.corners)
            return (
                f"{self.file}: not cropped, the canvas's edge is unsure. If it is the one below, or nearly, run: "
                f'critique straighten {self.picture} --corners "{places}"'
            )
        if self.whole:
            return f"{self.file}: all painting, left as it is"
        return f"{self.file}: straightened to {self.width} × {self.height} px in {self.picture}"


def straighten_file(
    path: Path,
    folder: Path,
    *,
    name: str,
    corners: Corners | None = None,
    whole: bool = False,
    size: Size | None = None,
) -> Straightening:
    """Find or take the canvas in a photograph and write it, square on and at full size, into ``folder``.

    A file that is all painting, and one where the canvas isn't sure, stays what it is.
    """
    photograph = read_photograph(path)
    found = painting_of(photograph, corners=corners, whole=whole, size=size)
    width, height = photograph.original_width, photograph.original_height
    if not found.cropped:
        shown = found.canvas.corners if found.canvas is not None else found.corners
        sure = found.how != "unsure" and (found.canvas is None or found.canvas.sure)
        return Straightening(photograph.file, shown, sure, found.how != "unsure", path, found.how, width, height)
    full = read_full_light(path)
    shape = proportion(found.corners, width, height, size, photograph.file)
    wide, high = straightened_size(found.corners, width, height, shape)
    target = folder / f"{name}_straightened.jpg"
    write_beside(target, jpeg_of(straightened(full.light, found.corners, (wide, high))))
    return Straightening(photograph.file, found.corners, True, False, target, found.how, wide, high)
