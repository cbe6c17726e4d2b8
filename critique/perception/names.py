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
    names, lower, upper = _blocks()
    colours = np.asarray(munsell, dtype=np.float64).reshape(-1, 1, 3)
    found = np.empty(len(colours), dtype=np.intp)
    for start in range(0, len(colours), AT_A_TIME):
        some = colours[start : start + AT_A_TIME]
        inside = np.ones((len(some), len(names)), dtype=bool)
        for axis in (1, 2):
            inside &= (some[..., axis] >= lower[:, axis]) & (some[..., axis] < upper[:, axis])
        which, block = np.nonzero(inside)  # the turn of hue, which is dear, only where value and chroma allow the name
        inside[which, block] = (some[which, 0, 0] - lower[block, 0]) % 100 < upper[block, 0]
        found[start : start + AT_A_TIME] = inside.argmax(axis=1)
    return [str(name) for name in names[found]]


def colour_names(lab: ArrayLike) -> list[str]:
    """ISCC–NBS names of CIELAB colours (n, 3) under D65, by way of their Munsell notation."""
    return names_of_munsell(munsell_of(lab))


def colour_name(lab: ArrayLike) -> str:
    """ISCC–NBS name of one CIELAB colour (3,)."""
    return colour_names(lab)[0]
