"""Whether a film of grey lies over a picture: its values close, and hardly a colour clear."""

from critique.advice.fault_limits import SOME_COLOUR
from critique.advice.judging import Case
from critique.measures.measure import Measures

# Values from the 5th to the 95th percentile; C* of the strongest tenth; and C* that the farthest spot lies off one paint over
# lights and darks. Of 130 photographs passed through a brush eight lie within all three: both readers of five put first that
# all lies in one drab grey, a veil or dust, and one of a sixth missed any true light. Of 76 landscapes none does.
CLOSE, QUIET, NOTHING_CLEAR = 5.7, (SOME_COLOUR, 20.0), 20.0
SAID_FIRST = 0.6  # of those readings

FILM = "the grey that lies over it"


def lies_under_a_film(measures: Measures) -> bool:
    """Whether values and colours both stay so near a middle grey; with still less colour it is judged as dead, or is one grey."""
    loudest = measures.loudest
    grey = QUIET[0] <= loudest.strong < QUIET[1] and loudest.farthest_off < NOTHING_CLEAR
    return measures.values.range < CLOSE and grey


def of_the_film(case: Case) -> str:
    """What is said of it."""
    ranks = case.measures.values.percentiles
    return (
        f"its values, from {ranks['p5']:.1f} to {ranks['p95']:.1f}, and its colours keep near to grey, as under a film of "
        "dust. If it is neither a grey day that you were after nor a dull photograph, give one thing a lit side, lighter and "
        "clearer in colour, and a deeper shade beside it"
    )
