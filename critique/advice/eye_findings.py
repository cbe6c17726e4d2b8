"""Whether the eye stays in the picture, and finds its place."""

from critique.advice.finding import Finding, Level
from critique.advice.judging import Case
from critique.advice.kind import Kind
from critique.picture.places import spot
from critique.words.aloud import sentence
from critique.words.lists import listed

PULL_WATCH = 1.15  # of the focal place: an edge that clearly holds the eye more; nine in ten landscapes stay below 1.11
BESIDE = 0.2  # of the width and height: a pull this close to the focal place is the focal place
FRAMED = 0.4  # values by which corners are darker than the interior before they hold the eye in; our choice


def edges(case: Case, kind: Kind) -> Finding:
    """What pulls the eye to the edges, with where the eye settles."""
    eye = case.measures.eyepath
    strongest = eye.strongest_pull
    level: Level = "watch" if eye.pulls and strongest.strength >= PULL_WATCH else "holds"
    focus = spot(eye.focus.x, eye.focus.y)
    frame = ", and the darker corners keep it in" if eye.framing >= FRAMED else ""
    if level == "watch":
        kinds = {
            "value": "contrast of light and dark",
            "chroma": "strong colour",
            "edges": "hard edges",
            "light": "light",
        }
        pulls = [f"the {pull.place} ({kinds[pull.kind]})" for pull in eye.pulls[:2]]
        one = len(pulls) == 1
        away = max(abs(eye.focus.x - strongest.x), abs(eye.focus.y - strongest.y))
        if away < BESIDE:
            text = (
                f"the eye settles {focus}, so close to the {strongest.place} that it may leave there. Soften that edge, or "
                "give the eye a stronger place farther in"
            )
        else:
            text = (
                f"the eye settles {focus}, but {listed(pulls)} {'draws' if one else 'draw'} it out of the picture. Soften or "
                f"darken {'it' if one else 'both'}, so that {'it is' if one else 'they are'} seen last"
            )
    elif eye.competing and len(eye.places) > 1 and spot(eye.places[1].x, eye.places[1].y) != focus:
        second = spot(eye.places[1].x, eye.places[1].y)
        text = (
            f"the eye goes back and forth between two places, {focus} and {second}{frame}: fine, if one of them leads"
        )
    else:
        text = f"the eye settles {focus}{frame}; nothing at the edges draws it out"
    return kind.finding(
        level=level,
        text=sentence(text),
        figure=strongest.strength,
        figure_text=f"strongest pull {strongest.place}, {strongest.strength:.2f} of the focal place",
        norm=f"{case.standing('eyepath.strongest_pull.strength')}; an edge draws the eye out when it clearly holds it more than the focal place, from {PULL_WATCH:.2f} on; our choice",
        percentile=case.percentile("eyepath.strongest_pull.strength"),
    )
