"""What can go wrong that a person can mend: each error is one line that says what, where and what to do."""


class CritiqueError(Exception):
    """Anything the program refuses or fails at, told in one line for the person at the command line."""


class UnreadablePicture(CritiqueError):
    """The file is missing, is not a picture, is damaged, or is outside the limits of size."""


class TooLittleMemory(UnreadablePicture):
    """The picture does not fit in the memory that is free now; another time it may."""


class OutputError(CritiqueError):
    """The results could not be written."""


class PaintError(CritiqueError):
    """A paint, paint box or swatch that cannot be used."""


class ReferenceDataError(CritiqueError):
    """A table that ships with the program is missing or damaged."""
