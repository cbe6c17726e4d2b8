"""How a painter's own paint gets into the TOML file of a paint box."""

import json
from dataclasses import dataclass
from pathlib import Path

from critique.errors import OutputError, PaintError
from critique.paints.box import DEFAULT_NAMES, PaintBox, box_of_text, load_box
from critique.paints.dabs import Dab
from critique.paints.naming import LONGEST_NAME, name_key
from critique.paints.paint import OWN_DABS
from critique.publish import followed, only_one_at, replace_file
from critique.regular_file import open_regular
from critique.text_file import TextFault, decoded
from critique.words.printed import may_be_shown, shown_line

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

    What the file held stays as it was written: comments, line ends, permissions, and the link that leads to it. Of
    several runs that add at once each waits for the one before. The new text is read as a box before it is kept.

    Raises
    ------
    PaintError
        When the dabs can't be those of a paint, the name is taken, or the file is no paint box.
    OutputError
        When the file can't be written.
    """
    if path.suffix.lower() != SUFFIX:
        raise PaintError(f"{path.name}: a paint box is a {SUFFIX} file: name it such as {path.stem or 'box'}{SUFFIX}")
    try:
        with only_one_at(followed(path).parent):
            return _added(path, own)
    except OSError as error:
        reason = str(error.strerror or error).lower()
        raise OutputError(shown_line(f"{path}: the paint box can't be written ({reason})")) from None


def _added(path: Path, own: OwnPaint) -> PaintBox:
    data = _begun(path) if not path.exists() else _bytes_of(path)
    before = _box_of(data, path)
    _check_name(path, own, before)
    end = b"\r\n" if b"\r\n" in data else b"\n"
    entry = f"\n{_entry(own)}".encode().replace(b"\n", end)
    whole = data + (b"" if data.endswith(b"\n") else end) + entry
    box = _box_of(whole, path)
    replace_file(path, whole)
    return box


def _bytes_of(path: Path) -> bytes:
    """A file as it lies on disk, so that its line ends and its mark stay what they are."""
    load_box(path)  # refuses whatever is no box, and no ordinary file
    with open_regular(path) as stream:
        return stream.read()


def _begun(path: Path) -> bytes:
    """A new box, begun with the landscape set."""
    names = "".join(f"    {json.dumps(name)},\n" for name in DEFAULT_NAMES)
    begun = "# A paint box, begun with the landscape set. Take out what you don't own."
    return f"{begun}\nname = {_quoted(path.stem)}\npaints = [\n{names}]\n".encode()


def _box_of(data: bytes, path: Path) -> PaintBox:
    try:
        return box_of_text(decoded(data), path)
    except TextFault as fault:
        raise PaintError(f"{path.name}: {fault}") from None


def _check_name(path: Path, own: OwnPaint, box: PaintBox) -> None:
    """Refuses a name that the box holds already, and says how to go on."""
    name = own.name.strip()
    held = next((paint for paint in box.with_white if name_key(paint.name) == name_key(name)), None)
    if held is None:
        return
    where = "this box begins with the landscape set, which" if not path.exists() else path.name
    if held.origin == OWN_DABS:
        raise PaintError(
            f"{path.name} already holds {name!r}: to give it new dabs, first take its [[own]] lines out of {path}; "
            "or add it by another name"
        )
    raise PaintError(f"{where} already holds a paint called {name!r}: add yours by another name, such as 'my {name}'")


def _entry(own: OwnPaint) -> str:
    if not own.name.strip() or not may_be_shown(own.name) or len(own.name) > LONGEST_NAME:
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
    return json.dumps("".join(letter for letter in text if may_be_shown(letter)), ensure_ascii=False)
