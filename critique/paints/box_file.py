"""How a painter's own paint gets into the TOML file of a paint box."""

import json
import os
import uuid
from dataclasses import dataclass
from pathlib import Path

from critique.errors import OutputError, PaintError
from critique.paints.box import DEFAULT_NAMES, PaintBox, default_box, load_box
from critique.paints.dabs import Dab
from critique.paints.paint import OWN_DABS

SUFFIX = ".toml"
DECIMALS = 2  # of L*, a* and b*: no dab is measured finer


@dataclass(frozen=True, slots=True)
class Mixed:
    """A mixture that the painter made: so many parts of the paint, with so many of another, gave this colour."""

    parts: float
    other: str
    other_parts: float
    lab: tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class OwnPaint:
    """A paint as the painter gives it: its dabs, masstone first, and what the label says."""

    name: str
    dabs: tuple[Dab, ...]
    pigment: str = ""
    colour_index: str = ""
    opacity: str = ""
    hazard: str = ""
    mixed: tuple[Mixed, ...] = ()


def add_own_paint(path: Path, own: OwnPaint) -> PaintBox:
    """Add a paint to a box file, or begin one with the landscape set; gives the box as it then is.

    What the file held stays as it was written, comments too. The new file is written beside, read back as a box, and
    only then put in place.

    Raises
    ------
    PaintError
        When the dabs can't be those of a paint, the name is taken, or the file is no paint box.
    OutputError
        When the file can't be written.
    """
    if path.suffix.lower() != SUFFIX:
        raise PaintError(f"{path.name}: a paint box is a {SUFFIX} file: name it such as {path.stem or 'box'}{SUFFIX}")
    _check_name(path, own)
    before = _text_of(path)
    beside = path.parent / f".{path.stem}-{uuid.uuid4().hex[:12]}{SUFFIX}"
    try:
        beside.write_text(f"{before}\n{_entry(own)}", encoding="utf-8")
        box = _read_back(beside, path)
        os.replace(beside, path)
    except OSError as error:
        raise OutputError(f"{path}: the paint box can't be written ({error.strerror or error})") from None
    finally:
        beside.unlink(missing_ok=True)
    return box


def _check_name(path: Path, own: OwnPaint) -> None:
    """Refuses a name that the box holds already, and says how to go on."""
    name = own.name.strip()
    box = load_box(path) if path.exists() else default_box()
    held = next((paint for paint in box.with_white if paint.name == name), None)
    if held is None:
        return
    where = "this box begins with the landscape set, which" if not path.exists() else path.name
    if held.origin == OWN_DABS:
        raise PaintError(
            f"{path.name} already holds {name!r}: to give it new dabs, first take its [[own]] lines out of {path}; "
            "or add it by another name"
        )
    raise PaintError(f"{where} already holds a paint called {name!r}: add yours by another name, such as 'my {name}'")


def _text_of(path: Path) -> str:
    """What stands in the file, once it has been found to be a box; the landscape set for a new one."""
    if not path.exists():
        names = "".join(f"    {json.dumps(name)},\n" for name in DEFAULT_NAMES)
        begun = "# A paint box, begun with the landscape set. Take out what you don't own."
        return f"{begun}\nname = {_quoted(path.stem)}\npaints = [\n{names}]\n"
    load_box(path)
    return path.read_text(encoding="utf-8").rstrip() + "\n"


def _read_back(beside: Path, path: Path) -> PaintBox:
    try:
        return load_box(beside)
    except PaintError as error:
        raise PaintError(str(error).replace(beside.name, path.name).replace(beside.stem, path.stem)) from None


def _entry(own: OwnPaint) -> str:
    if not own.name.strip() or not own.name.isprintable():
        raise PaintError("an own paint needs a name that can be read: such as 'old green tube'")
    masstone, tint, *third = own.dabs
    lines = [
        "[[own]]",
        f"name = {_quoted(own.name.strip())}",
        f"masstone = {_lab(masstone)}",
        f"tint = {_lab(tint)}",
        f"white_parts = {tint.white_parts:g}",
        *(line for dab in third for line in (f"third = {_lab(dab)}", f"third_white_parts = {dab.white_parts:g}")),
        *(
            f"{key} = {_quoted(value)}"
            for key, value in (
                ("pigment", own.pigment),
                ("colour_index", own.colour_index),
                ("opacity", own.opacity),
                ("hazard", own.hazard),
            )
            if value
        ),
        *(line for mixture in own.mixed for line in _mixed_lines(mixture)),
    ]
    return "\n".join(lines) + "\n"


def _mixed_lines(mixture: Mixed) -> tuple[str, ...]:
    return (
        "",
        "[[own.mixed]]",
        f"parts = {mixture.parts:g}",
        f"with = {_quoted(mixture.other)}",
        f"with_parts = {mixture.other_parts:g}",
        f"colour = {_lab(mixture)}",
    )


def _lab(dab: Dab | Mixed) -> str:
    return f"[{', '.join(f'{value:.{DECIMALS}f}' for value in dab.lab)}]"


def _quoted(text: str) -> str:
    """A TOML basic string: JSON's escapes are TOML's too, once what can't be printed is out."""
    return json.dumps("".join(letter for letter in text if letter.isprintable()), ensure_ascii=False)
