"""A second pair of eyes for landscape painters."""

__version__ = "0.1.0"
