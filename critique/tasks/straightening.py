"""One photograph straightened at its full size, and what is said of it."""

import shlex
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

from critique.photograph.canvas_other import SIDES, Other
from critique.photograph.corners import Corners, written_corners
from critique.photograph.fitness import Fitness, amiss, said
from critique.photograph.full import read_full_light
from critique.photograph.light_asked import NOTHING_ASKED, LightAsked
from critique.photograph.light_words import AS_PHOTOGRAPHED, left_as_photographed, light_said
from critique.photograph.painting import How, painting_of
from critique.photograph.proportions import ESTIMATE_OFF, Size, proportion, proportion_seen, stretched_by
from critique.photograph.read import read_photograph
from critique.photograph.righting import Lighting
from critique.photograph.saving import SUFFIXES, FileFormat, picture_bytes, write_beside
from critique.photograph.straighten import straightened, straightened_size
from critique.plain import plain
from critique.records import heading


@dataclass(frozen=True, slots=True)
class Straightening:
    """What became of one photograph; ``picture`` is the new file, or the old one where nothing was cropped.

    ``data`` are the bytes of the new file, to be written. ``proportion`` is the width for the height that it was given,
    ``proportion_seen`` the same as the perspective of the corners tells it; None where nothing was cropped.
    """

    file: str
    corners: Corners
    sure: bool
    whole: bool
    picture: Path
    how: How
    width: int
    height: int
    light: Lighting | None = None  # what was done about the light; None where nothing was asked nor seen
    fitness: tuple[Fitness, ...] = ()  # what the camera did to the painting
    proportion: float | None = None
    proportion_seen: float | None = None
    data: bytes | None = field(default=None, repr=False)
    source: Path | None = None  # the photograph itself
    likely: bool = True  # of corners that aren't sure: whether they are likely right
    other: Other | None = None  # a picture that hangs beside that one

    def write(self) -> list[Path]:
        """Write the new file; raises OutputError where that can't be."""
        assert self.data is not None
        write_beside(self.picture, self.data)
        return [self.picture]

    def as_dict(self) -> dict[str, Any]:
        """Its record."""
        return {
            **heading(),
            "file": self.file,
            "corners": [[round(x, 5), round(y, 5)] for x, y in self.corners],
            "sure": self.sure,
            "whole": self.whole,
            "picture": str(self.picture),
            "how": self.how,
            "width": self.width,
            "height": self.height,
            "proportion": self.proportion,
            "proportion_seen": self.proportion_seen,
            "other": plain(self.other),
            "light": plain(self.light),
            "fitness": [{**plain(one), "said": said(one)} for one in self.fitness],
        }

    def told(self) -> str:
        """What was done, in a line for the painter, and a line for each thing about its light and its camera."""
        more = [*self._beside(), *self._stretched(), *(light_said(self.light) if self.light is not None else ())]
        photographed = self.how in ("found", "given", "unsure")
        if self.how in ("found", "given") and left_as_photographed(self.light):
            more.append(AS_PHOTOGRAPHED)
        more += [said(one) for one in amiss(self.fitness, photographed=photographed)]
        return "\n".join([self._done(), *(f"  {line}" for line in more)])

    def _beside(self) -> tuple[str, ...]:
        if self.other is None:
            return ()
        corners = written_corners(self.other.corners if self.other.likely else None)
        this = "the corners above are of" if self.how == "unsure" and self.likely else "this is"
        by_eye = "" if self.other.likely else "find its corners by eye, and "
        return (
            f"Two pictures seem to hang there: {this} {SIDES[self.other.first]}. For the other one {by_eye}run: "
            f"critique straighten {shlex.quote(str(self.source or self.file))} --corners {corners}",
        )

    def _stretched(self) -> tuple[str, ...]:
        if self.proportion is None or self.proportion_seen is None:
            return ()
        times = stretched_by(self.proportion, self.proportion_seen)
        if times is None:
            return ()
        wider = "wider" if self.proportion > self.proportion_seen else "higher"
        return (
            f"By its size it is {self.proportion:.2f} wide for 1 high; its corners show about "
            f"{self.proportion_seen:.2f}, give or take {100 * (ESTIMATE_OFF - 1):.0f} %. So it was made "
            f"{100 * (times - 1):.0f} % {wider} than it looks: if that is wrong, mend the size or the corners.",
        )

    def _done(self) -> str:
        if self.how == "unsure":
            right = f"; its light is put right in {self.picture}" if self.data is not None else ""
            told = "If it is the one below, or nearly, run" if self.likely else "Find its corners by eye"
            return (
                f"{self.file}: not cropped, the canvas's edge is unsure{right}. {told}: critique straighten "
                f"{shlex.quote(str(self.source or self.file))} "
                f"--corners {written_corners(self.corners if self.likely else None)}"
            )
        if self.whole and self.light is not None and self.light.neutral is not None:
            return f"{self.file}: all painting, its light put right in {self.picture}"
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
    light: LightAsked = NOTHING_ASKED,
    file_format: FileFormat = "jpeg",
) -> Straightening:
    """Find or take the canvas in a photograph: square on, at full size, as a file to be written into ``folder``.

    A file that is all painting, and one where the canvas isn't sure, stays what it is, unless its light is put right.
    """
    photograph = read_photograph(path)
    found = painting_of(photograph, corners=corners, whole=whole, size=size, light=light)
    width, height = photograph.original_width, photograph.original_height
    righting = found.righting
    if not found.cropped:
        shown = found.canvas.corners if found.canvas is not None else found.corners
        sure = found.how != "unsure" and (found.canvas is None or found.canvas.sure)
        target, data = path, None
        if righting is not None and righting.balance is not None:
            target = folder / f"{name}_balanced{SUFFIXES[file_format]}"
            put_right = righting.on_photograph(read_full_light(path).light)
            data = picture_bytes(put_right, file_format)
        whole = found.how != "unsure"
        done = Straightening(photograph.file, shown, sure, whole, target, found.how, width, height)
        likely = found.canvas is None or found.canvas.likely
        return replace(
            done, light=found.lighting, fitness=found.fitness, data=data, source=path, likely=likely, other=found.other
        )
    full = read_full_light(path)
    shape = proportion(found.corners, width, height, size, photograph.file, focal=photograph.focal)
    wide, high = straightened_size(found.corners, width, height, shape)
    target = folder / f"{name}_straightened{SUFFIXES[file_format]}"
    flat = straightened(full.light, found.corners, (wide, high))
    if righting is not None:
        flat = righting.on_canvas(flat, found.corners)
    done = Straightening(photograph.file, found.corners, True, False, target, found.how, wide, high)
    return replace(
        done,
        light=found.lighting,
        fitness=found.fitness,
        source=path,
        other=found.other,
        proportion=shape,
        proportion_seen=proportion_seen(found.corners, width, height, focal=photograph.focal),
        data=picture_bytes(flat, file_format),
    )
