"""Which light a person means."""

from critique.errors import PaintError
from critique.perception.spectra import light_names

USUAL = {"LED": "LED-B3", "DAYLIGHT": "D65", "LAMP": "A"}  # a neutral white lamp of some 4,100 K [CIE 15:2018, LED-B3]


def light_named(name: str) -> str:
    """The light's own name, whatever the case; "LED" alone is a neutral white one.

    Raises
    ------
    PaintError
        When there is no such light; the message names those there are.
    """
    wanted = USUAL.get(name.strip().upper(), name.strip())
    for known in light_names():
        if known.upper() == wanted.upper():
            return known
    raise PaintError(f"no light is called {name!r}: choose one of {', '.join([*light_names(), 'LED'])}")
