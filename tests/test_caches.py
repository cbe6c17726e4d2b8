"""No cache of the program grows with what it is asked: a long run, or a server, would keep it all."""

import ast
from pathlib import Path

import pytest

import critique

PACKAGE = Path(critique.__file__).parent
BARE = ("cache", "lru_cache")


def cached(tree):
    """Functions of a module with the decorator that keeps their answers."""
    for node in ast.walk(tree):
        if isinstance(node, ast.FunctionDef):
            for decorator in node.decorator_list:
                called = decorator.func if isinstance(decorator, ast.Call) else decorator
                name = called.attr if isinstance(called, ast.Attribute) else getattr(called, "id", "")
                if name in BARE:
                    yield node, decorator


def faults(source):
    """Names of the functions whose answers are kept without a bound."""
    found = []
    for function, decorator in cached(ast.parse(source)):
        given = function.args
        asked = [*given.posonlyargs, *given.args, *given.kwonlyargs, given.vararg, given.kwarg]
        bounds = [word.value for word in getattr(decorator, "keywords", ()) if word.arg == "maxsize"]
        bounds += getattr(decorator, "args", [])
        bounded = bool(bounds) and not (isinstance(bounds[0], ast.Constant) and bounds[0].value is None)
        if any(one is not None for one in asked) and not bounded:
            found.append(function.name)
    return found


def test_every_cache_is_bounded_or_of_one_answer():
    modules = sorted(PACKAGE.rglob("*.py"))
    assert len(modules) > 100
    sources = {str(path.relative_to(PACKAGE)): path.read_text(encoding="utf-8") for path in modules}
    named = {path: source for path, source in sources.items() if any(name in source for name in BARE)}
    assert len(named) > 20
    unbounded = {path: names for path, source in named.items() if (names := faults(source))}
    assert unbounded == {}


@pytest.mark.parametrize(
    ("decorator", "arguments", "bad"),
    [
        ("@cache", "", False),
        ("@cache", "name", True),
        ("@functools.cache", "*names", True),
        ("@lru_cache", "name", True),
        ("@lru_cache(maxsize=None)", "name", True),
        ("@lru_cache(maxsize=16)", "name", False),
        ("@lru_cache(maxsize=KEPT)", "*, name", False),
    ],
)
def test_a_cache_without_a_bound_is_found(decorator, arguments, bad):
    assert bool(faults(f"{decorator}\ndef looked_up({arguments}):\n    return 1\n")) is bad
