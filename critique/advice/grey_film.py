"""Whether a film of grey lies over a picture: its values close, and hardly a colour clear."""

from critique.advice.fault_limits import SOME_COLOUR
from critique.advice.judging import Case
from critique.measures.land_greens import MAP_LONG_EDGE
from critique.picture.picture import lab_at

# Values from the 5th to the 95th percentile; C* of the strongest tenth; and C* that the farthest spot lies off one paint over
# lights and darks. Of 130 photographs passed through a brush seven lie within all three and are no dark pictures: both readers
# of five put first that all lies in one drab grey, a veil or dust. Of 76 landscapes none does.
CLOSE, QUIET, NOTHING_CLEAR = 5.7, (SOME_COLOUR, 20.0), 20.0
# Spread of a*: what such a film leaves is earth and sky. An emerald lake between drab hills, a chord to both its readers, has
# 6.3; the others have 3.2 at most.
RED_OR_GREEN = 4.5
SAID_FIRST = 0.6  # of those readings
FILM = "the grey that lies over it"


def lies_under_a_film(case: Case) -> bool:
    """Whether values and colours both stay so near a middle grey; with still less colour it is judged as dead, or is one grey."""
    loudest = case.measures.loudest
    grey = QUIET[0] <= loudest.strong < QUIET[1] and loudest.farthest_off < NOTHING_CLEAR
    if case.measures.values.range >= CLOSE or case.measures.values.key == "low" or not grey:
        return False
    return float(lab_at(case.picture, MAP_LONG_EDGE)[..., 1].std()) < RED_OR_GREEN


def of_the_film(case: Case) -> str:
    """What is said of it."""
    ranks = case.measures.values.percentiles
    return (
        f"its values, from {ranks['p5']:.1f} to {ranks['p95']:.1f}, and its colours keep near to grey, as under a film of "
        "dust. If it is neither a grey day that you were after nor a dull photograph, give one thing a lit side, lighter and "
        "clearer in colour, and a deeper shade beside it"
    )
