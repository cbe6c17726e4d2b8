"""Every change there is, made for a picture that gives cause for all of them, and for any other."""

from functools import lru_cache

import numpy as np

from critique.advice.change_kinds import all_change_kinds
from critique.advice.judging import Case
from critique.advice.norms import read_norms
from critique.advice.trial import trial_of
from critique.measures.measure import measure_picture
from critique.picture.picture import picture_from_lab, picture_from_srgb

NORMS = read_norms()


def case_of(picture):
    return Case.of(picture, measure_picture(picture), NORMS)


def picture_of_lab(lab):
    return picture_from_lab(lab.astype(np.float32), picture_from_srgb(np.zeros(lab.shape, np.uint8)))


def bands(height, width, noise=1.5):
    """Sky, water, two strong greens and a bright corner, halved, smooth but for a grain of its own size."""
    down = (np.arange(height) + 0.5) / height
    across = (np.arange(width) + 0.5) / width
    colours = np.array([(78, -3, -12), (55, -8, -22), (58, -34, 46), (40, -28, 30)], np.float32)
    lab = np.repeat(colours[np.searchsorted([0.3, 0.5, 0.75], down)][:, None], width, axis=1)
    lab[..., 0] += (6 * np.sin(9 * across[None]) * np.cos(7 * down[:, None])).astype(np.float32)
    lab[(down[:, None] > 0.88) & (across[None] < 0.1)] = (93, 0, 4)
    rng = np.random.default_rng(5)
    return lab + rng.normal(0, noise, lab.shape).astype(np.float32)


def dusk(height, width, noise=1.5):
    """A grey picture with a closed dark, loud hills far off and a busy foreground."""
    down = (np.arange(height)[:, None] + 0.5) / height + np.zeros(width)
    across = (np.arange(width)[None] + 0.5) / width + np.zeros((height, 1))
    lab = np.empty((height, width, 3), np.float32)
    lab[...] = (74, -1, -4)
    lab[down > 0.4] = (52, -1, 4)
    lab[(down > 0.32) & (down <= 0.4) & (across > 0.1) & (across < 0.9)] = (46, 6, 9)
    lab[(down > 0.55) & (down < 0.75) & (across > 0.02) & (across < 0.3)] = (7, 1, 1)
    rng = np.random.default_rng(6)
    lab[..., 0] += np.where(down > 0.8, 16 * np.sign(np.sin(90 * across) * np.sin(60 * down)), 0)
    return lab + rng.normal(0, noise, lab.shape).astype(np.float32)


def warm_hills(height, width, noise=1.5):
    """A cool sky, far hills painted warm and dark from 0.5 to 0.6 of the height, and a meadow, with a brush's grain."""
    down = (np.arange(height)[:, None] + 0.5) / height * np.ones(width)
    hills, meadow = (45.0, 18.0, 46.0), (48.0, -6.0, 18.0)
    lab = np.where((down < 0.5)[..., None], (80.0, -3.0, -8.0), np.where((down < 0.6)[..., None], hills, meadow))
    rng = np.random.default_rng(2)
    return (lab + rng.normal(0, noise, (height, width, 1)) * (1, 0.2, 0.4)).astype(np.float32)


def two_trees(height, width, noise=1.0):
    """A plain field under a plain sky with two dark trees that hold the eye alike."""
    down = (np.arange(height)[:, None] + 0.5) / height + np.zeros(width)
    across = (np.arange(width)[None] + 0.5) / width + np.zeros((height, 1))
    lab = np.where((down > 0.6)[..., None], np.float32((58, -4, 18)), np.float32((74, -3, -9))).astype(np.float32)
    for x in (0.25, 0.75):
        lab[np.hypot((down - 0.55) * height, (across - x) * width) < 0.05 * width] = (22, -8, 10)
    rng = np.random.default_rng(8)
    return lab + rng.normal(0, noise, lab.shape).astype(np.float32)


def moor(height, width, noise=1.2, lights=((0.12, 0.7), (0.68, 0.62))):
    """A grey sky over a dark moor, and round lights at these places, 0–1."""
    down = (np.arange(height)[:, None] + 0.5) / height + np.zeros(width)
    across = (np.arange(width)[None] + 0.5) / width + np.zeros((height, 1))
    lab = np.where((down < 0.4)[..., None], (58.0, 0.0, -3.0), (30.0, -2.0, 10.0))
    for x, y in lights:
        away = np.hypot((across - x) * width, (down - y) * height) / (0.044 * width)
        weight = np.clip(1.6 - away, 0, 1)[..., None]
        lab = lab * (1 - weight) + np.array((92.0, 0.0, 16.0)) * weight
    lab[..., 0] += np.random.default_rng(3).normal(0, noise, (height, width))
    return np.clip(lab, (1, -99, -99), (99, 99, 99)).astype(np.float32)


def drafts_of(trial):
    """Every draft that any kind of change gives for a picture, whether called for or not."""
    return [draft for kind in all_change_kinds() for draft in kind.make(trial, False)]


def trial_with(lab):
    """The trial of a picture, the same for the same colours: what it is judged to be is found once."""
    lab = np.ascontiguousarray(lab, dtype=np.float32)
    return _trial(lab.tobytes(), lab.shape)


@lru_cache(maxsize=8)
def _trial(colours: bytes, shape: tuple[int, ...]):
    return trial_of(case_of(picture_of_lab(np.frombuffer(colours, dtype=np.float32).reshape(shape))))
