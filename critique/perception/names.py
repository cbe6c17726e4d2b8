"""What a colour is called: the ISCC–NBS name of the block in which it lies. [Kelly and Judd, NBS SP 440, 1976]"""

import re
from functools import cache

import numpy as np
from numpy.typing import ArrayLike, NDArray

from critique.perception.munsell import HUE_LETTERS, munsell_of
from critique.perception.reference import read_table

AT_A_TIME = 1024  # colours held against the blocks in one go: about a megabyte of truths


def hue_number(notation: str) -> float:
    """A Munsell hue such as ``2.5GY`` on the scale of 100 (10RP = 0)."""
    step, letters = re.fullmatch(r"([\d.]+)([A-Z]+)", notation).groups()  # type: ignore[union-attr]
    return (float(step) + 10 * HUE_LETTERS.index(letters)) % 100


@cache
def _blocks() -> tuple[NDArray[np.str_], NDArray[np.float64], NDArray[np.float64]]:
    """Names (n,), lower and upper limits (n, 3) of hue, value and chroma; a hue's upper limit is its width."""
    rows = read_table("iscc_nbs_blocks.csv")
    first = np.array([hue_number(row["hue_from"]) for row in rows])
    width = (np.array([hue_number(row["hue_to"]) for row in rows]) - first) % 100
    width[width == 0] = 100
    lower = np.array([[float(row["value_from"]), float(row["chroma_from"])] for row in rows])
    upper = np.array([[float(row["value_to"]), float(row["chroma_to"])] for row in rows])
    return np.array([row["name"] for row in rows]), np.column_stack([first, lower]), np.column_stack([width, upper])


def names_of_munsell(munsell: ArrayLike) -> list[str]:
    """ISCC–NBS names of Munsell colours (n, 3): hue on the scale of 100, value and chroma."""
    names, _, _ = _blocks()
    return [str(name) for name in names[_blocks_of(munsell)]]


def shares_of_names(munsell: ArrayLike, share: NDArray[np.float64]) -> NDArray[np.float64]:
    """The sum of ``share`` (n,) over the Munsell colours (n, 3) of each ISCC–NBS name."""
    return np.asarray(np.bincount(_numbers()[_blocks_of(munsell)], weights=share))


@cache
def _numbers() -> NDArray[np.intp]:
    """A number for each block, alike for blocks of one name."""
    return np.asarray(np.unique(_blocks()[0], return_inverse=True)[1], dtype=np.intp)


def _blocks_of(munsell: ArrayLike) -> NDArray[np.intp]:
    """Which block each of the colours (n, 3) lies in."""
    _, lower, upper = _blocks()
    values, chromas, allowed = _allowed()
    colours = np.asarray(munsell, dtype=np.float64).reshape(-1, 3)
    found = np.empty(len(colours), dtype=np.intp)
    for start in range(0, len(colours), AT_A_TIME):
        hue, value, chroma = colours[start : start + AT_A_TIME].T
        near = allowed[np.searchsorted(values, value, side="right"), np.searchsorted(chromas, chroma, side="right")]
        inside = (near >= 0) & ((hue[:, None] - lower[near, 0]) % 100 < upper[near, 0])
        first = inside.argmax(axis=1)
        rows = np.arange(len(near))
        found[start : start + AT_A_TIME] = np.where(inside[rows, first], near[rows, first], 0)
    return found


@cache
def _allowed() -> tuple[NDArray[np.float64], NDArray[np.float64], NDArray[np.intp]]:
    """The limits of value and of chroma in rising order, and which blocks (…, most) lie between two of either.

    Numbers of blocks, −1 for none: by value and chroma few of the names are left to be told apart by hue.
    """
    _, lower, upper = _blocks()
    limits = [np.unique(np.concatenate([lower[:, axis], upper[:, axis]])) for axis in (1, 2)]
    spans = [
        (np.searchsorted(limit, lower[:, axis]), np.searchsorted(limit, upper[:, axis]))
        for axis, limit in zip((1, 2), limits, strict=True)
    ]
    number = [np.arange(len(limit) + 1)[:, None] for limit in limits]
    value, chroma = ((place > low) & (place <= high) for place, (low, high) in zip(number, spans, strict=True))
    held = value[:, None] & chroma[None]
    most = int(held.sum(axis=2).max())
    order = np.argsort(~held, axis=2, kind="stable")[..., :most]
    return limits[0], limits[1], np.where(np.take_along_axis(held, order, axis=2), order, -1)


def colour_names(lab: ArrayLike) -> list[str]:
    """ISCC–NBS names of CIELAB colours (n, 3) under D65, by way of their Munsell notation."""
    return names_of_munsell(munsell_of(lab))


def colour_name(lab: ArrayLike) -> str:
    """ISCC–NBS name of one CIELAB colour (3,)."""
    return colour_names(lab)[0]
