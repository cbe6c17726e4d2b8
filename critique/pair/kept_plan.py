"""A plan as it was kept in its folder, for the passes of the painting to be held against."""

import json
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from critique.errors import CritiqueError
from critique.picture.picture import Picture
from critique.picture.read import read_picture

WITHIN = "plan"  # of a painting's folder
RECORD, AIM, KEY = "plan.json", "aim.png", "passages.png"


@dataclass(frozen=True, slots=True)
class KeptPassage:
    """A passage as the plan numbers it: its name, its values from its darkest to its lightest tenth, its parts."""

    number: int
    name: str
    darkest: float
    lightest: float
    mixture: str


@dataclass(frozen=True, slots=True)
class KeptEdge:
    """An edge to find or lose between two passages, and where."""

    kind: str
    first: int
    second: int
    where: str


@dataclass(frozen=True, slots=True)
class KeptPlan:
    """The aim, its passages and its edges; ``labels`` (height, width) are numbered from 0."""

    folder: str
    aim: Picture = field(metadata={"record": False}, repr=False)
    labels: NDArray[np.intp] = field(metadata={"record": False}, repr=False)
    passages: tuple[KeptPassage, ...]
    edges: tuple[KeptEdge, ...]


def kept_plan(folder: Path) -> KeptPlan:
    """Read a plan back from the folder into which ``critique plan`` wrote it, or from the painting's that holds it.

    Raises
    ------
    CritiqueError
        When there is no plan, or a part of it is missing or damaged.
    """
    if not (folder / RECORD).exists() and (folder / WITHIN / RECORD).exists():
        folder = folder / WITHIN
    try:
        record = json.loads((folder / RECORD).read_text(encoding="utf-8"))
        with Image.open(folder / KEY) as key:
            labels = np.asarray(key if key.mode == "P" else key.convert("L"), dtype=np.intp)
        passages = tuple(_passage(one) for one in record["passages"]["passages"])
        edges = tuple(_edge(one) for one in record["edges"])
    except FileNotFoundError as error:
        lacking = Path(str(error.filename)).name
        raise CritiqueError(
            f"{folder}: holds no plan ({lacking} is missing): give the folder of one", mend="plan_folder"
        ) from None
    except (OSError, ValueError, KeyError, TypeError) as error:
        raise CritiqueError(f"{folder}: its plan can't be read ({type(error).__name__}): plan again") from None
    if labels.max() >= len(passages):
        raise CritiqueError(f"{folder}: its plan can't be read (its key has more passages than it tells): plan again")
    name = folder.resolve().parent.name if folder.name == WITHIN else folder.name
    return KeptPlan(name, read_picture(folder / AIM, whole=True), labels, passages, edges)


def _passage(record: dict[str, Any]) -> KeptPassage:
    return KeptPassage(
        int(record["number"]),
        str(record["name"]),
        float(record["darkest"]),
        float(record["lightest"]),
        str(record["recipe"]["text"]),
    )


def _edge(record: dict[str, Any]) -> KeptEdge:
    where = record["where"]
    across, down = str(where["across"]), str(where["down"])
    told = across if down == "middle" else f"{down} {across}"
    return KeptEdge(str(record["kind"]), int(record["first"]), int(record["second"]), told)
