"""Whether a picture has the one place that leads to be praised for."""

from critique.advice.seen import Seen
from critique.advice.virtue import Virtue
from critique.measures.eye_judging import leads_alone
from critique.picture.places import roughly_in_passing


def one_leads(seen: Seen) -> Virtue | None:
    """One place that holds the eye, where that is sure beyond what is only told of it."""
    place = leads_alone(seen.case.measures.eyepath)
    if place is None:
        return None
    return Virtue(f"one place leads, {roughly_in_passing(place.x, place.y)}", (), (place.x, place.y))
