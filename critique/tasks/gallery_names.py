"""What the main colours of a picture are called where it hangs: by a word, a value where two share it, and a place."""

import numpy as np

from critique.advice.colour_words import MOSTLY, families_seen, family_words, sky_in
from critique.measures.measure import Measures
from critique.picture.areas import same_frame
from critique.picture.picture import Picture
from critique.tasks.passage_names import sky_word


def named_families(picture: Picture, measures: Measures) -> list[tuple[str, str]]:
    """The painter's word for each family, told apart by its value where two have one, and what it is the colour of."""
    words = family_words(picture, measures)
    labels = families_seen(picture, measures.families)
    sky, water = sky_in(measures, labels.shape), same_frame(measures.parts.mask("water"), labels.shape)
    named = []
    for index, (word, family) in enumerate(zip(words, measures.families, strict=True)):
        own = labels == index
        above, wet = (float(part[own].mean()) if own.any() else 0.0 for part in (sky, water))
        place = "of the sky" if above >= MOSTLY else "of the water" if wet >= MOSTLY else ""
        if not place and above + wet >= MOSTLY:
            place = "of sky and water"
        named.append((sky_word(np.asarray(family.lab), word) if place == "of the sky" else word, place))
    lch = [family.lch for family in measures.families]
    valued = [
        (f"{word} of value {light / 10:.1f}", place) if named.count((word, place)) > 1 else (word, place)
        for (word, place), (light, _, _) in zip(named, lch, strict=True)
    ]
    # Of two that also have one value the quieter is called so.
    return [
        (f"quieter {word}", place)
        if any((word, place) == other and lch[at][1] > own[1] for at, other in enumerate(valued))
        else (word, place)
        for (word, place), own in zip(valued, lch, strict=True)
    ]
