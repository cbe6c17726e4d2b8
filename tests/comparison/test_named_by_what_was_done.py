"""That a comparison names what a repaint did, where a finding's own figure hardly tells it."""

import sys
from pathlib import Path

from critique.paints.box import box_of
from critique.pair.compare import compare_pictures

sys.path.insert(0, str(Path(__file__).parent))
from pictures import MEADOW, demo, greens_muted

FEW = box_of(["hansa yellow opaque", "pyrrole red", "ultramarine blue"])  # its mixtures are searched in no time


def test_as_many_greens_that_grew_quieter_are_called_better_for_that():
    """ "Better: green area" was said of half a picture in green that stayed half a picture."""
    comparison = compare_pictures(demo(MEADOW), greens_muted(demo(MEADOW), 0.4), box=FEW)
    moves = {move.kind: move for move in comparison.held.moves}
    share = [side.measures.greens.area_share for side in (comparison.first, comparison.second)]
    assert moves["green_area"].outcome == "fixed" and abs(share[0] - share[1]) < 0.02
    (judged,) = (told for told in comparison.verdict if told.startswith("Better: "))
    assert "green area (no less of it, but quieter, chroma" in judged
    assert moves["green_area"].told.startswith("No less of it, but quieter")
    assert "green strength," in judged  # its own figure tells that
    # Nothing red came in: what quiet greens ask no answer for wasn't answered.
    relief = [side.measures.greens.relief_share for side in (comparison.first, comparison.second)]
    assert max(relief) < 0.01 and moves["green_relief"].outcome == "no longer matters"
    assert "relief" not in judged.split("No longer matters")[0]
