"""Which RGB space a file names without embedding its profile, as cameras and telephones may."""

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from critique.perception.cielab import WHITE_XYZ, XYZ_TO_LINEAR
from critique.perception.srgb import Float

_INTEROPERABILITY_IFD, _INTEROPERABILITY_INDEX = 0xA005, 1
_ADOBE_RGB_INDEX = "R03"  # the "DCF option file" [DCF 2.0, 3.2.2; EXIF 2.32, tag 0x0001]
_HIGH_DYNAMIC_RANGE = {16: "PQ", 18: "HLG"}  # transfer characteristics of high dynamic range [ITU-T H.273, table 3]

_XY = tuple[float, float]


@dataclass(frozen=True, slots=True)
class NamedSpace:
    """An RGB space with white D65: primaries (x, y), and its exponent, or None for the curve of sRGB."""

    name: str
    red: _XY
    green: _XY
    blue: _XY
    exponent: float | None = None

    def to_linear_srgb(self) -> Float:
        """The matrix (3, 3) from linear light of this space to that of sRGB; both have the same white."""
        columns = np.stack([_xyz(xy) for xy in (self.red, self.green, self.blue)], axis=1)
        matrix = XYZ_TO_LINEAR @ (columns * np.linalg.solve(columns, WHITE_XYZ))
        return np.asarray(matrix, dtype=np.float32)


ADOBE_RGB = NamedSpace("Adobe RGB (1998), named by the camera", (0.64, 0.33), (0.21, 0.71), (0.15, 0.06), 563 / 256)
DISPLAY_P3 = NamedSpace("Display P3, named in the file", (0.680, 0.320), (0.265, 0.690), (0.150, 0.060))
BT_2020 = NamedSpace("BT.2020, named in the file", (0.708, 0.292), (0.170, 0.797), (0.131, 0.046))
# Adobe RGB (1998) Color Image Encoding, 4.3; ITU-T H.273, table 2: 12 is SMPTE EG 432-1, 9 is ITU-R BT.2020.
_OF_PRIMARIES = {12: DISPLAY_P3, 9: BT_2020}


def named_space(image: Image.Image) -> tuple[NamedSpace | None, tuple[str, ...]]:
    """The space that the file names instead of a profile, or None for sRGB; and notes on what was not followed."""
    if image.info.get("icc_profile"):
        return None, ()
    coding: dict[str, Any] = image.info.get("nclx_profile") or {}
    light = _HIGH_DYNAMIC_RANGE.get(int(coding.get("transfer_characteristics", 0)))
    notes = (f"high dynamic range ({light}) is read as an ordinary picture: its values are off",) if light else ()
    if coding:
        return _OF_PRIMARIES.get(int(coding.get("color_primaries", 0))), notes
    return (ADOBE_RGB if _names_adobe_rgb(image) else None), ()


def _names_adobe_rgb(image: Image.Image) -> bool:
    if image.format not in ("JPEG", "MPO"):
        return False
    try:
        index = image.getexif().get_ifd(_INTEROPERABILITY_IFD).get(_INTEROPERABILITY_INDEX, "")
    except Exception:  # Pillow raises whatever damaged EXIF leads to; another place notes that
        return False
    return str(index).strip("\0 ") == _ADOBE_RGB_INDEX


def _xyz(xy: _XY) -> NDArray[np.float64]:
    x, y = xy
    return np.array([x / y, 1.0, (1 - x - y) / y])
