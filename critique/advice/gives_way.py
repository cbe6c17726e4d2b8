"""Which of two that compete gives way, two lights or two places: one rule for both, so that no two changes disagree."""

At = tuple[float, float]  # 0–1 from the left and the top

# Of the height: so far over the other, a light is a sun or its cloud, and two judges missed it where it was lowered.
CAST = 0.25


def gives_way(one: At, other: At) -> tuple[At, At]:
    """The one that gives way, and the one that leads: that far below the other, else that nearer to a side."""
    if abs(one[1] - other[1]) > CAST:
        lead, lower = sorted((one, other), key=lambda place: place[1])
    else:
        lower, lead = sorted((one, other), key=lambda place: min(place[0], 1 - place[0]))
    return lower, lead
