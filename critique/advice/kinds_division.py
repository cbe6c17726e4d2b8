"""The kinds of finding about how a picture is divided, set in their order by the table of `kinds.py`."""

from critique.advice import division_findings as division
from critique.advice import fault_limits, where
from critique.advice.kind import Kind, Part

WATER_LEVEL = Kind(
    id="water_level",
    title="level water",
    spoken="a long edge that may want to lie level",
    part=Part.DIVISION,
    figures=("water_level.tilt",),
    limits=fault_limits.TILT,
    judge=division.water_level,
    where=where.of_leaning_edge,
    step="hold a ruler to that edge",
    said_first=0.25,
)
SYMMETRY = Kind(
    id="symmetry",
    title="left like right",
    spoken="how alike left and right are",
    virtue="left against right",
    part=Part.DIVISION,
    figures=("symmetry.likeness",),
    limits=fault_limits.ALIKE,
    judge=division.symmetry,
    step="make one side larger, darker or nearer, in a small study first",
)
HALVING = Kind(
    id="halving",
    title="halving",
    spoken="where its line lies",
    virtue="division",
    part=Part.DIVISION,
    figures=("division.height", "division.near_middle", "division.strength"),
    judge=division.halving,
    step="try the line higher and lower, in two small studies",
    said_first=0.0,
)
UPRIGHT_HALVES = Kind(
    id="upright_halves",
    title="left and right halves",
    spoken="the upright near its middle",
    virtue="left and right parts",
    part=Part.DIVISION,
    figures=("division.strength",),
    judge=division.upright_halves,
    step="overlap the upright edge with something, in a small study first",
)
