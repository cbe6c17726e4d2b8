"""A second pair of eyes for landscape painters.

The face of the library: what it offers is loaded when it is asked for, so that ``import critique`` is instant.

>>> import critique
>>> critique.__version__
'0.1.0'
"""

from typing import Any

__version__ = "0.1.0"

__all__ = [
    "CritiqueError",
    "Picture",
    "Review",
    "__version__",
    "chart",
    "compare",
    "gallery",
    "lineup",
    "palette",
    "passes",
    "plan",
    "read",
    "recipe",
    "review",
    "submit",
    "telling",
    "write",
]


def __getattr__(name: str) -> Any:
    if name in __all__:
        from critique import library

        return getattr(library, name)
    raise AttributeError(f"module 'critique' has no attribute {name!r}")


def __dir__() -> list[str]:
    return list(__all__)
