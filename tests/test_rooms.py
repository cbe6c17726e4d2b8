"""The house goes one way: every room imports only from those before it."""

import ast
from collections import defaultdict
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest

import critique

PACKAGE = Path(critique.__file__).parent

# In the order in which they stand; a room may import from those before it.
ROOMS = (
    "perception", "words", "photograph", "picture", "measures", "paints", "advice", "pair", "tasks", "report",
    "sending", "painting", "portfolio", "cli",
)  # fmt: skip
APART = {"paints": {"photograph", "picture", "measures"}, "tasks": {"pair"}}  # paint knows no pictures


def room_of(module: str) -> str:
    """The folder of a module such as ``critique.advice.kinds``; for one that lies in none, its own name."""
    return module.split(".")[1] if "." in module else ""


def statements(node: ast.AST) -> Iterator[ast.AST]:
    """Every statement of a module, wherever it stands; what they are made of takes long and imports none."""
    for field in ("body", "orelse", "finalbody", "handlers", "cases"):
        for inner in getattr(node, field, ()):
            yield inner
            yield from statements(inner)


@cache
def imports() -> dict[str, set[str]]:
    """What every module imports, wherever in it that stands, from the package."""
    found = defaultdict(set)
    for path in PACKAGE.rglob("*.py"):
        module = ".".join(("critique", *path.relative_to(PACKAGE).with_suffix("").parts)).removesuffix(".__init__")
        for node in statements(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.ImportFrom) and node.level == 0 and (node.module or "").split(".")[0] == "critique":
                found[module] |= {f"{node.module}.{one.name}" for one in node.names}
            elif isinstance(node, ast.Import):
                found[module] |= {one.name for one in node.names if one.name.split(".")[0] == "critique"}
    return found


def test_the_rooms_are_those_that_there_are():
    assert {path.name for path in PACKAGE.iterdir() if (path / "__init__.py").is_file()} == set(ROOMS)
    assert sum(map(len, imports().values())) > 500


@pytest.mark.parametrize("room", ROOMS)
def test_a_room_imports_only_from_those_before_it(room):
    allowed = set(ROOMS[: ROOMS.index(room) + 1]) - APART.get(room, set())
    for module, taken in imports().items():
        if room_of(module) == room:
            wrong = {one for one in taken if room_of(one) in ROOMS and room_of(one) not in allowed}
            assert not wrong, f"{module} imports {wrong}"


def test_what_lies_beside_the_rooms_imports_none_of_them_and_the_library_no_face():
    beside = {module for module in imports() if room_of(module) not in ROOMS} - {
        "critique", "critique.__main__", "critique.library"
    }  # fmt: skip
    assert {
        module: imports()[module] for module in beside if {room_of(one) for one in imports()[module]} & set(ROOMS)
    } == {}
    assert not {room_of(one) for one in imports()["critique.library"]} & {"cli", "painting", "portfolio"}
