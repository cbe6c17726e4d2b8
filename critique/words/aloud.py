"""Numbers and colours as they are read aloud."""


def strength_word(chroma: float) -> str:
    """A plain word for a chroma C*ab; steps of common practice, no source."""
    for limit, word in ((8, "grey"), (16, "quiet"), (30, "moderate"), (40, "strong"), (60, "vivid")):
        if chroma < limit:
            return word
    return "raw"


def green_word(hue: float) -> str:
    """What kind of green a CIELAB hue angle is, in a painter's words; common practice, no source."""
    for limit, word in ((108, "olive"), (117, "yellow-green"), (130, "leaf green"), (148, "cool green")):
        if hue < limit:
            return word
    return "blue-green"


def share_words(share: float) -> str:
    """A share 0–1 in rough words, such as "a third"."""
    steps = (
        (0.015, "hardly any"),
        (0.032, "a fiftieth"),
        (0.07, "a twentieth"),
        (0.122, "a tenth"),
        (0.165, "a seventh"),
        (0.225, "a fifth"),
        (0.29, "a quarter"),
        (0.37, "a third"),
        (0.45, "two fifths"),
        (0.55, "half"),
        (0.63, "three fifths"),
        (0.71, "two thirds"),
        (0.79, "three quarters"),
        (0.93, "most"),
    )
    return next((word for limit, word in steps if share < limit), "nearly all")


def about(share: float) -> str:
    """A share 0–1 in rough words that own up to being rough, such as "about a third"."""
    words = share_words(share)
    return words if words in ("hardly any", "most", "nearly all") else f"about {words}"


def article(word: str) -> str:
    """ "a" or "an", by the letter that the word begins with."""
    return "an" if word[:1].lower() in "aeiou" else "a"


def with_article(word: str) -> str:
    """The word with "a" or "an" before it."""
    return f"{article(word)} {word}"


def sentence(text: str) -> str:
    """With a capital and a full stop."""
    text = text.strip()
    text = text[:1].upper() + text[1:]
    return text if text.endswith((".", "!", "?")) else text + "."
